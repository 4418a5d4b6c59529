"""What every screen does: the origin rule, the policy, kept pages, forms that lose nothing."""

import pytest
from bs4 import BeautifulSoup

from server.core.refusals import Refusal
from server.pages.kit.forms import Form, read_span
from server.pages.sign_in.context import inside
from server.people.sign_in import sign_in
from server.resource import resource
from server.store import Store, Unavailable
from tests.pages.at_the_wall import TestClient, Wall

PAGE = "/d/garden-stair-rail"


def test_a_change_from_another_site_is_refused(wall: Wall) -> None:
    for headers in (
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
        {"Origin": "https://elsewhere.example"},
        {},
    ):
        answer = wall.client.post("/sign-in", data={"login": "x"}, headers=headers)
        assert answer.status_code == 403


def test_a_change_with_our_own_origin_is_taken(wall: Wall) -> None:
    answer = wall.client.post(
        "/sign-in", data={"login": "x"}, headers={"Origin": wall.settings.base_url}
    )
    assert answer.status_code == 422


def test_a_host_that_is_not_ours_is_refused(wall: Wall) -> None:
    assert wall.client.get("/sign-in", headers={"Host": "elsewhere.example"}).status_code == 421


def test_every_answer_carries_the_policy(wall: Wall) -> None:
    for path in ("/sign-in", "/nothing-here", "/healthz"):
        headers = wall.client.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "no-referrer"


def test_no_page_has_script_or_style_of_its_own(wall: Wall) -> None:
    for person, path in (("Rufus Orme", "/"), ("Rufus Orme", PAGE), ("Rufus Orme", "/people")):
        page = wall.browser(person).get(path)
        assert not page.select("[style], style")
        assert all(script.get("src") for script in page.select("script"))
        assert not [
            name for tag in page.find_all(True) for name in tag.attrs if name.startswith("on")
        ]


def test_nobody_is_led_to_the_sign_in_page_and_back(wall: Wall) -> None:
    answer = wall.client.get(PAGE, follow_redirects=False)
    assert answer.headers["location"] == "/sign-in?then=%2Fd%2Fgarden-stair-rail"


@pytest.mark.parametrize(
    ("asked", "leads"),
    [("/d/x", "/d/x"), ("//elsewhere", "/"), ("https://elsewhere", "/"), ("/\\x", "/")],
)
def test_the_way_back_stays_inside(asked: str, leads: str) -> None:
    assert inside(asked) == leads


def test_an_unchanged_page_is_answered_304_and_a_changed_one_is_not(wall: Wall) -> None:
    client = wall.browser("Rufus Orme").client
    first = client.get(PAGE)
    assert first.headers["cache-control"] == "private, no-cache"
    tag = {"If-None-Match": first.headers["etag"]}
    assert client.get(PAGE, headers=tag).status_code == 304
    wall.browser("Rufus Orme").post(
        "/people", {"name": "Ida Brandt", "role": "rep", "key": "a-key-of-this-test"}
    )
    assert client.get(PAGE, headers=tag).status_code == 200


def test_a_kept_page_says_who_is_looking_and_gives_each_sending_its_own_key(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    one, two = browser.get("/"), browser.get("/")
    assert "Rufus Orme" in one.select_one("form.person").text  # type: ignore[union-attr]
    keys = [tag["value"] for page in (one, two) for tag in page.select('input[name="key"]')]
    assert len(set(keys)) == len(keys)


def test_a_form_sent_twice_is_taken_once(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    fields = {"name": "Ida Brandt", "role": "rep", "key": "a-key-of-this-test"}
    before = len(wall.snapshot().people)
    browser.post("/people", fields)
    browser.post("/people", fields)
    assert len(wall.snapshot().people) == before + 1
    assert "Already sent" in browser.get("/people").text


def test_the_same_key_with_other_content_is_refused(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    browser.post("/people", {"name": "Ida Brandt", "role": "rep", "key": "one-key"})
    answer = browser.post("/people", {"name": "Eva Brandt", "role": "rep", "key": "one-key"})
    assert answer.status_code == 409
    assert "Eva Brandt" in answer.text


def test_a_refused_form_keeps_what_was_typed_and_says_why_beside_the_field(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    answer = browser.post(
        "/people", {"name": "Ida <b>Brandt</b>", "role": "crew", "phone": "abc", "key": "one-key"}
    )
    assert answer.status_code == 422
    page = BeautifulSoup(answer.text, "html.parser")
    assert page.select_one("#name")["value"] == "Ida <b>Brandt</b>"  # type: ignore[index]
    assert page.select(".err, .errors")


def test_a_large_body_is_refused(wall: Wall) -> None:
    headers = {"Sec-Fetch-Site": "same-origin"}
    body = {"login": "x" * (wall.settings.body_limit_bytes + 1)}
    assert wall.client.post("/sign-in", data=body, headers=headers).status_code == 413


@pytest.mark.parametrize(
    ("typed", "minutes"),
    [
        ("2 h", 120),
        ("1/2 d", 240),
        ("1 1/2 days", 720),
        ("½ d", 240),
        ("30 min", 30),
        ("1 w", 2400),
    ],
)
def test_a_span_is_read_as_trade_people_write_it(typed: str, minutes: int) -> None:
    assert read_span(typed, "takes") == minutes


@pytest.mark.parametrize("typed", ["", "3", "1/0 d", "two days", "1e9 d", "-1 d"])
def test_what_is_not_a_span_is_refused(typed: str) -> None:
    with pytest.raises(Refusal):
        read_span(typed, "takes")


def test_all_wrong_fields_are_told_together() -> None:
    form = Form({"takes": ("soon",), "start": ("2025-02-30",), "parts": ("many",)})
    form.minutes("takes")
    form.moment("start")
    form.whole("parts")
    assert {refusal.field for refusal in form.all_refusals} == {"takes", "start", "parts"}
    with pytest.raises(Refusal):
        form.check()


def test_a_page_made_before_a_change_is_not_kept_as_the_page_after_it(wall: Wall) -> None:
    store, seen = of_app(wall), wall.snapshot()
    browser = wall.browser("Rufus Orme")
    read = store.snapshot
    # The change lands between the reading of the snapshot and the keeping of the page.
    store.snapshot = lambda project_id: seen  # type: ignore[method-assign]
    wall.browser("Rufus Orme").post("/people", {"name": "Ida", "role": "rep", "key": "one-key"})
    old = browser.client.get(PAGE).headers["etag"]
    store.snapshot = read  # type: ignore[method-assign]
    assert browser.client.get(PAGE).headers["etag"] != old


def test_a_language_without_words_is_said_in_english(wall: Wall) -> None:
    browser = wall.browser("Ore Street Metal lead")
    assert browser.post("/me/ways", {"language": "es", "key": "one-key"}).status_code == 303
    assert "Nothing under way." in browser.get("/me").text


def test_a_forged_flash_breaks_nothing(wall: Wall) -> None:
    client = wall.browser("Rufus Orme").client
    for value in ("%5B%22web.already_sent%22%2C%7B%7D%5D", "%5B%5D", "null", "%7B", "%5B1%2C2%5D"):
        answer = client.get("/people", headers={"Cookie": f"{cookies(client)}; flash={value}"})
        assert answer.status_code == 200


def of_app(wall: Wall) -> Store:
    """The store that the application has open."""
    store: Store = wall.client.app.state.web.store  # type: ignore[attr-defined]
    return store


def cookies(client: TestClient) -> str:
    return "; ".join(f"{name}={value}" for name, value in client.cookies.items())


def test_the_page_of_a_mistake_of_ours_carries_the_policy_too(wall: Wall) -> None:
    def broken(project_id: str) -> None:
        raise RuntimeError("a mistake of ours")

    of_app(wall).snapshot = broken  # type: ignore[method-assign, assignment]
    browser = wall.browser("Rufus Orme")
    client = TestClient(
        browser.client.app,
        base_url=wall.settings.base_url,
        cookies=browser.client.cookies,
        raise_server_exceptions=False,
    )
    answer = client.get(PAGE)
    assert answer.status_code == 500
    assert "default-src 'none'" in answer.headers["content-security-policy"]


def test_only_a_check_takes_a_body_as_large_as_photos(wall: Wall) -> None:
    headers = {"Sec-Fetch-Site": "same-origin"}
    large = {"file": ("x", b"x" * (wall.settings.body_limit_bytes + 1))}
    assert wall.client.post("/sign-in", files=large, headers=headers).status_code == 413


def test_what_was_typed_is_offered_again_when_the_database_is_away(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    page = browser.get("/people")

    def away(*args: object, **kwargs: object) -> None:
        raise Unavailable("store.unavailable")

    of_app(wall).apply = away  # type: ignore[method-assign, assignment]
    of_app(wall).company_snapshot = away  # type: ignore[method-assign, assignment]
    answer = browser.send(page, "/people", {"name": "Ida <i>", "role": "rep"})
    assert answer.status_code == 503
    again = BeautifulSoup(answer.text, "html.parser")
    form = again.select_one('main form[action="/people"]')
    assert form is not None
    assert form.select_one('input[name="name"]')["value"] == "Ida <i>"  # type: ignore[index]
    assert form.select_one('input[name="key"]') is not None


def test_the_way_back_keeps_its_question(wall: Wall) -> None:
    answer = wall.client.get("/d/x/visit?activity=y", follow_redirects=False)
    assert answer.headers["location"].endswith("then=%2Fd%2Fx%2Fvisit%3Factivity%3Dy")


def test_a_super_added_by_another_can_be_given_a_password(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    browser.post("/people", {"name": "Ida Brandt", "role": "super", "key": "one-key"})
    ida = next(p for p in wall.snapshot().people.values() if p.name == "Ida Brandt")
    action = f"/people/{ida.id}/password"
    short = browser.send(browser.get("/people"), action, {"login": "ida", "password": "short"})
    assert short.status_code == 422
    assert "short" not in short.text.partition("<main")[2].replace("shorter", "")
    typed = {"login": "ida", "password": "eight treads down"}
    assert browser.send(browser.get("/people"), action, typed).status_code == 303
    assert sign_in(wall.store, "ida", "eight treads down", "127.0.0.1")


def test_a_super_signs_in_and_gets_no_link(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    answer = browser.post("/people/rufus-orme/link", {"project": "quarry-road"})
    assert answer.status_code == 422
    assert "/l/" not in answer.text


def test_a_press_by_htmx_that_is_refused_as_a_whole_shows_the_page_of_it(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    fields = {"note": "gone", "mend": "0", "back": "/", "key": "one-key"}
    answer = browser.post("/p/quarry-road/mend", fields, **{"HX-Request": "true"})
    assert (answer.status_code, answer.headers["hx-retarget"]) == (422, "body")
    assert "That note is not there any more" in answer.text
    assert browser.post("/p/quarry-road/mend", {**fields, "key": "two"}).status_code == 422


def test_every_form_that_changes_something_can_be_pressed_by_htmx() -> None:
    left = [
        (path.name, form["action"])
        for path in sorted(resource("templates").rglob("*.html"))
        for form in BeautifulSoup(path.read_text(), "html.parser").select('form[method="post"]')
        if form.get("hx-post") is None and path.parent.name not in ("sign_in", "errors")
    ]
    # Signing out ends the page as well; a browser's own way is the right one.
    assert left == [("_person.html", "/sign-out")]
