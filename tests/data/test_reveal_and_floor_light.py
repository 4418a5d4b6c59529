"""Treads beside a reveal: all that is wet first. A light in the floor: tried before cover."""

from fractions import Fraction

import pytest

from tests.data.told import Told

TREADS = Told("treads-with-reveal")
LIGHT = Told("floor-flush-light")
DAY = 1440

# -- treads with a reveal ---------------------------------------------------------------------


def test_no_finish_wood_comes_before_the_last_coat_is_dry_and_a_meter_has_said_so() -> None:
    for key in TREADS.wood():
        assert TREADS.wet() | {"dry-enough"} <= TREADS.before[key], key


def test_nothing_wet_comes_after_the_treads() -> None:
    assert not any("treads-shipped" in TREADS.before[key] for key in TREADS.wet())


def test_the_treads_are_templated_off_dry_plaster_that_somebody_has_looked_at() -> None:
    assert TREADS.chain["template"].measured_from == "wall-finish"
    assert {"finish-dries", "plaster-check"} <= TREADS.before["template"]
    assert TREADS.chain["finish-dries"].low == 7 * DAY


def test_the_bead_is_on_its_line_before_a_coat_runs_to_it() -> None:
    assert "bead-check" in TREADS.before["base-coat"]
    assert TREADS.check("bead-check").datum.startswith("joint line")


@pytest.mark.parametrize("key", ["template-check", "tread-check"])
@pytest.mark.parametrize("where", ["nosing", "middle", "back"])
def test_the_reveal_is_measured_at_three_points_of_every_tread(key: str, where: str) -> None:
    ask = TREADS.asked(key, f"Reveal at the {where}")
    assert ask.each
    assert (ask.nominal, ask.low, ask.high) == (
        Fraction(1, 4),
        Fraction(7, 32),
        Fraction(9, 32),
    )
    assert (ask.far_low, ask.far_high) == (Fraction(3, 16), Fraction(5, 16))
    assert TREADS.check(key).parts == TREADS.layers["treads"].parts


def test_the_reveal_is_painted_and_looked_at_before_a_tread_hides_its_back() -> None:
    (hides,) = TREADS.doing("covers", "reveal")
    assert {"paint-reveal", "paint-dries", "reveal-check"} <= TREADS.before[hides.key]
    assert hides.key == "treads-set"


def test_the_plaster_is_guarded_before_the_first_tread_is_carried_in() -> None:
    assert "protect-wall" in TREADS.before["treads-set"]


def test_the_screws_from_below_are_seen_before_the_panels() -> None:
    (hides,) = TREADS.doing("covers", "screws")
    assert "screw-check" in TREADS.before[hides.key]
    assert not hides.wet


def test_the_way_up_that_the_treads_close_is_opened_again_when_they_are_looked_at() -> None:
    assert TREADS.chain["treads-set"].closes_way == TREADS.chain["caps-on"].opens_way
    assert {"tread-glue", "tread-check"} <= TREADS.before["caps-on"]


def test_treads_and_sample_are_of_one_kind() -> None:
    matched = {a.key for a in TREADS.pattern.chain if a.sample == "sample-accepted"}
    assert matched == {"treads-made", "shop-look", "treads-set", "sample-look"}


# -- a light in the floor ---------------------------------------------------------------------


def test_the_light_is_tried_before_anything_closes_over_it() -> None:
    closing = {a.key for a in LIGHT.pattern.chain for key in ("wire", "strip") if key in a.covers}
    assert closing == {"hang-ceiling", "lens-in"}
    assert all("tried" in LIGHT.before[key] for key in (*closing, "lay-floor"))
    assert LIGHT.asked("tried", "On at full").low == 60


def test_water_stands_in_the_pan_before_anything_electric_lies_in_it() -> None:
    assert "pan-check" in LIGHT.before["channel-set"]
    assert "pan-check" in LIGHT.before["strip-in"]
    assert LIGHT.asked("pan-check", "Dry from below").unit == "yes"


def test_nobody_cuts_a_joist_before_the_engineer_has_drawn_it_and_he_releases_the_pocket() -> None:
    assert "framing-design" in LIGHT.before["pocket-framed"]
    assert LIGHT.check("pocket-check").releases == "engineer"


def test_the_hole_is_covered_by_the_task_that_makes_it_and_the_cover_is_asked_about() -> None:
    assert LIGHT.chain["pocket-framed"].edge == "closes"
    assert LIGHT.asked("pocket-check", "Cover over the hole").unit == "yes"


def test_the_circuit_is_named_where_hands_are_in_it() -> None:
    assert LIGHT.chain["strip-in"].circuit


def test_the_floor_is_sanded_and_hard_before_the_lens_goes_in() -> None:
    assert {"lay-floor", "sand-coat", "coats-harden"} <= LIGHT.before["lens-in"]
    assert LIGHT.chain["coats-harden"].closes_place


def test_the_lens_is_made_to_the_channel_as_it_was_released() -> None:
    assert LIGHT.chain["lens-template"].measured_from == "channel"
    assert "channel-check" in LIGHT.before["lens-template"]
    assert LIGHT.asked("channel-check", "Seat of the lens").each


def test_the_channel_is_set_from_the_finished_floor_and_the_line_is_carried_there() -> None:
    assert LIGHT.chain["lines"].carries_datum
    assert LIGHT.check("channel-check").datum.startswith("finished-floor line")


def test_the_floor_wood_comes_after_the_compound_and_a_meter_check() -> None:
    for key in LIGHT.wood():
        assert LIGHT.wet() | {"dry-enough"} <= LIGHT.before[key], key


def test_no_lens_stands_proud_of_the_floor() -> None:
    ask = LIGHT.asked("flush-check", "Lens below the floor")
    assert ask.each
    assert (ask.low, ask.high, ask.far_high) == (0, Fraction(1, 32), Fraction(1, 16))


def test_the_supply_is_reached_by_hand_before_and_after_the_finishes() -> None:
    assert LIGHT.asked("tried", "Supply out and in").unit == "min"
    assert "panel-on" in LIGHT.before["reach-check"]
    assert LIGHT.check("reach-check").releases == "rep"
