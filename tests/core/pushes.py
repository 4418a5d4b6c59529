"""A house in which things move: two crews, a wait, visits, promised dates. It is Wednesday, Dec 3.

    Lath (done) > Base coat (plaster, 1 day) > Base coat dries (1 day) > Finish coat (plaster,
    1 day) > Rail (millwork, 1 day), and a Cap (millwork) that nothing comes before.

By the forecast, as of 10:45: base coat to Thursday, dry on Friday, finish coat to Monday, rail to
Tuesday, each at 10:45.
"""

from datetime import datetime

from server.core.changes import Command, change
from server.core.changes.bookings import AgreeDates
from server.core.pushed import Pushed, pushed
from server.core.ripple import Ripple, ripple
from server.core.world import Snapshot
from server.core.world.clock import status_of
from server.core.world.network import forecast
from tests.worlds import World, a_project, actor, on

NOW = on("Dec 3 10:52")
PLASTER, MILLWORK = "Ninepail Plaster", "Hobnail Millwork"
RAIL_VISIT = "hobnail-millwork-1"

HOUSE = (
    a_project()
    .with_crew(PLASTER, trade="plaster")
    .with_crew(MILLWORK, trade="millwork")
    .with_detail("Garden stair rail")
    .with_task("Lath", crew=PLASTER, started=on("Dec 1"), finished=on("Dec 2 15:30"))
    .with_task("Base coat", crew=PLASTER, after="Lath")
    .with_wait("Base coat dries", after="Base coat")
    .with_task("Finish coat", crew=PLASTER, after="Base coat dries")
    .with_task("Rail", crew=MILLWORK, after="Finish coat")
    .with_detail("Landing cap")
    .with_task("Cap", crew=MILLWORK)
)
VISITED = HOUSE.with_booking(MILLWORK, "Rail", on("Dec 8 8:00"), on("Dec 9 15:30"))


def after(world: World, *commands: Command, at: datetime = NOW) -> Snapshot:
    """The world after these commands of the super."""
    made = world.snapshot()
    for command in commands:
        made = change(made, actor(made), command, at).after
    return made


def promising(world: World) -> World:
    """The same with its forecast dates promised."""
    ids = [id for id in world.snapshot().details if world.snapshot().chain_of(id)]
    return World(after(world, *(AgreeDates(detail_id=id) for id in ids)))


def push(world: World, *commands: Command, at: datetime = NOW) -> Pushed:
    """What these commands push, as of the quarter of an hour in which they are given."""
    made, status = after(world, *commands, at=at), status_of(at)
    before = world.snapshot()
    return pushed(before, made, forecast(before, status), forecast(made, status))


def rippled(world: World, *commands: Command, at: datetime = NOW) -> Ripple:
    """The same with the warnings that come and go."""
    return ripple(world.snapshot(), after(world, *commands, at=at), status_of(at))
