"""The facts that stand on the page of an activity."""

from collections.abc import Iterator

from server.core.changes.rules_stages import STAGES
from server.core.refusals import message
from server.core.world import Activity
from server.core.world.hours import remains
from server.pages.detail.looking import Looking


def facts_of(looking: Looking, activity: Activity) -> Iterator[tuple[str, str]]:
    """Each fact as the id of its name and what is said; what is not said is empty."""
    snapshot, words = looking.snapshot, looking.words
    person = snapshot.people.get(activity.person_id or "")
    place = snapshot.places.get(activity.place_id or "")
    days = 1440 if activity.kind == "wait" else 480
    yield "detail.who", looking.crew(activity)
    yield "detail.owes", person.name if person else ""
    if activity.kind in ("task", "wait", "delivery"):
        takes = message(
            "detail.takes_said", takes=words.span(activity.work, days), tag=activity.tag
        )
        said = words.span(activity.work, days)
        yield "detail.takes", looking.say(takes) if activity.tag else said
    if activity.finished is None:
        yield "detail.remaining", _remains(looking, activity)
    yield "detail.place", place.name if place else ""
    before = [snapshot.activities[d.before_id] for d in snapshot.before.get(activity.id, ())]
    names = [a.name for a in before if a.ended is None]
    yield "detail.after", words.listed(names) if names else ""
    yield from _made_to(looking, activity)
    yield from _reached(looking, activity)


def _remains(looking: Looking, activity: Activity) -> str:
    """What remains now of work of which somebody has said it; nothing where nobody has."""
    left = remains(looking.snapshot, activity, looking.now)
    if left is None:
        return ""
    if not left:
        return looking.say(message("detail.should_be_done"))
    done = 100 * (activity.work - left) // activity.work if activity.work else 0
    if done <= 0:
        return looking.say(message("detail.remains", left=left))
    return looking.say(message("detail.about_done", done=done, left=left))


def next_stage(activity: Activity) -> str:
    """The stage of a delivery that is likely to be recorded next."""
    last = max((n for n, s in enumerate(STAGES) if getattr(activity, s) is not None), default=-1)
    return STAGES[min(last + 1, len(STAGES) - 1)]


def _made_to(looking: Looking, activity: Activity) -> Iterator[tuple[str, str]]:
    """What it has to be open for it, what it is made to, and what it has to match."""
    snapshot = looking.snapshot
    effects = snapshot.effects_of.get(activity.id, ())
    needs = [snapshot.layers[e.layer_id].name for e in effects if e.verb == "needs open"]
    yield "detail.needs_open", looking.words.listed(needs) if needs else ""
    sheet = snapshot.sheets.get(activity.sheet_id or "")
    if sheet is not None:
        drawing = message("detail.made_to_drawing", number=sheet.number, revision=sheet.revision)
        yield "detail.made_to", looking.say(drawing)
    sample = snapshot.activities.get(activity.sample_id or "")
    yield "detail.matches", sample.name if sample else ""


def _reached(looking: Looking, activity: Activity) -> Iterator[tuple[str, str]]:
    """How far a delivery has come, and whether a circuit is dead."""
    if activity.circuit and activity.circuit_dead is None:
        yield "detail.circuit", looking.say(message("detail.not_dead", circuit=activity.circuit))
    elif activity.circuit:
        said = message("detail.dead", circuit=activity.circuit, when=activity.circuit_dead)
        yield "detail.circuit", looking.say(said)
    reached = [
        looking.say(message("detail.reached", stage=stage, when=when))
        for stage in STAGES
        if (when := getattr(activity, stage)) is not None
    ]
    yield "detail.stages", " · ".join(reached)
