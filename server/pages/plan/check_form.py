"""What is typed of a check and the numbers it asks for, read into facts and written again."""

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from typing import Any

from server.core.changes.plan import AskFacts, CheckFacts
from server.core.changes.plan_checks import checked_ask
from server.core.measure import UNITS
from server.core.refusals import Refusal
from server.core.world import Ask, HoldPoint
from server.pages.kit.forms import CLOCK_DAY, BadField, Form
from server.pages.plan.writing import (
    number_written,
    parts_written,
    read_number,
    read_parts,
    span_written,
)

BLANK = 3
MOST_ROWS = 60
LIMITS = ("low", "high", "far_low", "far_high")
EACH = "each"
AUTHORITY = "authority"
OF_ROW = ("label", "unit", "nominal", *LIMITS)


def filled(hold: HoldPoint, asks: Iterable[Ask]) -> dict[str, tuple[str, ...]]:
    """The fields of a form that says this check."""
    values = {
        "what": hold.what,
        "datum": hold.datum,
        "tool": hold.tool,
        "photos": str(hold.photos),
        "photo_note": hold.photo_note,
        "source": hold.source,
        "marks_crew_id": hold.marks_crew_id or "",
        "releases_id": AUTHORITY if hold.authority else hold.releases_id or "",
        "witness": "yes" if hold.witness else "",
        "own_mark_ok": "yes" if hold.own_mark_ok else "",
        "notice": span_written(hold.notice or None, CLOCK_DAY),
        "part_name": hold.part_name,
        "parts": str(hold.parts) if hold.parts else "",
    }
    rows = _rows(asks)
    for number, alike in enumerate(rows):
        values |= {f"{name}_{number}": text for name, text in _row(alike, hold.parts).items()}
    values["rows"] = str(len(rows) + BLANK)
    fields = {name: (value,) for name, value in values.items() if value}
    return fields | {"layer_ids": hold.layer_ids}


def rows_of(form: Form) -> int:
    """How many rows of numbers the form has."""
    typed = form.typed("rows")
    return min(int(typed), MOST_ROWS) if typed.isdecimal() and len(typed) < 4 else BLANK


def read_check(form: Form, known: tuple[str, ...] = ()) -> CheckFacts:
    """The check typed; what cannot be read is kept as refusals, each at its row.

    `known` are the layers it looks at now: those that stay keep their order.
    """
    parts = form.whole("parts", 0, most=200)
    check = CheckFacts(
        what=form.text("what", needed=True, most=500),
        datum=form.text("datum", most=200),
        tool=form.text("tool", most=200),
        photos=form.whole("photos", 0, most=50),
        photo_note=form.text("photo_note", most=500),
        source=form.text("source", most=500),
        marks_crew_id=form.text("marks_crew_id", most=40) or None,
        releases_id=None,
        authority=form.typed("releases_id") == AUTHORITY,
        witness=form.ticked("witness"),
        own_mark_ok=form.ticked("own_mark_ok"),
        notice=form.minutes("notice", 0, day=CLOCK_DAY) or 0,
        layer_ids=tuple(
            sorted(
                form.chosen("layer_ids"),
                key=lambda layer: known.index(layer) if layer in known else len(known),
            )
        ),
        part_name=form.text("part_name", most=40) or "No.",
        parts=parts,
        asks=tuple(ask for row in range(rows_of(form)) for ask in _read_row(form, row, parts)),
    )
    if check.authority:
        return check
    return replace(check, releases_id=form.text("releases_id", most=40) or None)


def _read_row(form: Form, row: int, parts: int) -> tuple[AskFacts, ...]:
    names = [f"{name}_{row}" for name in (*OF_ROW, "within", "beyond") if name != "unit"]
    if not any(form.typed(name).strip() for name in names):
        return ()
    known = len(form.refusals)
    unit = form.typed(f"unit_{row}", "in")
    read_as = unit if unit in UNITS else "in"
    nominal = read_number(form, f"nominal_{row}", read_as)
    numbers = {name: read_number(form, f"{name}_{row}", read_as, nominal) for name in LIMITS}
    _around(form, row, read_as, nominal, numbers, ("within", "low", "high"))
    _around(form, row, read_as, nominal, numbers, ("beyond", "far_low", "far_high"))
    ask = AskFacts(
        label=form.text(f"label_{row}", needed=True, most=120),
        unit=unit,
        nominal=nominal,
        low=numbers["low"],
        high=numbers["high"],
        far_low=numbers["far_low"],
        far_high=numbers["far_high"],
    )
    asked_for = _asked_for(form, row, parts)
    if len(form.refusals) > known:
        return ()
    try:
        asks = tuple(checked_ask(replace(ask, part=part), parts) for part in asked_for)
    except Refusal as refusal:
        name = {"part": "for", None: "low"}.get(refusal.field, refusal.field)
        form.refuse(BadField(refusal.id, field=f"{name}_{row}", **refusal.values))
        return ()
    return asks


def _around(
    form: Form,
    row: int,
    unit: str,
    nominal: Fraction | None,
    numbers: dict[str, Fraction | None],
    names: tuple[str, str, str],
) -> None:
    """Plus or minus, turned into the least and the most."""
    both, low, high = names
    off = read_number(form, f"{both}_{row}", unit)
    if off is None:
        return
    if nominal is None:
        form.refuse(BadField("plan_form.no_nominal", field=f"nominal_{row}"))
    elif numbers[low] is not None or numbers[high] is not None:
        form.refuse(BadField("plan_form.two_ways", field=f"{both}_{row}"))
    else:
        numbers[low], numbers[high] = nominal - abs(off), nominal + abs(off)


def _asked_for(form: Form, row: int, parts: int) -> tuple[int | None, ...]:
    """Once, or for which of the parts: "each", or their numbers."""
    name = f"for_{row}"
    typed = form.typed(name).strip().lower()
    if not typed:
        return (None,)
    if typed in (EACH, "all"):
        if not parts:
            form.refuse(BadField("plan_form.each_of_what", field=name))
        return tuple(range(1, parts + 1))
    return read_parts(form, name, parts, form.typed("part_name"))


def _of(ask: Ask) -> tuple[object, ...]:
    return tuple(getattr(ask, name) for name in OF_ROW)


def _rows(asks: Iterable[Ask]) -> list[list[Ask]]:
    """Asks of several parts that are alike stand in one row; each other in its own."""
    rows: dict[tuple[object, ...], list[Ask]] = {}
    for ask in asks:
        rows.setdefault((ask.id if ask.part is None else "", *_of(ask)), []).append(ask)
    return list(rows.values())


def _row(alike: list[Ask], parts: int) -> dict[str, str]:
    ask: Any = alike[0]
    numbers = [a.part for a in alike if a.part is not None]
    row = {
        "label": ask.label,
        "unit": ask.unit,
        "for": EACH if numbers == list(range(1, parts + 1)) and parts else parts_written(numbers),
        "nominal": number_written(ask.nominal),
    }
    for both, low, high in (("within", "low", "high"), ("beyond", "far_low", "far_high")):
        least, most = getattr(ask, low), getattr(ask, high)
        known = ask.nominal is not None and least is not None and most is not None
        if known and most - ask.nominal == ask.nominal - least:
            row[both] = number_written(most - ask.nominal)
        else:
            row[low], row[high] = number_written(least), number_written(most)
    return row
