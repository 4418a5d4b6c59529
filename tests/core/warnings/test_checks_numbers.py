"""Numbers outside their tolerance that nobody has decided on."""

from fractions import Fraction

import pytest

from server.core.world import Measurement
from server.words import say
from tests.core.warnings.finding import of, one
from tests.worlds import PROJECT, World, a_project, on

OUT = "out of tolerance"
METAL = "Ore Street Metal"
WORLD = (
    a_project()
    .with_crew(METAL)
    .with_person("Ada Quill", phone="555-0101")
    .with_detail("Garden stair rail")
    .with_task("Set the stand-offs", crew=METAL, started=on("Dec 1"), finished=on("Dec 2"))
    .with_check("Height", after="Set the stand-offs", marks=METAL, releases="Ada Quill", parts=2)
    .with_ask("Height", part=1, low="35 7/8", high="36 1/8", far_low="35 3/4", far_high="36 1/4")
    .with_ask("Tight", unit="yes", part=2)
    .with_attempt("Height")
)


def measured(world: World, value: str, tight: int = 1, attempt: int = 1) -> World:
    numbers = (("height-1", Fraction(value)), ("height-2", Fraction(tight)))
    return world.put(
        *(
            Measurement(
                id=f"m-{ask_id}-{attempt}",
                project_id=PROJECT,
                attempt_id=f"height-attempt-{attempt}",
                ask_id=ask_id,
                typed="",
                value=number,
            )
            for ask_id, number in numbers
        )
    )


HIGH = measured(WORLD, "36.1875")


def test_a_number_within_the_second_band_is_to_be_put_right_now() -> None:
    found = one(OUT, HIGH)
    assert (found.bad, found.person_id) == ("lost work", "ada-quill")
    assert found.sentence.id == "warning.out_of_tolerance.put_right"
    assert "Height (No. 1): 36 3/16 in" in say(found.sentence)


@pytest.mark.parametrize("world", [measured(WORLD, "36.5"), measured(WORLD, "36", tight=0)])
def test_a_number_outside_both_and_a_no_are_asked(world: World) -> None:
    assert one(OUT, world).sentence.id == "warning.out_of_tolerance.ask"


def test_numbers_at_the_limit_are_within() -> None:
    assert not of(OUT, measured(WORLD, "36.125"))


@pytest.mark.parametrize("state", ["released", "rejected", "look again", "opened again"])
def test_what_was_decided_is_not_told(state: str) -> None:
    assert not of(OUT, HIGH.with_changed("height-attempt-1", state=state))


def test_it_bites_when_what_was_measured_is_covered() -> None:
    assert one(OUT, HIGH).at is None
    covers = (
        HIGH.with_layer("Stand-offs")
        .with_changed("height-check", layer_ids=("stand-offs",))
        .with_task("Hang board", after="Height", covers="Stand-offs", not_before=on("Dec 8"))
    )
    assert one(OUT, covers).at == on("Dec 8")


def test_the_way_to_the_check_is_what_there_is_to_press() -> None:
    assert [m.goto_hold_id for m in one(OUT, HIGH).mends] == ["height-check"]


def test_another_mark_with_the_same_number_is_another_fact() -> None:
    again = HIGH.with_changed("height-attempt-1", state="look again").with_attempt("Height")
    assert one(OUT, measured(again, "36.1875", attempt=2)).identity != one(OUT, HIGH).identity
