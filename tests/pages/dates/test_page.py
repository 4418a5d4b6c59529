"""The dates of a detail: how the finish moved and why, and what was promised."""

from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest
from bs4 import Tag

from tests.pages.at_the_wall import Browser, Wall, garden_rail
from tests.pages.dates.conftest import PAGE, Serve, cause, evenings
from tests.worlds import World, on

TUESDAY = date(2025, 12, 2)
STILL = on("Dec 7 15:30")


def slipped(days: int = 8) -> World:
    """The garden rail, whose finish moved by two working days on Friday, Nov 28."""
    finishes = [on("Dec 3 15:30")] * (days - 5) + [on("Dec 5 15:30")] * 5
    return garden_rail().put(*evenings(TUESDAY, finishes))


def unpromised(world: World) -> World:
    return replace(world, made=world.made.drop(world.made.agreed["agreed"]))


def main(browser: Browser) -> Tag:
    found = browser.get(PAGE).select_one("main")
    assert found is not None
    return found


def text_of(tag: Tag) -> str:
    return " ".join(tag.get_text(" ").split())


def rows(page: Tag) -> list[str]:
    """The days on which it moved, as they are told."""
    return [text_of(row) for row in page.select('li[id^="day-"]')]


def test_the_finish_stands_against_what_was_promised_in_one_sentence(serve: Serve) -> None:
    world = garden_rail().with_changed("agreed", finish=on("Dec 3 15:30"))
    said = main(serve(world).browser("Rufus Orme")).select_one(".countdown")
    assert said is not None
    sentence = "Done Sun Dec 7 by the forecast, 2 working days later than promised: Wed Dec 3."
    assert text_of(said) == sentence
    assert "calm" not in said["class"]


def test_earlier_than_promised_is_said_calmly(serve: Serve) -> None:
    world = garden_rail().with_changed("agreed", finish=on("Dec 9 15:30"))
    said = main(serve(world).browser("Rufus Orme")).select_one(".countdown.calm")
    assert said is not None
    assert "2 working days earlier than promised: Tue Dec 9." in text_of(said)


def test_two_days_with_no_working_day_between_are_not_apart(wall: Wall) -> None:
    said = text_of(main(wall.browser("Rufus Orme")))
    assert "Done Sun Dec 7 by the forecast; Sat Dec 6 was promised, with no working day" in said


def test_where_nothing_is_promised_it_says_so_and_there_are_no_promises(serve: Serve) -> None:
    page = main(serve(unpromised(slipped())).browser("Rufus Orme"))
    assert "Done Sun Dec 7 by the forecast; no dates have been promised." in text_of(page)
    assert "so far" not in text_of(page)
    assert page.select_one("svg.fl .fl-chalk") is not None
    assert page.select_one("svg.fl .fl-string") is None


def test_a_detail_without_work_has_nothing_to_promise(serve: Serve) -> None:
    browser = serve(garden_rail().with_detail("Landing glass")).browser("Rufus Orme")
    page = browser.get("/d/landing-glass/promise")
    assert "There is no work in this detail yet." in page.text
    assert page.select_one("svg.fl") is None
    assert page.select_one("form[action$='/promise']") is None


def test_where_nothing_is_kept_yet_nothing_has_moved(wall: Wall) -> None:
    page = main(wall.browser("Rufus Orme"))
    assert page.select_one("svg.fl") is not None
    assert rows(page) == []
    assert "It has not moved by a working day since Tue Dec 2." in text_of(page)


def test_in_a_house_begun_today_the_evenings_are_kept_from_today_on(serve: Serve) -> None:
    world = garden_rail().with_changed("Quarry Road", start=on("Dec 3"))
    page = main(serve(world).browser("Rufus Orme"))
    assert "Each evening's forecast is kept from today on." in text_of(page)


def test_days_on_which_it_moved_are_told_newest_first_by_the_numbers_of_the_drawing(
    serve: Serve,
) -> None:
    page = main(serve(slipped()).browser("Lou Vance"))
    assert rows(page) == [
        "1 Fri Nov 28 · 2 working days later, to Fri Dec 5 Nobody has said why.",
    ]
    assert [text_of(one) for one in page.select("svg .fl-no text")] == ["1"]


def test_where_it_starts_from_is_no_move(serve: Serve) -> None:
    world = slipped().with_changed("Quarry Road", start=on("Nov 28"))
    assert rows(main(serve(world).browser("Rufus Orme"))) == []


@pytest.mark.parametrize("later", [True, False])
def test_a_move_is_told_as_later_or_earlier(serve: Serve, later: bool) -> None:
    moved = [on("Dec 5 15:30")] * 3 + [on("Dec 9 15:30" if later else "Dec 3 15:30")] * 3
    page = main(serve(garden_rail().put(*evenings(TUESDAY, moved))).browser("Rufus Orme"))
    assert f"Sun Nov 30 · 2 working days {'later' if later else 'earlier'}" in rows(page)[-1]


def test_a_day_with_a_cause_is_told_even_if_nothing_moved(serve: Serve) -> None:
    said = cause(date(2025, 12, 1), "Glue is short", "ore-street-metal-lead", activity_id="height")
    page = main(serve(slipped().put(said)).browser("Rufus Orme"))
    told = next(row for row in rows(page) if "Mon Dec 1" in row)
    assert "finish not moved" in told
    assert "“Glue is short”" in told
    assert "Ore Street Metal lead, Ore Street Metal, Mon Dec 1, noon, of “Height”" in told


def test_a_cause_with_markup_is_text(serve: Serve) -> None:
    text = '<script>alert("x")</script> & <b>late</b>'
    page = main(serve(slipped().put(cause(date(2025, 11, 28), text))).browser("Rufus Orme"))
    assert f"“{text}”" in text_of(page)
    assert page.select_one("script") is None


def test_the_first_five_days_are_shown_and_older_ones_are_folded(serve: Serve) -> None:
    finishes = [STILL + timedelta(7 * no) for no in range(8)]
    page = main(serve(garden_rail().put(*evenings(TUESDAY, finishes))).browser("Rufus Orme"))
    assert len(page.select("div > ol > li[id^=day-]")) == 5
    folded = page.select("details.more li[id^=day-]")
    assert [text_of(one).split()[0] for one in folded] == ["3", "2", "1"]
    assert "3 older days" in text_of(page)


def test_two_hundred_days_are_one_drawing_and_a_fold(serve: Serve) -> None:
    finishes = [on("Dec 7 15:30") + timedelta(no // 10) for no in range(200)]
    world = garden_rail().with_changed("Quarry Road", start=datetime(2025, 5, 1, 7))
    page = main(serve(world.put(*evenings(TUESDAY, finishes))).browser("Rufus Orme"))
    assert len(page.select("svg.fl")) == 1
    assert len(rows(page)) > 10
    assert len(page.select("div > ol > li[id^=day-]")) == 5


def test_what_is_open_stands_beside_its_promise_and_each_forecast_says_why(wall: Wall) -> None:
    page = main(wall.browser("Rufus Orme"))
    told = [text_of(row) for row in page.select("ol.goes > li")]
    assert "promised Dec 6 Base coat dries forecast Sun Dec 7" in [row[:49] for row in told]
    assert "not promised Hang board forecast today" in [row[:38] for row in told]
    assert page.select_one(f'[hx-get="{PAGE.replace("promise", "a/base-coat-dries/why")}"]')


def test_how_far_apart_two_dates_are_is_told_only_where_they_are(serve: Serve) -> None:
    world = garden_rail().with_changed("agreed", finish=on("Dec 2 15:30"))
    lines = main(serve(world).browser("Rufus Orme")).select("ol.goes details.why summary")
    apart = [text_of(line) for line in lines if "working day" in line.text]
    assert apart == ["forecast Sun Dec 7, 3 working days later"]
    assert len(lines) > 1


def test_what_is_done_is_folded_and_has_no_why(wall: Wall) -> None:
    page = main(wall.browser("Rufus Orme"))
    folded = next(one for one in page.select("details.more") if "2 things are done" in one.text)
    assert "Blocking" in folded.text
    assert folded.select_one("details.why") is None


def test_each_promise_is_told_with_who_and_why(serve: Serve) -> None:
    first = garden_rail().made.agreed["agreed"]
    again = replace(first, id="anew", round=2, finish=on("Dec 9"), at=on("Dec 1 9:00"),
                    reason="Board <came> late")  # fmt: skip
    page = main(serve(garden_rail().put(again)).browser("Rufus Orme"))
    promises = next(one for one in page.select("details.more") if "2 promises so far" in one.text)
    assert [text_of(one) for one in promises.select("li")] == [
        "2 Tue Dec 9 was promised Mon Dec 1, 9 am by Rufus Orme Board <came> late",
        "1 Sat Dec 6 was promised Mon Nov 10, 7 am by Rufus Orme",
    ]


def test_the_drawing_shows_each_promised_finish(serve: Serve) -> None:
    first = garden_rail().made.agreed["agreed"]
    again = replace(first, id="anew", round=2, finish=on("Dec 9"), at=on("Dec 1"))
    world = slipped(16).put(again)
    told = [text_of(one) for one in main(serve(world).browser("Rufus Orme")).select("svg.fl text")]
    assert {"Sat Dec 6", "Tue Dec 9"} <= set(told)


def test_the_promised_dates_are_one_press_from_the_detail(wall: Wall) -> None:
    detail = PAGE.removesuffix("/promise")
    assert wall.browser("Rufus Orme").get(detail).select_one(f'a[href="{PAGE}"]') is not None
