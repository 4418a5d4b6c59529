from itertools import combinations, pairwise
from typing import get_args

from server.drawing.notes import Badness, NoteLeader, Target, draw_notes, hexagon, spread


def test_each_degree_of_bad_is_drawn_its_own_way_even_without_color() -> None:
    drawn = {}
    for badness in get_args(Badness):
        text = str(hexagon(1, badness))
        drawn[badness] = ("url(#n-lost)" in text, "url(#n-way)" in text, "hx-danger" in text)
    assert all(one != other for one, other in combinations(drawn.values(), 2))


def test_notes_at_one_height_are_spread_evenly_about_it() -> None:
    assert spread([100, 100, 100], 20, 0) == (80, 100, 120)


def test_notes_are_never_nearer_than_they_are_high_nor_above_the_top() -> None:
    heights = spread([2, 5, 5, 30, 90, 91, 200], 20, 13)
    assert heights[0] >= 13
    assert all(lower - upper >= 20 for upper, lower in pairwise(heights))


def test_a_note_with_room_stays_where_it_is() -> None:
    assert spread([20, 100], 20, 13) == (20, 100)


def test_a_note_carries_its_words_and_its_address() -> None:
    note = NoteLeader(3, "danger", "Work overhead", layer="x", href="/d/1#n3")
    drawn = draw_notes([Target(note, 50, 50)], 0)
    assert 'href="/d/1#n3"' in drawn.hexagons
    assert "Work overhead" in drawn.hexagons
    assert drawn.reach > 50
