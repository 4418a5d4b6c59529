"""Personal links: looking at one changes nothing, a press takes it, the first phone binds it."""

import pytest

from server.app import create_app
from server.people.accounts import (
    UnknownPerson,
    confirm_device,
    end_link,
    end_person,
    find_person,
    give_link,
)
from server.people.links import LinkEnded, open_link, take_link
from server.people.viewer import Viewer, viewer_of
from server.settings import Settings
from server.store import OPERATOR, accounts
from tests.pages.at_the_wall import TestClient, Wall
from tests.worlds import COMPANY, PROJECT, actor


@pytest.fixture
def secret(wall: Wall) -> str:
    """A link of Ore Street's lead."""
    person = wall.snapshot().people["ore-street-metal-lead"]
    return give_link(wall.store, person, (PROJECT,), wall.settings.base_url).rpartition("/")[2]


def taken(wall: Wall, secret: str, device: str | None = None) -> tuple[Viewer, str]:
    session, device_id = take_link(wall.store, secret, "iPhone", device)
    viewer = viewer_of(wall.store, session)
    assert viewer is not None
    return viewer, device_id


def links(wall: Wall) -> tuple[accounts.Link, ...]:
    with wall.store.reading() as connection:
        return accounts.links_of(connection, "ore-street-metal-lead")


def devices(wall: Wall) -> tuple[accounts.Device, ...]:
    with wall.store.reading() as connection:
        return accounts.devices_of(connection, "ore-street-metal-lead")


def test_opening_a_link_says_whose_it_is_and_binds_no_phone(wall: Wall, secret: str) -> None:
    page = wall.client.get(f"/l/{secret}")
    assert "Ore Street Metal lead" in page.text
    assert "set-cookie" not in page.headers
    assert devices(wall) == ()


def test_the_press_signs_in_the_first_phone(wall: Wall, secret: str) -> None:
    answer = wall.client.post(
        f"/l/{secret}", headers={"Sec-Fetch-Site": "same-origin"}, follow_redirects=False
    )
    assert (answer.status_code, answer.headers["location"]) == (303, "/me")
    cookies = answer.headers.get_list("set-cookie")
    assert all("HttpOnly" in cookie and "SameSite=lax" in cookie for cookie in cookies)
    assert len(devices(wall)) == 1


def test_the_first_phone_may_press_and_another_may_only_look(wall: Wall, secret: str) -> None:
    first, device = taken(wall, secret)
    second, _ = taken(wall, secret)
    again, _ = taken(wall, secret, device)
    confirmed = [viewer.actor.confirmed for viewer in (first, second, again)]
    assert confirmed == [True, False, True]


def test_another_phone_may_press_once_the_super_says_that_is_them(wall: Wall, secret: str) -> None:
    taken(wall, secret)
    _, phone = taken(wall, secret)
    waiting = next(device for device in devices(wall) if device.confirmed is None)
    confirm_device(wall.store, waiting.id, actor(wall.snapshot()))
    assert taken(wall, secret, phone)[0].actor.confirmed


def test_an_ended_link_opens_nothing_and_ends_its_sessions(wall: Wall, secret: str) -> None:
    session, _ = take_link(wall.store, secret, "iPhone", None)
    end_link(wall.store, links(wall)[0].id)
    assert viewer_of(wall.store, session) is None
    with pytest.raises(LinkEnded):
        open_link(wall.store, secret)


def test_an_ended_person_is_out_at_once(wall: Wall, secret: str) -> None:
    session, _ = take_link(wall.store, secret, "iPhone", None)
    end_person(wall.store, find_person(wall.store, COMPANY, "Ore Street Metal lead"), OPERATOR)
    assert viewer_of(wall.store, session) is None
    with pytest.raises(LinkEnded):
        open_link(wall.store, secret)


def test_a_made_up_link_is_told_like_an_ended_one(wall: Wall) -> None:
    answer = wall.client.get("/l/not-a-link-of-ours")
    assert answer.status_code == 404
    assert "does not work" in answer.text


def test_the_link_itself_is_not_kept(wall: Wall, secret: str) -> None:
    kept = b"".join(f.read_bytes() for f in wall.settings.data_dir.glob("stairhold.db*"))
    assert secret.encode() not in kept


def test_a_person_is_found_by_name_and_a_stranger_is_not(wall: Wall) -> None:
    assert find_person(wall.store, COMPANY, "rufus orme").id == "rufus-orme"
    with pytest.raises(UnknownPerson):
        find_person(wall.store, COMPANY, "Somebody Else")


def test_what_the_people_page_shows_of_a_phone_does_not_open_its_door(
    wall: Wall, secret: str
) -> None:
    taken(wall, secret)
    shown = devices(wall)[0].id
    assert not taken(wall, secret, shown)[0].actor.confirmed


def test_a_demo_is_refused_elsewhere_before_a_link_binds_a_phone(wall: Wall, secret: str) -> None:
    session, _ = take_link(wall.store, secret, "phone", None)
    elsewhere = Settings(data_dir=wall.settings.data_dir, base_url="https://stairs.example")
    with TestClient(create_app(elsewhere), base_url=elsewhere.base_url) as client:
        headers = {"Sec-Fetch-Site": "same-origin"}
        before = len(devices(wall))
        assert "This is a demo" in client.post(f"/l/{secret}", headers=headers).text
        assert len(devices(wall)) == before
        client.cookies.set(elsewhere.cookie_name("stairhold"), session)
        assert "This is a demo" in client.get("/me").text
