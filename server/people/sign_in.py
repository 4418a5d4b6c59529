"""Signing in with a name and a password, slower after each failure."""

from datetime import datetime, timedelta

from server.core.refusals import Refusal
from server.people.secret import hash_of, hash_password, is_password, new_secret
from server.store import Store, accounts
from server.store.clock import utc_now

FREE = 4
"""Failures before anybody has to wait."""
LONGEST = timedelta(minutes=15)
SHORTEST_PASSWORD = 10
LONGEST_NAME = 200


class WrongPassword(Refusal):
    """The name or the password is not right; it is not said which."""


class TooSoon(Refusal):
    """Too many failures for this name or from this address: wait."""


class WeakPassword(Refusal):
    """Too short to be a password."""


def sign_in(store: Store, login: str, password: str, address: str) -> str:
    """The secret of a new session, or `WrongPassword`, `TooSoon`.

    Failures are counted in the database, per name and per address, so that another process or
    another name does not start the count anew. A try counts as a failure before the password is
    looked at, so that tries at the same time do not slip past the wait; one that waits is not
    counted.
    """
    name, now = login.strip().lower(), utc_now()
    if len(name) > LONGEST_NAME or "\0" in name:
        name = ""
    with store.writing() as connection:
        _not_too_soon(accounts.count_try(connection, "account", name, now), now)
        _not_too_soon(accounts.count_try(connection, "address", address, now), now)
        credential = accounts.credential(connection, name)
    if not is_password(credential.password_hash if credential else None, password):
        raise WrongPassword("people.wrong_password", field="password")
    assert credential is not None
    secret = new_secret()
    with store.writing() as connection:
        accounts.forget_failures(connection, "account", name)
        accounts.forget_failures(connection, "address", address)
        accounts.add_session(connection, hash_of(secret), credential.person_id, now)
    return secret


def set_password(store: Store, person_id: str, login: str, password: str) -> None:
    """Lets a person sign in with this name and password."""
    if len(password) < SHORTEST_PASSWORD:
        raise WeakPassword("people.weak_password", field="password", least=SHORTEST_PASSWORD)
    kept = hash_password(password)
    with store.writing() as connection:
        accounts.set_credential(connection, person_id, login, kept, utc_now())


def wait_after(failures: int) -> timedelta:
    """How long the next try has to wait: doubling from two seconds, at most a quarter hour."""
    if failures < FREE:
        return timedelta(0)
    return min(timedelta(seconds=2 ** min(failures - FREE + 1, 12)), LONGEST)


def _not_too_soon(failures: accounts.Failures, now: datetime) -> None:
    wait = wait_after(failures.count)
    if failures.last is None or not wait:
        return
    left = failures.last + wait - now
    if left > timedelta(0):
        raise TooSoon("people.too_soon", field="password", seconds=int(left.total_seconds()) + 1)
