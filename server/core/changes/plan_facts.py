"""What is said of an activity, checked against its detail before it goes into the chain."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import reduce

from server.core.changes.inputs import (
    BadInput,
    name_of,
    near,
    one_of,
    text_of,
    there,
    there_or_none,
)
from server.core.changes.plan import ActivityFacts
from server.core.changes.plan_particulars import checked_particulars
from server.core.schedule import Calendar, Refused
from server.core.world import Crew, Layer, Person, Place, Snapshot, Way, WorkCalendar
from server.core.world.hours import calendar_of

KINDS = ("task", "wait", "hold", "delivery", "decision")
TAKES_TIME = frozenset({"task", "wait", "delivery"})
YEARS = 2
# The most minutes two years hold: of the clock for a wait, of eight-hour days for work.
MOST_CLOCK = YEARS * 365 * 24 * 60
MOST_WORK = YEARS * 52 * 5 * 8 * 60
VERBS = {"puts_in": "puts in", "covers": "covers", "opens": "opens", "needs_open": "needs open"}


def checked(snapshot: Snapshot, detail_id: str, facts: ActivityFacts) -> ActivityFacts:
    """The facts with tidy names and parts in order; raises a refusal with the field that is off."""
    one_of(facts.kind, KINDS, "kind")
    _who(snapshot, facts)
    _where(snapshot, detail_id, facts)
    _time(snapshot, facts)
    done = {field: _on_layers(snapshot, detail_id, getattr(facts, field), field) for field in VERBS}
    if any(done.values()) and facts.kind != "task":
        raise BadInput("plan.only_a_task", field=next(f for f in VERBS if done[f]))
    _not_both(snapshot, done)
    hours = hours_of(snapshot, facts.calendar_id, (facts.crew_id, *facts.with_crew_ids))
    if facts.one_day and not fits_a_day(facts.work, hours):
        raise BadInput("plan.longer_than_a_day", field="work", longest=hours.longest_weekday)
    return replace(
        checked_particulars(snapshot, facts),
        name=name_of(facts.name),
        note=text_of(facts.note, "note"),
        puts_in=done["puts_in"],
        covers=done["covers"],
        opens=done["opens"],
        needs_open=done["needs_open"],
    )


def layer_of(snapshot: Snapshot, detail_id: str, layer_id: str, field: str) -> Layer:
    """A layer of this detail; refused when it is another's."""
    layer = there(snapshot, Layer, layer_id, field)
    if layer.detail_id != detail_id:
        raise BadInput("plan.layer_elsewhere", field=field, layer=layer.name)
    return layer


def parts_of(layer: Layer, parts: tuple[int, ...], field: str) -> tuple[int, ...]:
    """Parts of a layer in order, each once; refused when it has not so many."""
    if any(not 1 <= part <= layer.parts for part in parts):
        raise BadInput("plan.no_such_part", field=field, layer=layer.name, parts=layer.parts)
    return tuple(sorted(set(parts)))


def _on_layers(
    snapshot: Snapshot, detail_id: str, on: Mapping[str, tuple[int, ...]], field: str
) -> dict[str, tuple[int, ...]]:
    return {
        id: parts_of(layer_of(snapshot, detail_id, id, field), parts, field)
        for id, parts in on.items()
    }


def _not_both(snapshot: Snapshot, done: Mapping[str, Mapping[str, tuple[int, ...]]]) -> None:
    """What it puts in is neither hidden by it nor there to be worked in."""
    if both := done["puts_in"].keys() & done["covers"].keys():
        name = snapshot.layers[min(both)].name
        raise BadInput("plan.puts_in_and_covers", field="covers", layer=name)
    if both := done["puts_in"].keys() & done["needs_open"].keys():
        name = snapshot.layers[min(both)].name
        raise BadInput("plan.puts_in_and_needs_open", field="needs_open", layer=name)


def _who(snapshot: Snapshot, facts: ActivityFacts) -> None:
    there_or_none(snapshot, Crew, facts.crew_id, "crew_id")
    together = [c for c in (facts.crew_id, *facts.with_crew_ids) if c]
    for id in facts.with_crew_ids:
        there(snapshot, Crew, id, "with_crew_ids")
    if len(set(together)) < len(together):
        raise BadInput("plan.crew_twice", field="with_crew_ids")
    there_or_none(snapshot, Person, facts.person_id, "person_id")
    there_or_none(snapshot, WorkCalendar, facts.calendar_id, "calendar_id")


def _where(snapshot: Snapshot, detail_id: str, facts: ActivityFacts) -> None:
    there_or_none(snapshot, Place, facts.place_id, "place_id")
    there_or_none(snapshot, Way, facts.opens_way_id, "opens_way_id")
    there_or_none(snapshot, Way, facts.closes_way_id, "closes_way_id")
    one_of(facts.edge, ("", "opens", "closes"), "edge")
    if facts.measured_from_id:
        layer_of(snapshot, detail_id, facts.measured_from_id, "measured_from_id")


def _time(snapshot: Snapshot, facts: ActivityFacts) -> None:
    most = MOST_CLOCK if facts.kind == "wait" else MOST_WORK
    if facts.kind in TAKES_TIME and facts.work == 0:
        raise BadInput("plan.no_time", field="work")
    for field, minutes in (("work", facts.work), ("low", facts.low), ("high", facts.high)):
        if minutes is not None and minutes < 0:
            raise BadInput("plan.negative_time", field=field)
        if minutes is not None and minutes > most:
            raise BadInput("plan.absurd_time", field=field, years=YEARS)
    if facts.low is not None and facts.low > facts.work:
        raise BadInput("plan.low_over_work", field="low")
    if facts.high is not None and facts.high < facts.work:
        raise BadInput("plan.high_under_work", field="high")
    for field, when in (("not_before", facts.not_before), ("finish_by", facts.finish_by)):
        if when is not None:
            near(when, snapshot.project.start, field)
    if facts.not_before and facts.finish_by and facts.finish_by <= facts.not_before:
        raise BadInput("plan.finish_before_start", field="finish_by")


def hours_of(
    snapshot: Snapshot, calendar_id: str | None, crew_ids: Iterable[str | None]
) -> Calendar:
    """When these crews work together: on the calendar named, else the hours they have in common.

    Refused if they never work at the same hours.
    """
    crews = [snapshot.crews[id].calendar_id for id in crew_ids if id]
    ids = [calendar_id] if calendar_id else crews or [None]
    first, *others = (calendar_of(snapshot, id or snapshot.project.calendar_id) for id in ids)
    try:
        return reduce(Calendar.both, others, first)
    except Refused:
        raise BadInput("plan.never_together", field="with_crew_ids") from None


def fits_a_day(work: int, hours: Calendar) -> bool:
    """Whether there is a day with that many working minutes."""
    return work <= hours.longest_weekday or bool(hours.long_days(work))
