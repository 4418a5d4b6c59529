"""The page of a stack: rows come and go with a press, what was typed stays, the verdict is said."""

from urllib.parse import parse_qsl, urlencode, urlsplit

import pytest
from bs4 import BeautifulSoup
from starlette.datastructures import QueryParams

from server.core.figures.base import BadFigure
from server.pages.figures.stack_rows import AskedParts
from server.words import Words
from tests.pages.at_the_wall import Browser, Wall, fields_of

ROWS = (
    ("Housing", "1", "4.020", "0.005"),
    ("Block", "-1", "2.000", "0.005"),
    ("Ring", "-1", "1.500", "0.003"),
    ("Washer", "-1", "0.500", "0.002"),
)
HOUSING = {
    "parts": "4",
    "units": "in",
    **{
        f"{field}-{no}": value
        for no, row in enumerate(ROWS, 1)
        for field, value in zip(("name", "counts", "nominal", "plus"), row, strict=True)
    },
}


@pytest.fixture
def super_(wall: Wall) -> Browser:
    return wall.browser("Rufus Orme")


def asked(
    browser: Browser, typed: dict[str, str], status: int = 200, **headers: str
) -> BeautifulSoup:
    """The page with these fields typed."""
    path = f"/figures/stack?{urlencode(typed)}" if typed else "/figures/stack"
    answer = browser.client.get(path, headers=headers)
    assert answer.status_code == status, answer.text[:400]
    return BeautifulSoup(answer.text, "html.parser")


def pressed(browser: Browser, typed: dict[str, str], **press: str) -> dict[str, str]:
    """The fields of the address that a press leads to."""
    path = f"/figures/stack?{urlencode({**typed, **press})}"
    answer = browser.client.get(path, follow_redirects=False)
    assert answer.status_code == 303
    return dict(parse_qsl(urlsplit(answer.headers["Location"]).query, keep_blank_values=True))


def answers(page: BeautifulSoup) -> dict[str, str]:
    return {
        one.dt.get_text(strip=True): one.b.get_text(strip=True)
        for one in page.select(".answer div")
    }  # type: ignore[union-attr]


def wrong(page: BeautifulSoup) -> dict[str, str]:
    found = page.select("form .err")
    return {str(one["id"]): text for one in found if (text := one.get_text(strip=True))}


def said(page: BeautifulSoup) -> str:
    return " ".join(page.get_text(" ").split())


def test_it_begins_with_a_tread_between_two_walls_that_cannot_be_kept(super_: Browser) -> None:
    page = asked(super_, {})
    assert answers(page)["Wanted range"] == "out of tolerance"
    assert len(page.select("fieldset.part")) == 4
    assert page.select_one("#result svg") is not None


def test_the_housing_says_its_gap_worst_case_and_chance(super_: Browser) -> None:
    found = answers(asked(super_, HOUSING))
    assert found["Gap as it stands"] == "0.02 in"
    assert found["Worst case"] == "±0.015 in"
    assert found["By chance (root sum square)"] == "±0.008 in"
    assert found["Wanted range"] == "none given"


def test_a_range_that_the_worst_case_stays_within_is_kept(super_: Browser) -> None:
    page = asked(super_, {**HOUSING, "least": "0.005", "most": "0.035"})
    assert answers(page)["Wanted range"] == "kept"


def test_out_of_tolerance_says_by_how_much_and_that_chance_would_do(super_: Browser) -> None:
    page = asked(super_, {**HOUSING, "least": "0.01", "most": "0.04"})
    assert answers(page)["Wanted range"] == "out of tolerance"
    assert "under the least wanted by 0.005 in" in said(page)
    assert "By chance alone" in said(page)


def test_a_measured_part_narrows_the_worst_case(super_: Browser) -> None:
    page = asked(super_, {**HOUSING, "measured-1": "4.022"})
    assert answers(page)["Gap as it stands"] == "0.022 in"
    assert answers(page)["Worst case"] == "±0.01 in"
    assert "taken ±0.005 in out" in said(page)


def test_a_part_measured_beyond_its_tolerance_is_named(super_: Browser) -> None:
    assert "Housing measures 0.01 in over" in said(
        asked(super_, {**HOUSING, "measured-1": "4.035"})
    )


def test_one_more_part_keeps_what_was_typed_right_or_wrong(super_: Browser) -> None:
    typed = {**HOUSING, "nominal-2": "two or so"}
    fields = pressed(super_, typed, more="1")
    assert fields == {**typed, "parts": "5"}
    page = asked(super_, fields, 422)
    assert len(page.select("fieldset.part")) == 5
    assert "nominal-2-e" in wrong(page)
    form = page.select_one("#rows")
    assert form is not None
    assert fields_of(form)["nominal-2"] == "two or so"


def test_an_empty_row_counts_for_nothing(super_: Browser) -> None:
    assert answers(asked(super_, {**HOUSING, "parts": "5"})) == answers(asked(super_, HOUSING))


def test_a_row_taken_away_moves_those_behind_it_up(super_: Browser) -> None:
    fields = pressed(super_, HOUSING, without="2")
    assert fields["parts"] == "3"
    assert [fields[f"name-{no}"] for no in (1, 2, 3)] == ["Housing", "Ring", "Washer"]
    assert "name-4" not in fields


@pytest.mark.parametrize("without", ["0", "5", "x", "-1", "99"])
def test_a_row_that_is_not_there_is_not_taken_away(super_: Browser, without: str) -> None:
    assert pressed(super_, HOUSING, without=without) == HOUSING


def test_the_last_row_stays(super_: Browser) -> None:
    assert pressed(super_, {"parts": "1", "name-1": "Housing"}, without="1")["parts"] == "1"


def test_more_rows_than_there_may_be_are_not_made(super_: Browser) -> None:
    assert pressed(super_, {"parts": "20"}, more="1")["parts"] == "20"
    assert len(asked(super_, {"parts": "999"}, 422).select("fieldset.part")) == 20


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"plus-2": "-0.005"}, "plus-2-e"),
        ({"minus-3": "-1"}, "minus-3-e"),
        ({"nominal-1": "4,020"}, "nominal-1-e"),
        ({"nominal-1": ""}, "nominal-1-e"),
        ({"plus-4": ""}, "plus-4-e"),
        ({"measured-1": "3' 14\""}, "measured-1-e"),
        ({"counts-1": "7"}, "counts-1-e"),
        ({"least": "1", "most": "0.5"}, "least-e"),
        ({"least": "1/0"}, "least-e"),
    ],
)
def test_what_is_mistyped_is_said_beside_its_field_and_kept(
    super_: Browser, typed: dict[str, str], field: str
) -> None:
    page = asked(super_, {**HOUSING, **typed}, 422)
    assert list(wrong(page)) == [field]
    form = page.select_one("#rows")
    assert form is not None
    kept = {name: value for name, value in typed.items() if not name.startswith("counts")}
    assert kept.items() <= fields_of(form).items()
    assert not page.select(".answer")


def test_no_part_at_all_is_said(super_: Browser) -> None:
    page = asked(super_, {"parts": "2", "units": "in"}, 422)
    assert "at least one part" in wrong(page)["nominal-1-e"]


def test_htmx_gets_the_result_alone(super_: Browser) -> None:
    page = asked(super_, HOUSING, **{"HX-Request": "true"})
    assert page.select_one("form") is None
    assert page.select_one(".answer") is not None


def test_in_millimeters_the_same_numbers_are_turned(super_: Browser) -> None:
    page = asked(super_, {**HOUSING, "to": "mm"})
    form = page.select_one("#rows")
    assert form is not None
    assert fields_of(form)["nominal-3"] == "38.1"
    assert answers(page)["Worst case"] == "±0.38 mm"


def test_a_name_with_markup_stays_a_name(super_: Browser) -> None:
    page = asked(super_, {**HOUSING, "name-1": "<script>x</script>"})
    assert "<script>x</script>" in said(page)
    assert not page.select("main script")


def test_what_the_core_refuses_stands_beside_the_row_it_was_typed_in() -> None:
    rows = {"nominal-2": "4", "plus-2": "1", "nominal-4": "3", "plus-4": "1"}
    asked = AskedParts(QueryParams({"parts": "4", **rows}), "in", Words(), {})
    asked.stack()
    second = BadFigure("stack.negative", field="minus-2", value=-1.0)
    assert asked.at_its_row(second).field == "minus-4"
    whole = BadFigure("stack.reversed", field="least")
    assert asked.at_its_row(whole) is whole
