"""Nobody called yet; not looked at again by the time given."""

from tests.core.warnings.finding import mended, of, one
from tests.worlds import CLOCK_DAY, DAY, a_project, on

CALL, AGAIN = "not called yet", "look again overdue"
METAL = "Ore Street Metal"
WORLD = (
    a_project()
    .with_crew(METAL)
    .with_detail("Garden stair rail")
    .with_layer("Stand-offs")
    .with_task("Set the stand-offs", 3 * DAY, crew=METAL, puts_in="Stand-offs")
    .with_changed("Set the stand-offs", started=on("Dec 3"))
    .with_check(
        "Framing inspection",
        after="Set the stand-offs",
        layers="Stand-offs",
        marks=METAL,
        authority=True,
        notice=2 * CLOCK_DAY,
    )
)
"""The stand-offs are in on Friday, Dec 5, at 3:30 pm."""
DONE = {"started": on("Dec 1"), "finished": on("Dec 2")}

# -- not called yet -----------------------------------------------------------------------------


def test_a_look_that_is_needed_within_its_notice_has_to_be_called_for() -> None:
    assert not of(CALL, WORLD)
    found = one(CALL, WORLD, on("Dec 3 15:30"))
    assert (found.bad, found.person_id, found.at) == (
        "in the way",
        "rufus-orme",
        on("Dec 3 15:30"),
    )


def test_once_called_it_is_not_told() -> None:
    called = WORLD.with_changed("framing-inspection-check", called=on("Dec 3 9:00"))
    assert not of(CALL, called, on("Dec 4"))


def test_a_look_without_notice_is_called_for_when_it_can_be_made() -> None:
    world = WORLD.with_changed("framing-inspection-check", notice=0)
    assert not of(CALL, world, on("Dec 4"))
    assert one(CALL, world.with_changed("Set the stand-offs", **DONE))


def test_a_look_of_our_own_people_needs_a_call_only_where_it_wants_notice() -> None:
    own = WORLD.with_changed("Set the stand-offs", **DONE).with_changed(
        "framing-inspection-check", authority=False
    )
    assert one(CALL, own)
    assert not of(CALL, own.with_changed("framing-inspection-check", notice=0))


def test_what_is_released_or_only_invited_needs_no_call() -> None:
    done = WORLD.with_changed("Set the stand-offs", **DONE)
    released = done.with_attempt("Framing inspection", "released")
    assert not of(CALL, released.with_changed("Framing inspection", **DONE))
    assert not of(CALL, done.with_changed("framing-inspection-check", witness=True))


def test_calling_mends_it() -> None:
    world = WORLD.with_changed("Set the stand-offs", **DONE)
    found = one(CALL, world)
    assert mended(world, found)
    assert all(CALL not in left for left in mended(world, found))


def test_its_identity_does_not_change_from_day_to_day() -> None:
    world = WORLD.with_changed("Set the stand-offs", **DONE)
    assert one(CALL, world).identity == one(CALL, world, on("Dec 4")).identity


# -- look again overdue -------------------------------------------------------------------------

TO_PUT_RIGHT = WORLD.with_changed("Set the stand-offs", **DONE).with_attempt(
    "Framing inspection", "look again", again_by=on("Dec 3 9:00"), reason="No. 3 is high"
)


def test_what_was_not_looked_at_again_by_its_time_is_lost_work() -> None:
    found = one(AGAIN, TO_PUT_RIGHT)
    assert (found.bad, found.crew_id, found.at) == (
        "lost work",
        "ore-street-metal",
        on("Dec 3 9:00"),
    )
    assert [m.goto_hold_id for m in found.mends] == ["framing-inspection-check"]


def test_before_its_time_it_is_not() -> None:
    assert not of(AGAIN, TO_PUT_RIGHT, on("Dec 3 8:45"))


def test_a_new_mark_clears_it() -> None:
    assert not of(AGAIN, TO_PUT_RIGHT.with_attempt("Framing inspection"))
