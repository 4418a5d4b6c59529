"""The temporary works of a house: whose, where, since when, and who has looked at them."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from server.core.refusals import message
from server.core.rights import details_seen
from server.core.schedule.instants import EPOCH_DAY
from server.core.standing import places_of
from server.core.world import Look, Snapshot, TemporaryWork
from server.core.world.hours import calendar_of
from server.pages.kit import Form
from server.pages.shared.opened import Opened
from server.people.viewer import Viewer

DAYS = 7


@dataclass(frozen=True)
class DayLooked:
    """One of the last days: whether somebody looked. `place` is its class."""

    day: date
    said: str
    place: str


@dataclass(frozen=True)
class LookShown:
    """One look: when and by whom, and what was not in order."""

    said: str
    note: str


@dataclass(frozen=True)
class PlannedOut:
    """The work that takes it out, with the day it is planned for."""

    detail_id: str
    id: str
    said: str


@dataclass(frozen=True)
class TemporaryShown:
    """A temporary work in use. `amiss` is what the last look found wrong, else empty; of two looks
    in one minute the one that found something is taken as the last.
    """

    id: str
    name: str
    about: str
    since: str
    today: str
    missing: bool
    amiss: str
    days: tuple[DayLooked, ...]
    looks: tuple[LookShown, ...]
    out: tuple[PlannedOut, ...]
    stands: str
    may_look: bool
    form: Form


@dataclass(frozen=True)
class OutShown:
    """A temporary work that is out."""

    name: str
    about: str
    said: str


@dataclass(frozen=True)
class TemporariesPage:
    """Those in use, what is not in order and what nobody has looked at first; those out."""

    project_id: str
    house: str
    used: tuple[TemporaryShown, ...]
    out: tuple[OutShown, ...]
    missing: int
    may_put_in: bool
    back: str


def temporaries_page(
    opened: Opened, viewer: Viewer, form: Form | None = None, refused_id: str = ""
) -> TemporariesPage:
    """The temporary works that the viewer may see; `form` is that of `refused_id`."""
    works = tuple(works_seen(opened.snapshot, viewer))
    used = [
        _used(opened, viewer, work, form if form and work.id == refused_id else Form())
        for work in works
        if work.taken_out is None
    ]
    out = sorted((w for w in works if w.taken_out), key=lambda w: str(w.taken_out), reverse=True)
    return TemporariesPage(
        project_id=opened.project_id,
        house=opened.snapshot.project.name,
        used=tuple(sorted(used, key=lambda row: (not row.amiss, not row.missing))),
        out=tuple(_out(opened, work) for work in out),
        missing=sum(row.missing for row in used),
        may_put_in=viewer.actor.role == "super",
        back=f"/p/{opened.project_id}" if viewer.actor.role == "super" else "/",
    )


def works_seen(snapshot: Snapshot, viewer: Viewer) -> Iterator[TemporaryWork]:
    """All for the super; for a crew its own, and those where the details are that it works on."""
    seen = details_seen(snapshot, viewer.actor)
    where = places_of(snapshot, (a.id for a in snapshot.chain if a.detail_id in seen))
    for work in snapshot.temporary.values():
        own = work.crew_id is not None and work.crew_id == viewer.actor.crew_id
        if viewer.actor.role == "super" or own or work.detail_id in seen or work.place_id in where:
            yield work


def _used(opened: Opened, viewer: Viewer, work: TemporaryWork, form: Form) -> TemporaryShown:
    snapshot, words, now = opened.snapshot, opened.words, opened.now
    looks = sorted((x for x in snapshot.looks.values() if x.temporary_id == work.id),
                   key=lambda look: (look.at, not look.in_order))  # fmt: skip
    last = looks[-1] if looks else None
    today = [look for look in looks if look.at.date() == now.date()]
    missing = work.daily and not today and _works_on(snapshot, now.date())
    said = message("temporaries.not_asked" if not work.daily else "temporaries.nobody_today")
    since = now.date() - timedelta(days=DAYS - 1)
    own = work.crew_id is not None and work.crew_id == viewer.actor.crew_id
    put_in = message("temporaries.since", since=work.put_in.date()) if work.put_in else None
    return TemporaryShown(
        id=work.id,
        name=work.name,
        about=_about(opened, work),
        since=words.say(put_in, now=now) if put_in else "",
        today=_look_said(opened, today[-1]) if today else words.say(said),
        missing=missing,
        amiss=last.note if last and not last.in_order else "",
        days=tuple(_days(opened, work, looks)) if work.daily else (),
        looks=tuple(
            LookShown(_look_said(opened, look), look.note)
            for look in reversed(looks)
            if look.at.date() >= since
        ),
        out=tuple(_planned_out(opened, work)),
        stands=_stands_on(opened, work),
        may_look=viewer.actor.role == "super" or own,
        form=form,
    )


def _days(opened: Opened, work: TemporaryWork, looks: list[Look]) -> Iterator[DayLooked]:
    """The last days on which it was in, today the last of them."""
    today = opened.now.date()
    for back in reversed(range(DAYS)):
        day = today - timedelta(days=back)
        if work.put_in is not None and day < work.put_in.date():
            continue
        of_day = [look for look in looks if look.at.date() == day]
        state = "nobody" if _works_on(opened.snapshot, day) else "no work"
        if of_day:
            right = "looked" if all(look.in_order for look in of_day) else "put right"
            state = right if of_day[-1].in_order else "not in order"
        elif day == today and state == "nobody":
            state = "not yet"
        bad = state in ("nobody", "not in order")
        place = "bad" if bad else "done" if of_day else "later"
        yield DayLooked(day, opened.words.say(message("temporaries.day", state=state)), place)


def _works_on(snapshot: Snapshot, day: date) -> bool:
    """Whether the site works on a day."""
    calendar = calendar_of(snapshot, snapshot.project.calendar_id)
    return bool(calendar.spans(day.toordinal() - EPOCH_DAY))


def _look_said(opened: Opened, look: Look) -> str:
    person = opened.snapshot.people.get(look.by_id)
    id = "temporaries.looked" if look.in_order else "temporaries.looked_wrong"
    said = message(id, at=look.at, by=person.name if person else "")
    return opened.words.say(said, now=opened.now)


def _about(opened: Opened, work: TemporaryWork) -> str:
    """What it is, whose and where; a stair's risers and the rise."""
    snapshot, words = opened.snapshot, opened.words
    crew = snapshot.crews.get(work.crew_id or "")
    place = snapshot.places.get(work.place_id or "")
    detail = snapshot.details.get(work.detail_id or "")
    risers = message("temporaries.risers", n=work.risers)
    parts = (
        words.say(message("temporaries.kind", kind=work.kind)),
        crew.name if crew else words.say(message("temporaries.builders")),
        place.name if place else detail.name if detail else "",
        words.say(risers) if work.risers else "",
        words.length(work.rise, "in") if work.rise is not None else "",
    )
    return " · ".join(part for part in parts if part)


def _planned_out(opened: Opened, work: TemporaryWork) -> Iterator[PlannedOut]:
    """The tasks still to do that take it out."""
    for task in opened.snapshot.chain:
        if task.temporary_id == work.id and task.temporary == "strikes" and not task.finished:
            day = opened.schedule[task.id].early_start.date()
            said = message("temporaries.planned_out", day=day, work=task.name)
            yield PlannedOut(task.detail_id, task.id, opened.words.say(said, now=opened.now))


def _stands_on(opened: Opened, work: TemporaryWork) -> str:
    """The work still to do that is planned from it."""
    names = [
        task.name
        for task in opened.snapshot.chain
        if task.temporary_id == work.id and task.temporary == "stands on" and not task.finished
    ]
    return opened.words.listed(names) if names else ""


def _out(opened: Opened, work: TemporaryWork) -> OutShown:
    out: datetime | None = work.taken_out
    said = message("temporaries.was_in", since=work.put_in, out=out)
    if work.put_in is None:
        said = message("temporaries.was_out", out=out)
    return OutShown(work.name, _about(opened, work), opened.words.say(said, now=opened.now))
