"""The garden stair rail with what stands around it: drawings, deliveries, readings.

A second detail, the main flight, is the framers'; the plasterers and the metal shop see the first.
"""

from datetime import date, datetime
from fractions import Fraction

from server.core.world import Look, Reading, Sheet, TemporaryWork
from tests.pages.at_the_wall import garden_rail
from tests.worlds import DAY, HOUR, PROJECT, World, on

RAIL = "garden-stair-rail"
LONG = (
    "Rail and brackets of blackened bronze with the twenty-two loose covers and their spare screws"
)


def around_the_stair() -> World:
    """On Wednesday, Dec 3, in the morning."""
    return _readings(_temporaries(_decisions(_deliveries(_drawings(garden_rail())))))


def _drawings(world: World) -> World:
    older = Sheet(id="a-402-b", project_id=PROJECT, detail_id=RAIL, number="A-402", revision="B",
                  title="Garden stair", dated=date(2025, 11, 3), replaced_id="a-402")  # fmt: skip
    return world.put(older).with_changed("Height", sheet_id="a-402-b")


def _deliveries(world: World) -> World:
    return (
        world.with_delivery("Rail", 5 * DAY, crew="Ore Street Metal", review=14 * 24 * HOUR,
                            sheet_id="a-402")
        .with_task("Hang rail", DAY, crew="Ore Street Metal", after=("Rail", "Base coat dries"))
        .with_delivery("Board", 2 * DAY, crew="Ninepail Plaster", ordered=on("Nov 24"),
                       promised=on("Dec 2"))
        .with_dependency("Board", "Hang board")
        .with_delivery("Stand-off plates", 5 * DAY, crew="Ore Street Metal", ordered=on("Nov 14"),
                       started=on("Nov 14"), finished=on("Dec 2"))
        .with_detail("Main flight")
        .with_delivery("Stringers", 5 * DAY, crew="Thimble Hill Framing", measured=on("Nov 20"),
                       drawn=on("Nov 24"), review=7 * 24 * HOUR)
        .with_task("Set stringers", 2 * DAY, crew="Thimble Hill Framing", after="Stringers")
    )  # fmt: skip


def _decisions(world: World) -> World:
    return (
        world.with_changed("Lou Vance", phone="555 0140")
        .with_decision("Color of the rail", person="Lou Vance")
        .with_dependency("Color of the rail", "Hang rail")
        .with_decision("Sample of plaster", person="Lou Vance", finished=on("Nov 24"),
                       answer="Sample B, as it hangs in the kitchen")
        .with_changed("Color of the rail", detail_id=RAIL)
        .with_changed("Sample of plaster", detail_id=RAIL)
        .with_decision("Kind of tread", person="Lou Vance")
        .with_dependency("Kind of tread", "Stringers")
    )  # fmt: skip


def _temporaries(world: World) -> World:
    def work(id: str, **fields: object) -> TemporaryWork:
        return TemporaryWork(id=id, project_id=PROJECT, **fields)  # type: ignore[arg-type]

    def look(id: str, of: str, at: datetime, note: str = "") -> Look:
        return Look(id=id, project_id=PROJECT, temporary_id=of, by_id="rufus-orme", at=at,
                    in_order=not note, note=note)  # fmt: skip

    return world.put(
        work("rail-temp", kind="rail", name="Temporary rail at the garden stair",
             place_id="garden-stair", crew_id="ore-street-metal", put_in=on("Nov 20")),
        work("shores", kind="shore", name="Shores under the flight", detail_id="main-flight",
             crew_id="thimble-hill-framing", put_in=on("Dec 1")),
        work("old-deck", kind="deck", name="Deck over the well", put_in=on("Nov 12"),
             taken_out=on("Nov 28 15:00"), rise=Fraction(96)),
        look("look-1", "rail-temp", on("Dec 1 7:10")),
        look("look-2", "rail-temp", on("Dec 2 7:05"), "One post loose"),
        look("look-3", "rail-temp", on("Dec 2 9:30")),
        look("look-4", "shores", on("Dec 3 6:55")),
    )  # fmt: skip


def _readings(world: World) -> World:
    def reading(no: int, what: str, value: str, at: str, place: str = "garden-stair") -> Reading:
        unit = "°F" if what == "air" else "%"
        return Reading(id=f"reading-{no}", project_id=PROJECT, place_id=place, what=what,
                       value=Fraction(value), unit=unit, by_id="rufus-orme", at=on(at),
                       where="bottom of the stair" if no == 1 else "")  # fmt: skip

    return world.with_place("Landing").put(
        reading(1, "air", "56", "Dec 1 7:40"),
        reading(2, "air", "52", "Nov 25 7:40"),
        reading(3, "humidity", "48", "Dec 1 7:40"),
        reading(4, "wood", "23/2", "Dec 3 7:40"),
    )
