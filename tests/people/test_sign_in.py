"""Signing in: one sentence for every mistake, slower after each, a session of its own."""

from datetime import timedelta

import pytest

from server.people.sign_in import (
    FREE,
    LONGEST,
    TooSoon,
    WeakPassword,
    WrongPassword,
    set_password,
    sign_in,
    wait_after,
)
from server.people.viewer import sign_out, viewer_of
from tests.pages.at_the_wall import Wall

PASSWORD = "seven risers up"


@pytest.fixture(autouse=True)
def password(wall: Wall) -> None:
    set_password(wall.store, "rufus-orme", "Rufus", PASSWORD)


def test_the_right_password_gives_a_session_of_that_person(wall: Wall) -> None:
    viewer = viewer_of(wall.store, sign_in(wall.store, " rufus ", PASSWORD, "127.0.0.1"))
    assert viewer is not None
    assert (viewer.person.name, viewer.actor.role) == ("Rufus Orme", "super")


def test_a_wrong_password_and_an_unknown_name_are_told_alike(wall: Wall) -> None:
    with pytest.raises(WrongPassword) as wrong:
        sign_in(wall.store, "rufus", "something else", "127.0.0.1")
    with pytest.raises(WrongPassword) as unknown:
        sign_in(wall.store, "nobody", PASSWORD, "127.0.0.1")
    assert wrong.value.message == unknown.value.message


def test_after_some_failures_even_the_right_password_waits(wall: Wall) -> None:
    for _ in range(FREE):
        with pytest.raises(WrongPassword):
            sign_in(wall.store, "rufus", "something else", "127.0.0.1")
    with pytest.raises(TooSoon):
        sign_in(wall.store, "rufus", PASSWORD, "127.0.0.2")


def test_failures_from_one_address_hold_up_other_names_from_there(wall: Wall) -> None:
    for number in range(FREE):
        with pytest.raises(WrongPassword):
            sign_in(wall.store, f"guess {number}", "something else", "127.0.0.1")
    with pytest.raises(TooSoon):
        sign_in(wall.store, "rufus", PASSWORD, "127.0.0.1")
    assert sign_in(wall.store, "rufus", PASSWORD, "127.0.0.2")


def test_the_wait_doubles_and_has_an_end() -> None:
    waits = [wait_after(failures) for failures in range(40)]
    assert waits[:FREE] == [timedelta(0)] * FREE
    assert waits[FREE + 1] == 2 * waits[FREE]
    assert waits[-1] == LONGEST


def test_a_short_password_is_refused(wall: Wall) -> None:
    with pytest.raises(WeakPassword):
        set_password(wall.store, "rufus-orme", "rufus", "short")


def test_not_you_ends_the_session(wall: Wall) -> None:
    secret = sign_in(wall.store, "rufus", PASSWORD, "127.0.0.1")
    sign_out(wall.store, secret)
    assert viewer_of(wall.store, secret) is None


def test_neither_password_nor_session_is_kept_as_it_is(wall: Wall) -> None:
    secret = sign_in(wall.store, "rufus", PASSWORD, "127.0.0.1")
    kept = b"".join(f.read_bytes() for f in wall.settings.data_dir.glob("stairhold.db*"))
    assert secret.encode() not in kept
    assert PASSWORD.encode() not in kept


def test_a_name_that_no_database_holds_is_told_like_a_wrong_one(wall: Wall) -> None:
    for name in ("x" * 5000, "rufus\0"):
        with pytest.raises(WrongPassword):
            sign_in(wall.store, name, PASSWORD, "127.0.0.9")
