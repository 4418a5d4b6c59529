"""What the page of people shows."""

from dataclasses import dataclass

from server.core.world import Crew, Person, Project
from server.pages.kit.forms import Form
from server.people.viewer import Viewer
from server.store import Store, accounts


@dataclass(frozen=True)
class PersonRow:
    """A person with their links and phones."""

    person: Person
    crew: str
    links: tuple[accounts.Link, ...]
    phones: tuple[accounts.Device, ...]


@dataclass(frozen=True)
class PeoplePage:
    """All people who are not ended, what a new one can be, and a link that was just made."""

    form: Form
    rows: tuple[PersonRow, ...]
    crews: tuple[Crew, ...]
    projects: tuple[Project, ...]
    link_for: str
    link: str


def people_page(
    store: Store, viewer: Viewer, form: Form, link: tuple[Person, str] | None
) -> PeoplePage:
    """The people of the viewer's company, by role and name."""
    snapshot = store.company_snapshot(viewer.company_id)
    with store.reading() as connection:
        rows = tuple(
            PersonRow(
                person=person,
                crew=snapshot.crews[person.crew_id].name if person.crew_id else "",
                links=tuple(
                    one for one in accounts.links_of(connection, person.id) if not one.ended
                ),
                phones=tuple(
                    one for one in accounts.devices_of(connection, person.id) if not one.ended
                ),
            )
            for person in sorted(
                snapshot.people.values(), key=lambda p: (p.role != "super", p.role, p.name)
            )
            if person.ended is None
        )
    return PeoplePage(
        form=form,
        rows=rows,
        crews=tuple(c for c in snapshot.crews.values() if c.ended is None),
        projects=store.projects(viewer.company_id),
        link_for=link[0].name if link else "",
        link=link[1] if link else "",
    )
