"""A figure's form: fields named and read in one go, from the address, with a start for each.

The address holds all that was typed and the units it was typed in, so it can be kept and sent.
`units` names the units of the numbers in the address, `to` those that they are to be shown in.
"""

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import TypeVar

from starlette.datastructures import QueryParams

from server.core.figures.base import BadFigure, Profile
from server.core.figures.lengths import MOST_INCHES
from server.core.measure import read
from server.core.measure.units import converted
from server.core.refusals import Refusal
from server.pages.figures.fields import FieldsOf
from server.pages.figures.printed import SHOWN
from server.pages.plan.writing import number_written
from server.words import Words

T = TypeVar("T")
UNITS = ("in", "mm")
MOST_LINES = 60
_SNAP = Fraction(1, 2500)
_PLACES = {"in": 4, "mm": 2}


class Asked(FieldsOf):
    """What somebody asks of a figure.

    Each reading method names a field and gives its value, in inches where it is a length; what
    cannot be read is refused beside the field, and its start stands in until `check` raises.
    `profiles` are the limits that can be chosen, by id.
    """

    def __init__(
        self, query: QueryParams, units: str, words: Words, profiles: Mapping[str, Profile]
    ) -> None:
        super().__init__(query, words)
        self._typed_in = query["units"] if query.get("units") in UNITS else units
        self.units = query["to"] if query.get("to") in UNITS else self._typed_in
        self.profiles = profiles

    def length(
        self, name: str, label: str, start: str, metric: str = "", *, hint: str = "",
        zero: bool = False,
    ) -> float:  # fmt: skip
        """A length in inches, above zero unless `zero`. `start` is inches, `metric` millimeters."""
        value = self._quantity(name, label, "in", start, metric, hint, needed=True)
        return self._positive(name, value, start, zero)

    def maybe_length(
        self, name: str, label: str, start: str = "", metric: str = "", *, hint: str = "",
        zero: bool = False,
    ) -> float | None:  # fmt: skip
        """A length in inches above zero (or from zero), or None where nothing is typed."""
        value = self._quantity(name, label, "in", start, metric, hint, needed=False)
        return None if value is None else self._positive(name, value, start or "1", zero)

    def temperature(self, name: str, label: str, start: str, *, hint: str = "") -> float:
        """A temperature in degrees Fahrenheit; read and shown in Celsius beside millimeters."""
        value = self._quantity(name, label, "°F", start, "", hint, needed=True)
        return float(Fraction(start) if value is None else value)

    def number(
        self, name: str, label: str, start: str, unit: str, *, least: float | None = None,
        most: float | None = None, hint: str = "",
    ) -> float:  # fmt: skip
        """A number of a unit that is the same for everybody ("%", "°", "lb"), within bounds."""
        value = self._quantity(name, label, unit, start, "", hint, needed=True)
        found = float(Fraction(start) if value is None else value)
        if (least is not None and found < least) or (most is not None and found > most):
            self._refuse_range(name, unit, least, most)
            return float(Fraction(start))
        return found

    def whole(
        self, name: str, label: str, start: int, *, least: int = 0, most: int = 200, hint: str = ""
    ) -> int:
        """A count."""
        found = self.maybe_whole(name, label, start, least=least, most=most, hint=hint, needed=True)
        return start if found is None else found

    def maybe_whole(
        self, name: str, label: str, start: int | None = None, *, least: int = 0, most: int = 200,
        hint: str = "", needed: bool = False,
    ) -> int | None:  # fmt: skip
        """A count, or None where nothing is typed."""
        begins = "" if start is None else str(start)
        self._add(name, label, self._typed(name, begins), "", hint, mode="numeric")
        value = self._read(name, begins, needed, lambda text: read(text, "count", field=name))
        if value is not None and not least <= value <= most:
            self._refuse_range(name, "count", least, most)
            return start
        return None if value is None else int(value)

    def choice(
        self, name: str, label: str, options: tuple[tuple[str, str], ...], start: str
    ) -> str:
        """One of some choices (value, message id); what is none of them is refused."""
        said = tuple((value, self.say(id)) for value, id in options)
        return self.chosen(name, label, said, start)

    def chosen(
        self, name: str, label: str, options: tuple[tuple[str, str], ...], start: str
    ) -> str:
        """One of some choices (value, its name); what is none of them is refused."""
        value = self.form.typed(name, start).strip()
        if value not in dict(options):
            self.refuse(BadFigure("figures.no_choice", field=name, typed=value[:40]))
            value = start
        self._add(name, label, value, "", "", kind="choice", options=options)
        return value

    def lengths(
        self, name: str, label: str, start: str, metric: str = "", *, hint: str = ""
    ) -> tuple[float, ...]:
        """Lengths in inches above zero, one on a line; none where nothing is typed."""
        units = self._typed_in if name in self.form.fields else self.units
        begins = metric if metric and units == "mm" else start
        typed = self.form.typed(name, begins).replace("\r", "").strip()
        lines = typed.split("\n")[: MOST_LINES + 1]
        if len(lines) > MOST_LINES:
            self.refuse(BadFigure("figures.too_many", field=name, most=MOST_LINES))
        values: list[float] = []
        written: list[str] = []
        for no, line in enumerate(lines[:MOST_LINES], 1):
            if not line.strip():
                continue
            try:
                value = read(line, units, field=name)
                if value <= 0:
                    raise BadFigure("figures.over_zero", field=name)
            except Refusal as refusal:
                why = BadFigure("figures.in_line", field=name, line=no, why=refusal.message)
                self.refuse(why)
                written.append(line.strip())
                continue
            shown = converted(value, units, self.units)
            inches = converted(value, units, "in")
            assert shown is not None
            assert inches is not None
            values.append(float(inches))
            same = units == self.units
            written.append(line.strip() if same else _written(shown, self.units))
        self._add(name, label, "\n".join(written), self.units, hint, kind="lines")
        return tuple(values)

    def profile(self, name: str = "limits") -> Profile:
        """The limits to hold the figure against."""
        options = tuple((id, one.name) for id, one in self.profiles.items())
        return self.profiles[self.chosen(name, "figures.limits", options, options[0][0])]

    # -- how -----------------------------------------------------------------------------------

    def _quantity(
        self, name: str, label: str, base: str, start: str, metric: str, hint: str, *, needed: bool
    ) -> Fraction | None:
        """A value in its base unit; the field shows it in the units that the reader sees."""
        units = self._typed_in if name in self.form.fields else self.units
        typed_in = SHOWN[units].get(base, base)
        shown_in = SHOWN[self.units].get(base, base)
        begins = self._begins(base, typed_in, start, metric)
        near = read(begins, typed_in) if begins else None
        value = self._read(
            name, begins, needed, lambda text: read(text, typed_in, near=near or None, field=name)
        )
        text = self._typed(name, begins)
        if value is not None and shown_in != typed_in:
            turned = converted(value, typed_in, shown_in)
            assert turned is not None
            text = self._unmistaken(turned, base, shown_in, start, metric)
        mode = "text" if shown_in in ("in", "°C", "°F") else "decimal"
        self._add(name, label, text, shown_in, hint, mode=mode)
        return None if value is None else converted(value, typed_in, base)

    def _unmistaken(self, value: Fraction, base: str, unit: str, start: str, metric: str) -> str:
        """A value that was turned into a unit, as it is typed; with it where it might be taken
        for one of another unit when it comes back."""
        text, begins = _written(value, unit), self._begins(base, unit, start, metric)
        try:
            read(text, unit, near=read(begins, unit) if begins else None)
        except Refusal:
            return f"{text} {unit}"
        return text

    def _begins(self, base: str, unit: str, start: str, metric: str) -> str:
        if not start or unit == base:
            return start
        if metric:
            return metric
        turned = converted(read(start, base), base, unit)
        assert turned is not None
        return _written(turned, unit)

    def _read(
        self, name: str, start: str, needed: bool, reader: Callable[[str], Fraction]
    ) -> Fraction | None:
        text = self.form.typed(name, start).strip()
        if not text and not needed:
            return None
        try:
            return reader(text)
        except Refusal as refusal:
            self.refuse(refusal)
            return None

    def _positive(self, name: str, value: Fraction | None, start: str, zero: bool) -> float:
        if value is not None and (value < 0 or (value == 0 and not zero)):
            self.refuse(
                BadFigure("figures.below_zero" if zero else "figures.over_zero", field=name)
            )
            value = None
        if value is not None and value > MOST_INCHES:
            self.refuse(BadFigure("figures.too_long", field=name))
            value = None
        return float(read(start, "in") if value is None else value)

    def _refuse_range(self, name: str, unit: str, least: float | None, most: float | None) -> None:
        low = None if least is None else Fraction(least)
        high = None if most is None else Fraction(most)
        if low is None:
            self.refuse(BadFigure("figures.at_most", field=name, most=high, unit=unit))
        elif high is None:
            self.refuse(BadFigure("figures.at_least", field=name, least=low, unit=unit))
        else:
            self.refuse(BadFigure("figures.between", field=name, least=low, most=high, unit=unit))


def _written(value: Fraction, unit: str) -> str:
    """A value that was turned into another unit, as it is typed: on a sixteenth where it is one."""
    if unit == "in":
        sixteenth = Fraction(round(value * 16), 16)
        if abs(value - sixteenth) < _SNAP:
            return number_written(sixteenth)
    scale = 10 ** _PLACES.get(unit, 2)
    return f"{float(Fraction(round(value * scale), scale)):.10g}"
