"""The rows of a stack's form: read, one more, one taken away."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from starlette.datastructures import QueryParams

from server.core.changes.kept_figures import StackFacts, StackPartFacts
from server.core.figures.base import BadFigure, Profile
from server.core.figures.stack import Part, Stack
from server.core.figures.stack_at_parts import NO_CHECK, Source
from server.core.refusals import Message
from server.pages.figures.asked import UNITS, Asked
from server.pages.figures.at_work import AtWork
from server.words import Words

MOST = 20
LONGEST_NAME = 60
FIELDS = ("name", "counts", "nominal", "plus", "measured", "minus", "by")
CHOSEN = ("counts", "by")
COUNTS = (
    ("1", "stack.counts.adds"),
    ("-1", "stack.counts.takes"),
    ("0.5", "stack.counts.adds_half"),
    ("-0.5", "stack.counts.takes_half"),
)
# A tread between two plastered walls: what a figure that nobody has filled in begins with.
_EXAMPLE = {
    "in": (
        ("stud_to_stud", "1", "40 1/2", "1/4"),
        ("board", "-1", "1", "1/16"),
        ("plaster", "-1", "1 1/2", "1/4"),
        ("tread", "-1", "37 3/4", "1/32"),
    ),
    "mm": (
        ("stud_to_stud", "1", "1030", "6"),
        ("board", "-1", "26", "1.5"),
        ("plaster", "-1", "38", "6"),
        ("tread", "-1", "960", "1"),
    ),
}
_WANTED = {"in": ("1/16", "7/16"), "mm": ("2", "10")}
_NAMES = {
    "stud_to_stud": "stack.example.stud_to_stud",
    "board": "stack.example.board",
    "plaster": "stack.example.plaster",
    "tread": "stack.example.tread",
}
_ROW = re.compile(rf"({'|'.join(FIELDS)})-(\d{{1,2}})")


@dataclass(frozen=True)
class Typed:
    """A part as it was typed in a row, the check that measures it ("" where none does), what that
    has."""

    no: int
    part: Part
    hold_id: str = ""
    label: str = ""
    source: Source = NO_CHECK


class AskedParts(Asked):
    """What somebody asks of a stack: `count` rows of parts, and what is wanted of the gap.

    Where it is asked for a detail, a check of that may measure a part; `at_work` knows them.
    """

    def __init__(
        self, query: QueryParams, units: str, words: Words, profiles: Mapping[str, Profile],
        at_work: AtWork | None = None,
    ) -> None:  # fmt: skip
        begun = query if "parts" in query else example(query, units, words)
        super().__init__(begun, units, words, profiles)
        self.count = rows_of(begun)
        self.rows: tuple[Typed, ...] = ()
        self.wanted: tuple[float | None, float | None] = (None, None)
        detail_id = query.get("detail", "")
        self._at_work = at_work if detail_id else None
        self._detail_id = detail_id
        self._lengths = self._at_work.lengths(detail_id) if self._at_work else ()

    def stack(self) -> Stack:
        """The stack as it was typed; rows in which nothing stands are left out.

        `rows` has the parts with their checks then, `wanted` the least and the most. Raises what
        was refused.
        """
        read = [self._part(no) for no in range(1, self.count + 1)]
        self.rows = tuple(row for row in read if row is not None)
        self.group("stack.group.wanted")
        least = self.maybe_length("least", "stack.least", zero=True)
        most = self.maybe_length("most", "stack.most", zero=True)
        self.check()
        self.wanted = least, most
        return Stack(parts=tuple(row.part for row in self.rows), least=least, most=most)

    def at_its_row(self, refusal: BadFigure) -> BadFigure:
        """What the core refused of a part, beside the row of that: it knows of no empty rows."""
        name, _, index = str(refusal.field).rpartition("-")
        if not index.isdecimal() or not 0 < int(index) <= len(self.rows):
            return refusal
        field = f"{name}-{self.rows[int(index) - 1].no}"
        return BadFigure(refusal.id, field=field, **refusal.values)

    def _part(self, no: int) -> Typed | None:
        self._groups.append((self.say("stack.part", no=no), False, []))
        name = self._name(no)
        counts = self.choice(f"counts-{no}", "stack.counts_as", COUNTS, "1")
        nominal = self.maybe_length(f"nominal-{no}", "stack.nominal", zero=True)
        plus = self.maybe_length(f"plus-{no}", "stack.plus", zero=True)
        measured = self.maybe_length(f"measured-{no}", "stack.measured", zero=True)
        minus = self.maybe_length(f"minus-{no}", "stack.minus", zero=True)
        hold_id, label, source = self._check(no)
        written = (self.form.typed(f"{field}-{no}") for field in FIELDS if field not in CHOSEN)
        if not any(text.strip() for text in written):
            return None
        if hold_id and measured is not None:
            self._needed(BadFigure("stack.measured_twice", field=f"measured-{no}"))
        if nominal is None:
            self._needed(BadFigure("stack.nominal_needed", field=f"nominal-{no}"))
        if plus is None and measured is None:
            self._needed(BadFigure("stack.tolerance_needed", field=f"plus-{no}"))
        over = plus or 0.0
        part = Part(
            name=name or self.say("stack.part", no=no),
            nominal=nominal or 0.0,
            plus=over,
            minus=over if minus is None else minus,
            sensitivity=float(counts),
            measured=measured,
        )
        return Typed(no, part, hold_id, label, source)

    def _check(self, no: int) -> tuple[str, str, Source]:
        """The check that measures a part, what it asks for, and what it has measured.

        One that does not ask for it any more is still named: it has measured nothing.
        """
        field, at_work = f"by-{no}", self._at_work
        if at_work is None:
            return "", "", NO_CHECK
        hold_id, _, label = self.form.typed(field).strip().partition("/")
        source = at_work.source(self._detail_id, hold_id, label) if hold_id else None
        options = (("", self.say("stack.by_nobody")), *self._lengths)
        if source is not None and not source.found:
            options += ((f"{hold_id}/{label}", self.say("stack.by_gone", label=label)),)
        if len(options) > 1:
            self.chosen(field, "stack.by", options, "")
        return (hold_id, label, source) if source is not None else ("", "", NO_CHECK)

    @property
    def facts(self) -> StackFacts:
        """What is kept of the stack that was read."""
        parts = tuple(
            StackPartFacts(
                name=row.part.name,
                counts=Fraction(row.part.sensitivity),
                nominal=_kept_length(row.part.nominal),
                plus=_kept_length(row.part.plus),
                minus=_kept_length(row.part.minus),
                measured=None if row.part.measured is None else _kept_length(row.part.measured),
                hold_id=row.hold_id or None,
                label=row.label,
            )
            for row in self.rows
        )
        least, most = (None if end is None else _kept_length(end) for end in self.wanted)
        return StackFacts(parts=parts, least=least, most=most, units=self.units)

    def _needed(self, refusal: BadFigure) -> None:
        """Refuses what is missing, unless something else is wrong with it already."""
        if self.form.wrong(str(refusal.field)) is None:
            self.refuse(refusal)

    def _name(self, no: int) -> str:
        field = f"name-{no}"
        name = " ".join(self.form.typed(field).split())[:LONGEST_NAME].strip()
        self._add(field, "stack.name", name, "", "")
        return name


def _kept_length(inches: float) -> Fraction:
    """A length as it was typed: millimeters too come back as they were."""
    return Fraction(inches).limit_denominator(1_000_000)


def rows_of(query: QueryParams) -> int:
    """How many rows the form has."""
    typed = query.get("parts", "")
    return min(max(int(typed), 1), MOST) if re.fullmatch(r"\d{1,3}", typed) else 1


def example(query: QueryParams, units: str, words: Words) -> QueryParams:
    """What the form begins with, in the units of the address or the person's.

    What the address does name stays.
    """
    units = query["units"] if query.get("units") in UNITS else units
    rows = _EXAMPLE[units]
    fields = {"parts": str(len(rows)), "units": units}
    for no, (name, *others) in enumerate(rows, 1):
        said = words.say(Message(_NAMES[name]))
        values = zip(("name", "counts", "nominal", "plus"), (said, *others), strict=True)
        fields |= {f"{field}-{no}": value for field, value in values}
    fields["least"], fields["most"] = _WANTED[units]
    return QueryParams({**fields, **query})


def one_more(query: QueryParams) -> list[tuple[str, str]]:
    """The fields of the address with an empty row behind the last."""
    count = min(rows_of(query) + 1, MOST)
    return [("parts", str(count)), *_kept(query)]


def without(query: QueryParams) -> list[tuple[str, str]]:
    """The fields of the address without the row that `without` names, those behind it moved up."""
    gone, count = query.get("without", ""), rows_of(query)
    if not re.fullmatch(r"\d{1,2}", gone) or not 1 <= int(gone) <= count or count == 1:
        return [("parts", str(count)), *_kept(query)]
    fields = [("parts", str(count - 1))]
    for name, value in _kept(query):
        row = _ROW.fullmatch(name)
        no = int(row[2]) if row else 0
        if row and no == int(gone):
            continue
        fields.append((f"{row[1]}-{no - 1}" if row and no > int(gone) else name, value))
    return fields


def _kept(query: QueryParams) -> list[tuple[str, str]]:
    return [
        (name, value)
        for name, value in query.multi_items()
        if name not in ("parts", "more", "without")
    ]
