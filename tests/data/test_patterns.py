"""Each pattern that ships holds together: nothing is hidden unseen, nothing hangs loose."""

from collections.abc import Iterator, Mapping
from datetime import datetime

import pytest

from server.core.patterns import Pattern, PatternActivity
from server.core.schedule import Activity, Calendar, Dependency, Kind, Network, compute
from server.data.patterns import all_patterns, pattern
from server.data.trades import trades

# What a chain may begin and end with; anything else with nothing before or behind it hangs loose.
ENDS = {
    "self-supporting-stair": ({"sizes", "tread-fastening"}, {"final"}),
    "rolled-guard": ({"section"}, {"guard-out"}),
    "wall-rail": ({"profile"}, {"final"}),
    "glass-guard": ({"section"}, {"guard-out"}),
    "light-well-lining": ({"drawing"}, {"strike"}),
    "treads-with-reveal": ({"sizes"}, {"final"}),
    "floor-flush-light": ({"choice"}, {"final"}),
    "curved-stair": ({"plan"}, {"final"}),
    "steel-spine": ({"plan"}, {"guard-out"}),
    "wood-guard-infill": ({"section"}, {"tightened"}),
    "basement-stair": ({"levels"}, {"protection-off"}),
}

each = pytest.mark.parametrize("one", all_patterns(), ids=lambda p: p.id)


def all_before(one: Pattern) -> Mapping[str, frozenset[str]]:
    """Activity -> everything that is over before it starts: finish to start, however far."""
    direct = {a.key: [d.before for d in a.after if d.type == "FS"] for a in one.chain}
    found: dict[str, frozenset[str]] = {}

    def walk(key: str) -> frozenset[str]:
        if key not in found:
            found[key] = frozenset(direct[key]).union(*map(walk, direct[key]))
        return found[key]

    for key in direct:
        walk(key)
    return found


def that_put_in(one: Pattern, layer: str) -> set[str]:
    return {a.key for a in one.chain if layer in a.puts_in}


def covering(one: Pattern) -> Iterator[tuple[PatternActivity, str]]:
    for a in one.chain:
        for layer in a.covers:
            yield a, layer


def first_to_cover(one: Pattern, layer: str) -> set[str]:
    """The tasks that hide a layer and that no other hiding of it comes before."""
    hiding = {a.key for a, hidden in covering(one) if hidden == layer}
    before = all_before(one)
    return {key for key in hiding if not before[key] & hiding}


def test_the_patterns_are_there() -> None:
    assert {p.id for p in all_patterns()} == set(ENDS)


def test_a_pattern_is_found_by_its_id_and_an_unknown_one_is_not() -> None:
    assert pattern("wall-rail").name == "Wall rail on concealed stand-offs"
    with pytest.raises(LookupError):
        pattern("spiral")


@each
def test_nothing_hangs_loose(one: Pattern) -> None:
    named = {d.before for a in one.chain for d in a.after}
    first = {a.key for a in one.chain if not a.after}
    last = {a.key for a in one.chain if a.key not in named}
    assert (first, last) == ENDS[one.id]


@each
def test_every_layer_is_put_in_by_one_task(one: Pattern) -> None:
    assert {layer.key: len(that_put_in(one, layer.key)) for layer in one.layers} == {
        layer.key: 1 for layer in one.layers
    }


@each
def test_what_hides_a_layer_follows_what_puts_it_in(one: Pattern) -> None:
    before = all_before(one)
    for a, layer in covering(one):
        assert that_put_in(one, layer) <= before[a.key], (a.key, layer)


@each
def test_what_needs_a_layer_open_follows_it_and_is_over_before_it_is_hidden(one: Pattern) -> None:
    before = all_before(one)
    for a in one.chain:
        for layer in a.needs_open:
            assert that_put_in(one, layer) <= before[a.key], (a.key, layer)
            assert all(a.key in before[key] for key in first_to_cover(one, layer)), (a.key, layer)


@each
def test_what_must_match_a_sample_follows_its_acceptance(one: Pattern) -> None:
    before = all_before(one)
    for a in one.chain:
        if a.sample:
            assert a.sample in before[a.key], a.key


@each
def test_wet_stuff_and_what_dries_behind_it_are_of_one_kind(one: Pattern) -> None:
    stuff = {a.key: a.stuff for a in one.chain}
    for a in one.chain:
        if a.kind == "wait" and a.stuff:
            assert {stuff[d.before] for d in a.after} == {a.stuff}, a.key


@each
def test_a_layer_that_must_be_seen_is_looked_at_before_it_is_hidden(one: Pattern) -> None:
    before = all_before(one)
    for layer in one.layers:
        looks = {a.key for a in one.chain if a.check and layer.key in a.check.looks_at}
        for key in first_to_cover(one, layer.key) if layer.must_be_seen else ():
            assert looks & before[key], (layer.key, key)


@each
def test_every_check_of_a_layer_before_the_first_cover_is_released_before_it(one: Pattern) -> None:
    before = all_before(one)
    for layer in one.layers:
        for a in one.chain:
            if a.check is None or layer.key not in a.check.looks_at:
                continue
            for key in first_to_cover(one, layer.key):
                assert a.key in before[key] or key in before[a.key], (a.key, key)


@each
def test_a_check_comes_after_what_it_looks_at_is_in(one: Pattern) -> None:
    before = all_before(one)
    for a in one.chain:
        for layer in a.check.looks_at if a.check else ():
            assert that_put_in(one, layer) <= before[a.key], (a.key, layer)


@each
def test_finish_wood_follows_a_meter_and_all_that_is_wet(one: Pattern) -> None:
    before = all_before(one)
    stuffs = ("adhesive", "grout")
    wet = {a.key for a in one.chain if a.wet and not a.off_site and a.stuff not in stuffs}
    dries = {a.key for a in one.chain if a.kind == "wait" and wet & {d.before for d in a.after}}
    meters = {a.key for a in one.chain if a.check and any(q.unit == "%" for q in a.check.asks)}
    for a in one.chain:
        if a.finish_wood:
            assert wet | dries <= before[a.key], a.key
            assert any(wet | dries <= before[key] for key in meters & before[a.key]), a.key


@each
def test_whoever_throws_sparks_is_watched(one: Pattern) -> None:
    assert all(a.fire_watch for a in one.chain if a.hot)


@each
def test_it_says_who_rules(one: Pattern) -> None:
    assert "engineer" in one.about
    assert "authority" in one.about


@each
def test_what_is_measured_from_a_layer_follows_it(one: Pattern) -> None:
    before = all_before(one)
    for a in one.chain:
        if a.measured_from:
            assert that_put_in(one, a.measured_from) <= before[a.key], a.key


@each
def test_a_layer_lies_within_one_of_its_own_side(one: Pattern) -> None:
    for side in one.sides:
        keys = {layer.key for layer in side.layers}
        assert {layer.within for layer in side.layers} - {""} <= keys


@each
def test_all_of_a_check_is_said(one: Pattern) -> None:
    for a in one.chain:
        if a.check is None:
            continue
        assert a.check.what, a.key
        assert a.check.tool, a.key
        assert a.check.marks, a.key
        assert a.check.asks, a.key
        assert bool(a.check.photos) == bool(a.check.photo_note), a.key
        assert not any(ask.each for ask in a.check.asks) or a.check.parts, a.key


@each
def test_a_number_from_memory_says_where_to_look_it_up(one: Pattern) -> None:
    for a in one.chain:
        if a.check and any(ask.tag == "M" for ask in a.check.asks):
            assert "from memory" in a.check.source, a.key


@each
def test_an_outside_look_has_notice(one: Pattern) -> None:
    for a in one.chain:
        if a.check and a.check.releases == "authority":
            assert a.check.notice, a.key


@each
def test_its_trades_are_those_a_company_begins_with(one: Pattern) -> None:
    assert set(one.trades) <= set(trades())


@each
def test_dates_come_out_of_it(one: Pattern) -> None:
    site = Calendar.week({day: [("07:00", "12:00"), ("12:30", "15:30")] for day in range(5)})
    schedule = compute(
        Network(
            activities=[
                Activity(
                    id=a.key,
                    work=a.work,
                    low=a.low,
                    high=a.high,
                    calendar="clock" if a.kind == "wait" else "site",
                    kind=Kind(a.kind),
                    one_day=a.one_day,
                )
                for a in one.chain
            ],
            dependencies=[
                Dependency(d.before, a.key, "FS", d.lag, "clock", d.most)
                for a in one.chain
                for d in a.after
            ],
            calendars={"site": site, "clock": Calendar.always()},
            start=datetime(2025, 12, 1, 7),
        )
    )
    last = next(iter(ENDS[one.id][1]))
    assert not schedule.too_long
    assert schedule.finish == schedule[last].early_finish
    assert schedule[last].critical
