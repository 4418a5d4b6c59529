"""`stairhold people`: who may come in. The first person of a firm comes in only this way."""

import secrets
from typing import Annotated

import typer

from server.cli.opening import opened
from server.cli.problems import Problem
from server.core.changes.people import KeepPerson
from server.core.world import Company, Project
from server.data.trades import trades
from server.people import accounts
from server.store import Store
from server.store.ids import new_id

cli = typer.Typer(
    help="Add people, give them links, end them.", no_args_is_help=True, rich_markup_mode=None
)

Firm = Annotated[str, typer.Option("--company", help="The firm; needed if there are several.")]
Who = Annotated[str, typer.Argument(help="Name, email or id.")]


@cli.command()
def add(
    name: Annotated[str, typer.Argument(help="First and last name.")],
    role: Annotated[str, typer.Option(help="super (and office), crew (a crew's lead) or rep.")],
    company: Firm = "",
    email: Annotated[str, typer.Option(help="Also what a super signs in with.")] = "",
    phone: str = "",
    title: Annotated[str, typer.Option(help="As on their card: architect, inspector.")] = "",
    crew: Annotated[str, typer.Option(help="The crew that a crew's lead leads.")] = "",
    language: str = "en",
) -> None:
    """Add a person. The first one also founds the firm: give --company and --role super."""
    if role == "super" and not email:
        raise Problem("a super signs in with an email: --email ann@example.com", code=2)
    with opened() as (_, store):
        firm = _firm(store, company, may_found=role == "super")
        person = KeepPerson(
            id=new_id(),
            name=name,
            role=role,
            title=title,
            crew_id=_crew(store, firm, crew),
            phone=phone,
            email=email,
            language=language,
        )
        accounts.add_person(store, firm.id, person)
        print(f"{name} is with {firm.name} now.")
        if role == "super":
            password = secrets.token_urlsafe(12)
            accounts.set_password(store, person.id, email, password)
            print(f"Signs in as {email} with the password {password} (shown only this once).")
        else:
            print(f'A link to come in by: stairhold people link "{name}"')


@cli.command()
def link(
    who: Who,
    project: Annotated[
        list[str] | None, typer.Option(help="A house; may be given again. Not given: all.")
    ] = None,
    company: Firm = "",
) -> None:
    """Make a new personal link, shown only this once."""
    with opened() as (settings, store):
        firm = _firm(store, company)
        person = accounts.find_person(store, firm.id, who)
        houses = _houses(store, firm, project or [])
        address = accounts.give_link(
            store, person, tuple(house.id for house in houses), settings.base_url
        )
        names = ", ".join(house.name for house in houses)
        print(f"{person.name}, for {names} (shown only this once):\n{address}")


@cli.command()
def end(who: Who, company: Firm = "") -> None:
    """End a person: their links and sessions end at once."""
    with opened() as (_, store):
        person = accounts.find_person(store, _firm(store, company).id, who)
        accounts.end_person(store, person)
        print(f"{person.name} cannot come in any more.")


def _firm(store: Store, name: str, *, may_found: bool = False) -> Company:
    firms = store.companies()
    found = [firm for firm in firms if not name or name.lower() in (firm.name.lower(), firm.id)]
    if len(found) == 1:
        return found[0]
    if name and may_found and not found:
        firm = Company(id=new_id(), name=name, trades=trades())
        store.found_company(firm)
        return firm
    if not firms:
        raise Problem('there is no firm yet: add its super first, with --company "Its name"')
    names = ", ".join(firm.name for firm in firms)
    raise Problem(f"say which firm with --company: {names}", code=2)


def _crew(store: Store, firm: Company, name: str) -> str | None:
    if not name:
        return None
    crews = store.company_snapshot(firm.id).crews.values()
    found = [crew.id for crew in crews if name.lower() in (crew.name.lower(), crew.id)]
    if len(found) != 1:
        known = ", ".join(crew.name for crew in crews if crew.ended is None) or "none yet"
        raise Problem(f"{firm.name} has no crew called {name}; it has: {known}")
    return found[0]


def _houses(store: Store, firm: Company, names: list[str]) -> list[Project]:
    houses = store.projects(firm.id)
    if not houses:
        raise Problem(f"{firm.name} has no house yet; a link is for one")
    known = {house.name.lower(): house for house in houses} | {h.id: h for h in houses}
    for name in names:
        if name.lower() not in known:
            listed = ", ".join(house.name for house in houses)
            raise Problem(f"{firm.name} has no house called {name}; it has: {listed}")
    return [known[name.lower()] for name in dict.fromkeys(names)] or list(houses)
