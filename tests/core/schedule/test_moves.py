"""What differs between two schedules: the worst first."""

from datetime import timedelta
from itertools import pairwise

from server.core.schedule import Activity, Dependency, Schedule, moves
from tests.core.schedule.chains import DAY, MONDAY, TUESDAY, WEDNESDAY, at, computed


def chain(**work: int) -> Schedule:
    """One after the other, each of so many working minutes."""
    ids = list(work)
    pairs = [Dependency(a, b) for a, b in pairwise(ids)]
    return computed([Activity(id, minutes) for id, minutes in work.items()], pairs)


def apart(**work: int) -> Schedule:
    return computed([Activity(id, minutes) for id, minutes in work.items()])


def ids(before: Schedule, after: Schedule) -> list[str]:
    return [move.activity for move in moves(before, after)]


def test_nothing_moves_between_a_schedule_and_itself() -> None:
    assert moves(chain(wire=60, board=60), chain(wire=60, board=60)) == ()


def test_what_is_as_it_was_does_not_move() -> None:
    assert ids(chain(wire=60, pipe=60, board=60), chain(wire=60, pipe=DAY, board=60)) == [
        "pipe",
        "board",
    ]


def test_what_finishes_most_later_stands_first_and_earlier_last() -> None:
    before, after = (
        apart(wire=DAY, pipe=DAY, board=DAY),
        apart(wire=60, pipe=2 * DAY, board=3 * DAY),
    )
    assert ids(before, after) == ["board", "pipe", "wire"]


def test_a_move_tells_by_how_much_on_the_clock() -> None:
    [move] = moves(apart(wire=DAY), apart(wire=2 * DAY))
    assert (move.later, move.finish) == (timedelta(days=1), at(TUESDAY, "15:30"))
    [back] = moves(apart(wire=2 * DAY), apart(wire=DAY))
    assert (back.later, back.finish) == (-timedelta(days=1), at(MONDAY, "15:30"))


def test_another_start_with_the_same_finish_is_a_move() -> None:
    before = computed([Activity("wire", DAY)])
    after = computed([Activity("wire", DAY - 60, not_before=at(MONDAY, "08:00"))])
    [move] = moves(before, after)
    assert move.later == timedelta(0)
    assert move.before is not None
    assert move.after is not None
    assert (move.before.early_start, move.after.early_start) == (at(MONDAY), at(MONDAY, "08:00"))


def test_what_comes_and_goes_stands_between_later_and_earlier() -> None:
    before = apart(wire=DAY, gone=3 * DAY, board=DAY)
    after = apart(wire=60, come=3 * DAY, board=2 * DAY)
    found = {move.activity: move for move in moves(before, after)}
    assert list(found) == ["board", "come", "gone", "wire"]
    assert (found["come"].before, found["gone"].after) == (None, None)
    assert found["come"].finish == found["gone"].finish == at(WEDNESDAY, "15:30")
    assert found["come"].later == found["gone"].later == timedelta(0)


def test_equal_moves_stand_in_the_order_of_the_schedule_after() -> None:
    before, after = apart(wire=DAY, pipe=DAY), apart(pipe=2 * DAY, wire=2 * DAY)
    assert ids(before, after) == ["pipe", "wire"]
