"""What the pages of all figures share: fields read, values printed, nothing that breaks them."""

from typing import Any
from urllib.parse import urlencode

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from starlette.datastructures import QueryParams

from server.core.figures.base import Judged
from server.data.limits import all_profiles
from server.pages.figures.asked import Asked
from server.pages.figures.figure import Figure, made
from server.pages.figures.printed import printed
from server.pages.figures.routes import FIGURES
from server.pages.figures.saying import held, row
from server.words import words

EN = words("en")
PROFILES = {one.id: one for one in all_profiles()}
NASTY = (
    "", " ", "0", "-1", "1e9", "nan", "inf", "1/0", "1 5/4", "0.000001", "11999", "12001", "1/64",
    "3' 14\"", "36,06", "½", "140 %", "-40 °C", "2 x 4", "<b>", "\x00", "9" * 60, "1\n2\n3",
    "7 1/2", "101", "0.5", "361", "irc-2021", "rough",
)  # fmt: skip


def asked(units: str = "in", **typed: str) -> Asked:
    return Asked(QueryParams(urlencode(typed)), units, EN, PROFILES)


def form_of(figure: Figure, units: str = "in", **typed: str) -> Asked:
    """The form of a figure, read as its page reads it."""
    return figure.asks(QueryParams(urlencode(typed)), units, EN, PROFILES)


def names_of(figure: Figure) -> list[str]:
    form = form_of(figure)
    figure.make(form)
    return [field.name for group in form.fields for field in group.fields]


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: figure.name)
@given(data=st.data())
@settings(max_examples=60, deadline=None)
def test_nothing_that_can_be_typed_breaks_a_figure(figure: Figure, data: Any) -> None:
    names = data.draw(st.lists(st.sampled_from(names_of(figure)), max_size=4, unique=True))
    typed = {name: data.draw(st.sampled_from(NASTY)) for name in names}
    form = form_of(figure, data.draw(st.sampled_from(("in", "mm"))), **typed)
    result = made(figure, form)
    if result is None:
        assert all(EN.say(refusal.message) for refusal in form.form.all_refusals)
        assert form.form.all_refusals
        return
    rows = (*result.answer, *(one for group in result.groups for one in group.rows))
    assert not [one.said for one in rows if "nan" in one.said or "inf" in one.said]


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: figure.name)
def test_a_figure_begins_with_numbers_that_can_be_worked_out(figure: Figure) -> None:
    for units in ("in", "mm"):
        form = form_of(figure, units)
        assert figure.make(form).answer
        assert not form.form.all_refusals


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: figure.name)
def test_every_figure_carries_the_caution_on_coordination(figure: Figure) -> None:
    assert "not for design" in " ".join(figure.make(form_of(figure)).cautions)


@pytest.mark.parametrize(
    ("value", "unit", "units", "said", "exact"),
    [
        (7.5, "in", "in", "7 1/2 in", ""),
        (7.7143, "in", "in", "7 11/16 in", "7.714 in"),
        (7.53125, "in", "in", "7 9/16 in", "7.531 in"),
        (0.01, "in", "in", "0 in", "0.01 in"),
        (-0.26, "in", "in", "-1/4 in", "-0.26 in"),
        (7.5, "in", "mm", "191 mm", "190.5 mm"),
        (10.0, "in", "mm", "254 mm", ""),
        (36.77, "°", "mm", "36.8°", "36.77°"),
        (70.0, "°F", "mm", "21.1°C", "21.11°C"),
    ],
)
def test_a_value_is_printed_to_a_sixteenth_or_a_millimeter_and_exactly_beside(
    value: float, unit: str, units: str, said: str, exact: str
) -> None:
    found = printed(value, unit, units, EN)
    assert (found.said, found.exact) == (said, exact)


def test_less_than_a_sixteenth_over_is_still_over() -> None:
    judged = Judged(what="riser", value=7.76, unit="in", most=7.75, source="Ours", section="12")
    (one,) = held(asked(), [judged, None])
    assert (one.within, one.verdict, one.said, one.exact) == (
        False, "over by 0.01 in", "7 3/4 in", "7.76 in",
    )  # fmt: skip


def test_what_is_beyond_stands_first() -> None:
    within = Judged(what="tread", value=11, unit="in", least=10)
    beyond = Judged(what="riser", value=9, unit="in", most=7.75)
    assert [one.within for one in held(asked(), [within, beyond])] == [False, True]


def test_a_value_from_memory_says_so() -> None:
    assert row(asked(), "stairs.run", 10.0, source="M").source == "from memory: look it up"


def test_a_temperature_is_read_in_the_persons_own_degrees() -> None:
    form = asked("mm", air="21")
    assert form.temperature("air", "stairs.run", "70") == pytest.approx(69.8)
    assert asked(air="21 °C").temperature("air", "stairs.run", "70") == pytest.approx(69.8)


def test_a_number_outside_its_bounds_is_refused_with_both() -> None:
    form = asked(rh="140")
    form.number("rh", "stairs.run", "50", "%", least=0, most=100)
    wrong = form.form.wrong("rh")
    assert wrong
    assert EN.say(wrong) == "This has to lie between 0% and 100%."


def test_there_and_back_again_the_same_sixteenths_stand_in_the_field() -> None:
    for typed in ("7 11/16", "107 1/4", "41 1/2"):
        metric = turned(typed, "in", "mm")
        assert turned(metric, "mm", "in") == typed


def test_a_turned_number_that_might_be_misread_carries_its_unit() -> None:
    """Where 40 in are usual, a bare 30 in millimeters would be asked about: 30 in?"""
    assert turned("1 3/16", "in", "mm") == "30.16 mm"
    assert turned("30.16 mm", "mm", "in") == "1 3/16"


def turned(typed: str, units: str, to: str) -> str:
    form = asked(rise=typed, units=units, to=to)
    form.length("rise", "stairs.rise", "40")
    (group,) = form.fields
    return group.fields[0].value
