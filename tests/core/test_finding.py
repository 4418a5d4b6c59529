"""Finding by name: folded text, every word, the exact name first, open before done."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

import pytest

from server.core.finding import GROUPS, Entry, Group, entries, hits, words_of
from server.core.world import KeptFigure, Sheet, Snapshot
from server.core.world.network import forecast
from tests.worlds import DAY, HOUR, PROJECT, World, a_project, on

START = datetime(2025, 12, 1, 7)


def everything(entry: Entry) -> bool:
    return True


def found(world: World, typed: str, group: Group) -> list[str]:
    """The names of what is found in a group, in order."""
    snapshot = world.snapshot()
    hit = hits(snapshot, forecast(snapshot, START), typed, everything)
    return [name_of(snapshot, one.id) for one in hit.get(group, ())]


def name_of(snapshot: Snapshot, id: str) -> str:
    tables: Iterable[object] = (
        snapshot.details, snapshot.activities, snapshot.crews, snapshot.places, snapshot.people,
    )  # fmt: skip
    for table in tables:
        if id in table:  # type: ignore[operator]
            return str(table[id].name)  # type: ignore[index]
    if id in snapshot.sheets:
        return snapshot.sheets[id].number
    return snapshot.activities[snapshot.holds[id].activity_id].name


def a_stair() -> World:
    return (
        a_project(START)
        .with_crew("Ninepail Plaster", trade="plaster", foreman="Ana Li")
        .with_place("Garden stair")
        .with_detail("Garden stair rail", sheet="D3")
        .with_layer("Zinc shingles")
        .with_task("Scratch coat", DAY, crew="Ninepail Plaster", place_id="garden-stair")
        .with_wait("Scratch coat dries", after="Scratch coat")
        .with_check("Plane of the coat", after="Scratch coat dries", what="Under a straightedge")
        .with_task("Réglage of the 1½ in ground", HOUR, after="Plane of the coat")
        .put(Sheet(id="a-402", project_id=PROJECT, detail_id="garden-stair-rail", number="A-402",
                   revision="C", title="Rail and posts"))
    )  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "group", "name"),
    [
        ("GARDEN", "details", "Garden stair rail"),
        ("d3", "details", "Garden stair rail"),
        ("zinc", "details", "Garden stair rail"),
        ("reglage", "work", "Réglage of the 1½ in ground"),
        ("1/2 ground", "work", "Réglage of the 1½ in ground"),
        ("straightedge", "checks", "Plane of the coat"),
        ("ana", "crews", "Ninepail Plaster"),
        ("stair", "places", "Garden stair"),
        ("rufus", "people", "Rufus Orme"),
        ("a-402", "drawings", "A-402"),
        ("a402", "drawings", "A-402"),
        ("A 402", "drawings", "A-402"),
        ("posts", "drawings", "A-402"),
    ],
)
def test_it_is_found_however_it_is_written(typed: str, group: Group, name: str) -> None:
    assert name in found(a_stair(), typed, group)


def test_work_is_found_by_its_detail_its_crew_and_its_place() -> None:
    for typed in ("rail", "ninepail", "garden stair"):
        assert "Scratch coat" in found(a_stair(), typed, "work"), typed


def test_every_word_has_to_be_found() -> None:
    assert found(a_stair(), "scratch ninepail", "work") == ["Scratch coat"]
    assert found(a_stair(), "scratch millwork", "work") == []


@pytest.mark.parametrize("typed", ["", "   ", "—", "'"])
def test_without_a_word_nothing_is_found(typed: str) -> None:
    snapshot = a_stair().snapshot()
    assert not hits(snapshot, forecast(snapshot, START), typed, everything)


def test_the_exact_name_comes_first() -> None:
    world = a_stair().with_task("Coat", HOUR, after="Scratch coat dries")
    assert found(world, "coat", "work")[0] == "Coat"


def test_the_beginning_of_a_word_counts_more_than_its_inside() -> None:
    world = a_project(START).with_detail("Stair").with_task("Overcoat").with_task("Coating")
    assert found(world, "coat", "work") == ["Coating", "Overcoat"]


def test_the_name_counts_more_than_what_stands_beside_it() -> None:
    world = (
        a_project(START)
        .with_crew("Coat and Sons")
        .with_detail("Stair")
        .with_task("Battens", crew="Coat and Sons")
        .with_task("Finish coat")
    )
    assert found(world, "coat", "work") == ["Finish coat", "Battens"]


def test_open_comes_before_done_and_sooner_before_later() -> None:
    world = (
        a_project(START)
        .with_detail("Stair")
        .with_task("Coat one", started=on("Nov 27"), finished=on("Nov 28"))
        .with_task("Coat three", DAY, not_before=on("Dec 9"))
        .with_task("Coat two", DAY)
    )
    assert found(world, "coat", "work") == ["Coat two", "Coat three", "Coat one"]


def test_what_has_ended_is_not_found() -> None:
    world = a_stair().with_changed("Scratch coat", ended=on("Dec 1"))
    assert "Scratch coat" not in found(world, "scratch", "work")
    world = a_stair().with_changed("Garden stair rail", ended=on("Dec 1"))
    assert not [group for group in GROUPS if found(world, "rail", group)]
    world = a_stair().with_changed("Ninepail Plaster", ended=on("Dec 1"))
    assert found(world, "ninepail", "crews") == []


def test_only_what_is_seen_is_found() -> None:
    snapshot = a_stair().snapshot()
    hit = hits(snapshot, forecast(snapshot, START), "coat", lambda entry: entry.group == "checks")
    assert list(hit) == ["checks"]


def test_after_a_change_it_is_found_by_what_is_new() -> None:
    world = a_stair()
    entries(world.snapshot())
    assert found(world.with_changed("Ninepail Plaster", foreman="Tom Ash"), "tom", "crews")


def test_letters_that_fold_into_several_are_folded() -> None:
    assert words_of("Straße ﬁnish ÅNGSTRÖM") == ("strasse", "finish", "angstrom")


def test_a_figure_is_found_by_its_name_its_kind_and_its_detail() -> None:
    kept = KeptFigure(
        id="clear", project_id=PROJECT, detail_id="garden-stair-rail", figure="stack",
        name="Clear behind the rail", inputs="",
    )  # fmt: skip
    world = a_stair().put(kept)
    for typed in ("clear behind", "stack", "garden clear"):
        snapshot = world.snapshot()
        (hit,) = hits(snapshot, forecast(snapshot, START), typed, everything)["figures"]
        assert hit.id == "clear"
    gone = world.put(replace(kept, ended=on("Dec 2"))).snapshot()
    assert "figures" not in hits(gone, forecast(gone, START), "clear", everything)
