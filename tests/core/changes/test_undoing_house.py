"""Hours, days, patterns and floors are put back as they were, or stay by a name."""

from datetime import date

import pytest

from server.core.changes import Command
from server.core.changes.calendars import DropCalendar, GiveCrewHours, KeepHolidays, SetDays
from server.core.changes.own_patterns import EndPattern, KeepPattern
from server.core.changes.people import KeepCrew
from server.core.changes.places import AddFloor, ChangeFloor, KeepCalendar
from server.core.changes.rules_own_patterns import MOST
from server.core.world import OwnPattern, Snapshot, WorkCalendar
from tests.core.changes.putting_back import made, rail, redone, refused, undone, unversioned
from tests.worlds import COMPANY

METAL = WorkCalendar(
    id="metal", company_id=COMPANY, name="Metal week", shifts=(), based_on_id="site"
)
SPARE = WorkCalendar(
    id="spare", company_id=COMPANY, name="Spare week", shifts=(), based_on_id="site"
)
OURS = OwnPattern(id="ours", company_id=COMPANY, name="Our rail", text="# rail")
CLOSED = SetDays(
    calendar_id="metal", first=date(2025, 12, 29), last=date(2025, 12, 31), to="closed"
)
OWN_HOURS = GiveCrewHours(id="own", crew_id="ninepail-plaster", follows_id="site")
ALONE = KeepCalendar(id="metal", name="Metal week", shifts=("0 07:00 15:00",))
ENDED = EndPattern(pattern_id="ours")


def house() -> Snapshot:
    """The rail, two calendars that follow the site's, a pattern."""
    return rail().put(METAL, SPARE, OURS).snapshot()


def follows(id: str, other: str) -> KeepCalendar:
    return KeepCalendar(id=id, name=f"{id.title()} week", shifts=(), based_on_id=other)


def kept(name: str, id: str = "new") -> KeepPattern:
    return KeepPattern(id=id, name=name, text="# other")


KINDS: dict[str, Command] = {
    "days set": CLOSED,
    "holidays": KeepHolidays(calendar_id="site", place="US", days=("2025-12-25 Christmas Day",)),
    "a crew's own hours": OWN_HOURS,
    "a calendar that stands on its own": ALONE,
    "a calendar taken out": DropCalendar(calendar_id="spare"),
    "a pattern kept": kept("Guard"),
    "a pattern changed": kept("Guard", "ours"),
    "a pattern taken off the list": ENDED,
    "a floor renamed": ChangeFloor(floor_id="main-floor", name="Hall"),
}


@pytest.mark.parametrize("command", KINDS.values(), ids=KINDS)
def test_the_world_is_as_before_and_done_again_as_after(command: Command) -> None:
    before = house()
    done, rows = made(before, command)
    back, its_rows = undone(done, rows)
    assert unversioned(back) == unversioned(before) != unversioned(done)
    assert unversioned(redone(back, its_rows)) == unversioned(done)


def crew(calendar_id: str) -> KeepCrew:
    return KeepCrew(
        id="ore-street-metal", name="Ore Street", trade="metal", calendar_id=calendar_id
    )


SINCE: dict[str, tuple[Command, Command, str, str]] = {
    "another calendar follows a crew's own": (
        OWN_HOURS,
        follows("spare", "own"),
        "undo.needed",
        "spare",
    ),
    "another crew keeps a crew's own": (OWN_HOURS, crew("own"), "undo.needed", "ore-street-metal"),
    "days of it were set": (
        OWN_HOURS,
        SetDays(calendar_id="own", first=date(2025, 12, 29), last=date(2025, 12, 29), to="closed"),
        "undo.changed",
        "own",
    ),
    "the name of a dropped calendar is taken": (
        DropCalendar(calendar_id="spare"),
        KeepCalendar(id="c", name="SPARE WEEK", shifts=(), based_on_id="site"),
        "undo.name_taken",
        "c",
    ),
    "the name of a pattern is taken": (ENDED, kept("OUR RAIL"), "undo.name_taken", "new"),
    "the former name of a pattern is taken": (
        kept("Guard", "ours"),
        kept("Our rail"),
        "undo.name_taken",
        "new",
    ),
    "a pattern was changed": (kept("Guard"), kept("Bench"), "undo.changed", "new"),
    "the former name of a floor is taken": (
        ChangeFloor(floor_id="main-floor", name="Hall"),
        AddFloor(id="f", name="Main floor"),
        "undo.name_taken",
        "f",
    ),
}


@pytest.mark.parametrize(("command", "since", "id", "row_id"), SINCE.values(), ids=SINCE)
def test_what_came_since_is_left_alone(
    command: Command, since: Command, id: str, row_id: str
) -> None:
    done, rows = made(house(), command)
    later, _ = made(done, since)
    refusal, row = refused(lambda: undone(later, rows))
    assert (refusal, row and row.id) == (id, row_id)


def test_calendars_do_not_come_to_follow_one_another() -> None:
    done, rows = made(house(), ALONE)
    later, _ = made(done, follows("site", "metal"))
    assert refused(lambda: undone(later, rows))[0] == "calendars.follows_itself"


def test_calendars_do_not_come_to_follow_one_another_over_a_third() -> None:
    done, rows = made(house(), ALONE)
    later, _ = made(done, follows("spare", "metal"), follows("site", "spare"))
    assert refused(lambda: undone(later, rows))[0] == "calendars.follows_itself"


def test_a_crew_does_not_come_back_to_hours_that_were_taken_out() -> None:
    world, _ = made(house(), crew("spare"))
    done, rows = made(world, crew("metal"))
    later, _ = made(done, DropCalendar(calendar_id="spare"))
    assert refused(lambda: undone(later, rows)) == ("undo.not_there", None)


def test_a_calendar_is_not_taken_out_again_when_a_crew_keeps_it_by_now() -> None:
    done, rows = made(house(), DropCalendar(calendar_id="spare"))
    back, its_rows = undone(done, rows)
    later, _ = made(back, crew("spare"))
    assert refused(lambda: redone(later, its_rows))[0] == "undo.needed"


def test_a_floor_is_not_added_again_at_the_height_of_another() -> None:
    done, rows = made(house(), AddFloor(id="attic", name="Attic"))
    back, its_rows = undone(done, rows)
    later, _ = made(back, AddFloor(id="loft", name="Loft"))
    refusal, row = refused(lambda: redone(later, its_rows))
    assert (refusal, row and row.id) == ("undo.doubled", "loft")


def test_a_pattern_does_not_come_back_to_a_full_list() -> None:
    done, rows = made(house(), ENDED)
    later, _ = made(done, *(kept(f"Rail {n}", f"p{n}") for n in range(MOST)))
    assert refused(lambda: undone(later, rows))[0] == "patterns.too_many"
