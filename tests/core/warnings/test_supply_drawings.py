"""What is still made to a drawing that has been replaced."""

import pytest

from server.core.world import Sheet
from tests.core.warnings.finding import mended, of, one
from tests.worlds import DAY, PROJECT, World, a_project, on

OLD = "old drawing"
BARE = (
    a_project()
    .with_crew("Hobnail Millwork")
    .with_detail("Garden stair rail")
    .with_task("Template the rail", crew="Hobnail Millwork", sheet_id="a")
    .with_delivery("Rail made", 5 * DAY, sheet_id="b")
    .with_check("Height", after="Template the rail")
)


def sheets(world: World, *ids: str) -> World:
    """Revisions of one drawing, each replaced by the next."""
    return world.put(
        *(
            Sheet(
                id=id,
                project_id=PROJECT,
                detail_id="garden-stair-rail",
                number="D1",
                revision=id.upper(),
                replaced_id=newer,
            )
            for id, newer in zip(ids, (*ids[1:], None), strict=True)
        )
    )


WORLD = sheets(BARE, "a", "b")


def test_a_template_made_to_a_replaced_drawing_is_lost_work() -> None:
    found = one(OLD, WORLD)
    assert (found.bad, found.activity_ids) == ("lost work", ("template-the-rail",))
    assert (found.sentence.values["revision"], found.sentence.values["newer"]) == ("A", "B")


def test_what_is_made_to_the_newest_is_not() -> None:
    assert not of(OLD, WORLD.with_changed("Template the rail", sheet_id="b"))


def test_what_is_done_was_made_to_the_drawing_of_its_day() -> None:
    done = {"started": on("Dec 1"), "finished": on("Dec 2")}
    assert not of(OLD, WORLD.with_changed("Template the rail", **done))


def test_an_order_is_told_until_it_is_here() -> None:
    world = sheets(BARE, "b", "c")
    ordered = world.with_changed("Rail made", ordered=on("Dec 2"))
    assert one(OLD, ordered).activity_ids == ("rail-made",)
    here = {"started": on("Dec 2"), "finished": on("Dec 3")}
    assert not of(OLD, ordered.with_changed("Rail made", **here))


def test_a_mark_with_the_numbers_of_an_old_drawing_leads_to_the_check() -> None:
    world = WORLD.with_changed("Template the rail", sheet_id=None)
    found = one(OLD, world.with_attempt("Height", sheet_id="a"))
    assert found.sentence.id == "warning.old_drawing.marked"
    assert [m.goto_hold_id for m in found.mends] == ["height-check"]


@pytest.mark.parametrize(
    ("state", "sheet"), [("released", "a"), ("rejected", "a"), ("marked", "b")]
)
def test_a_mark_that_was_decided_or_is_of_the_newest_is_not_told(state: str, sheet: str) -> None:
    world = WORLD.with_changed("Template the rail", sheet_id=None)
    assert not of(OLD, world.with_attempt("Height", state, sheet_id=sheet))


def test_making_it_to_the_newest_mends_it() -> None:
    world = sheets(BARE, "a", "x", "b")
    found = one(OLD, world)
    assert found.sentence.values["newer"] == "B"
    assert mended(world, found)
    assert all(OLD not in left for left in mended(world, found))


def test_a_check_made_to_an_old_drawing_can_be_set_right_or_opened() -> None:
    world = WORLD.with_changed("Template the rail", sheet_id=None).with_changed(
        "Height", sheet_id="a"
    )
    found = one(OLD, world)
    assert [m.label.id for m in found.mends] == ["warning.made_to", "warning.open_check"]
    assert all(OLD not in left for left in mended(world, found))
