"""What the morning sheet shows, one part per house."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, time

from server.core.next import Going, who_goes_next
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.warnings import find
from server.core.world import TemporaryWork
from server.pages.morning.ahead import NextDay, next_day_of
from server.pages.morning.details import Strip, strip_of
from server.pages.morning.going import GoesRow, goes_row
from server.pages.shared.notes import NoteShown, notes_shown
from server.pages.shared.opened import Opened
from server.pages.shared.to_tell import CrewToTell, to_tell
from server.pages.standing.context import Squares, days_ahead
from server.store import LogRow

SHOWN = 5
LATER = 25
"""So many more of who goes next stand folded below; what comes after that is in its detail."""
NOTES = 8
"""So many notes stand there with the mends that clear them; the rest is folded, without."""
WEEK = 5


@dataclass(frozen=True)
class TemporaryRow:
    """A temporary work in use, and whether somebody has looked at it today."""

    id: str
    name: str
    whose: str
    looked: str
    wrong: bool


@dataclass(frozen=True)
class ChangeRow:
    """A change since yesterday morning: when, who, what."""

    at: datetime
    who: str
    said: str


@dataclass(frozen=True)
class HousePart:
    """One house on the sheet."""

    project_id: str
    name: str
    now: datetime
    finish: datetime | None
    last_id: str
    last_detail_id: str
    dangers: int
    others: int
    details: Strip
    to_tell: tuple[CrewToTell, ...]
    next_day: NextDay
    goes: tuple[GoesRow, ...]
    later: tuple[GoesRow, ...]
    still_later: int
    notes: tuple[NoteShown, ...]
    more_notes: tuple[NoteShown, ...]
    temporary: tuple[TemporaryRow, ...]
    grid: Squares
    changes: tuple[ChangeRow, ...]


@dataclass(frozen=True)
class MorningSheet:
    """All houses of the super."""

    houses: tuple[HousePart, ...]
    company: str
    back: str = "/"


def house_part(opened: Opened, log: list[LogRow], own: frozenset[str]) -> HousePart:
    """What the super sees of one house. `own` are the ids of the super."""
    snapshot, schedule = opened.snapshot, opened.schedule
    found = find(snapshot, schedule, tried_first=NOTES)
    goes = who_goes_next(snapshot, schedule, opened.status)
    last = snapshot.activities[schedule.critical_path[-1]] if snapshot.chain else None
    rows = tuple(_rows(opened, schedule, goes[: SHOWN + LATER]))
    notes = notes_shown(opened, found)
    return HousePart(
        project_id=opened.project_id,
        name=snapshot.project.name,
        now=opened.now,
        finish=schedule.finish if snapshot.chain else None,
        last_id=last.id if last else "",
        last_detail_id=last.detail_id if last else "",
        dangers=sum(w.bad == "danger" for w in found),
        others=sum(w.bad != "danger" for w in found),
        details=strip_of(opened, found),
        to_tell=to_tell(opened),
        next_day=next_day_of(opened, own),
        goes=rows[:SHOWN],
        later=rows[SHOWN:],
        still_later=len(goes) - len(rows),
        notes=notes[:NOTES],
        more_notes=notes[NOTES:],
        temporary=tuple(
            _temporary(opened, work)
            for work in snapshot.temporary.values()
            if work.put_in is not None and work.taken_out is None and work.daily
        ),
        grid=days_ahead(opened, found, WEEK),
        changes=tuple(_changes(opened, log)),
    )


def _rows(opened: Opened, schedule: Schedule, goes: tuple[Going, ...]) -> Iterator[GoesRow]:
    for going in goes:
        yield goes_row(opened, schedule, going)


def _temporary(opened: Opened, work: TemporaryWork) -> TemporaryRow:
    snapshot, words = opened.snapshot, opened.words
    today = datetime.combine(opened.now.date(), time(0))
    looks = [x for x in snapshot.looks.values() if x.temporary_id == work.id and x.at >= today]
    last = max(looks, key=lambda look: look.at, default=None)
    crew = snapshot.crews.get(work.crew_id or "")
    looked = ""
    if last is not None:
        by = snapshot.people.get(last.by_id)
        said = message("morning.looked", by=by.name if by else "", at=last.at.time())
        looked = f"{words.say(said)}{f': {last.note}' if last.note else ''}"
    return TemporaryRow(
        id=work.id,
        name=work.name,
        whose=crew.name if crew else "",
        looked=looked,
        wrong=last is not None and not last.in_order,
    )


def _changes(opened: Opened, log: list[LogRow]) -> Iterator[ChangeRow]:
    for row in log:
        said = " ".join(opened.words.say(one, now=opened.now) for one in row.said)
        yield ChangeRow(at=row.at, who=row.person_name, said=said)
