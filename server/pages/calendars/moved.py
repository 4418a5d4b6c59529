"""What a change of hours moves: the finish of each house, and of the details that move."""

from collections.abc import Callable, Iterator, Sequence
from datetime import date, datetime
from itertools import islice

from server.core.changes import Actor, Command, change
from server.core.promises import finish_of, promised_finish
from server.core.refusals import Message, message
from server.core.shifts import hours_of_crew, shifts_of
from server.core.visits import is_open
from server.core.world import Snapshot
from server.core.world.clock import status_of
from server.core.world.hours import working_days
from server.core.world.network import forecast
from server.words import Words

MOST_HOUSES = 3
MOST_DETAILS = 3
MOST_VISITS = 3

Now = Callable[[Snapshot], datetime]


def as_if(
    houses: Sequence[Snapshot], actor: Actor, command: Command, now: Now
) -> tuple[Snapshot, ...]:
    """The houses as they would be after a command of the company. Raises its refusal."""
    return tuple(change(house, actor, command, now(house)).after for house in houses)


def moved(before: Sequence[Snapshot], after: Sequence[Snapshot], now: Now, words: Words) -> str:
    """What moves between the same houses before and after, in sentences.

    Nothing else than their calendars and crews is taken to differ, and both are seen as of now.
    """
    said: list[Message] = []
    pairs = [(a, b) for a, b in zip(before, after, strict=True) if a.chain]
    for was, house in pairs[:MOST_HOUSES]:
        said += _house(was, house, status_of(now(house)))
    if len(pairs) > MOST_HOUSES:
        said.append(message("calendars.more_houses", more=len(pairs) - MOST_HOUSES))
    today = now(after[0]) if after else None
    return " ".join(words.say(one, now=today) for one in said)


def _house(before: Snapshot, after: Snapshot, status: datetime) -> Iterator[Message]:
    was, now = forecast(before, status), forecast(after, status)
    name = after.project.name
    details = [
        (detail.name, first, second, promised_finish(after, detail.id))
        for detail in after.details.values()
        if (first := finish_of(before, was, detail.id)) is not None
        if (second := finish_of(after, now, detail.id)) is not None
        if first.date() != second.date()
    ]
    if was.finish.date() != now.finish.date():
        yield _ends(after, name, was.finish, now.finish)
    elif details:
        yield message("calendars.same_end", house=name, at=now.finish.date())
    else:
        yield message("calendars.nothing_moves", house=name)
    for detail, first, second, due in details[:MOST_DETAILS]:
        yield _ends(after, detail, first, second)
        if due is not None and second.date() > due.date():
            yield message("calendars.promised", at=due.date())
    if len(details) > MOST_DETAILS:
        yield message("calendars.more_details", more=len(details) - MOST_DETAILS)
    yield from islice(_shut_out(before, after, status), MOST_VISITS)


def _shut_out(before: Snapshot, after: Snapshot, status: datetime) -> Iterator[Message]:
    """The visits that begin on a day their crew worked before and does not any more."""
    for visit in sorted(after.bookings.values(), key=lambda visit: visit.start):
        crew, day = after.crews[visit.crew_id], visit.start.date()
        worked = shifts_of(hours_of_crew(before, before.crews[crew.id]), day)
        if is_open(visit, status) and worked and not shifts_of(hours_of_crew(after, crew), day):
            yield message("calendars.visit_shut_out", crew=crew.name, at=visit.start)


def _ends(after: Snapshot, name: str, was: datetime, now: datetime) -> Message:
    days = working_days(after, was.date(), now.date())
    at, before = date(now.year, now.month, now.day), date(was.year, was.month, was.day)
    if days == 0:
        return message("calendars.ends_instead", what=name, at=at, was=before)
    return message("calendars.ends", what=name, at=at, days=abs(days), later=days > 0)
