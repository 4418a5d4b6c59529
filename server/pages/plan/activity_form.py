"""What is typed of an activity, read into facts; and facts written into a form."""

from collections.abc import Iterable, Mapping
from dataclasses import fields, replace
from datetime import datetime
from typing import Any

from server.core.changes.plan import ActivityFacts
from server.core.changes.plan_facts import VERBS
from server.core.world import Activity, Layer, Snapshot
from server.pages.kit.forms import CLOCK_DAY, DAY, Form
from server.pages.plan import particulars_form
from server.pages.plan.writing import parts_written, read_parts, span_written

KINDS = {
    "task": "task",
    "wait": "wait",
    "hold": "check before cover",
    "delivery": "delivery",
    "decision": "decision",
}
TIMED = ("task", "wait", "delivery")
TICKS = ("overhead", "wet", "dirty", "hot", "heavy", "closes_place", "one_day")
OF_KIND = {
    "task": (
        "crew_id",
        "place_id",
        "calendar_id",
        "opens_way_id",
        "closes_way_id",
        "measured_from_id",
    ),
    "wait": ("place_id",),
    "hold": ("place_id", "calendar_id", "measured_from_id"),
    "delivery": ("crew_id", "place_id", "calendar_id", "measured_from_id"),
    "decision": ("person_id",),
}
"""Which choices a form of each kind has; what it has not stays as it was."""


def day_of(kind: str) -> int:
    """Minutes of a day of this kind: a wait runs by the clock, all else in working time."""
    return CLOCK_DAY if kind == "wait" else DAY


def facts_of(snapshot: Snapshot, activity: Activity) -> ActivityFacts:
    """The facts of an activity as they are."""
    plain = {
        f.name: getattr(activity, f.name) for f in fields(ActivityFacts) if f.name not in VERBS
    }
    effects = snapshot.effects_of.get(activity.id, ())
    done: dict[str, Any] = {
        name: {e.layer_id: e.parts for e in effects if e.verb == verb}
        for name, verb in VERBS.items()
    }
    return ActivityFacts(**plain, **done)


def filled(facts: ActivityFacts, layers: Iterable[Layer] = ()) -> dict[str, tuple[str, ...]]:
    """The fields of a form that says these facts; `layers` are those of the detail."""
    of = {layer.id: layer.parts for layer in layers}
    day = day_of(facts.kind)
    values = {
        "name": facts.name,
        "note": facts.note,
        "work": span_written(facts.work or None, day),
        "low": span_written(facts.low, day),
        "high": span_written(facts.high, day),
        "not_before": _typed(facts.not_before),
        "finish_by": _typed(facts.finish_by),
        "edge": facts.edge,
        **{name: getattr(facts, name) or "" for name in OF_KIND[facts.kind]},
        **{name: "yes" for name in TICKS if getattr(facts, name)},
        **particulars_form.filled(facts),
    }
    many = {"with_crew_ids": facts.with_crew_ids}
    for verb in VERBS:
        on: Mapping[str, tuple[int, ...]] = getattr(facts, verb)
        many[verb] = tuple(on)
        values |= {
            f"{verb}_{id}": parts_written(parts, of.get(id, 0)) for id, parts in on.items() if parts
        }
    return {name: (value,) for name, value in values.items() if value} | many


def read_facts(form: Form, before: ActivityFacts, layers: tuple[Layer, ...]) -> ActivityFacts:
    """The facts typed, over those there were; what cannot be read is kept as refusals."""
    kind = before.kind
    day = day_of(kind)
    chosen: dict[str, Any] = {name: form.text(name, most=40) or None for name in OF_KIND[kind]}
    facts = replace(
        before,
        name=form.text("name", needed=True, most=120),
        note=form.text("note"),
        not_before=form.moment("not_before"),
        finish_by=form.moment("finish_by"),
        **chosen,
    )
    facts = particulars_form.read_particulars(form, facts)
    if kind in TIMED:
        facts = replace(
            facts,
            work=form.minutes("work", 0, day=day) or 0,
            low=form.minutes("low", day=day),
            high=form.minutes("high", day=day),
        )
    if kind == "wait":
        return replace(facts, closes_place=form.ticked("closes_place"))
    if kind != "task":
        return facts
    ticks: dict[str, Any] = {name: form.ticked(name) for name in TICKS}
    done: dict[str, Any] = {verb: _on_layers(form, verb, layers) for verb in VERBS}
    return replace(
        facts,
        with_crew_ids=form.chosen("with_crew_ids"),
        edge=form.text("edge", most=40),
        **ticks,
        **done,
    )


def _on_layers(form: Form, verb: str, layers: tuple[Layer, ...]) -> dict[str, tuple[int, ...]]:
    """Layers ticked, and those whose parts are named without a tick."""
    ticked = form.chosen(verb)
    named = tuple(layer.id for layer in layers if form.typed(f"{verb}_{layer.id}").strip())
    of = {layer.id: (layer.parts, layer.part_name) for layer in layers}
    return {
        id: read_parts(form, f"{verb}_{id}", *of.get(id, ()))
        for id in dict.fromkeys((*ticked, *named))
    }


def _typed(when: datetime | None) -> str:
    return when.isoformat(timespec="minutes") if when else ""
