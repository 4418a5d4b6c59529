"""Rules: a house, its floors, places and ways, a demo's clock."""

import re
from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Outcome, find, rule
from server.core.changes.inputs import (
    BadInput,
    name_of,
    near,
    new_id,
    not_taken,
    text_of,
    there,
    whole,
)
from server.core.changes.orders import at_the_end
from server.core.changes.places import (
    AddFloor,
    ChangeFloor,
    ChangeProject,
    KeepPlace,
    KeepWay,
    MoveClock,
    StartProject,
)
from server.core.refusals import message
from server.core.world import Floor, Place, Project, Snapshot, Way, WorkCalendar

# Only the form of a zone's name; which zones there are is for those who read the list.
ZONE = re.compile(r"[A-Za-z_]+(/[A-Za-z0-9_+-]+)*")
MOST_ROOM = 20
LONGEST_AIR = 40


@rule(StartProject)
def start_project(snapshot: Snapshot, actor: Actor, command: StartProject, at: datetime) -> Outcome:
    """A house with nothing in it yet. The snapshot is the company's."""
    project = Project(
        id=new_id(snapshot, Project, command.id),
        company_id=snapshot.company.id,
        name=name_of(command.name),
        time_zone=_zone(command.time_zone),
        start=near(command.start, at, "start"),
        calendar_id=there(snapshot, WorkCalendar, command.calendar_id, "calendar_id").id,
        about=text_of(command.about, "about"),
    )
    return Outcome(snapshot.put(project), message("log.project_started", project=project.name))


@rule(ChangeProject)
def change_project(
    snapshot: Snapshot, actor: Actor, command: ChangeProject, at: datetime
) -> Outcome:
    """Another name, start or calendar; it cannot start after work that was done."""
    project = find(snapshot, Project, command.project_id)
    first = min((a.started for a in snapshot.activities.values() if a.started), default=None)
    if first is not None and command.start > first and command.start != project.start:
        raise BadInput("places.start_after_work", field="start", first=first)
    changed = replace(
        project,
        name=name_of(command.name),
        time_zone=_zone(command.time_zone),
        start=near(command.start, at, "start"),
        calendar_id=there(snapshot, WorkCalendar, command.calendar_id, "calendar_id").id,
        about=text_of(command.about, "about"),
    )
    return Outcome(snapshot.put(changed), message("log.project_changed", project=changed.name))


@rule(AddFloor)
def add_floor(snapshot: Snapshot, actor: Actor, command: AddFloor, at: datetime) -> Outcome:
    """The next floor up."""
    floors = tuple(snapshot.floors.values())
    floor = Floor(
        id=new_id(snapshot, Floor, command.id),
        project_id=snapshot.project.id,
        name=not_taken(name_of(command.name), (f.name for f in floors)),
        order=at_the_end(floors),
    )
    return Outcome(snapshot.put(floor), message("log.floor_added", floor=floor.name))


@rule(ChangeFloor)
def change_floor(snapshot: Snapshot, actor: Actor, command: ChangeFloor, at: datetime) -> Outcome:
    """Another name; what stands on it stays."""
    floor = there(snapshot, Floor, command.floor_id, "floor_id")
    others = (f.name for f in snapshot.floors.values() if f.id != floor.id)
    renamed = replace(floor, name=not_taken(name_of(command.name), others))
    said = message("log.floor_changed", was=floor.name, floor=renamed.name)
    return Outcome(snapshot.put(renamed), said)


@rule(KeepPlace)
def keep_place(snapshot: Snapshot, actor: Actor, command: KeepPlace, at: datetime) -> Outcome:
    """A place on a floor, and what lies open below it."""
    floor = there(snapshot, Floor, command.floor_id, "floor_id")
    others = [p for p in snapshot.places.values() if p.id != command.id]
    for below_id in command.open_to:
        if below_id == command.id:
            raise BadInput("places.open_to_itself", field="open_to")
        there(snapshot, Place, below_id, "open_to")
    known = snapshot.places.get(command.id)
    place = replace(
        known
        or Place(
            id=new_id(snapshot, Place, command.id),
            project_id=snapshot.project.id,
            name="",
            floor_id=floor.id,
            order=at_the_end(others),
        ),
        name=not_taken(name_of(command.name), (p.name for p in others)),
        floor_id=floor.id,
        room_for=whole(command.room_for, 1, MOST_ROOM, "room_for"),
        open_to=tuple(dict.fromkeys(command.open_to)),
        air=_air(command.air, others),
    )
    after = snapshot.put(place)
    if above := falls_back(after, place):
        raise BadInput("places.open_both_ways", field="open_to", place=above.name)
    return Outcome(after, message("log.place_kept", place=place.name))


@rule(KeepWay)
def keep_way(snapshot: Snapshot, actor: Actor, command: KeepWay, at: datetime) -> Outcome:
    """A way from one floor up to another; whether it is open stays as it is."""
    lower = there(snapshot, Floor, command.lower_id, "lower_id")
    upper = there(snapshot, Floor, command.upper_id, "upper_id")
    if lower.order >= upper.order:
        raise BadInput("places.way_goes_down", field="upper_id")
    others = (w.name for w in snapshot.ways.values() if w.id != command.id)
    known = snapshot.ways.get(command.id)
    way = replace(
        known
        or Way(
            id=new_id(snapshot, Way, command.id),
            project_id=snapshot.project.id,
            name="",
            lower_id=lower.id,
            upper_id=upper.id,
        ),
        name=not_taken(name_of(command.name), others),
        lower_id=lower.id,
        upper_id=upper.id,
        carries=command.carries,
    )
    return Outcome(snapshot.put(way), message("log.way_kept", way=way.name))


@rule(MoveClock)
def move_clock(snapshot: Snapshot, actor: Actor, command: MoveClock, at: datetime) -> Outcome:
    """A demo's clock, forward only: what was recorded stays before now."""
    company = snapshot.company
    if company.frozen_at is None:
        raise BadInput("places.clock_is_real", field="to")
    if command.to <= company.frozen_at:
        raise BadInput("places.clock_back", field="to", now=company.frozen_at)
    moved = replace(company, frozen_at=near(command.to, company.frozen_at, "to"))
    return Outcome(snapshot.put(moved), message("log.clock_moved", to=command.to))


def falls_back(snapshot: Snapshot, place: Place) -> Place | None:
    """A place below this one that is itself open to it: one of the two is the lower."""
    seen: set[str] = set()
    open_ids = list(place.open_to)
    while open_ids:
        id = open_ids.pop()
        if place.id in snapshot.places[id].open_to:
            return snapshot.places[id]
        if id not in seen:
            seen.add(id)
            open_ids += snapshot.places[id].open_to
    return None


def _air(typed: str, others: Iterable[Place]) -> str:
    """A name for air kept apart, in the letters that another place has it in already."""
    air = " ".join(text_of(typed, "air", LONGEST_AIR).split())
    same = (place.air for place in others if place.air.casefold() == air.casefold())
    return next(same, air)


def _zone(name: str) -> str:
    if not ZONE.fullmatch(name):
        raise BadInput("places.no_zone", field="time_zone")
    return name
