"""Rules: a figure is kept with a detail, and gives a check its numbers or a wait its length."""

from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, ChangedSince, Outcome, rule
from server.core.changes.inputs import BadInput, ids_after, name_of, text_of, there
from server.core.changes.kept_figures import (
    EndFigure,
    KeepFigure,
    StackFacts,
    StackPartFacts,
    TieFigure,
    TieToWait,
    UntieFigure,
)
from server.core.changes.plan import AskFacts
from server.core.changes.plan_checks import asks_of, checked_ask
from server.core.refusals import Message
from server.core.stacks import stack_of
from server.core.states import live_attempts
from server.core.world import Activity, Detail, HoldPoint, KeptFigure, Snapshot, StackPart

LARGEST = 4096
"""Bytes of the inputs of one figure."""
MOST = 40
"""Figures of one detail."""
MOST_PARTS = 20
"""Parts of one stack."""
NO_STACK = StackFacts(parts=())


@rule(KeepFigure)
def keep_figure(snapshot: Snapshot, actor: Actor, command: KeepFigure, at: datetime) -> Outcome:
    """The figure with these inputs; what is tied to it stays tied and as it is."""
    detail = there(snapshot, Detail, command.detail_id, "detail_id")
    known = snapshot.kept_figures.get(command.id)
    if known is not None:
        there(snapshot, KeptFigure, command.id, "id")
        if (known.detail_id, known.figure) != (command.detail_id, command.figure):
            raise BadInput("input.id_taken", field="id")
    elif len(figures_of(snapshot, detail.id)) >= MOST:
        raise BadInput("kept_figures.too_many", most=MOST)
    if not command.id or not command.figure:
        raise BadInput("input.no_name", field="figure")
    if len(command.inputs.encode("utf-8", "surrogatepass")) > LARGEST:
        raise BadInput("kept_figures.too_large", field="inputs")
    kept = KeptFigure(
        id=command.id,
        project_id=detail.project_id,
        detail_id=detail.id,
        figure=command.figure,
        name="",
        inputs="",
    )
    stack = command.stack or NO_STACK
    kept = replace(
        known or kept,
        name=name_of(command.name),
        inputs=command.inputs,
        limits=text_of(command.limits, "limits", 120),
        outside=command.outside,
        least=stack.least,
        most=stack.most,
        units=stack.units,
    )
    after = _with_parts(snapshot, kept, stack.parts)
    return Outcome(after, _said("log.figure_kept", snapshot, kept))


@rule(TieFigure)
def tie_figure(snapshot: Snapshot, actor: Actor, command: TieFigure, at: datetime) -> Outcome:
    """The check asks for these numbers. One that was released with others is opened again first."""
    kept = there(snapshot, KeptFigure, command.figure_id, "figure_id")
    hold = snapshot.holds.get(command.hold_id)
    activity = snapshot.activities.get(hold.activity_id) if hold is not None else None
    if hold is None or activity is None or activity.detail_id != kept.detail_id:
        raise BadInput("kept_figures.not_of_detail", field="hold_id")
    there(snapshot, Activity, activity.id, "hold_id")
    if command.inputs != kept.inputs:
        raise ChangedSince("change.changed_since", id=kept.id)
    if not command.asks:
        raise BadInput("kept_figures.no_numbers", field="hold_id")
    _only_one(snapshot, kept, hold)
    _nobody_judges(snapshot, hold, activity)
    after = _asking(snapshot, hold, command.asks, text_of(command.datum, "datum", 200))
    tied = replace(kept, hold_id=hold.id, activity_id=None, taken=kept.inputs)
    said = _said("log.figure_taken", snapshot, kept, check=activity.name)
    return Outcome(after.put(tied), said)


@rule(TieToWait)
def tie_to_wait(snapshot: Snapshot, actor: Actor, command: TieToWait, at: datetime) -> Outcome:
    """The wait is planned by the figure; it takes as long as before."""
    kept = there(snapshot, KeptFigure, command.figure_id, "figure_id")
    wait = there(snapshot, Activity, command.activity_id, "activity_id")
    if wait.detail_id != kept.detail_id or wait.kind != "wait":
        raise BadInput("kept_figures.not_of_detail", field="activity_id")
    tied = replace(kept, activity_id=wait.id, hold_id=None, taken="")
    return Outcome(snapshot.put(tied), _said("log.figure_waits", snapshot, kept, wait=wait.name))


@rule(UntieFigure)
def untie_figure(snapshot: Snapshot, actor: Actor, command: UntieFigure, at: datetime) -> Outcome:
    """Check and wait stay as they are."""
    kept = there(snapshot, KeptFigure, command.figure_id, "figure_id")
    free = replace(kept, hold_id=None, activity_id=None, taken="")
    return Outcome(snapshot.put(free), _said("log.figure_untied", snapshot, kept))


@rule(EndFigure)
def end_figure(snapshot: Snapshot, actor: Actor, command: EndFigure, at: datetime) -> Outcome:
    """It is kept no more, and nothing is tied to it; check and wait stay as they are."""
    kept = there(snapshot, KeptFigure, command.figure_id, "figure_id")
    ended = replace(kept, hold_id=None, activity_id=None, taken="", ended=at)
    return Outcome(snapshot.put(ended), _said("log.figure_ended", snapshot, kept))


def figures_of(snapshot: Snapshot, detail_id: str) -> tuple[KeptFigure, ...]:
    """The figures that are kept with a detail, by name."""
    found = (k for k in snapshot.kept_figures.values() if k.detail_id == detail_id and not k.ended)
    return tuple(sorted(found, key=lambda kept: (kept.name.casefold(), kept.id)))


def figure_of_check(snapshot: Snapshot, hold_id: str) -> KeptFigure | None:
    """The figure that a check has its numbers from."""
    found = (k for k in snapshot.kept_figures.values() if k.hold_id == hold_id and not k.ended)
    return next(found, None)


def _with_parts(
    snapshot: Snapshot, kept: KeptFigure, parts: tuple[StackPartFacts, ...]
) -> Snapshot:
    """The figure with these parts of its stack, which has to come out; each keeps its row."""
    if len(parts) > MOST_PARTS:
        raise BadInput("kept_figures.too_many_parts", most=MOST_PARTS)
    known = snapshot.stack_parts_of.get(kept.id, ())
    ids = ids_after(kept.id, snapshot.stack_parts)
    rows = []
    for order, part in enumerate(parts):
        _measures(snapshot, kept, part, order + 1)
        row = StackPart(
            id=known[order].id if order < len(known) else next(ids),
            version=known[order].version if order < len(known) else 1,
            project_id=kept.project_id,
            figure_id=kept.id,
            order=order,
            **vars(part),
        )
        rows.append(replace(row, name=name_of(part.name, f"name-{order + 1}")))
    after = snapshot.drop(*known[len(parts) :]).put(kept, *rows)
    stack_of(after, kept)
    return after


def _measures(snapshot: Snapshot, kept: KeptFigure, part: StackPartFacts, no: int) -> None:
    """Refuses a part that a check of another detail measures, or that is measured twice."""
    if part.hold_id is None:
        return
    hold = snapshot.holds.get(part.hold_id)
    activity = snapshot.activities.get(hold.activity_id) if hold is not None else None
    if activity is None or activity.detail_id != kept.detail_id:
        raise BadInput("kept_figures.not_of_detail", field=f"by-{no}")
    if part.measured is not None:
        raise BadInput("stack.measured_twice", field=f"measured-{no}")


def _only_one(snapshot: Snapshot, kept: KeptFigure, hold: HoldPoint) -> None:
    other = figure_of_check(snapshot, hold.id)
    if other is not None and other.id != kept.id:
        raise BadInput("kept_figures.another", field="hold_id", figure=other.name)


def _nobody_judges(snapshot: Snapshot, hold: HoldPoint, activity: Activity) -> None:
    """Refuses other numbers where somebody has decided, or is to decide, by those there are."""
    states = {attempt.state for attempt in live_attempts(snapshot, hold)}
    if activity.finished is not None or "released" in states:
        raise BadInput("kept_figures.released", field="again", check=activity.name)
    if "marked" in states:
        raise BadInput("kept_figures.marked", field="hold_id", check=activity.name)


def _asking(
    snapshot: Snapshot, hold: HoldPoint, asked: tuple[AskFacts, ...], datum: str
) -> Snapshot:
    """The check with these numbers; as many parts as they name, or as somebody has looked at."""
    named = max((ask.part or 0 for ask in asked), default=0)
    looked_at = hold.id in snapshot.attempts_of
    parts = max(named, hold.parts) if looked_at or not named else named
    for ask in asked:
        checked_ask(ask, parts)
    asks = asks_of(snapshot, hold, asked)
    stay = {ask.id for ask in asks}
    gone = [ask for ask in snapshot.asks_of.get(hold.id, ()) if ask.id not in stay]
    measured = {m.ask_id for m in snapshot.measurements.values()}
    if lost := next((ask for ask in gone if ask.id in measured), None):
        raise BadInput("plan.ask_has_numbers", field="hold_id", ask=lost.label)
    # where the numbers before came from is not where these do: the figure says that
    changed = replace(hold, parts=parts, datum=datum or hold.datum, source="")
    return snapshot.drop(*gone).put(changed, *asks)


def _said(id: str, snapshot: Snapshot, kept: KeptFigure, **names: str) -> Message:
    detail = snapshot.details[kept.detail_id].name
    return Message(id, {"figure": kept.name, "detail": detail, **names})
