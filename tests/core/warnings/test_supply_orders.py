"""Order now, and what comes too late for what needs it."""

from server.core.world import Agreed
from tests.core.warnings.finding import NOW, mended, of, one
from tests.worlds import CLOCK_DAY, DAY, PROJECT, World, a_project, on

ORDER, LATE = "order now", "ordered too late"
DONE = {"started": on("Dec 1"), "finished": on("Dec 2")}
CREW = "Hobnail Millwork"
WORLD = (
    a_project()
    .with_crew(CREW)
    .with_detail("Garden stair rail")
    .with_task("Template the rail", crew=CREW, **DONE)
    .with_delivery("Rail made", 5 * DAY, after="Template the rail")
    .with_task("Set the rail", crew=CREW, after="Rail made")
    .with_task("Paint the hall", 30 * DAY)
)
"""The rail takes a week; the hall is painted until mid-January."""
TIGHT = WORLD.with_changed("Paint the hall", work=12 * DAY)
FIXED = WORLD.with_changed("Set the rail", finish_by=on("Dec 10"))


def promised(world: World, day: str) -> World:
    return world.put(
        Agreed(
            id="agreed-1",
            project_id=PROJECT,
            activity_id="set-the-rail",
            detail_id="garden-stair-rail",
            round=1,
            start=on(day),
            finish=on(f"{day} 15:30"),
            by_id="rufus-orme",
            at=NOW,
        )
    )


# -- order now ----------------------------------------------------------------------------------


def test_what_has_to_be_ordered_within_two_weeks_is_told() -> None:
    found = one(ORDER, TIGHT)
    assert (found.bad, found.activity_ids, found.person_id) == (
        "watch",
        ("rail-made",),
        "rufus-orme",
    )
    assert found.sentence.values["work"] == ("Set the rail",)


def test_what_has_more_time_is_not() -> None:
    assert not of(ORDER, WORLD)


def test_its_review_counts() -> None:
    early = WORLD.with_changed("Rail made", review=30 * CLOCK_DAY)
    assert one(ORDER, early).sentence.id == "warning.order_now.review"
    assert not of(ORDER, early.with_changed("Rail made", approved=on("Dec 2")))


def test_what_is_ordered_or_here_is_not_told() -> None:
    assert not of(ORDER, TIGHT.with_changed("Rail made", ordered=on("Dec 2")))
    assert not of(ORDER, TIGHT.with_changed("Rail made", **DONE))


def test_what_something_open_stands_before_is_not_told_but_that() -> None:
    assert not of(ORDER, TIGHT.with_changed("Template the rail", started=None, finished=None))


def test_what_comes_with_another_delivery_is_ordered_with_it() -> None:
    world = TIGHT.with_changed("Rail made", **DONE).with_delivery("Rail shipped", after="Rail made")
    assert not of(ORDER, world)


def test_having_ordered_it_mends_it() -> None:
    assert all(ORDER not in left for left in mended(TIGHT, one(ORDER, TIGHT)))
    assert mended(TIGHT, one(ORDER, TIGHT))


def test_its_identity_does_not_change_from_day_to_day() -> None:
    assert one(ORDER, TIGHT).identity == one(ORDER, TIGHT, on("Dec 4")).identity


# -- ordered too late ---------------------------------------------------------------------------


def test_what_comes_after_a_fixed_day_leaves_time_for_it_is_too_late() -> None:
    found = one(LATE, FIXED)
    assert (found.bad, found.activity_ids) == ("in the way", ("rail-made", "set-the-rail"))
    assert not of(ORDER, FIXED)


def test_what_comes_in_time_for_a_fixed_day_is_not() -> None:
    assert not of(LATE, FIXED.with_changed("Set the rail", finish_by=on("Dec 15")))


def test_what_its_review_leaves_no_time_for_is_too_late() -> None:
    assert one(LATE, TIGHT.with_changed("Rail made", review=20 * CLOCK_DAY))
    assert not of(LATE, TIGHT.with_changed("Rail made", review=5 * CLOCK_DAY))


def test_what_comes_after_the_day_promised_for_what_needs_it_is_too_late() -> None:
    found = one(LATE, promised(WORLD, "Dec 8"))
    assert found.sentence.id == "warning.ordered_too_late.promised"
    assert not of(LATE, promised(WORLD, "Dec 10"))


def test_where_the_work_waits_for_something_else_the_delivery_is_not_to_blame() -> None:
    world = promised(WORLD, "Dec 8").with_task("Plaster", 9 * DAY)
    assert not of(LATE, world.with_dependency("Plaster", "Set the rail"))


def test_what_could_not_be_ordered_yet_is_not_told_but_what_stands_before_it() -> None:
    assert not of(LATE, FIXED.with_changed("Template the rail", started=None, finished=None))


def test_of_deliveries_one_after_the_other_only_the_first_is_told() -> None:
    world = (
        promised(WORLD, "Dec 8")
        .with_changed("Rail made>Set the rail", after_id="rail-shipped")
        .with_delivery("Rail shipped", DAY)
        .with_dependency("Rail shipped", "Set the rail")
    )
    assert one(LATE, world).activity_ids[0] == "rail-made"


def test_a_day_that_its_supplier_promises_mends_it() -> None:
    for world in (FIXED, promised(WORLD, "Dec 8")):
        found = one(LATE, world)
        assert "warning.comes_by" in [mend.label.id for mend in found.mends]
        assert len(found.mends) == 2
        assert all(LATE not in left for left in mended(world, found))


def test_once_it_is_here_it_is_history() -> None:
    assert not of(LATE, FIXED.with_changed("Rail made", started=on("Dec 2"), finished=on("Dec 3")))
