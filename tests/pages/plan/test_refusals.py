"""Each refusal stands beside its field, all of them at once, and what was typed is still there."""

import pytest

from tests.pages.at_the_wall import Wall
from tests.pages.plan.typing_in import Super, Typed, refused, value_of

PLAN = "/d/garden-stair-rail/plan"
BOARD = f"{PLAN}/hang-board"


@pytest.mark.parametrize(
    ("path", "typed", "field", "said"),
    [
        (BOARD, {"work": "soon"}, "work", "is not a length of time"),
        (BOARD, {"work": ""}, "work", "Say how long it takes"),
        (BOARD, {"name": " "}, "name", "has to be filled in"),
        (BOARD, {"name": "x" * 130}, "name", "At most 120"),
        (BOARD, {"low": "3 d"}, "low", "The shortest"),
        (BOARD, {"high": "1 h"}, "high", "The longest"),
        (BOARD, {"work": "3 d", "one_day": "yes"}, "work", "within one day"),
        (BOARD, {"puts_in": "board", "covers": "board"}, "covers", "cannot put in"),
        (BOARD, {"covers_stand-offs": "6-9"}, "covers_stand-offs", "has 7 parts"),
        (BOARD, {"covers_stand-offs": "9-6"}, "covers_stand-offs", "Write it as 1-3, 5"),
        (BOARD, {"with_crew_ids": "ninepail-plaster"}, "with_crew_ids", "each crew once"),
        (BOARD, {"finish_by": "2025-11-01T07:00", "not_before": "2025-12-01T07:00"},
         "finish_by", "done before it may start"),
        (f"{PLAN}/height", {"photos": "ninety"}, "photos", "not a whole number"),
        (f"{PLAN}/height", {"nominal_0": "36,06"}, "nominal_0", "comma"),
        (f"{PLAN}/height", {"nominal_0": "914"}, "nominal_0", "914 mm"),
        (f"{PLAN}/height", {"nominal_0": "", "within_0": "1/8"}, "nominal_0", "it is around"),
        (f"{PLAN}/height", {"low_0": "35"}, "within_0", "either plus or minus"),
        (f"{PLAN}/height", {"beyond_0": "1/16"}, "far_low_0", "second tolerance"),
        (f"{PLAN}/height", {"parts": ""}, "for_0", "how many alike"),
        (f"{PLAN}/height", {"for_0": "8"}, "for_0", "It has 7 parts"),
        (f"{PLAN}/height", {"unit_0": "yes"}, "unit_0", "A yes or no has no limits"),
        (f"{PLAN}/sides/new", {"name": "Stair side"}, "name", "already"),
        (f"{PLAN}/layers/board", {"thickness": "1/0"}, "thickness", "0 under the line"),
        (f"{PLAN}/layers/board", {"thickness": "900"}, "thickness", "mm"),
        (f"{PLAN}/layers/board", {"parts": "201"}, "parts", "From 0 to 200"),
        (f"{PLAN}/blocking/after/new", {"before_id": "hang-board"}, "before_id", "in a ring"),
        (f"{PLAN}/hang-board/after/new", {"before_id": "height"}, "before_id", "already"),
        (f"{PLAN}/hang-board/after/new", {"before_id": "blocking", "lag": "2 d", "most": "1 d"},
         "most", "no shorter than the wait"),
        (f"{PLAN}/base-coat/end", {"reason": ""}, "reason", "has to be filled in"),
    ],
)  # fmt: skip
def test_a_refusal_stands_beside_its_field_and_what_was_typed_is_still_there(
    rail: Wall, rufus: Super, path: str, typed: Typed, field: str, said: str
) -> None:
    before = rail.snapshot()
    answer = rufus.send(path, typed)
    assert answer.status_code == 422
    assert said in refused(answer).get(field, ""), refused(answer)
    for name, value in typed.items():
        kept = name in ("work", "name", "low", "high", "photos", "thickness", "lag")
        if kept or ("_0" in name and not name.startswith("unit")):
            assert value_of(answer, name) == value
    assert rail.snapshot() == before


def test_all_that_is_wrong_is_told_at_once(rail: Wall, rufus: Super) -> None:
    answer = rufus.send(
        f"{PLAN}/new?kind=hold",
        {"name": "", "what": "", "notice": "soon", "label_0": "A", "nominal_0": "36,06",
         "label_2": "C", "unit_2": "inches", "nominal_2": "1", "low_2": "2", "high_2": "1"},
    )  # fmt: skip
    assert set(refused(answer)) == {"name", "what", "notice", "nominal_0", "low_2"}
    assert value_of(answer, "label_2") == "C"


def test_a_rule_and_a_misread_field_are_told_together(rail: Wall, rufus: Super) -> None:
    answer = rufus.send(
        BOARD, {"work": "4 h", "low": "1 d", "high": "what", "covers": "board", "puts_in": "board"}
    )
    assert set(refused(answer)) == {"low", "high", "covers"}


def test_boxes_that_were_ticked_stay_ticked_when_the_form_comes_back(
    rail: Wall, rufus: Super
) -> None:
    answer = rufus.send(BOARD, {"work": "soon", "overhead": "yes", "covers": ["stand-offs"]})
    assert answer.text.count(" checked") == 3  # overhead, the stand-offs it hides, board put in
    assert 'value="stand-offs" checked' in answer.text


def test_more_rows_gives_three_more_and_keeps_what_was_typed(rail: Wall, rufus: Super) -> None:
    answer = rufus.send(f"{PLAN}/new?kind=hold", {"more": "yes", "label_1": "Reveal", "what": "A"})
    assert answer.status_code == 200
    assert value_of(answer, "label_1") == "Reveal"
    assert 'name="label_5"' in answer.text
    assert 'name="label_6"' not in answer.text


def test_a_change_over_somebody_elses_is_told_and_can_be_sent_again(
    rail: Wall, rufus: Super
) -> None:
    page = rufus.page(BOARD)
    other = rufus.send(BOARD, {"name": "Hang blue board"})
    assert other.status_code == 303
    answer = rufus.browser.send(page, BOARD, {"name": "Hang gray board"})
    assert answer.status_code == 409
    assert "Somebody changed this" in answer.text
    assert value_of(answer, "name") == "Hang gray board"
    assert rail.snapshot().activities["hang-board"].name == "Hang blue board"


def test_what_is_done_keeps_all_but_its_name_and_note(rail: Wall, rufus: Super) -> None:
    path = f"{PLAN}/blocking"
    assert "This is done" in rufus.page(path).text
    assert "is done" in refused(rufus.send(path, {"work": "1 d"}))["work"]
    rufus.take(path, {"name": "Blocking in the studs"})
    assert rail.snapshot().activities["blocking"].name == "Blocking in the studs"


def test_an_activity_taken_out_ties_together_what_it_stood_between(
    rail: Wall, rufus: Super
) -> None:
    rufus.take(f"{PLAN}/base-coat/end", {"reason": "The paint goes right on the board."})
    (tie,) = rail.snapshot().before["base-coat-dries"]
    assert tie.before_id == "hang-board"


def test_a_layer_ended_is_gone_from_the_plan(rail: Wall, rufus: Super) -> None:
    layer = f"{PLAN}/layers/base-coat"
    version = str(rufus.page(layer).select_one("[name=version]")["value"])  # type: ignore[index]
    answer = rufus.browser.post(layer, {"end": "yes", "version": version})
    assert answer.status_code == 303
    assert rufus.page(PLAN).select_one('a[href$="/layers/base-coat"]') is None


def test_long_names_are_taken_and_shown_whole(rail: Wall, rufus: Super) -> None:
    name = "Wolfeschlegelsteinhausenbergerdorff " * 3
    rufus.take(BOARD, {"name": name})
    assert name.strip() in rufus.page(PLAN).text


def test_what_is_typed_is_never_markup(rail: Wall, rufus: Super) -> None:
    rufus.take(BOARD, {"name": "<script>alert(1)</script>"})
    page = rufus.page(PLAN)
    assert "<script>alert(1)</script>" in page.text
    assert not [s for s in page.select("script") if "alert" in s.text]
