"""The squares of places and days, and one of them opened."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.standing import Stand, standing
from server.core.warnings import Warning, every, find, found
from server.core.world import Activity, Place, Snapshot
from server.core.world.hours import working_days
from server.pages.shared.notes import NoteShown, notes_shown
from server.pages.shared.opened import Opened

DAYS = 21
SPACE = frozenset(rule.id for rule in every() if rule.family == "space")


@dataclass(frozen=True)
class DayHead:
    """A day at the top of its column."""

    day: date
    said: str
    off: bool


@dataclass(frozen=True)
class Name:
    """A crew in a square; `forecast` where nobody has been asked yet."""

    crew: str
    forecast: bool


@dataclass(frozen=True)
class Square:
    """A place on a day: who stands there, whether they collide, what keeps everybody out."""

    href: str
    names: tuple[Name, ...]
    closed: str
    collides: bool
    off: bool
    label: str
    open: bool


@dataclass(frozen=True)
class PlaceRow:
    """A place with its days."""

    place: str
    floor: str
    squares: tuple[Square, ...]


@dataclass(frozen=True)
class StandRow:
    """One crew in the open square: when, for what, what says so, and the work to be moved."""

    crew: str
    hours: str
    works: str
    stands: str
    detail_id: str
    activity_id: str


@dataclass(frozen=True)
class OpenSquare:
    """The square that was pressed."""

    place: str
    day: str
    room: int
    closed: str
    rows: tuple[StandRow, ...]
    notes: tuple[NoteShown, ...]


@dataclass(frozen=True)
class Squares:
    """Places down, days across."""

    days: tuple[DayHead, ...]
    rows: tuple[PlaceRow, ...]


@dataclass(frozen=True)
class StandingPage:
    """The page."""

    project_id: str
    house: str
    grid: Squares
    square: OpenSquare | None
    back: str


def standing_page(opened: Opened, place_id: str, day: date | None) -> StandingPage:
    """Three weeks from today; of the square of this place and day who stands there and why."""
    place = opened.snapshot.places.get(place_id)
    grid = _grid(opened, found(opened.snapshot, opened.schedule), DAYS)
    return StandingPage(
        project_id=opened.project_id,
        house=opened.snapshot.project.name,
        grid=grid.squares(DAYS, (place_id, day)),
        square=grid.opened_at(place, day) if place and day else None,
        back=grid.address + (f"?place={place_id}&day={day.isoformat()}" if day else ""),
    )


def days_ahead(opened: Opened, warnings: Sequence[Warning], count: int) -> Squares:
    """The next so many days on which anybody works."""
    return _grid(opened, warnings, DAYS).squares(count)


def _grid(opened: Opened, warnings: Sequence[Warning], days: int) -> "_Grid":
    stands = standing(opened.snapshot, opened.schedule, opened.now.date(), days)
    return _Grid(opened, opened.schedule, stands, warnings)


@dataclass(frozen=True)
class _Grid:
    opened: Opened
    schedule: Schedule
    stands: Sequence[Stand]
    warnings: Sequence[Warning]

    @property
    def snapshot(self) -> Snapshot:
        return self.opened.snapshot

    @property
    def address(self) -> str:
        return f"/p/{self.opened.project_id}/days"

    def squares(self, count: int, pressed: tuple[str, date | None] = ("", None)) -> Squares:
        """The first so many days of three weeks on which anybody works."""
        today, snapshot = self.opened.now.date(), self.snapshot
        ahead = (today + timedelta(days=n) for n in range(DAYS))
        days = [day for day in ahead if self.works(day)][:count]
        return Squares(
            tuple(DayHead(day, self.head(day), not self.site_works(day)) for day in days),
            tuple(
                PlaceRow(
                    place.name,
                    snapshot.floors[place.floor_id].name,
                    tuple(self.square(place, day, pressed) for day in days),
                )
                for place in snapshot.places.values()
            ),
        )

    def works(self, day: date) -> bool:
        """Whether the site works on a day, or somebody stands somewhere."""
        return self.site_works(day) or any(s.start.date() == day for s in self.stands)

    def site_works(self, day: date) -> bool:
        return working_days(self.snapshot, day - timedelta(days=1), day) > 0

    def head(self, day: date) -> str:
        return self.opened.words.say(message("standing.day", day=day))

    def square(self, place: Place, day: date, pressed: tuple[str, date | None]) -> Square:
        """One place on one day."""
        there = self._there(place, day)
        firm = dict.fromkeys(self._crew(s) for s in there if s.firm)
        only_forecast = dict.fromkeys(self._crew(s) for s in there if self._crew(s) not in firm)
        names = (*(Name(c, False) for c in firm), *(Name(c, True) for c in only_forecast))
        closed = self._closed(place, day)
        collides = any(self._about(w, place, day) for w in self.warnings)
        said = message(
            "standing.square" if names else "standing.square_empty",
            place=place.name,
            day=day,
            crews=tuple(name.crew for name in names),
            n=len(names),
            collides=collides,
        )
        return Square(
            href=f"{self.address}?place={place.id}&day={day.isoformat()}#square",
            names=names,
            closed=closed.name if closed else "",
            collides=collides,
            off=not names and closed is None,
            label=self.opened.words.say(said, now=self.opened.now),
            open=pressed == (place.id, day),
        )

    def opened_at(self, place: Place, day: date) -> OpenSquare:
        """The square that was pressed, with the notes about it and their presses."""
        closed = self._closed(place, day)
        identities = {w.identity for w in self.warnings if self._about(w, place, day)}
        notes = find(self.snapshot, self.schedule, lambda w: w.identity in identities)
        return OpenSquare(
            place=place.name,
            day=self.opened.words.when(day, self.opened.now),
            room=place.room_for,
            closed=closed.name if closed else "",
            rows=tuple(self._rows(place, day)),
            notes=notes_shown(self.opened, notes) if notes else (),
        )

    def _rows(self, place: Place, day: date) -> Iterator[StandRow]:
        words = self.opened.words
        for stand in self._there(place, day):
            works = [self.snapshot.activities[id] for id in stand.activity_ids]
            hours = message("standing.hours", start=stand.start.time(), finish=stand.finish.time())
            yield StandRow(
                crew=self._crew(stand),
                hours=words.say(hours),
                works=words.listed([a.name for a in works]),
                stands=words.say(message("standing.why", why=stand.why)),
                detail_id=works[0].detail_id,
                activity_id=works[0].id,
            )

    def _there(self, place: Place, day: date) -> list[Stand]:
        return [s for s in self.stands if s.place_id == place.id and s.start.date() == day]

    def _crew(self, stand: Stand) -> str:
        return self.snapshot.crews[stand.crew_id].name

    def _about(self, warning: Warning, place: Place, day: date) -> bool:
        """Whether a note of space is about this square."""
        if warning.at is None or place.id not in warning.place_ids:
            return False
        return warning.at.date() == day and warning.rule in SPACE

    def _closed(self, place: Place, day: date) -> Activity | None:
        """The wait that keeps everybody out of a place at some time of a day."""
        begin = datetime.combine(day, time(0))
        end = begin + timedelta(days=1)
        for activity in self.snapshot.chain:
            own = activity.place_id or self.snapshot.details[activity.detail_id].place_id
            if not activity.closes_place or own != place.id or activity.id in self.schedule.done:
                continue
            dates = self.schedule[activity.id]
            if dates.early_start < end and begin < dates.early_finish:
                return activity
        return None
