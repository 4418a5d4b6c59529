"""What was typed into a form: read, told what is wrong with it all at once, never lost."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from fractions import Fraction
from typing import TypeVar

from starlette.datastructures import FormData, UploadFile

from server.core.refusals import Message, Refusal

T = TypeVar("T")
LONGEST = 2000
DAY = 480
CLOCK_DAY = 1440


class BadField(Refusal):
    """What was typed into a field cannot be read."""


class Refusals(Refusal):
    """Several refusals of one form, told together."""

    def __init__(self, all: tuple[Refusal, ...]) -> None:
        first = all[0]
        super().__init__(first.id, field=first.field, **first.values)
        self.all = all


@dataclass
class Form:
    """The fields of a form as they were sent, and what is wrong with them.

    The reading methods give a value, or keep a refusal for the field and give a stand-in; `check`
    raises all kept refusals together. `said(field)` and `typed(field)` are for the template.
    """

    fields: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    files: Mapping[str, tuple[UploadFile, ...]] = field(default_factory=dict)
    refusals: list[Refusal] = field(default_factory=list)

    @classmethod
    def of(cls, data: FormData) -> "Form":
        """The form that a request brought."""
        fields: dict[str, tuple[str, ...]] = {}
        files: dict[str, tuple[UploadFile, ...]] = {}
        for name, value in data.multi_items():
            if isinstance(value, str):
                fields[name] = (*fields.get(name, ()), value)
            elif value.filename:
                files[name] = (*files.get(name, ()), value)
        return cls(fields, files)

    # -- for templates -------------------------------------------------------------------------

    def typed(self, name: str, default: str = "") -> str:
        """What was typed into a field, or what it starts with."""
        return self.fields[name][0] if self.fields.get(name) else default

    def chosen(self, name: str) -> tuple[str, ...]:
        """All values chosen under one name."""
        return self.fields.get(name, ())

    def wrong(self, name: str) -> Message | None:
        """What is wrong with a field."""
        return next((r.message for r in self.all_refusals if r.field == name), None)

    @property
    def wrong_whole(self) -> tuple[Message, ...]:
        """What is wrong that belongs to no field."""
        return tuple(r.message for r in self.all_refusals if r.field is None)

    @property
    def all_refusals(self) -> tuple[Refusal, ...]:
        """Every refusal, each by itself."""
        return tuple(one for r in self.refusals for one in getattr(r, "all", (r,)))

    # -- reading -------------------------------------------------------------------------------

    @property
    def key(self) -> str | None:
        """The one-time key of the form."""
        return self.typed("key") or None

    @property
    def content(self) -> str:
        """The form as it was sent, without its key."""
        sent = {n: v for n, v in sorted(self.fields.items()) if n != "key"}
        return repr((sent, [(n, [f.filename for f in v]) for n, v in sorted(self.files.items())]))

    def text(self, name: str, *, needed: bool = False, most: int = LONGEST) -> str:
        """A text, trimmed."""
        value = " ".join(self.typed(name).split()) if most <= 200 else self.typed(name).strip()
        if needed and not value:
            self.refuse(BadField("form.needed", field=name))
        if len(value) > most:
            self.refuse(BadField("form.too_long", field=name, most=most))
        return value

    def whole(self, name: str, default: int = 0, *, least: int = 0, most: int = 10**6) -> int:
        """A whole number."""
        return self._read(name, default, lambda text: _whole(name, text, least, most))

    def minutes(self, name: str, default: int | None = None, *, day: int = DAY) -> int | None:
        """A span as trade people write it ("1/2 d", "2 h", "1 1/2 days", "30 min"), in minutes."""
        return self._read(name, default, lambda text: read_span(text, name, day))

    def moment(self, name: str, default: datetime | None = None) -> datetime | None:
        """A day and time ("2025-12-04T07:00"), or a day alone (its midnight)."""
        return self._read(name, default, lambda text: _moment(name, text))

    def day(self, name: str, default: date | None = None) -> date | None:
        """A day."""
        found = self._read(name, None, lambda text: _moment(name, text))
        return found.date() if found else default

    def ticked(self, name: str) -> bool:
        """Whether a box is ticked."""
        return bool(self.fields.get(name))

    def refuse(self, refusal: Refusal) -> None:
        """Keeps a refusal to be told with the others."""
        self.refusals.append(refusal)

    def check(self) -> None:
        """Raises what has been refused so far."""
        if self.refusals:
            raise Refusals(self.all_refusals)

    def _read(self, name: str, default: T, read: Callable[[str], T]) -> T:
        text = self.typed(name).strip()
        if not text:
            return default
        try:
            return read(text)
        except Refusal as refusal:
            self.refuse(refusal)
            return default


_SPAN = re.compile(
    r"(?:(?P<whole>\d{1,4})(?:[ -](?P<num>\d{1,2})/(?P<den>\d{1,2}))?|(?P<n>\d{1,2})/(?P<d>\d{1,2})"
    r"|(?P<decimal>\d{1,4}\.\d{1,2}))\s*(?P<unit>min|minutes?|h|hours?|d|days?|w|wk|weeks?)\.?",
    re.IGNORECASE,
)


def read_span(text: str, name: str, day: int = DAY) -> int:
    """A span in minutes; a day is `day` minutes, a week five working or seven clock days.

    >>> read_span("1 1/2 days", "takes"), read_span("2 h", "takes"), read_span("1/2 d", "takes")
    (720, 120, 240)
    """
    plain = text.replace("½", "1/2" if text.strip().startswith("½") else " 1/2")
    found = _SPAN.fullmatch(" ".join(plain.split()))
    if found is None:
        raise BadField("form.span", field=name, typed=text[:40])
    if "0" in (found["den"], found["d"]):
        raise BadField("form.span", field=name, typed=text[:40])
    if found["n"]:
        amount = Fraction(int(found["n"]), int(found["d"]))
    elif found["decimal"]:
        amount = Fraction(found["decimal"])
    else:
        amount = Fraction(int(found["whole"]))
        amount += Fraction(int(found["num"]), int(found["den"])) if found["num"] else 0
    week = 5 * day if day < CLOCK_DAY else 7 * day
    of_unit = {"m": 1, "h": 60, "d": day, "w": week}[found["unit"][0].lower()]
    return round(amount * of_unit)


def _whole(name: str, text: str, least: int, most: int) -> int:
    if not re.fullmatch(r"-?\d{1,9}", text):
        raise BadField("form.whole", field=name, typed=text[:40])
    value = int(text)
    if not least <= value <= most:
        raise BadField("form.between", field=name, least=least, most=most)
    return value


def _moment(name: str, text: str) -> datetime:
    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        raise BadField("form.no_such_day", field=name, typed=text[:40]) from None
    if found.tzinfo is not None or not 1990 <= found.year <= 2200:
        raise BadField("form.no_such_day", field=name, typed=text[:40])
    return found.replace(second=0, microsecond=0)
