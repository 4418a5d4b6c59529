"""A form that comes again: the first answer, nothing done twice."""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import cast

import pytest
from sqlalchemy import Connection, func, select, update

from server.core.changes import Actor
from server.core.changes.people import KeepPerson
from server.core.changes.places import AddFloor
from server.store import OPERATOR, AlreadyUsed, Store
from server.store.ids import ids_from, new_id
from server.store.tables import ANSWER
from tests.worlds import COMPANY, PROJECT, on

RUFUS = Actor(person_id="rufus-orme", name="Rufus Orme", role="super")
ATTIC = AddFloor(id="attic", name="Attic")


def test_the_same_form_again_gets_the_first_answer_and_when_it_was(house: Store) -> None:
    first = house.apply(RUFUS, PROJECT, ATTIC, key="k", at=on("Dec 3 10:40"))
    revisions = house.revisions(PROJECT)
    again = house.apply(RUFUS, PROJECT, ATTIC, key="k", at=on("Dec 3 11:15"))
    assert first.first_at is None
    assert (again.first_at, again.said, again.revision) == (
        on("Dec 3 10:40"),
        first.said,
        first.revision,
    )
    assert house.revisions(PROJECT) == revisions


def test_the_same_key_with_another_content_is_refused(house: Store) -> None:
    house.apply(RUFUS, PROJECT, ATTIC, key="k", at=on("Dec 3 10:40"))
    with pytest.raises(AlreadyUsed) as refused:
        house.apply(RUFUS, PROJECT, replace(ATTIC, name="Loft"), key="k")
    assert refused.value.values["at"] == on("Dec 3 10:40")


def test_the_same_content_with_another_key_is_another_form(house: Store) -> None:
    house.apply(RUFUS, PROJECT, ATTIC, key="k")
    loft = AddFloor(id="loft", name="Loft")
    assert house.apply(RUFUS, PROJECT, loft, key="other").first_at is None


def test_a_key_belongs_to_the_person_who_sent_it(house: Store) -> None:
    ines = KeepPerson(id="ines", name="Ines Halloran", role="super")
    house.apply(OPERATOR, None, ines, company_id=COMPANY)
    house.apply(RUFUS, PROJECT, ATTIC, key="k")
    hers = house.apply(
        Actor(person_id="ines", name="Ines", role="super"),
        PROJECT,
        AddFloor(id="loft", name="Loft"),
        key="k",
    )
    assert hers.first_at is None


def test_a_form_whose_content_is_given_is_known_by_it_and_not_by_what_was_made_of_it(
    house: Store,
) -> None:
    house.apply(RUFUS, PROJECT, AddFloor(id=new_id(), name="Attic"), key="k", content="name=Attic")
    made_anew = AddFloor(id=new_id(), name="Attic")
    assert house.apply(RUFUS, PROJECT, made_anew, key="k", content="name=Attic").first_at
    with pytest.raises(AlreadyUsed):
        house.apply(RUFUS, PROJECT, made_anew, key="k", content="name=Loft")


def test_a_key_is_not_for_another_project(house: Store) -> None:
    house.apply(RUFUS, PROJECT, ATTIC, key="k", content="x")
    with pytest.raises(AlreadyUsed):
        house.apply(RUFUS, None, ATTIC, company_id=COMPANY, key="k", content="x")


def test_answers_are_forgotten_after_ninety_days(house: Store) -> None:
    house.apply(RUFUS, PROJECT, ATTIC, key="old")
    house.apply(RUFUS, PROJECT, AddFloor(id="loft", name="Loft"), key="young")
    with house.writing() as connection:
        for key, days in (("old", 91), ("young", 89)):
            row = update(ANSWER).where(ANSWER.c.key == key)
            connection.execute(row.values(server_at=_earlier(connection, key, days)))
    house.apply(RUFUS, PROJECT, AddFloor(id="roof", name="Roof"), key="new")
    with house.reading() as connection:
        assert set(connection.scalars(select(ANSWER.c.key))) == {"young", "new"}
        assert connection.scalar(select(func.count()).select_from(ANSWER)) == 2


def test_ids_made_from_a_key_are_the_same_again_and_differ_from_all_others() -> None:
    ids = ids_from("rufus", "k1")
    first = [next(ids) for _ in range(3)]
    again = ids_from("rufus", "k1")
    assert [next(again) for _ in range(3)] == first
    assert len({*first, next(ids_from("rufus", "k2")), next(ids_from("ruf", "usk1"))}) == 5


def _earlier(connection: Connection, key: str, days: int) -> datetime:
    now = connection.execute(select(ANSWER.c.server_at).where(ANSWER.c.key == key)).scalar_one()
    return cast(datetime, now) - timedelta(days=days)
