"""Rules: crews, persons, and what each may look at."""

import re
from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Outcome, rule
from server.core.changes.inputs import (
    BadInput,
    name_of,
    new_id,
    not_taken,
    one_of,
    text_of,
    there,
    there_or_none,
    whole,
)
from server.core.changes.people import (
    ChangeOwnWays,
    EndCrew,
    EndPerson,
    Give,
    KeepCrew,
    KeepPerson,
    TakeAway,
)
from server.core.refusals import message
from server.core.rights import NotTheirs
from server.core.world import Crew, Detail, Given, Noun, Person, Snapshot, WorkCalendar

ROLES = ("super", "crew", "rep")
UNITS = ("in", "mm")
PHONE = re.compile(r"\+?[\d\s().-]{3,30}")
EMAIL = re.compile(r"[^\s@]+@[^\s@]+\.[^\s@]+")
LANGUAGE = re.compile(r"[a-z]{2,3}(-[A-Z]{2})?")
MOST_MINUTES = 60 * 24 * 60
MOST_DAYS = 60


@rule(KeepCrew)
def keep_crew(snapshot: Snapshot, actor: Actor, command: KeepCrew, at: datetime) -> Outcome:
    """A crew under a name of its own; a trade that is new joins the company's list."""
    if command.id in snapshot.crews:
        there(snapshot, Crew, command.id, "id")
    others = (c.name for c in snapshot.crews.values() if c.ended is None and c.id != command.id)
    there_or_none(snapshot, WorkCalendar, command.calendar_id, "calendar_id")
    company = snapshot.company
    crew = Crew(
        id=command.id or new_id(snapshot, Crew, command.id),
        version=snapshot.crews[command.id].version if command.id in snapshot.crews else 1,
        company_id=company.id,
        name=not_taken(name_of(command.name), others),
        trade=name_of(command.trade, "trade", 40).lower(),
        foreman=text_of(command.foreman, "foreman", 120),
        phone=_phone(command.phone),
        language=_language(command.language),
        calendar_id=command.calendar_id or None,
        can_field=whole(command.can_field, 1, 50, "can_field"),
        least_visit=whole(command.least_visit, 0, MOST_MINUTES, "least_visit"),
        notice=whole(command.notice, 0, MOST_MINUTES, "notice"),
    )
    rows: list[Noun] = [crew]
    if crew.trade not in company.trades:
        rows.append(replace(company, trades=(*company.trades, crew.trade)))
    return Outcome(snapshot.put(*rows), message("log.crew_kept", crew=crew.name))


@rule(EndCrew)
def end_crew(snapshot: Snapshot, actor: Actor, command: EndCrew, at: datetime) -> Outcome:
    """The crew and its people end; refused while work or a check that is open counts on it."""
    crew = there(snapshot, Crew, command.crew_id, "crew_id")
    counting = [
        a
        for a in snapshot.chain
        if a.finished is None
        and (
            crew.id in (a.crew_id, *a.with_crew_ids)
            or ((h := snapshot.hold_of.get(a.id)) is not None and h.marks_crew_id == crew.id)
        )
    ]
    if counting:
        raise BadInput(
            "people.crew_counted_on",
            field="crew_id",
            crew=crew.name,
            open=len(counting),
            first=counting[0].name,
        )
    people = [p for p in snapshot.people.values() if p.crew_id == crew.id and p.ended is None]
    after = snapshot.put(replace(crew, ended=at), *(replace(p, ended=at) for p in people))
    return Outcome(after, message("log.crew_ended", crew=crew.name))


@rule(KeepPerson)
def keep_person(snapshot: Snapshot, actor: Actor, command: KeepPerson, at: datetime) -> Outcome:
    """A person with a role; a crew's lead belongs to a crew, nobody else does."""
    known = there(snapshot, Person, command.id, "id") if command.id in snapshot.people else None
    role = one_of(command.role, ROLES, "role")
    crew = there_or_none(snapshot, Crew, command.crew_id, "crew_id")
    if (role == "crew") != (crew is not None):
        raise BadInput("people.lead_needs_crew" if crew is None else "people.no_crew_for_role",
                       field="crew_id")  # fmt: skip
    if known is not None and known.role == "super" != role:
        _refuse_last_super(snapshot, known, "role")
    email = text_of(command.email, "email", 200)
    if email and not EMAIL.fullmatch(email):
        raise BadInput("people.bad_email", field="email")
    person = Person(
        id=command.id or new_id(snapshot, Person, command.id),
        version=known.version if known else 1,
        company_id=snapshot.company.id,
        name=name_of(command.name),
        role=role,
        title=text_of(command.title, "title", 80),
        crew_id=crew.id if crew else None,
        phone=_phone(command.phone),
        email=email,
        language=_language(command.language),
        units=one_of(command.units, UNITS, "units"),
        answers_in=whole(command.answers_in, 0, MOST_DAYS, "answers_in"),
    )
    return Outcome(snapshot.put(person), message("log.person_kept", person=person.name))


@rule(ChangeOwnWays)
def change_own_ways(
    snapshot: Snapshot, actor: Actor, command: ChangeOwnWays, at: datetime
) -> Outcome:
    """Another language and other units on one's own pages; nobody changes somebody else's."""
    if command.person_id != actor.person_id:
        raise NotTheirs("rights.role")
    person = there(snapshot, Person, command.person_id, "person_id")
    changed = replace(
        person,
        language=_language(command.language),
        units=one_of(command.units, ("in", "mm"), "units"),
    )
    return Outcome(snapshot.put(changed), message("log.own_ways"))


@rule(EndPerson)
def end_person(snapshot: Snapshot, actor: Actor, command: EndPerson, at: datetime) -> Outcome:
    """The person ends, whatever still waits on them: a lost phone cannot wait for the plan."""
    person = there(snapshot, Person, command.person_id, "person_id")
    if person.role == "super":
        _refuse_last_super(snapshot, person, "person_id")
    return Outcome(
        snapshot.put(replace(person, ended=at)), message("log.person_ended", person=person.name)
    )


@rule(Give)
def give(snapshot: Snapshot, actor: Actor, command: Give, at: datetime) -> Outcome:
    """What a person may look at: once a person, so that giving again replaces it."""
    person = there(snapshot, Person, command.person_id, "person_id")
    for detail_id in command.detail_ids:
        there(snapshot, Detail, detail_id, "detail_ids")
    before = _given(snapshot, person.id)
    given = replace(
        before
        or Given(
            id=new_id(snapshot, Given, command.id),
            project_id=snapshot.project.id,
            person_id=person.id,
        ),
        detail_ids=tuple(dict.fromkeys(command.detail_ids)),
    )
    names = tuple(snapshot.details[id].name for id in given.detail_ids)
    if names:
        said = message("log.given_details", person=person.name, details=names)
    else:
        said = message("log.given", person=person.name)
    return Outcome(snapshot.put(given), said)


@rule(TakeAway)
def take_away(snapshot: Snapshot, actor: Actor, command: TakeAway, at: datetime) -> Outcome:
    """The project does not exist for this person any more."""
    given = _given(snapshot, command.person_id)
    if given is None:
        raise BadInput("people.nothing_given", field="person_id")
    name = snapshot.people[command.person_id].name
    return Outcome(snapshot.drop(given), message("log.taken_away", person=name))


def _given(snapshot: Snapshot, person_id: str) -> Given | None:
    return next((g for g in snapshot.given.values() if g.person_id == person_id), None)


def _refuse_last_super(snapshot: Snapshot, person: Person, field: str) -> None:
    others = (p for p in snapshot.people.values() if p.id != person.id)
    if not any(p.role == "super" and p.ended is None for p in others):
        raise BadInput("people.last_super", field=field)


def _phone(text: str) -> str:
    phone = " ".join(text.split())
    if phone and not PHONE.fullmatch(phone):
        raise BadInput("people.bad_phone", field="phone")
    return phone


def _language(text: str) -> str:
    if not LANGUAGE.fullmatch(text):
        raise BadInput("input.not_a_choice", field="language", chosen=text)
    return text
