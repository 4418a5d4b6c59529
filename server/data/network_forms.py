"""What stands in a network file, field by field, as strict models; and what is wrong, in words.

The forms of activities and dependencies are made from the core's dataclasses, so that names and
types are the same.
"""

import re
from collections.abc import Callable
from dataclasses import MISSING, fields
from datetime import date, datetime
from typing import Annotated, Any, TypeVar, get_type_hints

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationError,
    create_model,
)

from server.core.schedule import Activity, Calendar, Dependency, Kind, Refused
from server.data.json_lines import Document, Path, shown
from server.data.tables import BadFile

Say = Callable[[Refused], str]
"""Words for what the core refuses."""

_MOST = 10**9  # minutes, 1900 years: the core counts in whole numbers of 64 bits
_DAY = re.compile(r"(\d{4})-(\d\d)-(\d\d)", re.ASCII)
_MOMENT = re.compile(_DAY.pattern + r"T(\d\d):(\d\d)(?::[0-5]\d(?:\.\d+)?)?", re.ASCII)

_WHY = {
    "missing": "is missing",
    "extra_forbidden": "is no field here",
    "int_type": "{input} is no whole number",
    "float_type": "{input} is no number",
    "bool_type": "{input} is neither true nor false",
    "string_type": "{input} is no text",
    "list_type": "{input} is no list",
    "dict_type": "{input} is no object",
    "model_type": "{input} is no object",
    "literal_error": "{input} is none of {expected}",
    "enum": "{input} is none of {expected}",
    "too_short": "has to hold {min_length}, not {actual_length}",
    "too_long": "has to hold {max_length}, not {actual_length}",
    "greater_than_equal": "{input} is below {ge}",
    "less_than_equal": "{input} is above {le}",
    "value_error": "{input} {error}",
}


class _RefusedHours(ValueError):
    """Hours that the core refuses."""

    def __init__(self, refused: Refused) -> None:
        super().__init__(refused.id)
        self.refused = refused


def _moment(value: object) -> datetime:
    """Seconds are floored away, as everywhere in the core."""
    found = _MOMENT.fullmatch(value) if isinstance(value, str) else None
    if found is None:
        raise ValueError("is no date and time, like 2025-12-01T07:00")
    year, month, day, hour, minute = map(int, found.groups())
    try:
        return datetime(year, month, day, hour, minute)
    except ValueError:
        raise ValueError("is on no calendar or clock") from None


def _day(value: object) -> date:
    found = _DAY.fullmatch(value) if isinstance(value, str) else None
    if found is None:
        raise ValueError("is no date, like 2025-12-25")
    year, month, day = map(int, found.groups())
    try:
        return date(year, month, day)
    except ValueError:
        raise ValueError("is on no calendar") from None


def _weekday(value: str) -> int:
    if value not in {"0", "1", "2", "3", "4", "5", "6"}:
        raise ValueError("is no weekday, from 0 (Monday) to 6 (Sunday)")
    return int(value)


def _shift(pair: list[str]) -> tuple[str, str]:
    start, end = pair
    _shifts([(start, end)])
    return start, end


def _shifts(shifts: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """Asked of the core pair by pair and day by day, so that what it refuses has its place."""
    if shifts:
        try:
            Calendar.week({0: shifts})
        except Refused as refused:
            raise _RefusedHours(refused) from None
    return shifts


Moment = Annotated[datetime, BeforeValidator(_moment)]
Day = Annotated[date, BeforeValidator(_day)]
Number = Annotated[int, Field(ge=-_MOST, le=_MOST)]
Pair = Annotated[list[str], Field(min_length=2, max_length=2)]
Shifts = Annotated[list[Annotated[Pair, AfterValidator(_shift)]], AfterValidator(_shifts)]
Weekday = Annotated[str, AfterValidator(_weekday)]

# How a field of the core's dataclasses stands in a file, where that is not the type itself.
_AS_JSON: dict[Any, Any] = {
    int: Number,
    int | None: Number | None,
    datetime | None: Moment | None,
    Kind: Annotated[Kind, Field(strict=False)],
    get_type_hints(Activity)["crews"]: dict[str, Number],
}


class Strict(BaseModel):
    """Nothing is bent into another type, and no unknown field is passed over."""

    model_config = ConfigDict(strict=True, extra="forbid")


class WholeForm(Strict):
    """A network; what is in its calendars and lists is read one by one."""

    start: Moment
    status: Moment | None = None
    calendars: dict[str, Any]
    activities: list[Any]
    dependencies: list[Any]


class WeekForm(Strict):
    """A calendar of its own."""

    week: dict[Weekday, Shifts]
    closed: list[Day] = []
    extra: dict[Day, Shifts] = {}


class BothForm(Strict):
    """The hours that two calendars have in common."""

    both: Pair


def form_of(noun: type[Activity] | type[Dependency]) -> type[Strict]:
    """The form of a dataclass: the same fields, those without a default required."""
    hints = get_type_hints(noun)
    members: dict[str, Any] = {
        one.name: (
            _AS_JSON.get(hints[one.name], hints[one.name]),
            ... if one.default is MISSING and one.default_factory is MISSING else None,
        )
        for one in fields(noun)
    }
    form: type[Strict] = create_model(noun.__name__, __base__=Strict, **members)
    return form


Form = TypeVar("Form", bound=Strict)


def read_form(form: type[Form], document: Document, path: Path, say: Say) -> Form:
    """The value at a path as a form. Raises `BadFile` for the first mistake."""
    try:
        return form.model_validate(document.at(path))
    except ValidationError as error:
        # What is missing comes last: it is often there, misspelled.
        first = min(error.errors(), key=lambda one: one["type"] == "missing")
        raise _bad(document, path, dict(first), say) from None


def _bad(document: Document, path: Path, error: dict[str, Any], say: Say) -> BadFile:
    where: Path = (*path, *error["loc"])
    if where[-1:] == ("[key]",) and where not in document.lines:
        where = where[:-1]
    values = error.get("ctx", {})
    reason = values.get("error")
    if isinstance(reason, _RefusedHours):
        return document.bad(where, say(reason.refused))
    why = _WHY.get(error["type"], "{input} is not what belongs here")
    return document.bad(where, why.format(**values, input=shown(error["input"])))
