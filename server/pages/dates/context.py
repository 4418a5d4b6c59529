"""What the page of a detail's dates shows."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from server.core.promises import days_late, finish_of, promised, promised_finish
from server.core.refusals import Message, message
from server.core.world.hours import working_days
from server.pages.dates.moved import Moved, moved_of, short_day
from server.pages.dates.rounds import RoundRow, round_rows
from server.pages.kit import Form
from server.pages.shared.opened import Opened
from server.people.viewer import Viewer


@dataclass(frozen=True)
class DateRow:
    """An activity: its promised day, and its forecast with how many working days that is apart."""

    id: str
    name: str
    due: str
    then: str
    done: bool


@dataclass(frozen=True)
class Typed:
    """The two forms of the page as they were sent, if one was refused."""

    promise: Form = field(default_factory=Form)
    cause: Form = field(default_factory=Form)


@dataclass(frozen=True)
class DatesPage:
    """The dates of a detail. `may_agree` is for whoever may promise them and say why."""

    form: Form
    cause: Form
    detail_id: str
    detail: str
    sheet: str
    said: str
    late: bool
    moved: Moved
    rows: tuple[DateRow, ...]
    rounds: tuple[RoundRow, ...]
    may_agree: bool


def dates_page(opened: Opened, viewer: Viewer, typed: Typed) -> DatesPage:
    """Forecast and promised dates of the opened detail, and how they came to be."""
    snapshot, schedule, detail_id = opened.snapshot, opened.schedule, opened.detail_id
    detail = snapshot.details[detail_id]
    return DatesPage(
        form=typed.promise,
        cause=typed.cause,
        detail_id=detail_id,
        detail=detail.name,
        sheet=detail.sheet,
        said=opened.words.say(_stands(opened), now=opened.now),
        late=(days_late(snapshot, schedule, detail_id) or 0) > 0,
        moved=moved_of(opened),
        rows=tuple(_rows(opened)),
        rounds=round_rows(snapshot, detail_id),
        may_agree=viewer.actor.role == "super",
    )


def _stands(opened: Opened) -> Message:
    """The finish, and how it stands to what was promised, in one sentence."""
    snapshot, schedule, detail_id = opened.snapshot, opened.schedule, opened.detail_id
    finish = finish_of(snapshot, schedule, detail_id)
    if finish is None:
        return message("dates_page.no_work")
    done = all(a.id in schedule.done for a in snapshot.chain_of(detail_id))
    due, days = promised_finish(snapshot, detail_id), days_late(snapshot, schedule, detail_id)
    if due is None or days is None:
        return message("dates_page.not_promised", finish=finish, done=done)
    if days:
        apart = message("dates_page.apart", n=abs(days), later=days > 0)
        return message(
            "dates_page.stands", finish=finish, done=done, apart=apart, promised=due.date()
        )
    if due.date() != finish.date():
        return message("dates_page.near", finish=finish, done=done, promised=due)
    return message("dates_page.as_promised", finish=finish, done=done)


def _rows(opened: Opened) -> Iterator[DateRow]:
    schedule = opened.schedule
    given = promised(opened.snapshot, opened.detail_id)
    for activity in opened.snapshot.chain_of(opened.detail_id):
        day, done = schedule[activity.id].early_finish.date(), activity.id in schedule.done
        due = given[activity.id].finish.date() if activity.id in given else None
        days = working_days(opened.snapshot, due, day) if due else 0
        then = message("dates_page.then", done=done, day=day)
        if days:
            apart = message("dates_page.apart", n=abs(days), later=days > 0)
            then = message("dates_page.then_apart", done=done, day=day, apart=apart)
        said = message("dates_page.not_due")
        if due:
            said = message("dates_page.due", day=short_day(due, opened.words))
        yield DateRow(
            id=activity.id,
            name=activity.name,
            due=opened.words.say(said, now=opened.now),
            then=opened.words.say(then, now=opened.now),
            done=done,
        )
