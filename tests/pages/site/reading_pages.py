"""What stands on a page, as one line."""

from bs4 import BeautifulSoup, Tag


def said(part: BeautifulSoup | Tag | None) -> str:
    """The text of a part of a page, or of its main part, with single spaces."""
    assert part is not None
    whole = part.select_one("main") or part
    return " ".join(whole.get_text(" ").split())
