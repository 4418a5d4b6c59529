"""Values as text and back, the same value and the same type."""

from datetime import date, datetime, time, timedelta
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.core.changes.holds import Mark
from server.core.refusals import Message, message
from server.core.world import Difference, differences
from server.core.world.snapshot import Snapshot
from server.store.codec import decode, decode_differences, encode, encode_differences
from tests.store.worlds import everything

PLAIN = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False)
    | st.text()
    | st.fractions()
    | st.dates()
    | st.datetimes().map(lambda at: at.replace(fold=0))
    | st.times().map(lambda at: at.replace(fold=0))
    | st.timedeltas()
)
VALUES = st.recursive(
    PLAIN,
    lambda inner: (
        st.lists(inner).map(tuple)
        | st.builds(Message, st.text(), st.dictionaries(st.text(), inner, max_size=3))
    ),
    max_leaves=10,
)


def same(one: Any, other: Any) -> bool:
    """Equal, and of the same types all the way down: 1 is not True, a date is not a datetime."""
    return (one, repr(one)) == (other, repr(other)) or (
        isinstance(one, Message)
        and (one.id, type(other)) == (other.id, Message)
        and one.values.keys() == other.values.keys()
        and all(same(one.values[key], other.values[key]) for key in one.values)
    )


@given(PLAIN)
def test_a_value_comes_back_with_its_type(value: Any) -> None:
    assert same(decode(encode(value)), value)


@given(VALUES)
def test_nested_messages_and_tuples_come_back(value: Any) -> None:
    assert decode(encode(value)) == value


def test_a_message_in_a_message_comes_back() -> None:
    inner = message("hold.part", no=3, high=Fraction(577, 16))
    said = message(
        "log.released", parts=(inner, inner), at=datetime(2025, 12, 3, 10, 52), none=None
    )
    assert decode(encode(said)) == said


def test_moments_days_and_clocks_are_told_apart() -> None:
    values = (datetime(2025, 12, 3), date(2025, 12, 3), time(7), timedelta(hours=36))
    assert [type(value) for value in decode(encode(values))] == [datetime, date, time, timedelta]


def test_every_row_of_a_world_comes_back() -> None:
    world = everything(5)
    found = tuple(differences(Snapshot(), world))
    assert decode_differences(encode_differences(found)) == found
    gone = tuple(Difference(d.after, None) for d in found)
    assert decode_differences(encode_differences(gone)) == gone


def test_the_same_command_has_the_same_text_whatever_the_order_of_its_numbers() -> None:
    one = Mark(id="a", hold_id="h", numbers={"x": "36 1/16", "y": "36"})
    other = Mark(id="a", hold_id="h", numbers={"y": "36", "x": "36 1/16"})
    assert encode(one) == encode(other)
    assert encode(one) != encode(Mark(id="a", hold_id="h", numbers={"x": "36", "y": "36"}))


def test_a_value_of_another_type_is_refused() -> None:
    with pytest.raises(TypeError):
        encode(object())


def test_a_fact_that_a_noun_has_no_more_is_left_out_of_what_an_old_log_says() -> None:
    found = tuple(differences(Snapshot(), everything()))
    old = encode_differences(found).replace('"order":', '"parts_of_old":[],"order":')
    assert decode_differences(old) == found
