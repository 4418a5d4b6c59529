"""What an owner's rep, architect or engineer sees of one house."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from markupsafe import Markup

from server.core.promises import days_late, finish_of, last_of
from server.core.refusals import Message, message
from server.core.rights import details_seen, releases
from server.core.schedule import Schedule
from server.core.states import hold_state
from server.core.world import Activity, Detail
from server.core.world.clock import status_of
from server.drawing.pegs import peg_mark
from server.pages.kit import Form
from server.pages.shared.buildup import small_build_up
from server.pages.shared.layers import PEGS
from server.pages.shared.opened import Opened
from server.pages.shared.receipts import Receipt, receipts
from server.people.viewer import Viewer

LATELY = timedelta(days=7)
DRAWN = 8
"""A house with more details draws those that are the latest, and lists the rest."""


@dataclass(frozen=True)
class Track:
    """A detail: its drawing (if it is drawn), its finish with how that stands to what was promised,
    and the activity that is the last of it."""

    detail_id: str
    name: str
    sheet: str
    drawing: Markup
    finish: str
    last_id: str


@dataclass(frozen=True)
class Decision:
    """A decision that waits on this person."""

    id: str
    detail_id: str
    name: str
    where: str
    by: datetime
    late: bool


@dataclass(frozen=True)
class Theirs:
    """A check that is this person's to release."""

    href: str
    name: str
    stands: str
    peg: Markup


@dataclass(frozen=True)
class HouseSeen:
    """One house."""

    name: str
    said: str
    late: bool
    decisions: tuple[Decision, ...]
    checks: tuple[Theirs, ...]
    looked: tuple[Receipt, ...]
    tracks: tuple[Track, ...]
    listed: tuple[Track, ...]


@dataclass(frozen=True)
class OwnerPage:
    """All houses given to this person."""

    houses: tuple[HouseSeen, ...]
    form: Form
    refused_id: str


def house_seen(opened: Opened, viewer: Viewer) -> HouseSeen:
    """What this person sees of a house."""
    schedule = opened.schedule
    seen = details_seen(opened.snapshot, viewer.actor)
    details = [d for d in opened.snapshot.details.values() if d.id in seen and d.ended is None]
    drawn = _drawn(opened, details)
    return HouseSeen(
        name=opened.snapshot.project.name,
        said=opened.words.say(_on_track(opened, schedule, details)),
        late=any((days_late(opened.snapshot, schedule, detail.id) or 0) > 0 for detail in details),
        decisions=tuple(_decisions(opened, schedule, viewer)),
        checks=tuple(_checks(opened, viewer)),
        looked=tuple(
            receipt
            for hold, receipt in receipts(opened, opened.now - LATELY)
            if opened.snapshot.activities[hold.activity_id].detail_id in seen
        ),
        tracks=tuple(_track(opened, schedule, d, draw=True) for d in details if d.id in drawn),
        listed=tuple(_track(opened, schedule, d) for d in details if d.id not in drawn),
    )


def _on_track(opened: Opened, schedule: Schedule, details: list[Detail]) -> Message:
    """On track or not, and what sets the finish: one sentence."""
    late = [
        (days, d)
        for d in details
        if (days := days_late(opened.snapshot, schedule, d.id)) is not None
    ]
    if not late:
        return message("owner.nothing_promised")
    days, detail = max(late, key=lambda pair: pair[0])
    if days > 0:
        setting = _setting(opened, schedule, [detail])
        return message("owner.late", detail=detail.name, days=days, what=setting)
    return message("owner.on_track", what=_setting(opened, schedule, details))


def _setting(opened: Opened, schedule: Schedule, details: list[Detail]) -> str:
    """The first open activity on the way to the last finish of these details."""
    chain = [a for d in details for a in opened.snapshot.chain_of(d.id)]
    last = max(chain, key=lambda a: schedule[a.id].early_finish, default=None)
    if last is None:
        return ""
    path = [id for id in schedule.path(last.id) if id not in schedule.done]
    return opened.snapshot.activities[path[0]].name if path else last.name


def _drawn(opened: Opened, details: list[Detail]) -> set[str]:
    """The ids of those that are drawn: all of a few, else the latest that are not finished."""
    if len(details) <= DRAWN:
        return {detail.id for detail in details}
    snapshot, schedule = opened.snapshot, opened.schedule
    going = [d for d in details if any(a.id not in schedule.done for a in snapshot.chain_of(d.id))]
    going.sort(key=lambda d: -(days_late(snapshot, schedule, d.id) or 0))
    return {detail.id for detail in going[:DRAWN]}


def _track(opened: Opened, schedule: Schedule, detail: Detail, *, draw: bool = False) -> Track:
    small = Markup()
    if draw:
        words, now = opened.words, opened.now
        small = small_build_up(opened.snapshot, schedule, detail.id, words, now)
    last = last_of(opened.snapshot, schedule, detail.id)
    return Track(
        detail_id=detail.id,
        name=detail.name,
        sheet=detail.sheet,
        drawing=small,
        finish=_finish_said(opened, schedule, detail),
        last_id=last.id if last else "",
    )


def _finish_said(opened: Opened, schedule: Schedule, detail: Detail) -> str:
    """The finish of a detail, and how it stands to what was promised; empty without any work."""
    finish = finish_of(opened.snapshot, schedule, detail.id)
    if finish is None:
        return ""
    days = days_late(opened.snapshot, schedule, detail.id)
    if days is None:
        return opened.words.day(finish, opened.now)
    stands = message("morning.on_the_day")
    if days:
        stands = message("morning.late" if days > 0 else "morning.early", days=abs(days))
    return opened.words.say(
        message("owner.finish_stands", day=finish, stands=stands), now=opened.now
    )


def _decisions(opened: Opened, schedule: Schedule, viewer: Viewer) -> Iterator[Decision]:
    for activity in opened.snapshot.chain:
        if not _owed(activity, viewer):
            continue
        by = schedule[activity.id].late_finish
        yield Decision(
            id=activity.id,
            detail_id=activity.detail_id,
            name=activity.name,
            where=opened.snapshot.details[activity.detail_id].name,
            by=by,
            late=by < status_of(opened.now),
        )


def _owed(activity: Activity, viewer: Viewer) -> bool:
    mine = activity.person_id == viewer.person.id
    return activity.kind == "decision" and activity.finished is None and mine


def _checks(opened: Opened, viewer: Viewer) -> Iterator[Theirs]:
    snapshot = opened.snapshot
    for activity in snapshot.chain:
        hold = snapshot.hold_of.get(activity.id)
        if hold is None or not releases(snapshot, viewer.actor, hold):
            continue
        state = hold_state(snapshot, hold, opened.schedule)
        if state in ("not yet", "released"):
            continue
        stands = opened.words.say(message("build_up.state", state=state))
        yield Theirs(f"/h/{hold.id}", activity.name, stands, peg_mark(PEGS[state]))
