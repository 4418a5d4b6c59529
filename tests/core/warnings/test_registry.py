"""The registry: what there is, what is accepted, what comes first; finding changes nothing."""

from dataclasses import replace
from datetime import date

import pytest

from server.core.changes.plan import AddDetailFromPattern
from server.core.patterns import Pattern
from server.core.warnings import every, find, found
from server.core.world import AcceptedWarning
from server.core.world.network import forecast
from server.data.patterns import all_patterns
from server.words import say
from tests.core.changes.pressing import pressed
from tests.core.warnings.finding import NOW, all_of
from tests.worlds import PROJECT, World, a_project, id_of, on

DONE = {"started": on("Dec 1"), "finished": on("Dec 2")}
WORLD = (
    a_project()
    .with_crew("Ninepail Plaster")
    .with_detail("Garden stair rail")
    .with_layer("Stand-offs")
    .with_task("Set the stand-offs", puts_in="Stand-offs", crew="Ninepail Plaster", **DONE)
    .with_check("Height", after="Set the stand-offs", layers="Stand-offs")
    .with_task("Hang board", crew="Ninepail Plaster", after="Height", covers="Stand-offs", **DONE)
    .with_task("Base coat", crew="Ninepail Plaster")
    .with_task("Prime", after="Base coat", **DONE)
)


def accepted(world: World, identity: str, until: date) -> World:
    return world.put(
        AcceptedWarning(
            id="w1",
            project_id=PROJECT,
            warning=identity,
            reason="Known",
            until=until,
            by_id="rufus-orme",
            at=NOW,
        )
    )


def rules(world: World) -> list[str]:
    return [w.rule for w in all_of(world.snapshot())]


def test_every_rule_has_its_id_its_title_and_how_bad_it_is() -> None:
    found = {rule.id: (rule.bad, rule.family) for rule in every()}
    assert found == {
        "out of order": ("in the way", "sequence"),
        "about to be hidden": ("lost work", "cover"),
        "hidden open": ("lost work", "cover"),
        "undrawn order": ("lost work", "cover"),
        "contradicted order": ("lost work", "cover"),
        "nobody looks": ("lost work", "cover"),
        "last reach passed": ("lost work", "cover"),
        "last way in passed": ("lost work", "cover"),
        "last power-up passed": ("lost work", "cover"),
        "insulated before the rough inspection": ("lost work", "cover"),
        "shores still in": ("lost work", "cover"),
        "booked before ready": ("in the way", "booking"),
        "ready, nobody booked": ("in the way", "booking"),
        "can't come": ("in the way", "booking"),
        "shorter than its least visit": ("watch", "booking"),
        "crews come apart": ("in the way", "booking"),
        "no way in": ("watch", "sequence"),
        "no way out": ("watch", "sequence"),
        "wait without a reason": ("watch", "sequence"),
        "needless dependency": ("watch", "sequence"),
        "nobody to release": ("in the way", "check"),
        "released by the one who did it": ("in the way", "check"),
        "not called yet": ("in the way", "check"),
        "look again overdue": ("lost work", "check"),
        "out of tolerance": ("lost work", "check"),
        "figure outside its limits": ("danger", "check"),
        "no answer": ("in the way", "booking"),
        "old drawing": ("lost work", "supply"),
        "datum covered": ("lost work", "supply"),
        "measured too soon": ("lost work", "supply"),
        "measured, then moved": ("lost work", "supply"),
        "order now": ("watch", "supply"),
        "ordered too late": ("in the way", "supply"),
        "crew coming, parts not here": ("in the way", "supply"),
        "decision overdue": ("in the way", "supply"),
        "decision due": ("watch", "supply"),
        "sample not accepted": ("lost work", "supply"),
        "wood into a wet house": ("lost work", "climate"),
        "finished, then dirty": ("lost work", "protection"),
        "shaken after plaster": ("lost work", "protection"),
        "acclimating too short": ("lost work", "climate"),
        "direct-fired heat": ("danger", "climate"),
        "coat too soon": ("lost work", "climate"),
        "too long between": ("lost work", "climate"),
        "too cold": ("lost work", "climate"),
        "too hot and dry": ("lost work", "climate"),
        "no reading": ("watch", "climate"),
        "too many in one place": ("in the way", "space"),
        "crew in two places": ("in the way", "space"),
        "place closed, someone booked": ("danger", "space"),
        "work overhead": ("danger", "space"),
        "way cut off": ("danger", "space"),
        "open edge": ("danger", "space"),
        "temporary work not looked at": ("danger", "space"),
        "temporary stair without rails": ("danger", "space"),
        "hot work": ("danger", "space"),
        "live circuit": ("danger", "space"),
        "too much trade for one visit": ("watch", "space"),
    }
    assert all(say(rule.title) for rule in every())


def test_the_worst_comes_first() -> None:
    assert rules(WORLD) == ["hidden open", "out of order", "ready, nobody booked"]


def test_what_is_accepted_is_not_told_until_its_day_has_passed() -> None:
    first = all_of(WORLD.snapshot())[0].identity
    assert "hidden open" not in rules(accepted(WORLD, first, date(2025, 12, 3)))
    assert "hidden open" in rules(accepted(WORLD, first, date(2025, 12, 2)))


def test_what_is_accepted_comes_back_when_its_facts_change() -> None:
    first = all_of(WORLD.snapshot())[0].identity
    world = accepted(WORLD, first, date(2025, 12, 20))
    again = world.with_changed("Hang board", finished=on("Dec 3"))
    assert "hidden open" in rules(again)


def test_each_subject_is_told_once() -> None:
    found = all_of(WORLD.snapshot())
    assert len({(w.rule, w.subject) for w in found}) == len(found)
    assert len({w.identity for w in found}) == len(found)


def test_finding_changes_nothing_and_finds_the_same_again() -> None:
    snapshot = WORLD.snapshot()
    kept, schedule = replace(snapshot), forecast(snapshot, NOW)
    assert find(snapshot, schedule) == find(snapshot, schedule)
    assert snapshot == kept


def test_a_house_with_nothing_in_it_has_no_warnings() -> None:
    assert rules(a_project()) == []


@pytest.mark.parametrize("pattern", all_patterns(), ids=lambda pattern: pattern.id)
def test_a_clean_pattern_tells_of_nothing_but_work_that_somebody_has_to_be_asked_for(
    pattern: Pattern,
) -> None:
    world = a_project()
    for trade in pattern.trades:
        world = world.with_crew(f"{trade} crew", trade=trade)
    crews = {trade: f"{trade} crew".replace(" ", "-") for trade in pattern.trades}
    added = pressed(
        world,
        AddDetailFromPattern(id="d1", name="Detail", sheet="D1", content=pattern, crews=crews),
    )
    assert {w.rule for w in all_of(added)} <= {"ready, nobody booked"}


@pytest.mark.parametrize("pattern", all_patterns(), ids=lambda pattern: pattern.id)
def test_nor_does_its_plan_where_people_stand_answer_and_come_up(pattern: Pattern) -> None:
    world = a_project().with_place("Stair")
    for trade in pattern.trades:
        world = world.with_crew(f"{trade} crew", trade=trade)
    for role in pattern.roles:
        world = world.with_person(f"The {role}", phone="555-0199")
    for way in pattern.ways:
        world = world.with_way(way)
    added = pressed(
        world,
        AddDetailFromPattern(
            id="d1",
            name="Detail",
            sheet="D1",
            place_id="stair",
            content=pattern,
            crews={trade: id_of(f"{trade} crew") for trade in pattern.trades},
            people={role: id_of(f"The {role}") for role in pattern.roles},
            ways={way: id_of(way) for way in pattern.ways},
        ),
    )
    told = {w.rule for w in found(added, forecast(added, NOW), plan=True)}
    assert told <= {"ready, nobody booked", "decision due", "decision overdue"}
