"""Whoever looks at a page: a person with a session, and the actor they are in changes."""

from contextlib import suppress
from dataclasses import dataclass
from datetime import timedelta

from server.core.changes import Actor
from server.core.refusals import Refusal
from server.core.world import Person
from server.people.secret import hash_of
from server.store import Store, accounts
from server.store.clock import utc_now
from server.words import FALLBACK, languages

TOUCH = timedelta(hours=1)


@dataclass(frozen=True)
class Viewer:
    """A person who is signed in. `project_ids` None: whatever their role lets them see."""

    person: Person
    actor: Actor
    company_id: str
    session_hash: str
    device: str = ""
    project_ids: tuple[str, ...] | None = None

    @property
    def language(self) -> str:
        """The language their pages are in: theirs, or English where there are no words in it."""
        return self.person.language if self.person.language in languages() else FALLBACK

    def may_open(self, project_id: str) -> bool:
        """Whether the link they came by is for this project."""
        return self.project_ids is None or project_id in self.project_ids


def viewer_of(store: Store, secret: str | None) -> Viewer | None:
    """Who carries this session; None if it is unknown, ended or has been idle too long."""
    if not secret:
        return None
    hashed, now = hash_of(secret), utc_now()
    with store.reading() as connection:
        signed = accounts.find_session(connection, hashed, now)
    if signed is None:
        return None
    if now - signed.last_used > TOUCH:
        # A busy database does not keep anybody from looking.
        with suppress(Refusal), store.writing() as connection:
            accounts.touch_session(connection, hashed, now)
    person, device = signed.person, signed.device
    actor = Actor(
        person_id=person.id,
        name=person.name,
        role=person.role,
        crew_id=person.crew_id,
        confirmed=device is None or device.confirmed is not None,
    )
    return Viewer(
        person=person,
        actor=actor,
        company_id=signed.company_id,
        session_hash=hashed,
        device=device.label if device else "",
        project_ids=signed.project_ids,
    )


def sign_out(store: Store, secret: str) -> None:
    """Ends the session."""
    with store.writing() as connection:
        accounts.end_session(connection, hash_of(secret), utc_now())
