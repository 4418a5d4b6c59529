"""What the morning sheet shows, one part per house."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, time

from markupsafe import Markup

from server.core.next import Going, who_goes_next
from server.core.promises import days_late, last_of
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.warnings import Warning, find
from server.core.world import Detail, TemporaryWork
from server.pages.morning.ahead import NextDay, next_day_of
from server.pages.morning.going import GoesRow, goes_row
from server.pages.shared.buildup import next_in, small_build_up
from server.pages.shared.coming import coming
from server.pages.shared.crews import crews_said
from server.pages.shared.notes import NoteShown, notes_shown
from server.pages.shared.opened import Opened
from server.pages.shared.to_tell import CrewToTell, to_tell
from server.pages.standing.context import Squares, days_ahead
from server.store import LogRow

SHOWN = 5
WEEK = 5


@dataclass(frozen=True)
class DetailCell:
    """A detail in the strip: its small drawing, what is next in it, and its finish."""

    href: str
    name: str
    sheet: str
    drawing: Markup
    next: str
    who: str
    trouble: str
    finish: datetime | None
    spare: str
    detail_id: str
    last_id: str


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
    details: tuple[DetailCell, ...]
    to_tell: tuple[CrewToTell, ...]
    next_day: NextDay
    goes: tuple[GoesRow, ...]
    later: tuple[GoesRow, ...]
    notes: tuple[NoteShown, ...]
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
    found = find(snapshot, schedule)
    goes = who_goes_next(snapshot, schedule, opened.status)
    last = snapshot.activities[schedule.critical_path[-1]] if snapshot.chain else None
    rows = tuple(_rows(opened, schedule, goes))
    return HousePart(
        project_id=opened.project_id,
        name=snapshot.project.name,
        now=opened.now,
        finish=schedule.finish if snapshot.chain else None,
        last_id=last.id if last else "",
        last_detail_id=last.detail_id if last else "",
        dangers=sum(w.bad == "danger" for w in found),
        others=sum(w.bad != "danger" for w in found),
        details=tuple(
            _cell(opened, schedule, detail, found)
            for detail in snapshot.details.values()
            if detail.ended is None
        ),
        to_tell=to_tell(opened),
        next_day=next_day_of(opened, own),
        goes=rows[:SHOWN],
        later=rows[SHOWN:],
        notes=notes_shown(opened, found),
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


def _cell(
    opened: Opened, schedule: Schedule, detail: Detail, found: tuple[Warning, ...]
) -> DetailCell:
    snapshot, words, now = opened.snapshot, opened.words, opened.now
    chain = snapshot.chain_of(detail.id)
    under_way = next((a for a in chain if a.started and not a.finished and a.kind == "task"), None)
    task = under_way or next_in(snapshot, schedule, detail.id)
    last = last_of(snapshot, schedule, detail.id)
    who = ""
    if task is not None:
        crews = crews_said(snapshot, task, words)
        stands = (
            words.say(message("morning.under_way"))
            if under_way
            else words.when(coming(snapshot, schedule, task).shown, now)
        )
        who = f"{crews} · {stands}" if crews else stands
    trouble = next((w for w in found if w.detail_id == detail.id), None)
    return DetailCell(
        href=f"/d/{detail.id}",
        name=detail.name,
        sheet=detail.sheet,
        drawing=small_build_up(snapshot, schedule, detail.id, words, now),
        next=task.name if task else words.say(message("morning.nothing_next")),
        who=who,
        trouble=words.say(trouble.title) if trouble else "",
        finish=schedule[last.id].early_finish if last else None,
        spare=_spare(opened, schedule, last.id if last else None, detail.id),
        detail_id=detail.id,
        last_id=last.id if last else "",
    )


def _spare(opened: Opened, schedule: Schedule, last_id: str | None, detail_id: str) -> str:
    """How the forecast finish of a detail stands to its promised one."""
    if last_id is None:
        return ""
    words = opened.words
    days = days_late(opened.snapshot, schedule, detail_id)
    if days is None:
        setting = last_id in schedule.critical_path
        return words.say(message("morning.sets_finish")) if setting else ""
    if days > 0:
        return words.say(message("morning.late", days=days))
    return words.say(message("morning.on_the_day" if not days else "morning.early", days=-days))


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
