"""Personal links: opened, shown whose they are, taken by a press; the first phone binds them."""

from dataclasses import dataclass

from server.core.refusals import Refusal
from server.core.world import Person
from server.people.secret import hash_of, new_secret
from server.store import Store, accounts
from server.store.clock import utc_now
from server.store.ids import new_id


class LinkEnded(Refusal):
    """No such link, or it has been ended; which of the two is not said."""


@dataclass(frozen=True)
class Opened:
    """A link as it was opened: whose it is."""

    link: accounts.Link
    person: Person


def new_link(
    store: Store, person_id: str, project_ids: tuple[str, ...], base_url: str, by_id: str | None
) -> str:
    """The address of a new personal link. It is shown once: only its hash is kept."""
    secret = new_secret()
    with store.writing() as connection:
        accounts.add_link(
            connection, new_id(), hash_of(secret), person_id, project_ids, by_id, utc_now()
        )
    return f"{base_url}/l/{secret}"


def open_link(store: Store, secret: str) -> Opened:
    """Whose link this is; changes nothing. Raises `LinkEnded`."""
    with store.reading() as connection:
        link = accounts.find_link(connection, hash_of(secret))
    if link is None or link.ended is not None:
        raise LinkEnded("people.link_ended")
    person = store.company_snapshot(link.company_id).people.get(link.person_id)
    if person is None or person.ended is not None:
        raise LinkEnded("people.link_ended")
    return Opened(link, person)


def take_link(store: Store, secret: str, label: str, phone: str | None) -> tuple[str, str]:
    """The secret of a new session, and the secret that the phone is known by.

    The first phone that takes a link is its phone; another may only look until the super says
    that it is them. A phone known for this link (`phone` is its secret) keeps what it was. The id
    of a phone, which pages show, is a hash of its secret and opens nothing.
    """
    link, now, session = open_link(store, secret).link, utc_now(), new_secret()
    with store.writing() as connection:
        accounts.lock_link(connection, link.id)
        devices = [
            d for d in accounts.devices_of(connection, link.person_id) if d.link_id == link.id
        ]
        id = _phone_id(phone) if phone else ""
        if phone is None or not any(d.id == id and d.ended is None for d in devices):
            phone = new_secret()
            id = _phone_id(phone)
            confirmed = None if devices else now
            accounts.add_device(connection, id, link.person_id, link.id, label, now, confirmed)
        accounts.add_session(
            connection, hash_of(session), link.person_id, now, device_id=id, link_id=link.id
        )
    return session, phone


def _phone_id(phone: str) -> str:
    return hash_of(phone)[:24]
