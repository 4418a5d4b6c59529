"""How the forecast finish of a detail moved: its drawing, and the days of it with their causes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from babel.dates import format_skeleton
from markupsafe import Markup

from server.core.kept import Day, days_of
from server.core.refusals import message
from server.core.world import Agreed, Cause, Snapshot
from server.drawing.finish_line import Kept, Labels, Promised, SlipMark, finish_line
from server.pages.dates.rounds import rounds_of
from server.pages.shared.opened import Opened
from server.words import Words


@dataclass(frozen=True)
class Said:
    """A cause in the words of whoever gave it; `of` is the work it was said of, if any."""

    text: str
    who: str
    of: str
    at: datetime


@dataclass(frozen=True)
class MoveRow:
    """A day on which the finish moved, or of which somebody said something, by its number.

    `later` is in working days of the site: negative if the finish came earlier.
    """

    number: int
    day: date
    moved: str
    later: int
    finish: datetime
    causes: tuple[Said, ...]

    @property
    def key(self) -> str:
        """The day as a form sends it."""
        return self.day.isoformat()


@dataclass(frozen=True)
class Moved:
    """The drawing, the days newest first, and since when evenings are kept."""

    drawing: Markup
    rows: tuple[MoveRow, ...]
    since: date | None


def moved_of(opened: Opened) -> Moved:
    """How the finish of the opened detail moved until now."""
    days = _days(opened)
    rows = tuple(_rows(opened, days))
    return Moved(
        drawing=_drawing(opened, days, rows),
        rows=rows[::-1],
        since=days[0].day if len(days) > 1 else None,
    )


def short_day(day: date, words: Words) -> str:
    """A day without its weekday, where there is little room: "Dec 10"."""
    return format_skeleton("MMMd", day, locale=words.locale)


def _days(opened: Opened) -> Sequence[Day]:
    """The evenings since the house was begun; the first of them is where it starts from."""
    snapshot = opened.snapshot
    found = days_of(snapshot, opened.schedule, opened.detail_id, opened.now)
    days = [day for day in found if day.day >= snapshot.project.start.date()]
    return [replace(days[0], later=0), *days[1:]] if days else []


def _rows(opened: Opened, days: Sequence[Day]) -> Iterator[MoveRow]:
    told = (day for day in days if day.later or day.causes)
    for number, day in enumerate(told, 1):
        said = message("dates_page.stayed")
        if day.later:
            said = message("dates_page.apart", n=abs(day.later), later=day.later > 0)
        yield MoveRow(
            number=number,
            day=day.day,
            moved=opened.words.say(said),
            later=day.later,
            finish=day.finish,
            causes=tuple(_said(opened.snapshot, cause) for cause in day.causes),
        )


def _said(snapshot: Snapshot, cause: Cause) -> Said:
    person = snapshot.people.get(cause.by_id)
    crew = snapshot.crews.get(person.crew_id or "") if person else None
    activity = snapshot.activities.get(cause.activity_id or "")
    names = [one.name for one in (person, crew) if one]
    return Said(cause.text, ", ".join(names), activity.name if activity else "", cause.at)


def _drawing(opened: Opened, days: Sequence[Day], rows: Sequence[MoveRow]) -> Markup:
    words, now = opened.words, opened.now
    name = opened.snapshot.details[opened.detail_id].name
    labels = Labels(
        title=words.say(message("dates_page.drawing", detail=name, n=len(rows))),
        promised=words.say(message("dates_page.promised")),
        forecast=words.say(message("dates_page.forecast")),
        axis_day=lambda day: short_day(day, words),
        finish_day=lambda day: words.day(day, now),
    )
    return finish_line(
        [Kept(day.day, day.finish.date()) for day in days],
        [_promised(agreed) for agreed in rounds_of(opened.snapshot, opened.detail_id)],
        [SlipMark(row.day, row.number) for row in rows],
        labels,
    )


def _promised(agreed: Sequence[Agreed]) -> Promised:
    """A round: from the day it was agreed on, its latest finish."""
    return Promised(agreed[0].at.date(), max(one.finish for one in agreed).date())
