"""Plays the demo into an empty store: play(store, data_dir) -> Accounts."""

import secrets
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from seed_demo import air, altered, around, dates, figures, pushed, site, supply
from seed_demo.house import COMPANY, FOUNDED, NOW, PEOPLE, PROJECT, founding, house
from seed_demo.month import DETAILS
from seed_demo.player import Event, Player, events_of
from server.core.world import Company, Person
from server.people.links import new_link
from server.people.sign_in import set_password
from server.store import Store

BASE_URL = "http://127.0.0.1:8000"
LOGIN = "dell"


@dataclass(frozen=True)
class Accounts:
    """Who can look: the super's sign-in, a crew lead's link, an owner's rep's link."""

    login: str
    password: str
    crew_link: str
    rep_link: str


def play(store: Store, data_dir: Path) -> Accounts:
    """The firm, the house and its month; its clock stands at the demo's day from then on.

    `data_dir` is where photos are kept. The store must not hold the demo already.
    """
    play_month(store, data_dir)
    password = secrets.token_urlsafe(12)
    set_password(store, "super", LOGIN, password)
    crew, rep = (
        new_link(store, who, (PROJECT,), BASE_URL, "super") for who in ("orestreet", "wilhelmina")
    )
    return Accounts(LOGIN, password, crew, rep)


def play_month(store: Store, data_dir: Path) -> Player:
    """All of the demo but who signs in."""
    dell = PEOPLE["super"]
    store.found_company(
        Company(id=COMPANY, name="Tallow Creek Builders", frozen_at=NOW),
        Person(
            id="super",
            company_id=COMPANY,
            name=dell.name,
            role=dell.role,
            title=dell.title,
            phone=dell.phone,
        ),
    )
    player = Player(store, data_dir)
    player.at = FOUNDED
    player.give("super", *founding(), project=None)
    player.at = datetime(2025, 11, 3, 7, 0)
    player.give("super", *house(), project=None)
    events = [event for detail in DETAILS for event in events_of(detail)]
    for part in (altered, around, dates, pushed, supply, site, air, figures):
        events += part.events()
    player.play(events)
    return player


__all__ = ["Accounts", "Event", "play", "play_month"]
