"""The folded part of an activity's form: stuff, circuits, temporary works, samples, drawings."""

from dataclasses import replace
from typing import Any

from server.core.changes.plan import ActivityFacts
from server.core.particulars import GOES_WITH, ON_TEMPORARY, STUFFS
from server.core.world import Activity, Snapshot
from server.pages.kit.forms import CLOCK_DAY, Form
from server.pages.plan.pressing import Options
from server.pages.plan.writing import span_written

TICKS = ("finish_wood", "shakes", "fire_watch", "carries_datum")
CHOICES = ("temporary_id", "way_in_id", "sample_id", "sheet_id")
TEXTS = ("stuff", "circuit", "temporary")
STUFF_SAID = {"compound": "joint compound"}


def has(kind: str) -> tuple[str, ...]:
    """The fields of this part that a form of this kind has."""
    return tuple(name for name, kinds in GOES_WITH.items() if kind in kinds)


def filled(facts: ActivityFacts) -> dict[str, str]:
    """What stands in the fields of this part; empty ones are left out."""
    values = {name: "yes" for name in TICKS if getattr(facts, name)}
    values |= {name: getattr(facts, name) or "" for name in (*CHOICES, *TEXTS)}
    return values | {"review": span_written(facts.review or None, CLOCK_DAY)}


def read_particulars(form: Form, facts: ActivityFacts) -> ActivityFacts:
    """The facts with what was typed in this part, as far as a form of their kind has it."""
    read: dict[str, Any] = {}
    for name in has(facts.kind):
        if name in TICKS:
            read[name] = form.ticked(name)
        elif name in CHOICES:
            read[name] = form.text(name, most=40) or None
        elif name in TEXTS:
            read[name] = form.text(name, most=40)
    if "review" in has(facts.kind):
        read["review"] = form.minutes("review", 0, day=CLOCK_DAY) or 0
    return replace(facts, **read)


def said(form: Form, kind: str) -> int:
    """How many of these facts are said, to be told while they are folded away."""
    names = tuple(name for name in has(kind) if name != "temporary_id")
    return sum(bool(form.typed(name)) for name in (*names, "needs_open"))


def wrong(form: Form, kind: str) -> bool:
    """Whether something in this part was refused."""
    fields = {refusal.field or "" for refusal in form.all_refusals}
    return any(f in has(kind) or f.startswith("needs_open") for f in fields)


def options(snapshot: Snapshot, activity: Activity | None) -> dict[str, Options]:
    """What can be chosen here. What is chosen already stays, though it is out or replaced."""
    kept = {getattr(activity, name) for name in CHOICES} if activity else set()
    temporary = tuple(
        (t.id, t.name) for t in snapshot.temporary.values() if t.taken_out is None or t.id in kept
    )
    sheets = tuple(
        (s.id, f"{s.number}, revision {s.revision}" + (", replaced" if s.replaced_id else ""))
        for s in snapshot.sheets.values()
        if s.replaced_id is None or s.id in kept
    )
    samples = tuple(
        (a.id, f"{a.name} ({snapshot.details[a.detail_id].name})")
        for a in snapshot.activities.values()
        if a.kind == "decision" and (a in snapshot.chain or a.id in kept)
    )
    ways = tuple((w.id, w.name) for w in snapshot.ways.values())
    return {
        "stuff": (("", "not said"), *((s, STUFF_SAID.get(s, s)) for s in STUFFS)),
        "temporary": (("", "nothing"), *((t, t) for t in ON_TEMPORARY)),
        "temporary_id": (("", "none"), *temporary) if temporary else (),
        "way_in_id": (("", "any"), *ways) if ways else (),
        "sample_id": (("", "none"), *samples) if samples else (),
        "sheet_id": (("", "none"), *sheets) if sheets else (),
    }
