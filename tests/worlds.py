"""A small world for tests: one company, one house, and as much of a detail as a test needs.

    world = (
        a_project()
        .with_crew("Ninepail Plaster", trade="plaster")
        .with_detail("Garden stair rail")
        .with_layer("Stand-offs", parts=7, must_be_seen=True)
        .with_task("Set the stand-offs", work=DAY, puts_in="Stand-offs")
        .with_check("String of the stand-offs", after="Set the stand-offs", layers="Stand-offs")
        .with_task("Hang board", crew="Ninepail Plaster", after="String of the stand-offs")
    )
    world.snapshot().activities["hang-board"]

An id is the name in lower case with hyphens; wherever a thing is named, its name or its id does.
A hold point is `{check}-check`, a crew's lead `{crew}-lead`, a dependency `{before}>{after}`, an
ask `{check}-1`, an attempt `{check}-attempt-1`, a booking `{crew}-1`. The site works Monday to
Friday, 7 to noon and 12:30 to 3:30; the project starts on Monday, Dec 1 2025, at 7 am. Whatever a
noun has as a field can be given by its keyword.
"""

import re
from dataclasses import dataclass, replace
from datetime import datetime
from fractions import Fraction
from typing import Any

from server.core.changes import Actor
from server.core.world import (
    TABLES,
    Activity,
    Ask,
    Attempt,
    Booking,
    Company,
    Crew,
    Dependency,
    Detail,
    Effect,
    Floor,
    Given,
    HoldPoint,
    Layer,
    Noun,
    Person,
    Place,
    Project,
    Side,
    Snapshot,
    Way,
    WorkCalendar,
)

HOUR = 60
DAY = 8 * HOUR
"""A working day of the site, in minutes."""
CLOCK_DAY = 24 * HOUR

COMPANY, PROJECT = "tallow-creek", "quarry-road"
WEEK = tuple(f"{day} {shift}" for day in range(5) for shift in ("07:00 12:00", "12:30 15:30"))

Names = str | tuple[str, ...]


def on(day: str) -> datetime:
    """A time in the winter of the tests: `on("Dec 3 10:52")`; a day alone is its 7 am."""
    month, number, *clock = day.split()
    year, month_number = (2026, 1) if month == "Jan" else (2025, 11 if month == "Nov" else 12)
    hour, minute = (clock[0] if clock else "07:00").split(":")
    return datetime(year, month_number, int(number), int(hour), int(minute))


def id_of(name: str) -> str:
    """The id that a name gets here."""
    return re.sub(r"[^a-z0-9>]+", "-", name.lower()).strip("-")


def a_project(start: datetime = datetime(2025, 12, 1, 7)) -> "World":
    """Tallow Creek's house on Quarry Road: two floors, Rufus Orme as super, nothing to do yet."""
    calendar = WorkCalendar(id="site", company_id=COMPANY, name="Site week", shifts=WEEK)
    return World(Snapshot()).put(
        Company(id=COMPANY, name="Tallow Creek Builders", trades=("framing", "plaster")),
        calendar,
        Person(id="rufus-orme", company_id=COMPANY, name="Rufus Orme", role="super"),
        Project(
            id=PROJECT,
            company_id=COMPANY,
            name="Quarry Road house",
            time_zone="America/Chicago",
            start=start,
            calendar_id=calendar.id,
        ),
        Floor(id="main-floor", project_id=PROJECT, name="Main floor", order=0),
        Floor(id="upper-floor", project_id=PROJECT, name="Upper floor", order=1),
    )


def actor(snapshot: Snapshot, person: str = "Rufus Orme", **fields: Any) -> Actor:
    """Who gives a command: a person of the world, the super unless another is named."""
    known = snapshot.people[id_of(person)]
    return Actor(
        person_id=known.id, name=known.name, role=known.role, crew_id=known.crew_id, **fields
    )


@dataclass(frozen=True)
class World:
    """A snapshot being built. Every `with_…` gives back a new world; `snapshot()` ends it."""

    made: Snapshot
    detail: str = ""
    side: str = ""
    check: str = ""

    def snapshot(self) -> Snapshot:
        return self.made

    def put(self, *nouns: Noun) -> "World":
        """With any other nouns."""
        return replace(self, made=self.made.put(*nouns))

    def with_changed(self, name: str, /, **fields: Any) -> "World":
        """With other fields of the thing of this name: `with_changed("Hang board", ended=…)`."""
        for table in TABLES.values():
            noun: Noun | None = getattr(self.made, table).get(id_of(name))
            if noun is not None:
                return self.put(replace(noun, **fields))
        raise KeyError(name)

    # -- people and places ------------------------------------------------------------------

    def with_crew(self, name: str, trade: str = "framing", **fields: Any) -> "World":
        """A crew and its lead, who is given the project."""
        crew = Crew(id=id_of(name), company_id=COMPANY, name=name, trade=trade, **fields)
        return self.put(crew).with_person(f"{name} lead", role="crew", crew_id=crew.id)

    def with_person(self, name: str, role: str = "rep", **fields: Any) -> "World":
        """A person who is given the whole project."""
        person = Person(id=id_of(name), company_id=COMPANY, name=name, role=role, **fields)
        given = Given(id=f"{person.id}-given", project_id=PROJECT, person_id=person.id)
        return self.put(person, given)

    def with_place(self, name: str, floor: str = "main floor", **fields: Any) -> "World":
        order = len(self.made.places)
        return self._of_project(Place, name, floor_id=id_of(floor), order=order, **fields)

    def with_way(self, name: str, **fields: Any) -> "World":
        """A way between the two floors."""
        floors = {"lower_id": "main-floor", "upper_id": "upper-floor"}
        return self._of_project(Way, name, **{**floors, **fields})

    # -- a detail and its layers ------------------------------------------------------------

    def with_detail(self, name: str, side: str = "Stair side", **fields: Any) -> "World":
        """A detail with one side; what is added next belongs to it."""
        order = len(self.made.details)
        world = self._of_project(Detail, name, **{"sheet": f"D{order + 1}", **fields}, order=order)
        return replace(world, detail=id_of(name)).with_side(side)

    def with_side(self, name: str) -> "World":
        """Another side; its id begins with the detail's, because sides are called alike."""
        side = Side(
            id=f"{self.detail}-{id_of(name)}",
            project_id=PROJECT,
            detail_id=self.detail,
            name=name,
            order=len(self.made.sides),
        )
        return replace(self.put(side), side=side.id)

    def with_layer(self, name: str, material: str = "wood", **fields: Any) -> "World":
        """A layer over those that the side has."""
        order = sum(layer.side_id == self.side for layer in self.made.layers.values())
        where = {"detail_id": self.detail, "side_id": self.side, "order": order}
        return self._of_project(Layer, name, material=material, **where, **fields)

    # -- the chain --------------------------------------------------------------------------

    def with_task(
        self,
        name: str,
        work: int = DAY,
        crew: str | None = None,
        after: Names = (),
        puts_in: Names = (),
        covers: Names = (),
        opens: Names = (),
        kind: str = "task",
        **fields: Any,
    ) -> "World":
        """A task of `work` working minutes, after those named, finish to start."""
        activity = Activity(
            id=id_of(name),
            project_id=PROJECT,
            detail_id=self.detail,
            order=len(self.made.activities),
            kind=kind,
            name=name,
            work=work,
            crew_id=id_of(crew) if crew else None,
            **fields,
        )
        world = self.put(activity)
        for verb, layers in (("puts in", puts_in), ("covers", covers), ("opens", opens)):
            for layer in _ids(layers):
                world = world.with_effect(name, verb, layer)
        for before in _ids(after):
            world = world.with_dependency(before, name)
        return world

    def with_wait(self, name: str, work: int = CLOCK_DAY, **fields: Any) -> "World":
        """A wait of `work` clock minutes."""
        return self.with_task(name, work, kind="wait", **fields)

    def with_delivery(self, name: str, work: int = 10 * DAY, **fields: Any) -> "World":
        """A delivery with a lead time of `work` working minutes."""
        return self.with_task(name, work, kind="delivery", **fields)

    def with_decision(self, name: str, person: str | None = None, **fields: Any) -> "World":
        """A decision that a person owes."""
        owed = id_of(person) if person else None
        return self.with_task(name, 0, kind="decision", person_id=owed, **fields)

    def with_check(
        self,
        name: str,
        after: Names = (),
        layers: Names = (),
        marks: str | None = None,
        releases: str | None = None,
        **fields: Any,
    ) -> "World":
        """A check before cover, and its hold point `{name}-check`, whose fields can be given."""
        hold = HoldPoint(
            id=f"{id_of(name)}-check",
            project_id=PROJECT,
            activity_id=id_of(name),
            what=fields.pop("what", name),
            layer_ids=_ids(layers),
            marks_crew_id=id_of(marks) if marks else None,
            releases_id=id_of(releases) if releases else None,
            **fields,
        )
        world = self.with_task(name, 0, kind="hold", after=after).put(hold)
        return replace(world, check=hold.id)

    def with_ask(
        self,
        label: str,
        unit: str = "in",
        part: int | None = None,
        tag: str = "",
        **limits: str | int | Fraction,
    ) -> "World":
        """A number that the last check asks for: `nominal`, `low`, `high`, `far_low`, `far_high`.

        Limits may be written as on a tape: `low="35 7/8"`.
        """
        order = len(self.made.asks_of.get(self.check, ()))
        read: dict[str, Any] = {
            name: sum((Fraction(piece) for piece in str(limit).split()), Fraction(0))
            for name, limit in limits.items()
        }
        return self.put(
            Ask(
                id=f"{self.check.removesuffix('-check')}-{order + 1}",
                project_id=PROJECT,
                hold_id=self.check,
                order=order,
                label=label,
                unit=unit,
                part=part,
                tag=tag,
                **read,
            )
        )

    def with_dependency(self, before: str, after: str, **fields: Any) -> "World":
        """`before` comes before `after`, finish to start unless `type` says otherwise."""
        a, b = id_of(before), id_of(after)
        return self.put(
            Dependency(id=f"{a}>{b}", project_id=PROJECT, before_id=a, after_id=b, **fields)
        )

    def with_effect(self, task: str, verb: str, layer: str, parts: tuple[int, ...] = ()) -> "World":
        """A task "puts in", "covers" or "opens" a layer, or some parts of it."""
        a, b = id_of(task), id_of(layer)
        id = f"{a}-{id_of(verb)}-{b}"
        return self.put(
            Effect(id=id, project_id=PROJECT, activity_id=a, layer_id=b, verb=verb, parts=parts)
        )

    # -- what happened ----------------------------------------------------------------------

    def with_attempt(self, check: str, state: str = "marked", **fields: Any) -> "World":
        """The next attempt at a check, marked by the super unless `marked_by_id` says otherwise."""
        hold_id = f"{id_of(check)}-check"
        no = len(self.made.attempts_of.get(hold_id, ())) + 1
        marked = {"marked_by_id": "rufus-orme", "marked_at": self.made.project.start}
        id = f"{id_of(check)}-attempt-{no}"
        return self.put(
            Attempt(
                id=id,
                project_id=PROJECT,
                hold_id=hold_id,
                no=no,
                state=state,
                **{**marked, **fields},
            )
        )

    def with_booking(
        self, crew: str, tasks: Names, start: datetime, finish: datetime, **fields: Any
    ) -> "World":
        """A visit asked of a crew by the super."""
        number = sum(b.crew_id == id_of(crew) for b in self.made.bookings.values()) + 1
        asked = {
            "state": "asked",
            "asked_by_id": "rufus-orme",
            "asked_at": self.made.project.start,
        }
        return self.put(
            Booking(
                id=f"{id_of(crew)}-{number}",
                project_id=PROJECT,
                crew_id=id_of(crew),
                activity_ids=_ids(tasks),
                start=start,
                finish=finish,
                **{**asked, **fields},
            )
        )

    def _of_project(self, noun: type[Any], name: str, **fields: Any) -> "World":
        return self.put(noun(id=id_of(name), project_id=PROJECT, name=name, **fields))


def _ids(names: Names) -> tuple[str, ...]:
    return tuple(id_of(name) for name in ((names,) if isinstance(names, str) else names))
