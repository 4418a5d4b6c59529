"""A curved stair: each made thing after what it is made to. A spine: every bolt before a tread."""

from fractions import Fraction

import pytest

from tests.data.told import Told

CURVED = Told("curved-stair")
SPINE = Told("steel-spine")
DAY = 1440

# -- the curved stair -------------------------------------------------------------------------


def test_everything_is_cut_from_a_layout_that_the_architect_has_released() -> None:
    assert CURVED.chain["layout"].carries_datum
    assert CURVED.check("layout-check").releases == "architect"
    for key in ("templates", "form-made", "plates-in", "stringers-set"):
        assert "layout-check" in CURVED.before[key], key


def test_glue_hardens_on_the_form_before_a_lamination_is_looked_at() -> None:
    waits = CURVED.chain["laminations-harden"]
    assert (waits.low, waits.work, waits.high) == (DAY, 2 * DAY, 3 * DAY)
    assert waits.stuff == CURVED.chain["laminate"].stuff == "adhesive"
    assert "laminations-harden" in CURVED.before["lamination-check"]
    assert CURVED.check("lamination-check").releases == "engineer"


def test_the_form_is_right_before_glue_is_spread() -> None:
    assert "form-check" in CURVED.before["laminate"]
    assert CURVED.asked("form-check", "Moisture").unit == "%"


def test_the_stair_stands_by_itself_before_it_is_closed_or_measured_from() -> None:
    assert {"shores-out", "stands"} <= CURVED.before["sag-check"]
    measuring = {a.key for a in CURVED.pattern.chain if a.measured_from}
    for key in (*measuring, "bend-board", "lath-on"):
        assert "sag-check" in CURVED.before[key], key


def test_every_winder_is_asked_about_where_it_is_narrow_and_at_the_walkline() -> None:
    for key in ("layout-check", "winder-check", "tread-check"):
        assert CURVED.check(key).parts == CURVED.layers["treads"].parts
        for label, least in (("Depth at the walkline", 10), ("Depth at the narrow end", 6)):
            ask = CURVED.asked(key, label)
            assert (ask.each, ask.low, ask.tag) == (True, least, "M")


def test_headroom_is_kept_on_the_curve_from_the_layout_to_the_end() -> None:
    for key in ("layout-check", "final"):
        assert CURVED.asked(key, "Least headroom").low == 80


def test_treads_are_templated_off_dry_plaster() -> None:
    assert {"finish-dries", "curve-check"} <= CURVED.before["tread-template"]


def test_no_finish_wood_comes_before_the_last_coat_is_dry_and_a_meter_has_said_so() -> None:
    for key in CURVED.wood():
        assert CURVED.wet() | {"dry-enough"} <= CURVED.before[key], key


def test_the_rail_is_made_to_balusters_that_stand_and_were_released() -> None:
    for key in ("rail-template", "rail-made"):
        assert CURVED.chain[key].measured_from == "balusters"
        assert {"balusters-set", "baluster-check"} <= CURVED.before[key]
    assert CURVED.check("baluster-check").parts == CURVED.layers["balusters"].parts


def test_the_rail_is_looked_at_dry_before_any_glue() -> None:
    assert "dry-fit-check" in CURVED.before["rail-set"]
    assert "rail-shop-look" in CURVED.before["rail-dry"]


def test_the_temporary_rails_go_when_the_rail_has_been_pulled() -> None:
    assert {"rail-glue", "rail-check"} <= CURVED.before["temporary-rails-out"]


def test_another_way_up_is_there_before_the_temporary_stair_goes_and_stays() -> None:
    assert {"other-way", "way-check"} <= CURVED.before["temporary-stair-out"]
    assert "other way up" not in {a.closes_way for a in CURVED.pattern.chain}


# -- the steel spine --------------------------------------------------------------------------


def test_the_steel_is_made_to_a_survey_of_what_is_built() -> None:
    assert {"pad-cures", "header-check"} <= SPINE.before["survey"]
    assert "survey-check" in SPINE.before["shop-drawing"]
    assert SPINE.chain["spine-made"].measured_from == "header"


def test_every_bolt_is_looked_at_before_paint_grout_board_or_tread_hides_one() -> None:
    for layer in ("splice", "base-plate", "head-plate", "brackets"):
        for hides in SPINE.doing("covers", layer):
            assert "torque-check" in SPINE.before[hides.key], (layer, hides.key)
    assert "torque-check" in SPINE.before["grout-in"]
    assert SPINE.check("torque-check").releases == "engineer"


def test_there_is_an_ask_for_each_bolt_of_splice_head_and_base() -> None:
    bolts = sum(SPINE.layers[key].parts for key in ("splice", "head-plate", "anchors"))
    assert SPINE.check("torque-check").parts == bolts == 18
    assert SPINE.asked("torque-check", "Type, washer, torque").each


def test_whoever_welds_has_a_fire_watch_that_stays_behind() -> None:
    sparks = [a for a in SPINE.pattern.chain if a.hot]
    assert [a.key for a in sparks] == ["splice-made"]
    assert sparks[0].fire_watch
    assert [d.before for d in SPINE.chain["fire-watch"].after] == ["splice-made"]
    assert SPINE.chain["fire-watch"].work == 60


def test_no_spark_flies_once_there_is_wood() -> None:
    for key in SPINE.wood():
        assert "fire-watch" in SPINE.before[key]


def test_the_spine_is_true_before_its_splice_is_made_fast() -> None:
    assert "spine-true" in SPINE.before["splice-made"]
    assert SPINE.asked("spine-true", "Bracket off the story pole").each


def test_it_is_loaded_bare_before_the_treads_are_measured_from_it() -> None:
    assert {"shores-out", "load-check"} <= SPINE.before["jig"]
    assert SPINE.chain["jig"].measured_from == SPINE.chain["treads-made"].measured_from
    assert SPINE.check("load-check").releases == "engineer"


def test_brackets_and_pads_are_seen_with_the_treads_dry_before_these_are_bolted() -> None:
    assert {"pads", "brackets"} <= set(SPINE.check("dry-fit-check").looks_at)
    assert "dry-fit-check" in SPINE.before["treads-set"]


def test_somebody_walks_it_for_bounce_before_the_temporary_guard_opens_it() -> None:
    assert SPINE.check("walk-check").releases == "engineer"
    assert {"walk-check", "temporary-check"} <= SPINE.before["stair-open"]


def test_the_engineer_designs_and_releases_the_guard_on_the_treads() -> None:
    assert SPINE.chain["guard-design"].owes == SPINE.chain["guard-drawing"].owes == "engineer"
    assert SPINE.check("feet-check").releases == SPINE.check("guard-check").releases == "engineer"
    assert "feet-check" in SPINE.before["guard-set"]
    assert SPINE.chain["guard-made"].measured_from == "treads"


def test_the_temporary_guard_goes_last_of_all() -> None:
    assert SPINE.before["guard-out"] == SPINE.chain.keys() - {"guard-out"}


def test_no_finish_wood_comes_before_pad_and_compound_are_dry_and_a_meter_has_said_so() -> None:
    for key in SPINE.wood():
        assert SPINE.wet() | {"dry-enough"} <= SPINE.before[key], key


@pytest.mark.parametrize(
    ("told", "key", "label", "high", "far"),
    [
        (CURVED, "form-check", "Form off the template", Fraction(1, 16), Fraction(1, 8)),
        (CURVED, "winder-check", "Riser off the story pole", Fraction(1, 16), Fraction(1, 8)),
        (CURVED, "baluster-check", "Tops off the batten", Fraction(1, 16), Fraction(1, 8)),
        (SPINE, "spine-true", "Bracket out of level", Fraction(1, 32), Fraction(1, 16)),
        (SPINE, "feet-check", "Off plumb in 36 in", Fraction(1, 16), Fraction(1, 8)),
    ],
)
def test_their_tolerances(told: Told, key: str, label: str, high: Fraction, far: Fraction) -> None:
    ask = told.asked(key, label)
    assert (ask.high, ask.far_high) == (high, far)
