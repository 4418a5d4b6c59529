"""The company's own limits profiles: kept, changed, ended."""

from server.core.changes.own_limits import EndLimits, KeepLimits
from server.core.world import OwnLimits
from tests.core.changes.pressing import pressed, refused
from tests.worlds import COMPANY, World, a_project, on

WORLD = a_project().put(OwnLimits(id="town", company_id=COMPANY, name="Our town", text="town"))


def test_a_profile_is_kept() -> None:
    after = pressed(WORLD, KeepLimits(id="new", name=" Our  state ", text="limits"))
    assert after.own_limits["new"].name == "Our state"
    assert after.own_limits["new"].text == "limits"


def test_a_profile_is_changed_in_place() -> None:
    after = pressed(WORLD, KeepLimits(id="town", name="Our town", text="other"))
    assert [(p.text, p.version) for p in after.own_limits.values()] == [("other", 2)]


def test_two_profiles_are_not_called_alike() -> None:
    assert refused(WORLD, KeepLimits(id="new", name="our TOWN", text="x")) == (
        "input.name_taken", "name",
    )  # fmt: skip


def test_an_ended_profile_leaves_its_name_to_another() -> None:
    after = pressed(WORLD, EndLimits(limits_id="town"))
    assert after.own_limits["town"].ended == on("Dec 3 10:52")
    pressed(World(after), KeepLimits(id="new", name="Our town", text="x"))


def test_an_ended_profile_is_not_changed_any_more() -> None:
    after = World(pressed(WORLD, EndLimits(limits_id="town")))
    id, _ = refused(after, KeepLimits(id="town", name="Our town", text="x"))
    assert id == "change.gone"


def test_a_text_that_is_too_large_is_refused() -> None:
    large = "é" * (32 * 1024 + 1)
    assert refused(WORLD, KeepLimits(id="new", name="New", text=large)) == (
        "patterns.too_large", "text",
    )  # fmt: skip


def test_a_company_keeps_so_many_profiles_and_no_more() -> None:
    world = WORLD.put(
        *(OwnLimits(id=f"p{n}", company_id=COMPANY, name=f"P{n}", text="x") for n in range(19))
    )
    assert refused(world, KeepLimits(id="new", name="New", text="x"))[0] == "limits.too_many"
    pressed(world, KeepLimits(id="town", name="Our town", text="x"))


def test_a_crews_lead_keeps_no_profiles() -> None:
    world = WORLD.with_crew("Ninepail Plaster")
    command = KeepLimits(id="new", name="New", text="x")
    assert refused(world, command, who="Ninepail Plaster lead")[0] == "rights.role"
