"""Photos are shown to who may look, and only as pictures."""

import shutil
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from tests.pages.at_the_wall import CHECK, WITHIN, Wall, garden_rail, photo
from tests.pages.check.test_deciding import marked


def photo_id(wall: Wall) -> str:
    marked(wall, WITHIN)
    return next(iter(wall.snapshot().photos))


def test_a_photo_comes_as_a_picture_that_runs_nothing(wall: Wall) -> None:
    answer = wall.browser("Rufus Orme").client.get(f"/photo/{photo_id(wall)}")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "image/jpeg"
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["content-security-policy"] == "default-src 'none'; sandbox"


def test_the_small_one_is_smaller_or_as_small(wall: Wall) -> None:
    id, client = photo_id(wall), wall.browser("Rufus Orme").client
    small, whole = client.get(f"/photo/{id}/small"), client.get(f"/photo/{id}")
    assert small.headers["content-type"] == "image/jpeg"
    assert len(small.content) <= len(whole.content)


def test_who_does_not_see_the_detail_does_not_see_its_photos(wall: Wall) -> None:
    id = photo_id(wall)
    assert wall.browser("Thimble Hill Framing lead").status(f"/photo/{id}") == 200
    assert wall.client.get(f"/photo/{id}", follow_redirects=False).status_code == 303


def test_a_photo_that_is_not_there_is_not_found(wall: Wall) -> None:
    assert wall.browser("Rufus Orme").status("/photo/nothing") == 404


def test_a_draft_is_seen_by_who_took_it_alone(wall: Wall) -> None:
    ore = wall.browser("Ore Street Metal lead")
    ore.client.post(
        f"{CHECK}/photos",
        data={"key": "one"},
        files=[
            (
                "photo",
                (
                    "pole.jpg",
                    photo(),
                    "image/jpeg",
                ),
            )
        ],
        headers={"Sec-Fetch-Site": "same-origin"},
    )
    id = next(iter(wall.snapshot().photos))
    assert ore.status(f"/photo/{id}") == 200
    assert wall.browser("Rufus Orme").status(f"/photo/{id}") == 404


def test_a_photo_over_the_limit_of_this_server_is_refused_in_a_sentence(
    tmp_path: Path, migrated_sqlite: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("STAIRHOLD_PHOTO_LIMIT_PIXELS", "100")
    shutil.copy(migrated_sqlite, tmp_path)
    with Wall.served(tmp_path, garden_rail()) as wall:
        browser = wall.browser("Ore Street Metal lead")
        files = [("photo", ("wall.jpg", photo(), "image/jpeg"))]
        answer = browser.send(browser.get(CHECK), f"{CHECK}/mark", {}, files)
        assert answer.status_code == 422
        assert "pixels" in BeautifulSoup(answer.text, "html.parser").select("#photo-e")[0].text
