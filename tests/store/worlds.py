"""Worlds for the store's tests: one of everything, in random values that a rule need not like."""

import random
import types
import typing
from dataclasses import fields, replace
from datetime import date, datetime, timedelta
from fractions import Fraction
from typing import Any

from server.core.world import TABLES, Noun, Project, Snapshot
from server.store import Store
from server.store.tables import NOUNS
from tests.worlds import a_project

CHOICES: dict[str, tuple[str, ...]] = {
    "role": ("super", "crew", "rep"),
    "units": ("in", "mm"),
    "kind": ("task", "wait", "hold", "delivery", "decision"),
    "edge": ("", "opens", "closes"),
    "type": ("FS", "SS", "FF", "SF"),
    "lag_on": ("clock", "work"),
    "verb": ("puts in", "covers", "opens", "needs open"),
    "temporary": ("", "sets", "strikes", "stands on"),
    "what": ("asked", "moves", "ends", "breaks", "work"),
    "time_zone": ("America/Chicago", "America/Denver"),
}
STATES = {
    "attempt": ("marked", "released", "look again", "rejected", "opened again"),
    "booking": ("asked", "coming", "can't come"),
}
WORDS = ("36 1/16", "riser № 3", "Müller & Søn", "階段", "", 'it\'s "so"', "a\nb", "🪚")


def nouns_of(snapshot: Snapshot) -> list[Noun]:
    """Every noun of a snapshot, in table order."""
    return [noun for name in TABLES.values() for noun in getattr(snapshot, name).values()]


def everything(seed: int = 1, each: int = 3, prefix: str = "") -> Snapshot:
    """A company and a project with `each` of every other noun, all fields filled at random.

    Every reference leads to a row that is there.
    """
    dice = random.Random(seed)
    snapshot = Snapshot()
    ids = {
        NOUNS[noun].name: [f"{prefix}{NOUNS[noun].name}{n}" for n in range(_count(noun, each))]
        for noun in TABLES
    }
    for noun in TABLES:
        for number, id in enumerate(ids[NOUNS[noun].name]):
            made = noun(**_fields(noun, ids, dice))
            snapshot = snapshot.put(replace(made, id=id, **_unique(noun, ids, number)))
    return snapshot


def _count(noun: type[Noun], each: int) -> int:
    return 1 if TABLES[noun] in ("companies", "projects") else each


def _unique(noun: type[Noun], ids: dict[str, list[str]], number: int) -> dict[str, Any]:
    match TABLES[noun]:
        case "holds":  # one check per activity
            return {"activity_id": ids["activity"][number]}
        case "attempts":  # one first attempt per check
            return {"no": number}
        case "finishes":  # one finish of a detail per day
            return {"day": date(2025, 12, 1) + timedelta(days=number)}
    return {}


def _fields(noun: type[Noun], ids: dict[str, list[str]], dice: random.Random) -> dict[str, Any]:
    hints = typing.get_type_hints(noun)
    references = {
        tuple(key.columns)[-1].name: key.referred_table.name
        for key in NOUNS[noun].foreign_key_constraints
    }
    values: dict[str, Any] = {}
    for field in fields(noun):
        if field.name in references:
            values[field.name] = dice.choice(ids[references[field.name]])
        elif field.name == "state":
            values[field.name] = dice.choice(STATES[NOUNS[noun].name])
        elif field.name in CHOICES and NOUNS[noun].name != "temporary":
            values[field.name] = dice.choice(CHOICES[field.name])
        else:
            values[field.name] = _value(hints[field.name], dice)
        if isinstance(hints[field.name], types.UnionType) and dice.random() < 0.3:
            values[field.name] = None
    if "company_id" in values:
        values["company_id"] = ids["company"][0]
    if "project_id" in values:
        values["project_id"] = ids["project"][0]
    return values


def _value(hint: Any, dice: random.Random) -> Any:
    if isinstance(hint, types.UnionType):
        hint = typing.get_args(hint)[0]
    if typing.get_origin(hint) is tuple:
        return tuple(_value(typing.get_args(hint)[0], dice) for _ in range(dice.randrange(4)))
    moment = datetime(2025, 12, 1, 7) + timedelta(minutes=dice.randrange(100_000))
    return {
        str: dice.choice(WORDS) + str(dice.randrange(1000)),
        int: dice.randrange(-5, 100_000),
        bool: dice.random() < 0.5,
        Fraction: Fraction(dice.randrange(-999, 9999), 16),
        datetime: moment.replace(microsecond=dice.choice((0, 250_000))),
        date: moment.date(),
    }[hint]


def kept(store: Store, world: Snapshot) -> Store:
    """The store with this world in it."""
    store.found_company(world.company, *nouns_of(world)[1:])
    return store


def another_company(store: Store) -> Project:
    """A second company with a super ("ada") and a project of its own ("other-house")."""
    here = a_project().snapshot()
    company = replace(here.company, id="other", name="Other Builders")
    calendar = replace(here.calendars["site"], id="other-site", company_id="other")
    ada = replace(here.people["rufus-orme"], id="ada", company_id="other", name="Ada")
    project = replace(here.project, id="other-house", company_id="other", calendar_id="other-site")
    store.found_company(company, calendar, ada, project)
    return project
