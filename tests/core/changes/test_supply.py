"""Deliveries ordered, here, counted and looked over; decisions answered."""

from dataclasses import replace

import pytest

from server.core.changes.actuals import Answer, Arrive, CountOver, Order
from server.core.changes.base import Command
from server.core.world.network import forecast
from tests.core.changes.pressing import NOW, pressed, refused
from tests.worlds import DAY, a_project, on

WORLD = (
    a_project()
    .with_crew("Hobnail Millwork", trade="millwork")
    .with_person("Ada Quill")
    .with_person("Bo Rand")
    .with_detail("Garden stair rail")
    .with_delivery("Rail", 10 * DAY, crew="Hobnail Millwork")
    .with_decision("Profile", person="Ada Quill")
)
ORDERED = WORLD.with_changed("Rail", ordered=on("Dec 1"), promised=on("Dec 12"))
HERE = ORDERED.with_changed("Rail", started=on("Dec 1"), finished=on("Dec 3 9:00"))
ORDER = Order(activity_id="rail", when=on("Dec 3"), promised=on("Dec 19"))
ARRIVE = Arrive(activity_id="rail", when=on("Dec 3 9:00"))
COUNT = CountOver(activity_id="rail", note="One end scratched")
ANSWER = Answer(activity_id="profile", answer="Round, 1 3/4 in")
LEAD = "Hobnail Millwork lead"


def test_an_order_with_a_promise_sets_the_forecast() -> None:
    assert forecast(pressed(WORLD, ORDER), NOW)["rail"].early_finish == on("Dec 19")


def test_an_order_without_one_takes_its_lead_time() -> None:
    after = pressed(WORLD, replace(ORDER, promised=None))
    assert forecast(after, NOW)["rail"].early_finish == on("Dec 16 15:30")


def test_a_delivery_can_be_promised_for_another_day() -> None:
    assert pressed(ORDERED, ORDER).activities["rail"].promised == on("Dec 19")


def test_a_promise_does_not_come_before_its_order() -> None:
    command = replace(ORDER, promised=on("Dec 2"))
    assert refused(WORLD, command) == ("actuals.promised_before_order", "promised")


def test_only_the_super_orders() -> None:
    assert refused(WORLD, ORDER, LEAD)[0] == "rights.role"


def test_the_crew_whose_it_is_says_that_it_is_here() -> None:
    rail = pressed(ORDERED, ARRIVE, LEAD).activities["rail"]
    assert (rail.started, rail.finished, rail.counted) == (on("Dec 1"), on("Dec 3 9:00"), None)


def test_what_nobody_recorded_as_ordered_can_be_here() -> None:
    assert forecast(pressed(WORLD, ARRIVE), NOW).done == {"rail"}


def test_nothing_is_here_before_it_was_ordered() -> None:
    command = replace(ARRIVE, when=on("Nov 28"))
    assert refused(ORDERED, command) == ("actuals.here_before_order", "when")


def test_it_is_counted_and_looked_over_with_a_note() -> None:
    rail = pressed(HERE, COUNT, LEAD).activities["rail"]
    assert (rail.counted, rail.note) == (NOW, "One end scratched")


def test_what_is_not_here_is_not_counted() -> None:
    assert refused(ORDERED, COUNT) == ("actuals.not_here", None)


def test_it_is_counted_once() -> None:
    assert refused(HERE.with_changed("Rail", counted=NOW), COUNT)[0] == "actuals.counted_already"


@pytest.mark.parametrize("command", [ORDER, ARRIVE])
def test_what_is_here_is_neither_ordered_nor_here_again(command: Command) -> None:
    assert refused(HERE, command)[0] == "actuals.here_already"


@pytest.mark.parametrize("command", [replace(ORDER, when=on("Dec 4")), replace(
    ARRIVE, when=on("Dec 4"))])  # fmt: skip
def test_neither_happened_tomorrow(command: Command) -> None:
    assert refused(WORLD, command) == ("actuals.in_the_future", "when")


@pytest.mark.parametrize("who", ["Ada Quill", "Rufus Orme"])
def test_a_decision_is_made_by_whoever_owes_it_or_told_by_the_super(who: str) -> None:
    profile = pressed(WORLD, ANSWER, who).activities["profile"]
    assert (profile.answer, profile.finished) == ("Round, 1 3/4 in", NOW)


def test_nobody_else_decides() -> None:
    assert refused(WORLD, ANSWER, "Bo Rand")[0] == "rights.not_your_decision"


def test_an_empty_answer_decides_nothing() -> None:
    assert refused(WORLD, replace(ANSWER, answer="  ")) == ("actuals.no_answer", "answer")


def test_a_decision_is_made_once() -> None:
    world = WORLD.with_changed("Profile", finished=NOW, answer="Square")
    assert refused(world, ANSWER)[0] == "actuals.answered_already"


@pytest.mark.parametrize("command", [replace(ORDER, activity_id="profile"), replace(
    ANSWER, activity_id="rail")])  # fmt: skip
def test_each_goes_with_its_own_kind(command: Command) -> None:
    assert refused(WORLD, command)[0] == "actuals.other_kind"
