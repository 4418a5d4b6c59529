"""The details on the morning sheet: those that move or are in trouble drawn, the rest as lines."""

from dataclasses import dataclass, replace
from datetime import datetime

from markupsafe import Markup

from server.core.promises import days_late, last_of
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.warnings import Warning
from server.core.world import Detail
from server.pages.shared.buildup import next_in, small_build_up
from server.pages.shared.coming import coming
from server.pages.shared.crews import crews_said
from server.pages.shared.opened import Opened

DRAWN = 6
"""A house with more details draws this many: those in trouble and those that move, worst first."""
NEVER = datetime(9999, 12, 31)
GRAVE = ("danger", "lost work", "in the way")


@dataclass(frozen=True)
class DetailCell:
    """A detail: its small drawing where it is drawn, what is next in it, and its finish.

    `moves`: something in it is under way; `at` is when its next task comes.
    """

    href: str
    name: str
    sheet: str
    drawing: Markup
    next: str
    who: str
    trouble: str
    finish: datetime | None
    finished: bool
    moves: bool
    at: datetime
    spare: str
    detail_id: str
    last_id: str


@dataclass(frozen=True)
class Strip:
    """The details of a house: the drawn ones, and the rest as lines, what is left to do first."""

    drawn: tuple[DetailCell, ...]
    listed: tuple[DetailCell, ...]
    finished: tuple[DetailCell, ...]


def strip_of(opened: Opened, found: tuple[Warning, ...]) -> Strip:
    """The details of a house; `found` are its warnings, worst first."""
    schedule = opened.schedule
    details = [d for d in opened.snapshot.details.values() if d.ended is None]
    cells = [_cell(opened, schedule, detail, found) for detail in details]
    chosen = {cell.detail_id for cell in cells}
    if len(cells) > DRAWN:
        chosen = set(_first(opened, cells, found))
    return Strip(
        drawn=tuple(_drawn(opened, cell) for cell in cells if cell.detail_id in chosen),
        listed=tuple(c for c in cells if c.detail_id not in chosen and not c.finished),
        finished=tuple(c for c in cells if c.detail_id not in chosen and c.finished),
    )


def _first(opened: Opened, cells: list[DetailCell], found: tuple[Warning, ...]) -> list[str]:
    """The ids of those to draw: by their worst note, then what is under way, then what is next."""
    trouble: dict[str | None, int] = {}
    for place, warning in enumerate(found):
        if warning.bad in GRAVE:
            trouble.setdefault(warning.detail_id, place)
    going = [cell for cell in cells if not cell.finished]
    going.sort(key=lambda c: (trouble.get(c.detail_id, len(found)), not c.moves, c.at))
    return [cell.detail_id for cell in going[:DRAWN]]


def _drawn(opened: Opened, cell: DetailCell) -> DetailCell:
    small = small_build_up(
        opened.snapshot, opened.schedule, cell.detail_id, opened.words, opened.now
    )
    return replace(cell, drawing=small)


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
        drawing=Markup(),
        next=task.name if task else words.say(message("morning.nothing_next")),
        who=who,
        trouble=words.say(trouble.title) if trouble else "",
        finish=schedule[last.id].early_finish if last else None,
        finished=bool(chain) and all(a.id in schedule.done for a in chain),
        moves=under_way is not None,
        at=coming(snapshot, schedule, task).at if task else NEVER,
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
