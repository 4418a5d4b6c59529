"""What the core knows of which row points to which is what the tables say."""

from dataclasses import fields

import pytest

from server.core.world import TABLES, Noun
from server.core.world.references import POINTS_TO, references
from server.store.tables import NOUNS
from tests.worlds import a_project

TABLE_OF = {NOUNS[noun].name: name for noun, name in TABLES.items()}


@pytest.mark.parametrize("noun", TABLES, ids=lambda noun: noun.__name__)
def test_every_foreign_key_is_known(noun: type[Noun]) -> None:
    names = {field.name for field in fields(noun)}
    keys = {
        list(key.columns)[-1].name: TABLE_OF[key.referred_table.name]
        for key in NOUNS[noun].foreign_key_constraints
    }
    assert {name: POINTS_TO[name] for name in keys if name in names} == {
        name: table for name, table in keys.items() if name in names
    }


@pytest.mark.parametrize("noun", TABLES, ids=lambda noun: noun.__name__)
def test_every_field_that_is_called_an_id_is_known(noun: type[Noun]) -> None:
    called = {f.name for f in fields(noun) if f.name.endswith(("_id", "_ids"))}
    assert called <= POINTS_TO.keys()


def test_no_name_is_known_that_no_noun_has() -> None:
    assert {field.name for noun in TABLES for field in fields(noun)} >= POINTS_TO.keys()


def test_one_id_several_and_none_are_references() -> None:
    world = a_project().with_crew("Ore Street Metal").with_crew("Ninepail Plaster")
    world = world.with_detail("Rail").with_task(
        "Set posts", crew="Ore Street Metal", with_crew_ids=("ninepail-plaster",)
    )
    assert list(references(world.snapshot().activities["set-posts"])) == [
        ("projects", "quarry-road"),
        ("details", "rail"),
        ("crews", "ore-street-metal"),
        ("crews", "ninepail-plaster"),
    ]
