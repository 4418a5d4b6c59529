"""What a push would do in words: what moves, what visits break, whom to tell, what notes come."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from server.core.pushed import DetailShift, Shift, VisitShift
from server.core.refusals import Message, message
from server.core.ripple import Ripple
from server.core.warnings import Warning
from server.pages.shared.opened import Opened
from server.pages.shared.to_tell import CrewToTell, crews_to_tell

SHOWN = 5
CLASSES = {"danger": "danger", "lost work": "lost", "in the way": "way", "watch": "watch"}
VISITS: Mapping[str, str] = {
    "asked": "push.visit.asked",
    "moves": "push.visit.moves",
    "ends": "push.visit.ends",
    "breaks": "push.visit.breaks",
    "fits again": "push.visit.fits_again",
}


@dataclass(frozen=True)
class MovedRow:
    """One activity that moves to another day."""

    name: str
    at: datetime
    day: str
    said: str


@dataclass(frozen=True)
class MovedDetail:
    """What moves in one detail: how its finish stands, the first rows, the rest."""

    name: str
    said: str
    later: bool
    rows: tuple[MovedRow, ...]
    more: tuple[MovedRow, ...]


@dataclass(frozen=True)
class NoteSaid:
    """A note that comes or goes."""

    bad: str
    kind: str
    sentence: str


@dataclass(frozen=True)
class PushShown:
    """What one push would do. `fields` are what was asked, to be sent again when it is agreed."""

    said: str
    finish: str
    details: tuple[MovedDetail, ...]
    visits: tuple[str, ...]
    told: tuple[CrewToTell, ...]
    come: tuple[NoteSaid, ...]
    go: tuple[NoteSaid, ...]
    digest: str
    fields: tuple[tuple[str, str], ...]


def push_shown(
    opened: Opened, said: Message, ripple: Ripple, fields: tuple[tuple[str, str], ...]
) -> PushShown:
    """What a push would do, in words."""
    words, now, pushed = opened.words, opened.now, ripple.pushed
    finish = message("push.house_same", day=ripple.now.date())
    if ripple.days:
        id = "push.house_later" if ripple.days > 0 else "push.house_earlier"
        finish = message(id, day=ripple.now.date(), was=ripple.was.date(), days=abs(ripple.days))
    return PushShown(
        said=words.say(said, now=now),
        finish=words.say(finish, now=now),
        details=tuple(_details(opened, pushed.shifts, pushed.details)),
        visits=tuple(_visits(opened, pushed.visits)),
        told=crews_to_tell(opened, pushed.hear),
        come=tuple(note_said(opened, warning) for warning in ripple.come),
        go=tuple(note_said(opened, warning) for warning in ripple.go),
        digest=pushed.digest,
        fields=fields,
    )


def _details(
    opened: Opened, shifts: tuple[Shift, ...], details: tuple[DetailShift, ...]
) -> Iterator[MovedDetail]:
    """One part per detail where a day changes, the one that is pushed most first."""
    snapshot, words, now = opened.snapshot, opened.words, opened.now
    finishes = {d.detail_id: d for d in details if d.days}
    rows: dict[str, list[MovedRow]] = {id: [] for id in finishes}
    for shift in shifts:
        if (row := _row(opened, shift)) is not None:
            rows.setdefault(shift.detail_id, []).append(row)
    for id in sorted(rows, key=lambda one: -finishes[one].days if one in finishes else 0):
        moved = finishes.get(id)
        said = message("push.detail_same")
        if moved:
            said = message(
                "push.detail_later" if moved.days > 0 else "push.detail_earlier",
                day=moved.now.date(),
                was=moved.was.date(),
                days=abs(moved.days),
            )
        inside = sorted(rows[id], key=lambda row: row.at)
        yield MovedDetail(
            snapshot.details[id].name,
            words.say(said, now=now),
            moved is not None and moved.days > 0,
            tuple(inside[:SHOWN]),
            tuple(inside[SHOWN:]),
        )


def _row(opened: Opened, shift: Shift) -> MovedRow | None:
    """An activity whose first or last day changes; hours within a day do not count."""
    words, now, move = opened.words, opened.now, shift.move
    if move.before is None or move.after is None:
        return None
    name = opened.snapshot.activities[shift.activity_id].name
    starts = move.before.early_start.date(), move.after.early_start.date()
    ends = move.before.early_finish.date(), move.after.early_finish.date()
    if starts[0] != starts[1]:
        said = message("push.instead", was=starts[0])
        return MovedRow(name, move.after.early_start, words.day(starts[1], now), words.say(said))
    if ends[0] != ends[1]:
        said = message("push.done_instead", was=ends[0], now=ends[1])
        return MovedRow(name, move.after.early_finish, words.day(ends[1], now), words.say(said))
    return None


def _visits(opened: Opened, visits: tuple[VisitShift, ...]) -> Iterator[str]:
    snapshot = opened.snapshot
    for visit in visits:
        works = tuple(snapshot.activities[id].name for id in visit.activity_ids)
        said = message(
            VISITS[visit.what],
            crew=snapshot.crews[visit.crew_id].name,
            work=works,
            was=visit.was,
            now=visit.now,
        )
        yield opened.words.say(said, now=opened.now)


def note_said(opened: Opened, warning: Warning) -> NoteSaid:
    """A note as it is said where another page is not at hand."""
    kind = message("note.kind", bad=warning.bad, title=warning.title)
    words, now = opened.words, opened.now
    return NoteSaid(
        CLASSES[warning.bad], words.say(kind, now=now), words.say(warning.sentence, now=now)
    )
