"""Work that two crews do together: its hours, its visits, the room it takes, who hears of it."""

from server.core.beforehand import beforehand
from server.core.changes.bookings import AskVisit
from server.core.coming import notice_of
from server.core.next import who_goes_next
from server.core.standing import standing
from server.core.visits import end_of, groups_of, not_there, visit_for
from server.core.warnings import find
from server.core.world import Snapshot, WorkCalendar
from server.core.world.hours import first_hour
from server.core.world.network import forecast
from tests.core.changes.pressing import pressed, refused
from tests.worlds import COMPANY, DAY, HOUR, World, a_project, on

METAL, GLASS, PLASTER = "Ore Street Metal", "Larch Glazing", "Ninepail Plaster"
LATE = tuple(f"{day} 10:00 18:00" for day in range(5))
NOW = on("Dec 3 10:45")
WORLD = (
    a_project()
    .put(WorkCalendar(id="late", company_id=COMPANY, name="Late", shifts=LATE))
    .with_crew(METAL, trade="metal", notice=60)
    .with_crew(GLASS, trade="glass", calendar_id="late", notice=3 * 24 * HOUR, least_visit=120)
    .with_crew(PLASTER, trade="plaster")
    .with_place("Garden stair", room_for=1)
    .with_detail("Garden stair rail", place_id="garden-stair")
    .with_task("Set the glass", 4 * HOUR, crew=METAL, with_crew_ids=("larch-glazing",),
               not_before=on("Dec 5"))
)  # fmt: skip
RULE = "crews come apart"


def asked(world: World, crew: str, day: str, **fields: object) -> World:
    start = on(f"{day} 10:00")
    return world.with_booking(crew, "Set the glass", start, on(f"{day} 15:30"), **fields)


def rules(snapshot: Snapshot) -> list[str]:
    return [w.rule for w in find(snapshot, forecast(snapshot, NOW))]


def test_it_goes_only_in_the_hours_of_both() -> None:
    snapshot = WORLD.snapshot()
    task = snapshot.activities["set-the-glass"]
    assert forecast(snapshot, NOW)["set-the-glass"].early_start == on("Dec 5 10:00")
    assert first_hour(snapshot, task, on("Dec 5")) == on("Dec 5 10:00")
    assert end_of(snapshot, (task,), on("Dec 5 10:00")) == on("Dec 5 14:30")


def test_a_visit_is_no_shorter_than_the_least_of_the_crew_that_comes() -> None:
    snapshot = WORLD.with_changed("Set the glass", work=30).snapshot()
    task = snapshot.activities["set-the-glass"]
    assert end_of(snapshot, (task,), on("Dec 5 10:00"), "larch-glazing") == on("Dec 5 12:00")
    assert end_of(snapshot, (task,), on("Dec 5 10:00"), "ore-street-metal") == on("Dec 5 14:00")


def test_a_named_crew_is_asked_and_one_that_is_not_of_it_is_refused() -> None:
    ask = AskVisit(id="v", activity_ids=("set-the-glass",), start=on("Dec 5 10:00"),
                   finish=on("Dec 5 15:00"), crew_id="larch-glazing")  # fmt: skip
    assert pressed(WORLD, ask).bookings["v"].crew_id == "larch-glazing"
    other = AskVisit(id="v", activity_ids=("set-the-glass",), start=on("Dec 5 10:00"),
                     finish=on("Dec 5 15:00"), crew_id="ninepail-plaster")  # fmt: skip
    assert refused(WORLD, other) == ("bookings.two_crews", "activity_ids")


def test_of_two_visits_the_later_counts_and_one_that_is_refused_before_all() -> None:
    both = asked(asked(WORLD, METAL, "Dec 8"), GLASS, "Dec 9")
    later = visit_for(both.snapshot(), "set-the-glass")
    assert later is not None
    assert later.crew_id == "larch-glazing"
    cannot = asked(asked(WORLD, METAL, "Dec 8", state="can't come"), GLASS, "Dec 9")
    counts = visit_for(cannot.snapshot(), "set-the-glass")
    assert counts is not None
    assert counts.state == "can't come"


def test_both_are_told_that_nobody_asked_them_and_each_mend_asks_its_own() -> None:
    snapshot = WORLD.snapshot()
    found = [w for w in find(snapshot, forecast(snapshot, on("Dec 4 10:45")))
             if w.rule == "ready, nobody booked"]  # fmt: skip
    assert {w.crew_id for w in found} == {"larch-glazing"}
    near = [w for w in find(snapshot, forecast(snapshot, on("Dec 5 09:30"))) if w.mends]
    asks = [c for w in near for m in w.mends for c in m.commands if isinstance(c, AskVisit)]
    assert {c.crew_id for c in asks} == {"larch-glazing", "ore-street-metal"}


def test_a_visit_of_one_without_the_other_is_said_the_day_before() -> None:
    alone = asked(WORLD, METAL, "Dec 5").snapshot()
    visit = alone.bookings["ore-street-metal-1"]
    assert not_there(alone, visit) == ("larch-glazing",)
    assert beforehand(alone, forecast(alone, NOW), visit).without_ids == ("larch-glazing",)
    both = asked(asked(WORLD, METAL, "Dec 5"), GLASS, "Dec 5").snapshot()
    assert not_there(both, both.bookings["ore-street-metal-1"]) == ()


def test_crews_that_work_together_are_one_in_the_room_and_no_collision() -> None:
    both = asked(asked(WORLD, METAL, "Dec 5"), GLASS, "Dec 5").snapshot()
    assert "too many in one place" not in rules(both)
    for visit in both.bookings.values():
        assert beforehand(both, forecast(both, NOW), visit).there_ids == ()
    stands = standing(both, forecast(both, NOW), on("Dec 5").date(), 1)
    assert {s.crew_id for s in stands} == {"ore-street-metal", "larch-glazing"}


def test_for_a_third_crew_two_that_work_together_take_the_room_of_one() -> None:
    world = asked(asked(WORLD, METAL, "Dec 5"), GLASS, "Dec 5").with_task("Patch", crew=PLASTER)
    world = world.with_booking(PLASTER, "Patch", on("Dec 5 10:00"), on("Dec 5 15:00"))
    visits = world.snapshot().bookings
    assert groups_of(visits.values()) == 2
    roomy = world.with_changed("Garden stair", room_for=2).snapshot()
    known = beforehand(roomy, forecast(roomy, NOW), visits["ninepail-plaster-1"])
    assert known.there_ids == ()


def test_the_notice_of_the_crew_that_wants_to_know_soonest_counts() -> None:
    snapshot = WORLD.snapshot()
    assert notice_of(snapshot, snapshot.activities["set-the-glass"]).days == 3
    (going,) = who_goes_next(snapshot, forecast(snapshot, NOW), NOW)
    assert going.standing == "soon"


def test_crews_asked_for_different_days_come_apart_and_can_be_asked_together() -> None:
    apart = asked(asked(WORLD, METAL, "Dec 8"), GLASS, "Dec 9").snapshot()
    (found,) = (w for w in find(apart, forecast(apart, NOW)) if w.rule == RULE)
    assert (found.bad, found.at) == ("in the way", on("Dec 8 10:00"))
    assert found.mends
    for mend in found.mends:
        after = World(apart)
        for command in mend.commands:
            after = World(pressed(after, command))
        assert RULE not in rules(after.snapshot())


def test_crews_that_share_hours_or_of_whom_one_is_not_asked_do_not_come_apart() -> None:
    together = asked(asked(WORLD, METAL, "Dec 8"), GLASS, "Dec 8").snapshot()
    assert RULE not in rules(together)
    assert RULE not in rules(asked(WORLD, METAL, "Dec 8").snapshot())


def test_a_long_day_of_one_does_not_make_the_other_work_it() -> None:
    snapshot = WORLD.with_changed("Set the glass", work=DAY).snapshot()
    dates = forecast(snapshot, NOW)["set-the-glass"]
    assert dates.early_finish > on("Dec 8")
