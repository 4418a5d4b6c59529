"""A wood guard: metal made to the frame, after the coats. A basement stair: both floors first."""

from fractions import Fraction

import pytest

from tests.data.told import Told

GUARD = Told("wood-guard-infill")
STAIR = Told("basement-stair")

# -- the wood guard ---------------------------------------------------------------------------


def test_the_newels_go_into_a_rim_that_was_looked_at_as_the_engineer_drew_it() -> None:
    assert {"load", "rim-check", "dry-enough"} <= GUARD.before["newels-set"]


def test_every_newel_is_pulled_for_the_engineer_before_its_bolts_are_hidden() -> None:
    assert GUARD.check("newel-check").releases == "engineer"
    assert GUARD.check("newel-check").parts == GUARD.layers["newels"].parts
    for hides in GUARD.doing("covers", "newel-bolts"):
        assert "newel-check" in GUARD.before[hides.key]


def test_the_metal_is_measured_off_newels_and_rails_as_they_stand() -> None:
    for key in ("infill-measured", "infill-made"):
        assert GUARD.chain[key].measured_from == "floor-rail"
        assert {"newel-check", "frame-check"} <= GUARD.before[key]


def test_the_wood_is_coated_and_hard_before_a_rod_goes_in() -> None:
    assert {"coats-on", "coats-harden", "coat-check"} <= GUARD.before["infill-set"]


def test_coats_and_metal_take_their_time_together() -> None:
    assert "coats-on" not in GUARD.before["infill-made"]
    assert "infill-made" not in GUARD.before["coat-check"]


def test_sleeves_and_openings_are_seen_bay_by_bay_before_the_top_rail() -> None:
    (hides,) = GUARD.doing("covers", "sleeves")
    assert hides.key == "rail-on"
    assert "infill-check" in GUARD.before["rail-on"]
    assert GUARD.check("infill-check").parts == GUARD.layers["rods"].parts
    assert GUARD.asked("infill-check", "No 4 in ball passes").each
    assert GUARD.asked("infill-check", "Sleeve at every end").each


def test_the_temporary_guard_stays_till_the_authority_has_seen_the_new_one() -> None:
    assert {"guard-outboard", "guard-check"} <= GUARD.before["rim-made"]
    assert {"guard-figures", "final"} <= GUARD.before["guard-out"]


def test_it_is_tightened_once_more_when_the_wood_has_settled() -> None:
    assert [d.before for d in GUARD.chain["tightened"].after] == ["settles"]
    assert GUARD.chain["settles"].kind == "wait"


# -- the basement stair -----------------------------------------------------------------------


def test_no_stringer_is_cut_before_both_floors_are_known() -> None:
    assert {"levels", "benchmarks", "rise-check"} <= STAIR.before["stringers-set"]
    assert STAIR.chain["benchmarks"].carries_datum


def test_first_and_last_riser_are_taken_once_both_floors_are_in_and_before_a_tread_is_cut() -> None:
    assert {"lay-basement", "tile-laid"} <= STAIR.before["riser-check"]
    assert "riser-check" in STAIR.before["treads-set"]
    assert STAIR.check("riser-check").parts == STAIR.layers["treads"].parts + 1


def test_the_entry_floor_is_covered_and_looked_at_before_anything_is_carried_down() -> None:
    for key in STAIR.wood():
        assert {"protect-entry", "protection-check"} <= STAIR.before[key], key
    assert STAIR.before["protection-off"] == STAIR.chain.keys() - {"protection-off"}


def test_wood_waits_for_the_meter_in_the_slab() -> None:
    for key in STAIR.wood():
        assert STAIR.wet() | {"slab-dries", "slab-check"} <= STAIR.before[key], key
    ask = STAIR.asked("slab-check", "Humidity in the slab")
    assert (ask.each, ask.high, ask.far_high) == (True, 75, 80)


def test_the_authority_sees_what_lies_under_the_slab_before_the_pour() -> None:
    assert STAIR.check("before-pour").releases == "authority"
    assert set(STAIR.chain["pour"].covers) == set(STAIR.check("before-pour").looks_at)


def test_fireblocking_draftstops_and_wire_are_photographed_before_the_lining() -> None:
    hidden = {"fireblocking", "draftstop", "wire"}
    assert hidden <= STAIR.chain["hang-board"].covers.keys()
    assert hidden <= set(STAIR.check("under-look").looks_at)
    assert STAIR.check("under-look").photos


def test_the_lining_is_looked_at_before_it_is_taped() -> None:
    assert "lining-check" in STAIR.before["tape-coat"]
    assert STAIR.asked("lining-check", "Board at least").low == Fraction(1, 2)


def test_light_is_switched_from_foot_and_head_at_the_rough_and_at_the_end() -> None:
    assert STAIR.asked("electric-rough", "Switch at foot and head").unit == "yes"
    assert STAIR.asked("figures", "Lit from foot and from head").unit == "yes"


def test_the_door_and_its_landing_are_decided_before_it_is_hung() -> None:
    assert "door-swing" in STAIR.before["door-hung"]
    assert STAIR.asked("figures", "Door does not swing").tag == "M"


def test_another_way_down_is_looked_at_before_the_stringers_and_goes_when_the_stair_opens() -> None:
    assert "way-check" in STAIR.before["stringers-set"]
    opens = STAIR.chain["stair-open"]
    assert (opens.opens_way, opens.closes_way) == ("new stair", "other way down")
    assert "temporary-check" in STAIR.before["stair-open"]


@pytest.mark.parametrize("told", [GUARD, STAIR])
def test_a_meter_has_spoken_before_finish_wood_comes(told: Told) -> None:
    meters = {
        a.key
        for a in told.pattern.chain
        if a.check and any(ask.unit == "%" and "umidity" in ask.label for ask in a.check.asks)
    }
    for key in told.wood():
        assert meters & told.before[key], key
