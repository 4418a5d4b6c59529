"""The day before a visit in words: what is wrong first, and the rest in one short line."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from server.core.beforehand import COLD, Beforehand
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.world import Booking, Crew, Person, Snapshot
from server.pages.shared.opened import Opened
from server.pages.shared.reach import Reach, reach
from server.words import words as words_of


@dataclass(frozen=True)
class WrongLine:
    """One thing that is wrong: in a few words, what exactly, and whom to reach about it.

    `href` is where the viewer moves it; empty where it is somebody else's.
    """

    lead: str
    said: str
    who: str = ""
    call: Reach | None = None
    href: str = ""


@dataclass(frozen=True)
class DayBefore:
    """What is wrong, worst first; what is in order, in one line; where the air is read."""

    wrong: tuple[WrongLine, ...]
    fine: str
    place_id: str
    wet: bool


def day_before(opened: Opened, visit: Booking, known: Beforehand, own: frozenset[str]) -> DayBefore:
    """The words for a visit. `own` are the ids of the viewer and of the viewer's crew."""
    schedule = opened.schedule
    fine = [opened.words.say(one, now=opened.now) for one in _fine(opened.snapshot, known)]
    said = opened.words.say(message("list.comma")).join(fine)
    return DayBefore(
        wrong=tuple(_wrong(opened, schedule, visit, known, own)),
        fine=f"{said[:1].upper()}{said[1:]}",
        place_id=known.place_id or "",
        wet=known.wet,
    )


def _wrong(
    opened: Opened, schedule: Schedule, visit: Booking, known: Beforehand, own: frozenset[str]
) -> Iterator[WrongLine]:
    snapshot = opened.snapshot
    place = snapshot.places.get(known.place_id or "")
    where = place.name if place else ""
    if known.work in ("waits", "late"):
        yield _work(opened, visit, known, own)
    if known.missing_ids:
        names = tuple(snapshot.activities[id].name for id in known.missing_ids)
        due = max(schedule[id].early_finish for id in known.missing_ids)
        said = message("beforehand.due", what=names, due=due)
        yield _line(opened, "beforehand.parts_not_here", said)
    if known.uncounted_ids:
        names = tuple(snapshot.activities[id].name for id in known.uncounted_ids)
        yield _line(opened, "beforehand.not_counted", message("beforehand.here", what=names))
    if known.closed_id is not None:
        name = snapshot.activities[known.closed_id].name
        said = message("beforehand.nobody_till", place=where, till=known.closed_till, what=name)
        yield _line(opened, "beforehand.closed", said)
    if known.without_ids:
        crews = tuple(snapshot.crews[id].name for id in known.without_ids)
        yield _line(opened, "beforehand.alone", message("beforehand.not_asked", crews=crews))
    if known.there_ids:
        crews = tuple(snapshot.crews[id].name for id in known.there_ids)
        room = place.room_for if place else 1
        said = message("beforehand.there_too", crews=crews, place=where, room=room)
        yield _line(opened, "beforehand.not_clear", said)
    if known.too_cold and known.air is not None:
        value = message("beforehand.degrees", value=known.air.value, unit=known.air.unit)
        least = message("beforehand.degrees", value=COLD, unit=known.air.unit)
        said = message("beforehand.read", value=value, at=known.air.at, place=where, least=least)
        yield _line(opened, "beforehand.cold", said)
    elif known.wet and known.air is None and place is not None:
        yield _line(opened, "beforehand.unread", message("beforehand.sheet", place=where))


def _fine(snapshot: Snapshot, known: Beforehand) -> Iterator[Message]:
    if known.work == "ready":
        yield message("beforehand.ready")
    elif known.work == "in time" and known.waits_for_id not in known.missing_ids:
        # of a delivery that is not here it is said already when it is due
        going_on = snapshot.activities[known.waits_for_id or ""].name
        yield message("beforehand.in_time", what=going_on)
    if known.here_ids and not known.missing_ids and not known.uncounted_ids:
        yield message("beforehand.parts_here")
    if known.place_id and not known.there_ids and known.closed_id is None:
        yield message("beforehand.clear")
    if known.air is not None and not known.too_cold:
        yield message("beforehand.degrees", value=known.air.value, unit=known.air.unit)


def _line(opened: Opened, lead: str, said: Message) -> WrongLine:
    words, now = opened.words, opened.now
    return WrongLine(words.say(Message(lead)), words.say(said, now=now))


def _work(opened: Opened, visit: Booking, known: Beforehand, own: frozenset[str]) -> WrongLine:
    """That the work is not ready, with how to reach whoever moves what it waits for."""
    snapshot = opened.snapshot
    whose = _whose(snapshot, known)
    line = _line(opened, "beforehand.not_ready", _not_ready(snapshot, known, own))
    if whose is None or known.waits_for_id is None:
        return line
    waits = snapshot.activities[known.waits_for_id]
    if whose.id in own:
        hold = snapshot.hold_of.get(waits.id)
        return replace(line, href=f"/h/{hold.id}" if hold else f"/d/{waits.detail_id}/a/{waits.id}")
    task = snapshot.activities[visit.activity_ids[0]]
    ask = message("mine.sms_waits", work=task.name, what=waits.name)
    said = words_of(whose.language).say(ask, now=opened.now)
    return replace(line, who=whose.name, call=reach(whose.phone, said))


def _whose(snapshot: Snapshot, known: Beforehand) -> Crew | Person | None:
    return snapshot.crews.get(known.crew_id or "") or snapshot.people.get(known.person_id or "")


def _not_ready(snapshot: Snapshot, known: Beforehand, own: frozenset[str]) -> Message:
    """What the work waits for, who moves that, and when it is ready if that is too late."""
    waits = snapshot.activities.get(known.waits_for_id or "")
    whose = _whose(snapshot, known)
    said = message("beforehand.its_date")
    if waits is not None and whose is None:
        said = message("beforehand.only_time", what=waits.name)
    elif waits is not None and whose is not None:
        said = message("beforehand.moves", what=waits.name, whose=whose.name)
        if whose.id in own:
            said = message("beforehand.you_move", what=waits.name)
    if known.ready_at is not None:
        return message("beforehand.late", ready=known.ready_at, because=said)
    return said
