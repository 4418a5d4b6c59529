"""Worlds for the notes about air and finish work: readings, temporary works, a wet wall."""

from fractions import Fraction
from typing import Any

from server.core.world import Reading, TemporaryWork
from tests.worlds import DAY, PROJECT, World, a_project, id_of, on

CREW, OTHER = "Ninepail Plaster", "Hobnail Millwork"
DONE = {"started": on("Dec 1"), "finished": on("Dec 2 15:30")}
UNITS = {"air": "°F", "humidity": "%", "wood": "%", "plaster": "%"}


def read(
    world: World, what: str, value: str | int, at: str, place: str = "Stair", where: str = ""
) -> World:
    """With one more reading of a place."""
    return world.put(
        Reading(
            id=f"reading-{len(world.snapshot().readings) + 1}",
            project_id=PROJECT,
            place_id=id_of(place),
            what=what,
            value=Fraction(value),
            unit=UNITS[what],
            by_id="rufus-orme",
            at=on(at),
            where=where,
        )
    )


def with_temporary(world: World, kind: str, name: str, **fields: Any) -> World:
    """With a temporary work that has been in since Dec 2."""
    work: dict[str, Any] = {"put_in": on("Dec 2"), **fields}
    id = f"temporary-{len(world.snapshot().temporary) + 1}"
    return world.put(TemporaryWork(id=id, project_id=PROJECT, kind=kind, name=name, **work))


def a_house() -> World:
    """A stair and a landing that share their air, a loft apart from it; two crews; one detail."""
    return (
        a_project()
        .with_crew(CREW, trade="plaster")
        .with_crew(OTHER, trade="millwork")
        .with_place("Stair")
        .with_place("Landing", floor="upper floor", open_to=("stair",))
        .with_place("Loft", floor="upper floor", air="loft")
        .with_detail("Stair wall", place_id="stair")
    )


def visit(world: World, task: str, day: str, crew: str = CREW, **fields: Any) -> World:
    """With a visit for a task, one working day long."""
    return world.with_booking(crew, task, on(day), on(f"{day} 15:30"), **fields)


def wet_wall(**fields: Any) -> World:
    """A base coat that was done on Dec 2, its wait till Dec 8, and a finish coat after it."""
    return (
        a_house()
        .with_layer("Lath")
        .with_layer("Base", material="plaster")
        .with_layer("Finish", material="lime plaster")
        .with_task("Base coat", DAY, CREW, puts_in="Base", wet=True, **{**DONE, **fields})
        .with_wait("Base dries", 6 * 24 * 60, after="Base coat")
        .with_task("Finish coat", 240, CREW, after="Base dries", puts_in="Finish", wet=True)
    )
