"""The company's own patterns: kept, changed, ended."""

from server.core.changes.own_patterns import EndPattern, KeepPattern
from server.core.changes.plan import AddDetailFromPattern
from server.core.world import OwnPattern
from server.data.patterns import pattern
from tests.core.changes.pressing import pressed, refused
from tests.worlds import COMPANY, World, a_project, on

WORLD = a_project().put(OwnPattern(id="rail", company_id=COMPANY, name="Our rail", text="rail"))


def test_a_pattern_is_kept() -> None:
    after = pressed(WORLD, KeepPattern(id="new", name=" Our  stair ", text="stair"))
    assert after.own_patterns["new"].name == "Our stair"
    assert after.own_patterns["new"].text == "stair"


def test_a_pattern_is_changed_in_place() -> None:
    after = pressed(WORLD, KeepPattern(id="rail", name="Our rail", text="other"))
    assert [(p.text, p.version) for p in after.own_patterns.values()] == [("other", 2)]


def test_two_patterns_are_not_called_alike() -> None:
    assert refused(WORLD, KeepPattern(id="new", name="our RAIL", text="x")) == (
        "input.name_taken", "name",
    )  # fmt: skip


def test_an_ended_pattern_leaves_its_name_to_another() -> None:
    after = pressed(WORLD, EndPattern(pattern_id="rail"))
    assert after.own_patterns["rail"].ended == on("Dec 3 10:52")
    pressed(World(after), KeepPattern(id="new", name="Our rail", text="x"))


def test_an_ended_pattern_is_not_changed_any_more() -> None:
    after = World(pressed(WORLD, EndPattern(pattern_id="rail")))
    id, _ = refused(after, KeepPattern(id="rail", name="Our rail", text="x"))
    assert id == "change.gone"


def test_a_text_that_is_too_large_is_refused() -> None:
    large = "é" * (128 * 1024 + 1)
    assert refused(WORLD, KeepPattern(id="new", name="New", text=large)) == (
        "patterns.too_large", "text",
    )  # fmt: skip


def test_a_company_keeps_so_many_patterns_and_no_more() -> None:
    world = WORLD.put(
        *(OwnPattern(id=f"p{n}", company_id=COMPANY, name=f"P{n}", text="x") for n in range(59))
    )
    assert refused(world, KeepPattern(id="new", name="New", text="x"))[0] == "patterns.too_many"
    pressed(world, KeepPattern(id="rail", name="Our rail", text="x"))


def test_a_crews_lead_keeps_no_patterns() -> None:
    world = WORLD.with_crew("Ninepail Plaster")
    command = KeepPattern(id="new", name="New", text="x")
    assert refused(world, command, who="Ninepail Plaster lead")[0] == "rights.role"


def test_a_copy_is_logged_as_a_copy() -> None:
    command = AddDetailFromPattern(
        id="d9", name="Second", sheet="D9", content=pattern("wall-rail"), copy_of="First rail"
    )
    pressed(WORLD, command)
