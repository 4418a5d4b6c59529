"""Filling a pattern for a house: who does what, who answers, which way up, which hours."""

from collections.abc import Iterable, Mapping
from typing import TypedDict

from server.core.patterns import Pattern
from server.core.world import Snapshot
from server.pages.kit.forms import BadField, Form
from server.pages.plan.pressing import Options


class Filled(TypedDict):
    """Words of a pattern -> ids, as `AddDetailFromPattern` takes them."""

    crews: dict[str, str]
    people: dict[str, str]
    ways: dict[str, str]
    calendars: dict[str, str]


def choices(snapshot: Snapshot) -> dict[str, Options]:
    """What can be chosen for each kind of word, and the places where people stand."""
    crews = tuple((c.id, f"{c.name}, {c.trade}") for c in snapshot.crews.values() if not c.ended)
    people = tuple((p.id, p.name) for p in snapshot.people.values() if not p.ended)
    return {
        "place_id": places(snapshot),
        "crew": (("", "nobody yet"), *crews),
        "person": (("", "nobody yet"), *people),
        "way": (("", "none"), *((w.id, w.name) for w in snapshot.ways.values())),
        "hours": (("", "the crew's"), *((c.id, c.name) for c in snapshot.calendars.values())),
    }


def places(snapshot: Snapshot) -> Options:
    """The places of a house to choose from."""
    return (("", "no place yet"), *((p.id, p.name) for p in snapshot.places.values()))


def filled(form: Form, content: Pattern, snapshot: Snapshot) -> Filled:
    """Who or what was chosen for each word; one that is not there is refused at its field."""
    return Filled(
        crews=_given(form, "crew", content.trades, snapshot.crews),
        people=_given(form, "person", content.roles, snapshot.people),
        ways=_given(form, "way", content.ways, snapshot.ways),
        calendars=_given(form, "hours", content.hours, snapshot.calendars),
    )


def starts(snapshot: Snapshot, content: Pattern) -> Filled:
    """What the form of a pattern starts with: the crew of a trade, whoever has the title."""
    crew_of = {c.trade: c.id for c in snapshot.crews.values() if not c.ended}
    person_of = {p.title.lower(): p.id for p in snapshot.people.values() if not p.ended}
    return Filled(
        crews={trade: crew_of[trade] for trade in content.trades if trade in crew_of},
        people={role: person_of[role] for role in content.roles if role in person_of},
        ways=by_name(content.ways, ((w.id, w.name) for w in snapshot.ways.values())),
        calendars=by_name(content.hours, ((c.id, c.name) for c in snapshot.calendars.values())),
    )


def by_name(words: Iterable[str], known: Iterable[tuple[str, str]]) -> dict[str, str]:
    """Each word -> the id of what has that name, in whatever case."""
    ids = {name.casefold(): id for id, name in known}
    return {word: ids[word.casefold()] for word in words if word.casefold() in ids}


def _given(
    form: Form, what: str, asked: Iterable[str], known: Mapping[str, object]
) -> dict[str, str]:
    given = {}
    for number, name in enumerate(asked):
        field = f"{what}_{number}"
        id = form.typed(field)
        if id and id not in known:
            form.refuse(BadField("input.not_a_choice", field=field, chosen=id[:40]))
        elif id:
            given[name] = id
    return given
