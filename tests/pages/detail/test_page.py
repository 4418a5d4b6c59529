"""The page of a detail, by who looks at it."""

from tests.pages.at_the_wall import Wall

PAGE = "/d/garden-stair-rail"


def test_the_page_says_the_finish_against_what_was_promised(wall: Wall) -> None:
    head = wall.browser("Rufus Orme").get(PAGE).select_one("header.top")
    assert head is not None
    assert "later than promised" in head.text
