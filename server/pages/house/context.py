"""What the page of the houses and the page of one house show."""

from dataclasses import dataclass
from datetime import datetime

from server.core.promises import last_of
from server.core.schedule import Schedule
from server.core.world import (
    Crew,
    Detail,
    Floor,
    Place,
    Project,
    Snapshot,
    Way,
    WorkCalendar,
)
from server.core.world.network import forecast
from server.pages.house.hours import WEEKDAYS, hours_written
from server.pages.shared.undoing import UndoShown


@dataclass(frozen=True)
class CalendarRow:
    """A calendar with its week in words."""

    id: str
    name: str
    week: str


@dataclass(frozen=True)
class HousesPage:
    """The company's houses, calendars and crews."""

    company: str
    houses: tuple[Project, ...]
    calendars: tuple[CalendarRow, ...]
    crews: tuple[Crew, ...]
    undo: UndoShown


@dataclass(frozen=True)
class DetailRow:
    """A detail with its place and finish."""

    detail: Detail
    place: str
    finish: datetime | None
    last_id: str


@dataclass(frozen=True)
class PlaceRow:
    """A place with its floor and what lies open below."""

    place: Place
    floor: str
    open_to: str


@dataclass(frozen=True)
class WayRow:
    """A way up between two floors."""

    way: Way
    lower: str
    upper: str


@dataclass(frozen=True)
class HousePage:
    """One house: its details, floors, places, ways up."""

    house: Project
    finish: datetime | None
    details: tuple[DetailRow, ...]
    floors: tuple[Floor, ...]
    places: tuple[PlaceRow, ...]
    ways: tuple[WayRow, ...]
    given: tuple[str, ...]
    undo: UndoShown


def houses_page(company: Snapshot, houses: tuple[Project, ...], undo: UndoShown) -> HousesPage:
    """The page of everything the company has."""
    return HousesPage(
        company=company.company.name,
        houses=tuple(h for h in houses if h.ended is None),
        calendars=tuple(
            CalendarRow(c.id, c.name, _hours(company, c)) for c in company.calendars.values()
        ),
        crews=tuple(
            sorted((c for c in company.crews.values() if not c.ended), key=lambda c: c.name)
        ),
        undo=undo,
    )


def house_page(snapshot: Snapshot, status: datetime, undo: UndoShown) -> HousePage:
    """The page of one house as of the status date."""
    schedule = forecast(snapshot, status)
    places, floors = snapshot.places, snapshot.floors
    return HousePage(
        house=snapshot.project,
        finish=schedule.finish if snapshot.chain else None,
        details=tuple(
            _detail(snapshot, schedule, d) for d in snapshot.details.values() if d.ended is None
        ),
        floors=tuple(floors.values()),
        places=tuple(
            PlaceRow(p, floors[p.floor_id].name, ", ".join(places[id].name for id in p.open_to))
            for p in places.values()
        ),
        ways=tuple(
            WayRow(w, floors[w.lower_id].name, floors[w.upper_id].name)
            for w in snapshot.ways.values()
        ),
        given=tuple(
            snapshot.people[g.person_id].name
            for g in snapshot.given.values()
            if snapshot.people[g.person_id].ended is None
        ),
        undo=undo,
    )


def shifts_by_day(shifts: tuple[str, ...]) -> dict[int, str]:
    """Weekday -> its hours as they are typed."""
    days: dict[int, list[tuple[str, str]]] = {}
    for shift in shifts:
        day, start, end = shift.split()
        days.setdefault(int(day), []).append((start, end))
    return {day: hours_written(hours) for day, hours in days.items()}


def week_said(shifts: tuple[str, ...]) -> str:
    """Days of the same hours together: "Monday to Friday 7:00-12:00"."""
    runs: list[tuple[int, int, str]] = []
    for day, hours in sorted(shifts_by_day(shifts).items()):
        if runs and runs[-1][1:] == (day - 1, hours):
            runs[-1] = (runs[-1][0], day, hours)
        else:
            runs.append((day, day, hours))
    return "; ".join(
        (WEEKDAYS[a] if a == b else f"{WEEKDAYS[a]} to {WEEKDAYS[b]}") + f" {hours}"
        for a, b, hours in runs
    )


def _hours(company: Snapshot, calendar: WorkCalendar) -> str:
    """The week of a calendar, and which one it follows."""
    followed = company.calendars.get(calendar.based_on_id or "")
    if followed is None:
        return week_said(calendar.shifts)
    own = f"; own week {week_said(calendar.shifts)}" if calendar.shifts else ""
    return f"follows {followed.name}{own}"


def _detail(snapshot: Snapshot, schedule: Schedule, detail: Detail) -> DetailRow:
    last = last_of(snapshot, schedule, detail.id)
    return DetailRow(
        detail=detail,
        place=snapshot.places[detail.place_id].name if detail.place_id else "",
        finish=schedule[last.id].early_finish if last else None,
        last_id=last.id if last else "",
    )
