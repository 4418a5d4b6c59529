"""The glass guard: made to the shoe, seen before the grout, the temporary guard out last."""

from fractions import Fraction

import pytest

from server.core.patterns import PatternActivity, PatternAsk, PatternCheck
from server.data.patterns import pattern
from server.drawing.hatches import hatch_of
from tests.data.test_patterns import all_before

GUARD = pattern("glass-guard")
CHAIN = {a.key: a for a in GUARD.chain}
LAYERS = {layer.key: layer for layer in GUARD.layers}
BEFORE = all_before(GUARD)
DAY = 1440


def check(key: str) -> PatternCheck:
    found = CHAIN[key].check
    assert found is not None
    return found


def asked(key: str, label: str) -> PatternAsk:
    (found,) = [ask for ask in check(key).asks if ask.label.startswith(label)]
    return found


def doing(verb: str, layer: str) -> list[PatternActivity]:
    return [a for a in GUARD.chain if layer in getattr(a, verb)]


def test_nothing_is_ordered_before_the_authority_has_accepted_it() -> None:
    for a in GUARD.chain:
        if a.kind == "delivery":
            assert "accepted" in BEFORE[a.key], a.key


def test_the_glass_is_templated_off_the_shoe_once_that_is_released() -> None:
    assert CHAIN["template"].measured_from == "shoe"
    assert "bolt-check" in BEFORE["template"]
    assert "template" in BEFORE["glass-made"]


def test_the_engineer_releases_the_shoe_bolt_by_bolt() -> None:
    bolts = check("bolt-check")
    assert bolts.releases == "engineer"
    assert bolts.parts == LAYERS["bolts"].parts
    assert asked("bolt-check", "Type, embedment and torque mark").each
    assert asked("bolt-check", "Engineer's letter").unit == "yes"


def test_beam_and_bolts_are_asked_about_bolt_by_bolt_as_many_as_there_are() -> None:
    assert check("recess-check").parts == check("bolt-check").parts == 12
    assert asked("recess-check", "Solid").each


def test_the_temporary_guard_is_out_of_the_way_and_looked_at_before_the_shoe() -> None:
    assert CHAIN["guard-outboard"].edge == "closes"
    assert {"guard-outboard", "guard-check"} <= BEFORE["shoe-set"]


def test_the_temporary_guard_goes_last_of_all() -> None:
    assert BEFORE["guard-out"] == CHAIN.keys() - {"guard-out"}


def test_glass_comes_when_all_that_is_wet_or_throws_sparks_is_over() -> None:
    over = {a.key for a in GUARD.chain if (a.wet or a.hot or a.dirty) and a.stuff != "grout"}
    assert over <= BEFORE["glass-shipped"]
    assert asked("ready-check", "Welding, grinding and plaster").unit == "yes"


def test_the_plaster_and_the_floor_are_done_while_the_glass_is_being_made() -> None:
    for key in ("hang-fascia", "fascia-base-coat", "fascia-finish-coat", "lay-floor"):
        assert "template" not in BEFORE[key]
        assert key not in BEFORE["glass-made"]


def test_each_pane_is_looked_at_on_the_truck_before_it_is_carried_in() -> None:
    assert "truck-check" in BEFORE["panes-set"]
    each = [ask.label for ask in check("truck-check").asks if ask.each]
    assert [label.split()[0] for label in each] == ["Edges", "Stamp", "Width", "Height"]
    assert check("truck-check").parts == LAYERS["panes"].parts


def test_blocks_and_liners_are_seen_before_the_grout_hides_them() -> None:
    (grout,) = doing("covers", "pads")
    assert grout.stuff == "grout"
    assert "seat-check" in BEFORE[grout.key]
    assert "pads" in check("seat-check").looks_at


def test_grout_cures_one_to_three_days_behind_the_temporary_guard() -> None:
    cures = CHAIN["grout-cures"]
    assert (cures.low, cures.work, cures.high) == (DAY, 2 * DAY, 3 * DAY)
    assert "grout-cures" in BEFORE["guard-out"]


@pytest.mark.parametrize(
    ("key", "label", "low", "high"),
    [
        ("recess-check", "Recess off straight", 0, Fraction(1, 16)),
        ("recess-check", "Depth off shoe and shims", Fraction(-1, 16), Fraction(1, 16)),
        ("bolt-check", "Most off straight", 0, Fraction(1, 16)),
        ("glass-check", "Out of plumb", Fraction(-1, 8), Fraction(1, 8)),
        ("glass-check", "Gap to the next", Fraction(-1, 16), Fraction(1, 16)),
        ("glass-check", "Most off a string along the tops", 0, Fraction(1, 16)),
    ],
)
def test_its_tolerances(key: str, label: str, low: Fraction, high: Fraction) -> None:
    ask = asked(key, label)
    assert (ask.low, ask.high) == (low, high)
    assert ask.far_high is not None
    assert ask.high is not None
    assert ask.far_high > ask.high


def test_laminated_glass_is_drawn_as_glass() -> None:
    assert hatch_of(LAYERS["panes"].material) == "glass"
