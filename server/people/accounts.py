"""What the command line and the people page do with people: add, let in, end."""

from server.core.changes import Actor
from server.core.changes.people import EndPerson, Give, KeepPerson
from server.core.refusals import Refusal
from server.core.world import Person
from server.people.links import new_link
from server.people.sign_in import set_password
from server.store import OPERATOR, Store, accounts
from server.store.clock import utc_now
from server.store.ids import new_id

__all__ = [
    "UnknownPerson",
    "add_person",
    "confirm_device",
    "end_link",
    "end_person",
    "find_person",
    "give_link",
    "set_password",
]


class UnknownPerson(Refusal):
    """Nobody of this name or id, or more than one."""


def find_person(store: Store, company_id: str, who: str) -> Person:
    """The person with this id, email or name. Raises `UnknownPerson`."""
    people = store.company_snapshot(company_id).people.values()
    wanted = who.strip().lower()
    found = [
        p
        for p in people
        if p.ended is None and wanted in (p.id.lower(), p.email.lower(), p.name.lower())
    ]
    if len(found) != 1:
        raise UnknownPerson("people.unknown", who=who, found=len(found))
    return found[0]


def add_person(store: Store, company_id: str, person: KeepPerson, by: Actor = OPERATOR) -> str:
    """Adds somebody; the id of the new person."""
    store.apply(by, None, person, company_id=company_id)
    return person.id


def give_link(
    store: Store,
    person: Person,
    project_ids: tuple[str, ...],
    base_url: str,
    by: Actor = OPERATOR,
) -> str:
    """Lets a person look at these projects, and gives the address of a new link of theirs."""
    for project_id in project_ids:
        given = store.snapshot(project_id).given.values()
        if not any(g.person_id == person.id for g in given):
            store.apply(by, project_id, Give(id=new_id(), person_id=person.id))
    return new_link(store, person.id, project_ids, base_url, by.person_id or None)


def end_person(store: Store, person: Person, by: Actor = OPERATOR) -> None:
    """Ends a person: their links and sessions end at once."""
    store.apply(by, None, EndPerson(person_id=person.id), company_id=person.company_id)


def end_link(store: Store, link_id: str) -> None:
    """Ends a link and every session that came by it."""
    with store.writing() as connection:
        accounts.end_link(connection, link_id, utc_now())


def confirm_device(store: Store, device_id: str, by: Actor) -> None:
    """Says of a phone: that is them."""
    with store.writing() as connection:
        accounts.confirm_device(connection, device_id, by.person_id, utc_now())
