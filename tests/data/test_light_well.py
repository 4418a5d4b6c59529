"""The light well: dry before it is closed, true to a ring, all in reach before the deck is out."""

from fractions import Fraction

import pytest

from server.core.patterns import PatternAsk, PatternCheck
from server.data.patterns import pattern
from tests.data.test_patterns import all_before, that_put_in

WELL = pattern("light-well-lining")
CHAIN = {a.key: a for a in WELL.chain}
LAYERS = {layer.key: layer for layer in WELL.layers}
BEFORE = all_before(WELL)
OVERHEAD = [layer.key for layer in WELL.sides[0].layers]


def check(key: str) -> PatternCheck:
    found = CHAIN[key].check
    assert found is not None
    return found


def asked(key: str, label: str) -> PatternAsk:
    (found,) = [ask for ask in check(key).asks if ask.label.startswith(label)]
    return found


def test_the_skylight_is_under_the_hose_and_the_framing_dry_before_the_well_is_closed() -> None:
    assert all("hose-check" in BEFORE[a.key] for a in WELL.chain if a.covers)
    assert asked("hose-check", "Hose").low == 15
    assert asked("hose-check", "Wettest framing").high == 15


def test_the_deck_closes_the_flight_below_from_its_going_in_to_its_coming_out() -> None:
    assert {a.key: a.closes_way for a in WELL.chain if a.closes_way} == {"deck": "flight below"}
    assert {a.key: a.opens_way for a in WELL.chain if a.opens_way} == {"strike": "flight below"}


def test_nobody_works_in_the_well_before_the_tag_is_looked_at() -> None:
    inside = {a.key for a in WELL.chain if a.overhead} - {"deck"}
    assert inside
    assert all("deck-check" in BEFORE[key] for key in inside)


def test_the_deck_is_struck_after_all_else_and_in_one_go() -> None:
    assert BEFORE["strike"] == CHAIN.keys() - {"strike"}
    assert CHAIN["strike"].one_day


def test_the_last_reach_comes_right_before_the_deck_is_struck() -> None:
    assert [d.before for d in CHAIN["strike"].after] == ["last-reach"]
    assert BEFORE["last-reach"] == CHAIN.keys() - {"last-reach", "strike"}
    assert asked("last-reach", "Every piece tugged").each
    assert check("last-reach").parts == LAYERS["over-courses"].parts


def test_the_first_three_courses_are_looked_at_before_the_rest() -> None:
    assert "first-check" in BEFORE["the-rest"]
    assert check("first-check").looks_at == ("first-courses",)
    assert check("first-check").parts == LAYERS["first-courses"].parts == 3
    assert CHAIN["first-check"].sample == "sample-accepted"


def test_the_overhang_goes_on_with_the_rest_and_not_with_the_first_three() -> None:
    assert that_put_in(WELL, "over-courses") == that_put_in(WELL, "other-courses") == {"the-rest"}


def test_each_course_overhead_has_its_photo_and_every_third_of_the_others() -> None:
    overhead, others = LAYERS["over-courses"].parts, LAYERS["other-courses"].parts
    assert check("clip-check").photos == overhead + others // 3
    assert asked("clip-check", "Overhead").each
    assert check("clip-check").parts == overhead


def test_every_course_line_is_checked_from_the_ring() -> None:
    assert CHAIN["datum-ring"].carries_datum
    assert {"datum-ring", "ring-check"} <= BEFORE["battens"]
    assert check("batten-check").datum == "datum ring"
    courses = LAYERS["first-courses"].parts + LAYERS["other-courses"].parts
    assert check("batten-check").parts == courses


def test_three_screws_of_the_overhang_are_pulled_for_the_engineer_before_they_are_hidden() -> None:
    pull = check("pull-check")
    assert (pull.releases, pull.parts) == ("engineer", 3)
    assert asked("pull-check", "Pull").unit == "lb"
    assert "pull-check" in BEFORE["vent-mat"]
    assert "over-battens" in CHAIN["vent-mat"].covers


def test_zinc_is_neither_folded_cold_nor_beside_wet_lime() -> None:
    assert asked("air-check", "Air in the well").low == 50
    assert asked("air-check", "No wet lime").unit == "yes"
    assert {"air-check", "zinc-warms"} <= BEFORE["dry-strip"]
    assert not any(a.wet for a in WELL.chain)


def test_the_shade_is_run_before_the_zinc_and_once_more_from_the_deck() -> None:
    assert "motor-check" in BEFORE["first-three"]
    assert asked("motor-check", "Times all the way").low == 3
    assert "shade" in check("last-reach").looks_at


def test_every_layer_overhead_but_the_zinc_must_be_seen() -> None:
    unseen = [key for key in OVERHEAD if not LAYERS[key].must_be_seen]
    assert unseen == ["over-courses"]


@pytest.mark.parametrize(
    ("key", "label", "high"),
    [
        ("ring-check", "Diagonals at the foot", Fraction(1, 4)),
        ("batten-check", "Faces off plane", Fraction(1, 8)),
        ("batten-check", "Course line", Fraction(1, 16)),
        ("first-check", "Exposure", Fraction(1, 16)),
        ("first-check", "Corner lines", Fraction(1, 16)),
    ],
)
def test_its_tolerances(key: str, label: str, high: Fraction) -> None:
    ask = asked(key, label)
    assert ask.high == high
    assert ask.far_high is not None
    assert ask.far_high > high
