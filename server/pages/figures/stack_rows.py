"""The rows of a stack's form: read, one more, one taken away."""

import re
from collections.abc import Mapping

from starlette.datastructures import QueryParams

from server.core.figures.base import BadFigure, Profile
from server.core.figures.stack import Part, Stack
from server.core.refusals import Message
from server.pages.figures.asked import UNITS, Asked
from server.words import Words

MOST = 20
LONGEST_NAME = 60
FIELDS = ("name", "counts", "nominal", "plus", "measured", "minus")
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


class AskedParts(Asked):
    """What somebody asks of a stack: `count` rows of parts, and what is wanted of the gap."""

    def __init__(
        self, query: QueryParams, units: str, words: Words, profiles: Mapping[str, Profile]
    ) -> None:
        begun = query if "parts" in query else example(query, units, words)
        super().__init__(begun, units, words, profiles)
        self.count = rows_of(begun)

    def stack(self) -> Stack:
        """The stack as it was typed; rows in which nothing stands are left out.

        Raises what was refused.
        """
        read = [self._part(no) for no in range(1, self.count + 1)]
        parts = tuple(part for part in read if part is not None)
        self.group("stack.group.wanted")
        least = self.maybe_length("least", "stack.least", zero=True)
        most = self.maybe_length("most", "stack.most", zero=True)
        self.check()
        return Stack(parts=parts, least=least, most=most)

    def _part(self, no: int) -> Part | None:
        self._groups.append((self.say("stack.part", no=no), False, []))
        name = self._name(no)
        counts = self.choice(f"counts-{no}", "stack.counts_as", COUNTS, "1")
        nominal = self.maybe_length(f"nominal-{no}", "stack.nominal", zero=True)
        plus = self.maybe_length(f"plus-{no}", "stack.plus", zero=True)
        measured = self.maybe_length(f"measured-{no}", "stack.measured", zero=True)
        minus = self.maybe_length(f"minus-{no}", "stack.minus", zero=True)
        typed = [self.form.typed(f"{field}-{no}").strip() for field in FIELDS if field != "counts"]
        if not any(typed):
            return None
        if nominal is None:
            self._needed(BadFigure("stack.nominal_needed", field=f"nominal-{no}"))
        if plus is None and measured is None:
            self._needed(BadFigure("stack.tolerance_needed", field=f"plus-{no}"))
        over = plus or 0.0
        return Part(
            name=name or self.say("stack.part", no=no),
            nominal=nominal or 0.0,
            plus=over,
            minus=over if minus is None else minus,
            sensitivity=float(counts),
            measured=measured,
        )

    def _needed(self, refusal: BadFigure) -> None:
        """Refuses what is missing, unless something else is wrong with it already."""
        if self.form.wrong(str(refusal.field)) is None:
            self.refuse(refusal)

    def _name(self, no: int) -> str:
        field = f"name-{no}"
        name = " ".join(self.form.typed(field).split())[:LONGEST_NAME]
        self._add(field, "stack.name", name, "", "")
        return name


def rows_of(query: QueryParams) -> int:
    """How many rows the form has."""
    typed = query.get("parts", "")
    return min(max(int(typed), 1), MOST) if re.fullmatch(r"\d{1,3}", typed) else 1


def example(query: QueryParams, units: str, words: Words) -> QueryParams:
    """What the form begins with, in the units of the address or the person's."""
    units = query["units"] if query.get("units") in UNITS else units
    rows = _EXAMPLE[units]
    fields = [("parts", str(len(rows))), ("units", units)]
    for no, (name, *others) in enumerate(rows, 1):
        said = words.say(Message(_NAMES[name]))
        values = zip(("name", "counts", "nominal", "plus"), (said, *others), strict=True)
        fields += [(f"{field}-{no}", value) for field, value in values]
    least, most = _WANTED[units]
    fields += [("least", least), ("most", most)]
    if "to" in query:
        fields.append(("to", query["to"]))
    return QueryParams(fields)


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
