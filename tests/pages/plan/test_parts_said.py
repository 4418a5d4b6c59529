"""Parts of a layer in plain words, and written back."""

import pytest

from server.pages.kit.forms import Form
from server.pages.plan.writing import parts_written, read_parts


def read(typed: str, of: int = 6, part: str = "bay") -> tuple[int, ...]:
    form = Form({"parts": (typed,)})
    found = read_parts(form, "parts", of, part)
    assert not form.refusals, typed
    return found


@pytest.mark.parametrize(
    ("typed", "parts"),
    [
        ("", ()),
        ("all", ()),
        ("1-3, 5", (1, 2, 3, 5)),
        ("1 to 3 and 5", (1, 2, 3, 5)),
        ("bays 1–3", (1, 2, 3)),
        ("No. 4", (4,)),
        ("all but 6", (1, 2, 3, 4, 5)),
        ("All but the bottom", (2, 3, 4, 5, 6)),
        ("all but the bottom bay", (2, 3, 4, 5, 6)),
        ("all except 2 and 5", (1, 3, 4, 6)),
        ("the top two", (5, 6)),
        ("top 2 bays", (5, 6)),
        ("the bottom three, the top", (1, 2, 3, 6)),
        ("first", (1,)),
        ("odd", (1, 3, 5)),
        ("even", (2, 4, 6)),
        ("all but odd", (2, 4, 6)),
    ],
)
def test_parts_are_read_as_they_are_said(typed: str, parts: tuple[int, ...]) -> None:
    assert read(typed) == parts


@pytest.mark.parametrize(
    ("typed", "of", "id"),
    [
        ("the green ones", 6, "plan_form.parts"),
        ("3-1", 6, "plan_form.parts"),
        ("0", 6, "plan_form.parts"),
        ("1,,2", 6, "plan_form.parts"),
        ("all but", 6, "plan_form.parts"),
        ("top some", 6, "plan_form.parts"),
        ("top 0", 6, "plan_form.parts"),
        ("7", 6, "plan_form.parts_beyond"),
        ("the top seven", 6, "plan_form.parts_beyond"),
        ("all but 1-6", 6, "plan_form.parts_none"),
        ("even", 1, "plan_form.parts_none"),
        ("the top two", 0, "plan_form.parts_uncounted"),
        ("all but 1", 0, "plan_form.parts_uncounted"),
        ("201", 0, "plan_form.parts"),
    ],
)
def test_what_says_no_parts_is_refused(typed: str, of: int, id: str) -> None:
    form = Form({"parts": (typed,)})
    assert read_parts(form, "parts", of, "bay") == ()
    assert [refusal.id for refusal in form.refusals] == [id]


@pytest.mark.parametrize(
    ("parts", "of", "said"),
    [
        ((1, 2, 3, 5), 0, "1-3, 5"),
        ((2, 3, 4, 5, 6), 6, "all but 1"),
        ((1, 3, 4, 6), 6, "all but 2, 5"),
        ((1, 2, 3, 4), 6, "1-4"),
        ((1, 2), 3, "1-2"),
        ((1, 2, 3), 3, "all"),
        ((), 6, ""),
    ],
)
def test_parts_are_written_in_the_shortest_plain_way(
    parts: tuple[int, ...], of: int, said: str
) -> None:
    assert parts_written(parts, of) == said


@pytest.mark.parametrize("of", range(1, 9))
def test_whatever_is_written_is_read_back_the_same(of: int) -> None:
    for bits in range(1, 2**of):
        parts = tuple(n + 1 for n in range(of) if bits >> n & 1)
        found = read(parts_written(parts, of), of) or tuple(range(1, of + 1))
        assert found == parts
