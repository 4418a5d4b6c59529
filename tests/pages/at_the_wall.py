"""The garden stair rail on Dec 3, served: seven stand-offs set, a check before the board.

wall = Wall.served(tmp_path, garden_rail())
ore = wall.browser("Ore Street Metal lead")
ore.get("/h/height-check")
"""

import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from io import BytesIO
from pathlib import Path

from bs4 import BeautifulSoup, Tag
from httpx import Response
from PIL import Image

from server.app import create_app
from server.core.world import TABLES, Agreed, Company, Sheet, Snapshot
from server.people.secret import hash_of, new_secret
from server.settings import Settings
from server.store import Store, accounts, open_store
from server.store.clock import utc_now
from tests.worlds import CLOCK_DAY, DAY, HOUR, PROJECT, World, a_project, on

with warnings.catch_warnings():
    # It asks for another package than httpx, which the tests of everything else use.
    warnings.simplefilter("ignore")
    from starlette.testclient import TestClient

NOW = on("Dec 3 10:52")
CHECK = "/h/height-check"
WITHIN = ("36 1/16", "36", "36", "35 15/16", "36", "36.06", "36 1/8")
THIRD_HIGH = (*WITHIN[:2], "36 3/16", *WITHIN[3:])


def garden_rail() -> World:
    """Stand-offs set this morning; their height is to be checked before board comes tomorrow."""
    world = (
        a_project(datetime(2025, 11, 10, 7))
        .with_changed("Rufus Orme", phone="555 0100", title="super")
        .with_changed("Tallow Creek", frozen_at=NOW)
        .with_crew("Thimble Hill Framing", phone="555 0110")
        .with_crew("Ore Street Metal", trade="metal", phone="555 0120")
        .with_crew("Ninepail Plaster", trade="plaster", phone="555 0130")
        .with_person("Lou Vance", title="owner's rep")
        .with_place("Garden stair")
        .with_detail("Garden stair rail", sheet="D3")
        .with_layer("Studs and blocking", material="blocking", thickness=Fraction(11, 2))
        .with_layer("Stand-offs", material="steel", parts=7, passes_through=True, must_be_seen=True)
        .with_layer("Board", material="board", thickness=Fraction(1, 2))
        .with_layer("Base coat", material="plaster", thickness=Fraction(3, 8))
        .with_task("Blocking", 3 * HOUR, crew="Thimble Hill Framing", puts_in="Studs and blocking",
                   started=on("Nov 12"), finished=on("Nov 12 10:00"))
        .with_task("Set stand-offs", 6 * HOUR, crew="Ore Street Metal", after="Blocking",
                   puts_in="Stand-offs", started=on("Dec 2"), finished=on("Dec 3 10:20"))
        .with_check("Height", after="Set stand-offs", layers="Stand-offs",
                    what="Height of each stand-off, plumb over the nosing line",
                    datum="finished nosing line", tool="story pole", photos=1,
                    marks="Ore Street Metal", parts=7, tag="P")
    )  # fmt: skip
    for part in range(1, 8):
        world = world.with_ask(
            "Height", part=part, nominal=36, low="35 7/8", high="36 1/8",
            far_low="35 3/4", far_high="36 1/4", tag="P",
        )  # fmt: skip
    return (
        world.with_task("Hang board", 4 * HOUR, crew="Ninepail Plaster", after="Height",
                        puts_in="Board", covers=("Stand-offs", "Studs and blocking"),
                        place_id="garden-stair")
        .with_task("Base coat", DAY, crew="Ninepail Plaster", after="Hang board",
                   puts_in="Base coat")
        .with_wait("Base coat dries", 3 * CLOCK_DAY, after="Base coat")
        .with_booking("Ninepail Plaster", "Hang board", on("Dec 4"), on("Dec 4 11:00"),
                      state="coming")
        .put(
            Sheet(id="a-402", project_id=PROJECT, detail_id="garden-stair-rail", number="A-402",
                  revision="C", title="Garden stair"),
            Agreed(id="agreed", project_id=PROJECT, activity_id="base-coat-dries",
                   detail_id="garden-stair-rail", round=1, start=on("Dec 5"), finish=on("Dec 6"),
                   by_id="rufus-orme", at=on("Nov 10")),
        )
    )  # fmt: skip


def photo(color: str = "tan") -> bytes:
    """A small JPEG."""
    out = BytesIO()
    Image.new("RGB", (40, 30), color).save(out, "JPEG")
    return out.getvalue()


@dataclass(frozen=True)
class Browser:
    """Somebody's browser: signed in, sending forms as they stand on the page."""

    client: TestClient

    def get(self, path: str, **headers: str) -> BeautifulSoup:
        """A page that is there."""
        answer = self.client.get(path, headers=headers)
        assert answer.status_code == 200, (answer.status_code, answer.text[:400])
        return BeautifulSoup(answer.text, "html.parser")

    def status(self, path: str) -> int:
        """The status of a page."""
        return self.client.get(path).status_code

    def send(
        self,
        page: BeautifulSoup,
        action: str,
        typed: dict[str, str | list[str]] | None = None,
        files: list[tuple[str, tuple[str, bytes, str]]] | None = None,
        **headers: str,
    ) -> Response:
        """Sends the form with this action as the page has it, with what is typed on top."""
        form = page.select_one(f'form[action="{action}"]')
        assert form is not None, [f.get("action") for f in page.select("form")]
        fields = {**fields_of(form), **(typed or {})}
        return self.client.post(
            action,
            data=fields,
            files=files,
            headers={"Sec-Fetch-Site": "same-origin", **headers},
            follow_redirects=False,
        )

    def post(self, path: str, typed: dict[str, str], **headers: str) -> Response:
        """Sends fields that belong to no whole form."""
        sent = {"Sec-Fetch-Site": "same-origin", **headers}
        return self.client.post(path, data=typed, headers=sent, follow_redirects=False)


def fields_of(form: Tag) -> dict[str, str | list[str]]:
    """What a browser without JavaScript would send of a form nobody has touched."""
    fields: dict[str, str | list[str]] = {}
    for field in form.select("input[name], textarea[name]"):
        name, kind = str(field["name"]), field.get("type", "text")
        if kind == "file" or (kind in ("checkbox", "radio") and not field.has_attr("checked")):
            continue
        value = field.text if field.name == "textarea" else str(field.get("value", ""))
        if kind == "checkbox":
            fields.setdefault(name, [])
            ticked = fields[name]
            assert isinstance(ticked, list)
            ticked.append(value)
        else:
            fields[name] = value
    return fields


@dataclass(frozen=True)
class Wall:
    """The application over a world of its own."""

    settings: Settings
    store: Store
    client: TestClient

    @classmethod
    @contextmanager
    def served(cls, folder: Path, world: World) -> Iterator["Wall"]:
        """The world kept in a new database in this folder, and the application on it."""
        settings = Settings(data_dir=folder)
        store = open_store(settings)
        company, *nouns = nouns_of(world.snapshot())
        assert isinstance(company, Company)
        store.found_company(company, *nouns)
        with TestClient(create_app(settings), base_url=settings.base_url) as client:
            yield cls(settings, store, client)
        store.close()

    def browser(self, person: str) -> Browser:
        """A browser of a person who has signed in."""
        secret = new_secret()
        person_id = person.lower().replace(" ", "-")
        with self.store.writing() as connection:
            accounts.add_session(connection, hash_of(secret), person_id, utc_now())
        name = self.settings.cookie_name("stairhold")
        app = self.client.app
        client = TestClient(app, base_url=self.settings.base_url, cookies={name: secret})
        return Browser(client)

    def snapshot(self) -> Snapshot:
        """The project as it is kept now."""
        return self.store.snapshot(PROJECT)


def nouns_of(snapshot: Snapshot) -> list[object]:
    """Every noun, parents first."""
    return [noun for table in TABLES.values() for noun in getattr(snapshot, table).values()]
