"""The pages of a push: of one activity, of the press that mends a note, and whom to tell after."""

from dataclasses import dataclass

from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.world import Activity
from server.pages.kit import Form
from server.pages.push.choices import Choice, choices, visit_of, what_can_be
from server.pages.push.shown import PushShown
from server.pages.shared.opened import Opened
from server.pages.shared.to_tell import CrewToTell, to_tell


@dataclass(frozen=True)
class PushPage:
    """The page: what was asked and what it pushes, and what else could be asked."""

    form: Form
    detail_id: str
    detail: str
    sheet: str
    activity_id: str
    name: str
    kind: str
    now_said: str
    shown: PushShown | None
    choices: tuple[Choice, ...]
    can: tuple[str, ...]
    crew: str
    visit: str


@dataclass(frozen=True)
class MendPage:
    """The press that mends a note, with what it pushes."""

    form: Form
    project_id: str
    house: str
    note: str
    shown: PushShown
    back: str


@dataclass(frozen=True)
class ToldPage:
    """The crews that still have to hear of what was agreed."""

    house: str
    project_id: str
    crews: tuple[CrewToTell, ...]
    back: str


def push_page(
    opened: Opened,
    schedule: Schedule,
    activity: Activity,
    form: Form,
    shown: PushShown | None,
) -> PushPage:
    """The page of one activity's push."""
    snapshot, words = opened.snapshot, opened.words
    detail, dates = snapshot.details[activity.detail_id], schedule[activity.id]
    visit = visit_of(opened, activity)
    ends = activity.kind in ("wait", "delivery") or activity.started is not None
    now = message(
        "push.now_ends" if ends else "push.now",
        when=dates.early_finish if ends else dates.early_start,
    )
    return PushPage(
        form=form,
        detail_id=detail.id,
        detail=detail.name,
        sheet=detail.sheet,
        activity_id=activity.id,
        name=activity.name,
        kind=activity.kind,
        now_said=words.say(now, now=opened.now),
        shown=shown,
        choices=choices(opened, schedule, activity),
        can=what_can_be(activity),
        crew=snapshot.crews[visit.crew_id].name if visit else "",
        visit=visit.start.isoformat(timespec="minutes") if visit else "",
    )


def told_page(opened: Opened) -> ToldPage:
    """Everything that a crew of this house has not heard yet."""
    house = opened.snapshot.project
    return ToldPage(house.name, house.id, to_tell(opened), f"/p/{house.id}/told")
