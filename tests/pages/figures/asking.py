"""The pages of figures asked as a browser asks them, and what they answer."""

from urllib.parse import urlencode

from bs4 import BeautifulSoup

from tests.pages.at_the_wall import Browser

HTMX = {"HX-Request": "true"}


def asked(
    browser: Browser, figure: str, status: int = 200, /, *, htmx: bool = False, **typed: str
) -> BeautifulSoup:
    """The page of a figure with these fields typed."""
    path = f"/figures/{figure}" + (f"?{urlencode(typed)}" if typed else "")
    answer = browser.client.get(path, headers=HTMX if htmx else {})
    assert answer.status_code == status, (answer.status_code, answer.text[:400])
    return BeautifulSoup(answer.text, "html.parser")


def answers(page: BeautifulSoup) -> dict[str, str]:
    """The numbers that were asked for: what each is, and what stands large."""
    return {
        said(one.select_one("dt")): said(one.select_one("b")) for one in page.select(".answer div")
    }


def notes(page: BeautifulSoup) -> str:
    """All sentences about this very result."""
    return " ".join(said(one) for one in page.select(".note"))


def wrong(page: BeautifulSoup) -> dict[str, str]:
    """The sentence beside each field that is not taken."""
    found = page.select("form .err")
    return {str(one["id"]).removesuffix("-e"): said(one) for one in found if said(one)}


def beyond(page: BeautifulSoup) -> list[str]:
    """What is beyond a limit."""
    return [said(one.select_one("b")).partition(":")[0] for one in page.select(".held .beyond")]


def said(tag: object) -> str:
    """The words in an element, on one line."""
    return " ".join(tag.get_text().split()) if tag is not None else ""  # type: ignore[attr-defined]
