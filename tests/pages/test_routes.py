"""Every route x super, crew, rep, another company's super, nobody; an unknown route fails."""

from collections.abc import Iterator
from typing import Any, Literal

import pytest

from server.app import SCREENS
from server.core.changes.kept_figures import KeepFigure
from server.core.changes.own_limits import KeepLimits
from server.core.changes.own_patterns import KeepPattern
from server.core.world import Company, Person, WorkCalendar
from server.data.limits import text_of as limits_text
from server.data.patterns import text_of
from tests.pages.at_the_wall import Browser, Wall
from tests.worlds import COMPANY, PROJECT, WEEK, actor

Kind = Literal["public", "own", "everybody", "super", "super's thing", "photo"]
# public: nobody needs to be signed in. own: each sees their own. everybody: whoever may see the
# detail. super: of the company, no id in the path. super's thing: of one house, crew or person.

SUPER_OF_A_DETAIL = (
    "/d/{detail_id}/visit",
    "/d/{detail_id}/visit/brings",
    "/d/{detail_id}/push/{activity_id}",
    "/d/{detail_id}/cause",
    "/d/{short}/change",
    "/d/{short}/pattern",
    "/d/{short}/copy",
    "/d/{short}/figures/keep/{figure}",
    "/d/{short}/figures/{id}/take",
    "/d/{short}/figures/{id}/wait",
    "/d/{short}/figures/{id}/untie",
    "/d/{short}/figures/{id}/end",
    "/d/{short}/plan",
    "/d/{short}/plan/desk",
    "/d/{short}/plan/desk/drawn",
    "/d/{short}/plan/desk/suggest",
    "/d/{short}/plan/desk/sides",
    "/d/{short}/plan/desk/rows/new",
    "/d/{short}/plan/desk/rows/{activity_id}",
    "/d/{short}/plan/desk/layers/new",
    "/d/{short}/plan/desk/layers/{layer_id}",
    "/d/{short}/plan/undo",
    "/d/{short}/plan/redo",
    "/d/{short}/plan/new",
    "/d/{short}/plan/sides/new",
    "/d/{short}/plan/layers/new",
    "/d/{short}/plan/layers/{layer_id}",
    "/d/{short}/plan/layers/{layer_id}/over",
    "/d/{short}/plan/sides/{side_id}",
    "/d/{short}/plan/{activity_id}",
    "/d/{short}/plan/{activity_id}/end",
    "/d/{short}/plan/{activity_id}/copy",
    "/d/{short}/plan/{activity_id}/move",
    "/d/{short}/plan/{activity_id}/order",
    "/d/{short}/plan/{activity_id}/split",
    "/d/{short}/plan/{activity_id}/merge",
    "/d/{short}/plan/{activity_id}/after/new",
    "/d/{short}/plan/{activity_id}/after/{order_id}",
)
KINDS: dict[str, Kind] = {
    **dict.fromkeys(("/sign-in", "/l/{secret}", "/sign-out"), "public"),
    **dict.fromkeys(("/", "/me", "/v", "/find", "/me/ways", "/me/heard"), "own"),
    **dict.fromkeys(
        ("/d/{detail_id}", "/d/{detail_id}/a/{activity_id}", "/h/{hold_id}"), "everybody"
    ),
    **dict.fromkeys(("/figures", "/figures/{figure}", "/figures/{figure}/units"), "own"),
    "/figures/stack": "own",
    **dict.fromkeys(("/d/{short}/figures", "/d/{short}/figures/{id}"), "everybody"),
    "/d/{detail_id}/a/{activity_id}/why": "everybody",
    "/d/{detail_id}/promise": "everybody",
    "/d/{detail_id}/sheet": "everybody",
    "/d/{detail_id}/drawings": "everybody",
    "/d/{detail_id}/a/{activity_id}/{what}": "everybody",
    "/v/{activity_id}/answer": "everybody",
    "/visit/{booking_id}/answer": "everybody",
    "/visit/{booking_id}/wasted": "everybody",
    "/p/{project_id}/reading": "everybody",
    "/p/{project_id}/deliveries": "everybody",
    "/p/{project_id}/temporaries": "everybody",
    "/p/{project_id}/readings": "everybody",
    "/p/{project_id}/temporaries/{temporary_id}": "everybody",
    "/p/{project_id}/deliveries/{activity_id}": "everybody",
    **{
        f"/h/{{hold_id}}/{press}": "everybody"
        for press in (
            "mark",
            "release",
            "again",
            "reject",
            "open",
            "call",
            "judge",
            "label",
            "push",
        )
    },
    "/h/{hold_id}/photos": "everybody",
    "/h/{hold_id}/photos/{photo_id}/drop": "everybody",
    "/photo/{photo_id}": "photo",
    "/photo/{photo_id}/small": "photo",
    **dict.fromkeys(
        (
            *("/people", "/house", "/house/new", "/house/calendars/new", "/house/crews/new"),
            *("/house/patterns", "/house/patterns/new"),
            *("/house/undo", "/house/redo"),
            *("/figures/limits", "/figures/limits/new"),
        ),
        "super",
    ),
    **dict.fromkeys(SUPER_OF_A_DETAIL, "super's thing"),
    **dict.fromkeys(
        (
            "/people/{person_id}/link",
            "/people/{person_id}/password",
            "/people/{person_id}/link/{link_id}/end",
            "/people/{person_id}/phone/{device_id}",
            "/people/{person_id}/end",
            "/house/calendars/{id}",
            "/house/calendars/{id}/week",
            "/house/calendars/{id}/days",
            "/house/calendars/{id}/holidays",
            "/house/calendars/{id}/drop",
            "/house/crews/{id}/hours",
            "/house/crews/{id}",
            "/house/patterns/{id}",
            "/figures/limits/{id}",
            "/figures/limits/{id}/{limit}",
            "/house/patterns/{id}.toml",
            "/p/{short}",
            "/p/{short}/change",
            "/p/{short}/undo",
            "/p/{short}/redo",
            "/p/{short}/floors/new",
            "/p/{short}/floors/{floor_id}",
            "/p/{short}/places/{id}",
            "/p/{short}/ways/{id}",
            "/p/{short}/details/new",
            "/p/{project_id}/mend",
            "/p/{project_id}/told",
            "/p/{project_id}/days",
            "/p/{project_id}/note",
            "/p/{project_id}/heard",
            "/p/{project_id}/temporary",
            "/p/{project_id}/decisions",
            "/p/{project_id}/temporary/{temporary_id}",
            "/visit/{booking_id}/end",
            "/visit/{booking_id}/work",
        ),
        "super's thing",
    ),
}
IDS = {
    "detail_id": "garden-stair-rail",
    "hold_id": "height-check",
    "activity_id": "hang-board",
    "order_id": "height>hang-board",
    "layer_id": "board",
    "side_id": "garden-stair-rail-stair-side",
    "floor_id": "main-floor",
    "booking_id": "ninepail-plaster-1",
    "project_id": "quarry-road",
    "person_id": "ore-street-metal-lead",
    "photo_id": "no-photo",
    "link_id": "no-link",
    "device_id": "no-phone",
    "temporary_id": "no-work",
    "secret": "no-secret",
    "what": "start",
    "figure": "stairs",
    "limit": "riser",
}
QUERIES = {
    "/d/{detail_id}/visit": "?activity=hang-board",
    "/d/{short}/plan/layers/new": "?side=garden-stair-rail-stair-side",
}
KEPT = {
    "calendars": "site",
    "crews": "ore-street-metal",
    "places": "garden-stair",
    "patterns": "our-rail",
    "limits": "our-limits",
    "figures": "our-figure",
}
OURS = ("Quarry Road", "Garden stair", "Rufus Orme", "Ore Street")


def flat(router: Any) -> Iterator[tuple[str, str]]:
    for route in router.routes:
        if hasattr(route, "methods"):
            yield from ((method, route.path) for method in route.methods if method != "HEAD")
        else:
            yield from flat(route.original_router)


ROUTES = sorted({route for screen in SCREENS for route in flat(screen.routes.router)})


def address(path: str) -> str:
    """The path with the ids of the garden stair rail in it."""
    ids = dict(IDS)
    ids["short"] = "garden-stair-rail" if path.startswith("/d/") else "quarry-road"
    of_what = path.rpartition("/{id}")[0].rpartition("/")[2]
    ids["id"] = KEPT.get(of_what, "new")
    return path.format(**ids)


def answered(browser: Browser, method: str, path: str) -> Any:
    headers = {"Sec-Fetch-Site": "same-origin"}
    query = QUERIES.get(path, "")
    return browser.client.request(
        method, address(path) + query, headers=headers, follow_redirects=False
    )


@pytest.fixture
def wall(wall: Wall) -> Wall:
    """The garden stair rail, and a pattern of the company's own."""
    text = text_of("wall-rail")
    command = KeepPattern(id="our-rail", name="Rail of Ore Street", text=text)
    wall.store.apply(actor(wall.snapshot()), None, command, company_id=COMPANY)
    limits = KeepLimits(id="our-limits", name="Limits of Ore Street", text=limits_text("irc-2021"))
    wall.store.apply(actor(wall.snapshot()), None, limits, company_id=COMPANY)
    figure = KeepFigure(id="our-figure", detail_id="garden-stair-rail", figure="standoffs",
                        name="Rail", inputs="units=in")  # fmt: skip
    wall.store.apply(actor(wall.snapshot()), PROJECT, figure)
    return wall


@pytest.fixture
def two_companies(wall: Wall) -> Wall:
    wall.store.found_company(
        Company(id="other", name="Other Builders"),
        WorkCalendar(id="other-week", company_id="other", name="Week", shifts=WEEK),
        Person(id="otto-kern", company_id="other", name="Otto Kern", role="super"),
    )
    return wall


def test_every_route_is_in_the_table_and_the_table_has_no_other() -> None:
    assert {path for _, path in ROUTES} == set(KINDS)


def test_nobody_is_led_to_sign_in_wherever_it_is_not_public(wall: Wall) -> None:
    for method, path in ROUTES:
        answer = answered(Browser(wall.client), method, path)
        if KINDS[path] == "public":
            assert answer.status_code < 500, path
        else:
            assert answer.status_code == 303, path
            assert answer.headers["location"].startswith("/sign-in"), path


def test_another_company_sees_nothing_of_this_one(two_companies: Wall) -> None:
    for method, path in ROUTES:
        if KINDS[path] == "public":
            continue
        answer = answered(two_companies.browser("Otto Kern"), method, path)
        if KINDS[path] in ("own", "super"):
            assert answer.status_code < 500, path
        else:
            assert answer.status_code == 404, (method, path, answer.status_code)
        assert not [name for name in OURS if name in answer.text], path


@pytest.mark.parametrize("person", ["Ore Street Metal lead", "Lou Vance"])
def test_what_is_the_supers_is_nobody_elses(wall: Wall, person: str) -> None:
    for method, path in ROUTES:
        if KINDS[path].startswith("super"):
            answer = answered(wall.browser(person), method, path)
            assert answer.status_code in (403, 404), (method, path, answer.status_code)


def test_the_super_gets_every_page(wall: Wall) -> None:
    for method, path in ROUTES:
        if method == "GET" and KINDS[path] not in ("public", "photo"):
            answer = answered(wall.browser("Rufus Orme"), method, path)
            away = path in ("/me", "/p/{project_id}/note")
            assert away or answer.status_code == 200, (path, answer.status_code)


@pytest.mark.parametrize("person", ["Rufus Orme", "Ore Street Metal lead", "Lou Vance"])
def test_an_empty_form_breaks_nothing(wall: Wall, person: str) -> None:
    for method, path in ROUTES:
        if method == "POST" and path != "/sign-out":
            answer = answered(wall.browser(person), method, path)
            assert answer.status_code < 500, (path, answer.status_code)
