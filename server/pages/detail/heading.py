"""The finish of a detail against what was promised, and how long its layers can be looked at."""

from dataclasses import dataclass
from datetime import timedelta

from server.core.promises import days_late
from server.core.refusals import Message, message
from server.core.states import hold_state
from server.core.world import HoldPoint
from server.pages.detail.looking import Looking
from server.pages.shared.coming import Hiding, hidden_by

SOON = timedelta(days=7)


@dataclass(frozen=True)
class Countdown:
    """What disappears when, what is still open about it, and whether that is near."""

    head: str
    rest: str
    near: bool
    work_id: str
    work_detail_id: str
    work: str


def finish_said(looking: Looking) -> str:
    """The forecast of the finish, and how it stands against the promised date."""
    if not looking.chain:
        return looking.say(message("detail.empty"))
    finish = max(looking.schedule[a.id].early_finish for a in looking.chain)
    if all(a.id in looking.schedule.done for a in looking.chain):
        return looking.say(message("detail.finished", day=looking.when(finish.date())))
    return looking.say(
        message("detail.finish", day=looking.when(finish.date()), against=_against(looking))
    )


def _against(looking: Looking) -> Message:
    """How many days later or earlier than promised the forecast is."""
    days = days_late(looking.snapshot, looking.schedule, looking.detail.id)
    if days is None:
        return message("detail.not_promised")
    if days > 0:
        return message("detail.later", days=days)
    return message("detail.earlier", days=-days) if days else message("detail.as_promised")


def countdown_of(looking: Looking) -> Countdown | None:
    """The next thing that disappears over a check that is not OK to cover."""
    waiting = [
        h for h in looking.holds if hold_state(looking.snapshot, h, looking.schedule) != "released"
    ]
    hiding = [
        (found, hold)
        for hold in waiting
        if (found := hidden_by(looking.snapshot, looking.schedule, hold)) is not None
    ]
    if not hiding:
        return None
    first, _ = min(hiding, key=lambda pair: pair[0].coming.at)
    over = [hold for found, hold in hiding if found.work.id == first.work.id]
    head = message(
        "detail.disappears",
        layers=_layers(looking, first, over),
        when=looking.when(first.coming.shown),
    )
    rest = message(
        "detail.open_checks",
        n=len(over),
        checks=tuple(_said(looking, hold) for hold in over[:3]),
    )
    near = first.coming.at - looking.now < SOON
    work = first.work
    return Countdown(looking.say(head), looking.say(rest), near, work.id, work.detail_id, work.name)


def _layers(looking: Looking, hiding: Hiding, holds: list[HoldPoint]) -> tuple[str, ...]:
    covered = {
        e.layer_id
        for e in looking.snapshot.effects_of.get(hiding.work.id, ())
        if e.verb == "covers"
    }
    looked_at = [id for hold in holds for id in hold.layer_ids if id in covered]
    return tuple(dict.fromkeys(looking.snapshot.layers[id].name for id in looked_at))


def _said(looking: Looking, hold: HoldPoint) -> str:
    name = looking.snapshot.activities[hold.activity_id].name
    state = hold_state(looking.snapshot, hold, looking.schedule)
    return looking.say(message("detail.check_state", check=name, state=state))
