"""The finish line: what is drawn is what was kept, and its words never touch."""

from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.drawing.finish_line import Kept, Promised, SlipMark, finish_line
from tests.drawing.strung import (
    FINISH,
    FIRST,
    PROMISED,
    boxes,
    corners,
    day,
    drawn,
    finish,
    inked,
    kept,
    string_level,
    texts,
    words,
)


def test_a_later_finish_hangs_lower() -> None:
    heights = [y for _, y in inked(drawn(kept(0, 0, 2, 2, 5, 5)), "fl-chalk")]
    assert heights == sorted(heights)
    assert len(set(heights)) == 3


def test_an_earlier_finish_stands_above_the_string_and_a_later_one_below() -> None:
    for later in (-40, -1, 1, 40):
        svg = drawn(kept(0, later, later))
        below = inked(svg, "fl-chalk")[-1][1] - string_level(svg)
        assert (below > 1) == (later > 0)


def test_a_day_sags_as_far_in_every_drawing_that_has_room() -> None:
    def sag(*later: int) -> float:
        heights = [y for _, y in inked(drawn(kept(*later)), "fl-chalk")]
        return (max(heights) - min(heights)) / max(later)

    assert sag(0, 1) == pytest.approx(sag(0, 2, 5, 9), abs=0.1)


def test_where_nothing_moved_the_line_is_one_straight_stroke() -> None:
    assert len(inked(drawn(kept(*[0] * 60)), "fl-chalk")) == 2


def test_a_move_takes_no_longer_than_its_day() -> None:
    line = inked(drawn(kept(*[0] * 5, *[4] * 5)), "fl-chalk")
    (before, _), (after, _) = line[1:3]
    whole = line[-1][0] - line[0][0]
    assert 0 < after - before <= whole / 10 + 0.1
    assert after == pytest.approx(line[0][0] + whole * 6 / 10, abs=0.1)


@given(st.lists(st.integers(-3, 3), min_size=1, max_size=12))
def test_it_is_hatched_exactly_where_it_is_late(later: list[int]) -> None:
    svg = drawn(kept(*later))
    hatches = [one.get("d") or "" for one in svg.iter("path") if one.get("fill")]
    areas = [corners(one) for one in "".join(hatches).split("Z") if one]
    spans = [(min(area)[0], max(area)[0]) for area in areas]
    far = max((b for _, b in spans), default=0)
    ends = [y - string_level(svg) for area in areas for x, y in area if x == far]
    left, right = inked(svg, "fl-axis")[:2]
    wide = (right[0] - left[0]) / len(later)
    # The middle of a day is where its evening before still holds: moves show at a day's end.
    for no, days in enumerate(later[:-1], 1):
        middle = left[0] + wide * (no + 0.5)
        assert any(a < middle < b for a, b in spans) == (days > 0)
    at_the_end = far == pytest.approx(right[0], abs=0.1)
    a_day = 9  # a chalk line at the promised date touches the string from below
    assert (at_the_end and max(ends) >= a_day) == (later[-1] > 0)


def test_the_hatch_lies_between_string_and_chalk_line() -> None:
    svg = drawn(kept(-2, -2, 3, 3, -1, 2))
    heights = [y for _, y in inked(svg, "url(#fl-late)")]
    assert min(heights) == string_level(svg)
    assert max(heights) == max(y for _, y in inked(svg, "fl-chalk"))


def test_before_anything_is_promised_nothing_is_late_and_no_string_is_drawn() -> None:
    svg = drawn(kept(0, 4, 9), [])
    assert not inked(svg, "fl-string")
    assert not inked(svg, "url(#fl-late)")
    assert inked(svg, "fl-chalk")
    assert "promised" not in texts(svg)


def test_a_new_round_sets_the_string_anew_with_a_short_vertical() -> None:
    again = [*PROMISED, Promised(day(3), finish(4))]
    svg = drawn(kept(0, 4, 4, 4, 4, 4), again)
    *_, (x, high), (foot_x, low), (end, _) = inked(svg, "fl-string")
    assert x == foot_x < end
    assert low > high
    assert max(x for x, _ in inked(svg, "url(#fl-late)")) <= x


def test_the_same_date_promised_again_leaves_the_string_as_it_is() -> None:
    again = [*PROMISED, Promised(day(3), FINISH)]
    assert str(finish_line(kept(*[0] * 6), again, [], words())) == str(
        finish_line(kept(*[0] * 6), PROMISED, [], words())
    )


def test_a_string_set_later_than_the_first_day_begins_there() -> None:
    late = inked(drawn(kept(*[2] * 20), [Promised(day(10), FINISH)]), "fl-string")
    assert late[0][0] > inked(drawn(kept(*[2] * 20)), "fl-string")[0][0] + 60


def test_the_right_end_tells_both_dates_and_what_they_are() -> None:
    for later in (-6, 0, 1, 6):
        told = texts(drawn(kept(0, later)))
        assert {"promised", "forecast", words().finish_day(finish(later))} <= set(told)
        assert "Fri Dec 19" in told


def test_a_level_reached_by_more_than_a_day_is_labelled_and_one_by_a_day_is_not() -> None:
    told = texts(drawn(kept(*[0] * 10, *[3] * 40, *[4] * 20, *[9] * 5)))
    assert "Mon Dec 22" in told
    assert "Tue Dec 23" not in told


def test_a_slip_has_a_tick_at_its_day_and_its_number_beside() -> None:
    svg = drawn(kept(*[0] * 10, *[3] * 10), slips=[SlipMark(day(10), 7)])
    (x, y), (_, far) = inked(svg, "fl-tick")
    assert (x, y) in inked(svg, "fl-chalk")
    assert far > y
    number = next(one for one in svg.iter("text") if one.text == "7")
    assert x < float(number.get("x") or 0) < x + 5


def test_slips_too_close_for_a_number_each_share_one_text_and_keep_their_ticks() -> None:
    slips = [SlipMark(day(no), no - 49) for no in range(50, 55)]
    svg = drawn(kept(*range(100)), slips=slips)
    assert "1\u20135" in texts(svg)
    assert len(inked(svg, "fl-tick")) == 10


@st.composite
def series(draw: st.DrawFn) -> tuple[list[Kept], list[Promised], list[SlipMark]]:
    moves = draw(st.lists(st.sampled_from([0] * 9 + [1, 2, 5, -1, -3]), min_size=1, max_size=200))
    levels = [sum(moves[: no + 1]) for no in range(len(moves))]
    rounds = draw(st.lists(st.tuples(st.integers(-5, 210), st.integers(-9, 30)), max_size=5))
    moved = [no for no, move in enumerate(moves) if move]
    slips = [SlipMark(day(no), number) for number, no in enumerate(moved, 1)]
    return kept(*levels), [Promised(day(no), finish(later)) for no, later in rounds], slips


@settings(deadline=None, max_examples=200)
@given(series())
def test_words_never_touch_and_none_is_cut(
    given_series: tuple[list[Kept], list[Promised], list[SlipMark]],
) -> None:
    svg = drawn(*given_series)
    left, top, wide, high = (float(edge) for edge in (svg.get("viewBox") or "").split())
    found = boxes(svg)
    assert len(found) == len(texts(svg))
    assert not any(one.touches(other) for one, other in combinations(found, 2))
    assert all(left <= box.x and box.right <= left + wide for box in found)
    assert all(top <= box.y and box.bottom <= top + high for box in found)


@settings(deadline=None)
@given(series())
def test_every_line_stays_on_the_sheet(
    given_series: tuple[list[Kept], list[Promised], list[SlipMark]],
) -> None:
    svg = drawn(*given_series)
    left, top, wide, high = (float(edge) for edge in (svg.get("viewBox") or "").split())
    for kind in ("fl-chalk", "fl-string", "fl-tick", "fl-axis"):
        for x, y in inked(svg, kind):
            assert left <= x <= left + wide
            assert top <= y <= top + high


def test_days_on_the_axis_stand_well_apart() -> None:
    svg = drawn(kept(*[0] * 200))
    days = next(one for one in svg.iter("g") if one.get("text-anchor") == "middle")
    places = sorted(float(one.get("x") or 0) for one in days)
    assert len(places) >= 3
    assert min(b - a for a, b in pairwise(places)) >= 60
    assert {"Nov 3", words().axis_day(day(199))} <= set(texts(svg))


def test_sixty_days_with_ten_moves_weigh_little() -> None:
    later = [no // 6 * (1 if no % 12 < 6 else 2) for no in range(60)]
    slips = [SlipMark(day(no * 6), no) for no in range(1, 10)]
    again = [*PROMISED, Promised(day(20), finish(4)), Promised(day(40), finish(9))]
    assert len(finish_line(kept(*later), again, slips, words()).encode()) <= 4_000


@given(st.text(), st.text(max_size=200))
def test_any_characters_in_the_words_leave_it_well_formed(title: str, promised: str) -> None:
    svg = drawn(kept(0, 2), labels=words(title, promised))
    assert svg.tag == "svg"


def test_it_has_a_title_for_those_who_do_not_see_it() -> None:
    svg = drawn(kept(0, 2), labels=words("Finish <of> the rail & guard"))
    assert svg.get("role") == "img"
    assert svg.findtext("title") == "Finish <of> the rail & guard"


def test_one_day_is_a_point_with_its_label() -> None:
    svg = drawn(kept(2))
    (dot,) = svg.iter("circle")
    assert float(dot.get("cy") or 0) > string_level(svg)
    assert not inked(svg, "fl-chalk")
    assert "Sun Dec 21" in texts(svg)


def test_nothing_kept_is_nothing_drawn() -> None:
    assert finish_line([], PROMISED, [SlipMark(FIRST, 1)], words()) == ""


def test_the_order_in_which_days_and_rounds_are_given_does_not_matter() -> None:
    evenings = kept(0, 1, 1, 4)
    rounds = [*PROMISED, Promised(day(2), finish(1))]
    given_order = finish_line(evenings, rounds, [], words())
    assert finish_line(evenings[::-1], rounds[::-1], [], words()) == given_order
