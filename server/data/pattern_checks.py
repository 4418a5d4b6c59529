"""The checks of a pattern's file, and what they ask for."""

from fractions import Fraction
from typing import Any

from server.core.changes.plan_checks import MOST_NOTICE, MOST_PARTS, MOST_PHOTOS, QUESTION
from server.core.measure.units import UNITS
from server.core.patterns import PatternAsk, PatternCheck
from server.data.pattern_tables import inner, tag_of
from server.data.tables import CLOCK_DAY, Table, shown

LONG = 500


def check_of(table: Table) -> PatternCheck:
    """The check of an activity."""
    one = inner(table, "check", table.take("check", dict))
    notice = one.time("notice", CLOCK_DAY, 7 * CLOCK_DAY) or 0
    if notice > MOST_NOTICE:
        raise one.bad("notice", "is longer than 60 days")
    parts = one.count("parts", MOST_PARTS)
    check = PatternCheck(
        what=one.text("what", most=LONG),
        datum=one.maybe("datum", most=200),
        tool=one.maybe("tool", most=200),
        photos=one.count("photos", MOST_PHOTOS),
        photo_note=one.maybe("photo_note", most=LONG),
        marks=one.maybe("marks"),
        releases=one.text("releases", "super"),
        witness=one.flag("witness"),
        own_mark_ok=one.flag("own_mark_ok"),
        notice=notice,
        looks_at=one.names("looks_at"),
        part_name=one.text("part_name", "No.", most=40),
        parts=parts,
        asks=tuple(_ask(one, item, parts) for item in one.take("asks", list, [])),
        source=one.maybe("source", most=LONG),
        tag=tag_of(one),
    )
    one.done()
    return check


def _ask(table: Table, item: Any, parts: int) -> PatternAsk:
    """An ask; "within" and "ask_beyond" are short for limits as far on both sides of nominal."""
    one = inner(table, "asks", item)
    nominal = one.length("nominal")
    low, high = _around(one, nominal, "within", "low", "high")
    far_low, far_high = _around(one, nominal, "ask_beyond", "far_low", "far_high")
    ask = PatternAsk(
        label=one.text("label"),
        unit=one.text("unit", "in"),
        each=one.flag("each"),
        part=one.count("part", MOST_PARTS) if "part" in one.values else None,
        nominal=nominal,
        low=low,
        high=high,
        far_low=far_low,
        far_high=far_high,
        tag=tag_of(one),
    )
    one.done()
    _refuse_limits(table, ask)
    if ask.each and not parts:
        raise table.bad("asks", "each needs a check with parts")
    if ask.part is not None and (ask.each or not 1 <= ask.part <= parts):
        raise table.bad("asks", f"there is no part {ask.part} to ask of alone")
    return ask


def _refuse_limits(table: Table, ask: PatternAsk) -> None:
    """What a number may be: in a known unit, its limits in order, the far ones outside."""
    limits = (ask.low, ask.high, ask.far_low, ask.far_high)
    said = [limit for limit in (ask.nominal, *limits) if limit is not None]
    if ask.unit == QUESTION:
        if said:
            raise table.bad("asks", f"{shown(ask.label)} is answered yes or no, without numbers")
        return
    if ask.unit not in UNITS:
        raise table.bad("asks", f"{shown(ask.unit)} is no unit")
    ends = ((ask.low, ask.high), (ask.far_low, ask.low), (ask.high, ask.far_high))
    if any(a is not None and b is not None and a > b for a, b in ends):
        raise table.bad("asks", f"the limits of {shown(ask.label)} are the wrong way round")
    far = ask.far_low is not None or ask.far_high is not None
    if far and ask.low is None and ask.high is None:
        raise table.bad("asks", f"{shown(ask.label)} has far limits and no near ones")


def _around(
    table: Table, nominal: Fraction | None, both: str, low: str, high: str
) -> tuple[Fraction | None, Fraction | None]:
    off = table.length(both)
    ends = table.length(low), table.length(high)
    if off is None:
        return ends
    if nominal is None or ends != (None, None):
        raise table.bad(both, "needs a nominal, and no limits beside it")
    return nominal - off, nominal + off
