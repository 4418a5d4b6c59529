"""What is said of a check, checked, and the rows it becomes: a hold point and what it asks."""

from collections.abc import Iterator
from dataclasses import replace

from server.core.changes.inputs import (
    BadInput,
    ids_after,
    name_of,
    text_of,
    there_or_none,
    whole,
)
from server.core.changes.plan import AskFacts, CheckFacts
from server.core.changes.plan_facts import layer_of
from server.core.measure import Band, check_bands
from server.core.measure.units import UNITS
from server.core.world import Activity, Ask, Crew, HoldPoint, Person, Snapshot

QUESTION = "yes"
MOST_PARTS = 200
MOST_PHOTOS = 50
MOST_NOTICE = 60 * 24 * 60


def checked_check(snapshot: Snapshot, detail_id: str, check: CheckFacts) -> CheckFacts:
    """The facts with tidy texts; raises a refusal with the field that is off."""
    for layer_id in check.layer_ids:
        layer_of(snapshot, detail_id, layer_id, "layer_ids")
    there_or_none(snapshot, Crew, check.marks_crew_id, "marks_crew_id")
    there_or_none(snapshot, Person, check.releases_id, "releases_id")
    if check.authority and check.releases_id:
        raise BadInput("plan.authority_and_person", field="releases_id")
    whole(check.photos, 0, MOST_PHOTOS, "photos")
    whole(check.parts, 0, MOST_PARTS, "parts")
    whole(check.notice, 0, MOST_NOTICE, "notice")
    return replace(
        check,
        what=name_of(check.what, "what", 500),
        datum=text_of(check.datum, "datum", 200),
        tool=text_of(check.tool, "tool", 200),
        photo_note=text_of(check.photo_note, "photo_note", 500),
        source=text_of(check.source, "source", 500),
        part_name=text_of(check.part_name, "part_name", 40),
        layer_ids=tuple(dict.fromkeys(check.layer_ids)),
        asks=tuple(checked_ask(ask, check.parts) for ask in check.asks),
    )


def checked_ask(ask: AskFacts, parts: int) -> AskFacts:
    """One number or question with its tolerances; refused when those make no sense."""
    name_of(ask.label, "label")
    if ask.part is not None and not 1 <= ask.part <= parts:
        raise BadInput("plan.no_part_of_check", field="part", parts=parts)
    limits = (ask.low, ask.high, ask.far_low, ask.far_high)
    if ask.unit == QUESTION:
        if any(limit is not None for limit in (ask.nominal, *limits)):
            raise BadInput("plan.question_with_limits", field="unit")
        return ask
    if ask.unit not in UNITS:
        raise BadInput("input.not_a_choice", field="unit", chosen=ask.unit)
    far = None
    if ask.far_low is not None or ask.far_high is not None:
        far = Band(ask.far_low, ask.far_high)
    if ask.low is not None or ask.high is not None:
        check_bands(Band(ask.low, ask.high), far, "far_low")
    elif far is not None:
        raise BadInput("plan.second_band_alone", field="low")
    return ask


def hold_of(activity: Activity, hold_id: str, check: CheckFacts) -> HoldPoint:
    """A new hold point with these facts."""
    return with_facts(
        HoldPoint(
            id=hold_id, project_id=activity.project_id, activity_id=activity.id, what=check.what
        ),
        check,
    )


def with_facts(hold: HoldPoint, check: CheckFacts) -> HoldPoint:
    """The hold point with other facts; who was called stays."""
    return replace(
        hold,
        what=check.what,
        datum=check.datum,
        tool=check.tool,
        photos=check.photos,
        photo_note=check.photo_note,
        source=check.source,
        marks_crew_id=check.marks_crew_id,
        releases_id=check.releases_id,
        authority=check.authority,
        witness=check.witness,
        own_mark_ok=check.own_mark_ok,
        notice=check.notice,
        layer_ids=check.layer_ids,
        part_name=check.part_name,
        parts=check.parts,
    )


def asks_of(snapshot: Snapshot, hold: HoldPoint, asks: tuple[AskFacts, ...]) -> tuple[Ask, ...]:
    """The rows of what a check asks. An ask that stays (label and part) keeps its row."""
    kept = {(ask.label, ask.part): ask for ask in snapshot.asks_of.get(hold.id, ())}
    ids = ids_after(hold.id, snapshot.asks)
    return tuple(
        _ask(kept.pop((ask.label, ask.part), None), ask, hold, order, ids)
        for order, ask in enumerate(asks)
    )


def _ask(kept: Ask | None, ask: AskFacts, hold: HoldPoint, order: int, ids: Iterator[str]) -> Ask:
    row = kept or Ask(
        id=next(ids), project_id=hold.project_id, hold_id=hold.id, order=order, label=ask.label
    )
    numbers = (ask.unit, ask.nominal, ask.low, ask.high, ask.far_low, ask.far_high)
    was = (row.unit, row.nominal, row.low, row.high, row.far_low, row.far_high)
    return replace(
        row,
        order=order,
        unit=ask.unit,
        part=ask.part,
        nominal=ask.nominal,
        low=ask.low,
        high=ask.high,
        far_low=ask.far_low,
        far_high=ask.far_high,
        # a number that somebody typed over is no longer the pattern's
        tag=row.tag if numbers == was else "",
    )
