"""The rows behind sign-in: what is found again, what has ended, what is counted."""

from datetime import datetime, timedelta

import pytest

from server.core.changes.people import EndPerson
from server.store import OPERATOR, CannotKeep, Store, accounts
from tests.store.worlds import another_company
from tests.worlds import COMPANY, PROJECT, on

NOW = datetime(2025, 12, 3, 16, 52)
DAY = timedelta(days=1)


def with_a_link(store: Store) -> None:
    with store.writing() as c:
        accounts.add_link(c, "l1", "secret", "ninepail-plaster-lead", [PROJECT], "rufus-orme", NOW)
        accounts.add_device(c, "d1", "ninepail-plaster-lead", "l1", "phone", NOW, NOW)
        accounts.add_session(c, "cookie", "ninepail-plaster-lead", NOW, "d1", "l1")


def session(store: Store, now: datetime = NOW) -> accounts.Signed | None:
    with store.reading() as c:
        return accounts.find_session(c, "cookie", now)


def test_a_credential_is_found_by_its_login_in_any_case(house: Store) -> None:
    with house.writing() as c:
        accounts.set_credential(c, "rufus-orme", "Rufus@Tallow.example", "$argon2id$1", NOW)
    with house.reading() as c:
        found = accounts.credential(c, "rufus@TALLOW.example ")
        assert found == accounts.credential_of(c, "rufus-orme")
        assert accounts.credential(c, "somebody@else.example") is None
    assert found is not None
    assert (found.company_id, found.password_hash) == (COMPANY, "$argon2id$1")


def test_a_new_password_takes_the_place_of_the_old_one(house: Store) -> None:
    with house.writing() as c:
        accounts.set_credential(c, "rufus-orme", "rufus", "old", NOW)
        accounts.set_credential(c, "rufus-orme", "rufus", "new", NOW + DAY)
        found = accounts.credential(c, "rufus")
    assert found is not None
    assert (found.password_hash, found.changed) == ("new", NOW + DAY)


def test_two_persons_cannot_have_one_login(house: Store) -> None:
    with house.writing() as c:
        accounts.set_credential(c, "rufus-orme", "rufus", "x", NOW)
    with pytest.raises(CannotKeep), house.writing() as c:
        accounts.set_credential(c, "ninepail-plaster-lead", "rufus", "x", NOW)


def test_failures_are_counted_by_account_and_by_address_until_forgotten(house: Store) -> None:
    with house.writing() as c:
        assert accounts.add_failure(c, "account", "rufus", NOW) == 1
        assert accounts.add_failure(c, "account", "rufus", NOW + DAY) == 2
        assert accounts.add_failure(c, "address", "rufus", NOW) == 1
        assert accounts.failures(c, "account", "rufus") == accounts.Failures(2, NOW + DAY)
        accounts.forget_failures(c, "account", "rufus")
        assert accounts.failures(c, "account", "rufus") == accounts.Failures(0, None)
        assert accounts.failures(c, "address", "rufus").count == 1


def test_failures_of_long_ago_do_not_count(house: Store) -> None:
    with house.writing() as c:
        accounts.add_failure(c, "account", "rufus", NOW)
        assert accounts.add_failure(c, "account", "rufus", NOW + 31 * DAY) == 1


def test_a_link_is_found_by_the_hash_of_its_secret_with_its_projects(house: Store) -> None:
    with_a_link(house)
    with house.reading() as c:
        found = accounts.find_link(c, "secret")
        assert found == accounts.link(c, "l1") == accounts.links_of(c, "ninepail-plaster-lead")[0]
        assert accounts.find_link(c, "another") is None
    assert found is not None
    assert (found.person_id, found.project_ids, found.ended) == (
        "ninepail-plaster-lead",
        (PROJECT,),
        None,
    )


def test_a_link_to_another_companys_project_is_not_kept(house: Store) -> None:
    another_company(house)
    with pytest.raises(CannotKeep), house.writing() as c:
        accounts.add_link(c, "l2", "secret2", "rufus-orme", ["other-house"], None, NOW)


def test_a_session_says_who_it_is_from_which_phone_for_which_projects(house: Store) -> None:
    with_a_link(house)
    found = session(house)
    assert found is not None
    assert found.person == house.snapshot(PROJECT).people["ninepail-plaster-lead"]
    assert found.device is not None
    assert (found.company_id, found.device.id, found.project_ids) == (COMPANY, "d1", (PROJECT,))


def test_a_signed_in_session_has_no_link_and_so_no_list_of_projects(house: Store) -> None:
    with house.writing() as c:
        accounts.add_session(c, "cookie", "rufus-orme", NOW)
    found = session(house)
    assert found is not None
    assert (found.link_id, found.project_ids, found.device) == (None, None, None)


def test_a_session_ends_after_ninety_days_idle_and_not_before(house: Store) -> None:
    with_a_link(house)
    assert session(house, NOW + 90 * DAY)
    assert session(house, NOW + 90 * DAY + timedelta(seconds=1)) is None
    with house.writing() as c:
        accounts.touch_session(c, "cookie", NOW + 60 * DAY)
    assert session(house, NOW + 150 * DAY)


def test_signing_out_ends_the_session(house: Store) -> None:
    with_a_link(house)
    with house.writing() as c:
        accounts.end_session(c, "cookie", NOW)
    assert session(house) is None


def test_signing_out_everywhere_ends_all_sessions_of_the_person_alone(house: Store) -> None:
    with_a_link(house)
    with house.writing() as c:
        accounts.add_session(c, "rufus", "rufus-orme", NOW)
        accounts.end_sessions(c, "ninepail-plaster-lead", NOW)
        assert accounts.find_session(c, "cookie", NOW) is None
        assert accounts.find_session(c, "rufus", NOW)


def test_an_ended_link_ends_its_sessions_at_once(house: Store) -> None:
    with_a_link(house)
    with house.writing() as c:
        accounts.end_link(c, "l1", NOW)
        found = accounts.find_link(c, "secret")
    assert found is not None
    assert found.ended == NOW
    assert session(house) is None


def test_an_ended_phone_ends_its_sessions_at_once(house: Store) -> None:
    with_a_link(house)
    with house.writing() as c:
        accounts.end_device(c, "d1", NOW)
    assert session(house) is None


def test_an_ended_person_is_out_at_once(house: Store) -> None:
    with_a_link(house)
    person = "ninepail-plaster-lead"
    house.apply(OPERATOR, None, EndPerson(person_id=person), company_id=COMPANY, at=on("Dec 3"))
    assert session(house) is None


def test_a_second_phone_waits_until_it_is_confirmed(house: Store) -> None:
    with_a_link(house)
    with house.writing() as c:
        accounts.add_device(c, "d2", "ninepail-plaster-lead", "l1", "other", NOW + DAY, None)
        waiting = accounts.device(c, "d2")
        accounts.confirm_device(c, "d2", "rufus-orme", NOW + 2 * DAY)
        confirmed = accounts.device(c, "d2")
        newest_first = [d.id for d in accounts.devices_of(c, "ninepail-plaster-lead")]
    assert waiting is not None
    assert confirmed is not None
    assert waiting.confirmed is None
    assert (confirmed.confirmed, confirmed.confirmed_by_id) == (NOW + 2 * DAY, "rufus-orme")
    assert newest_first == ["d2", "d1"]
