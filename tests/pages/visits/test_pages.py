"""Asking crews to come, hearing back by phone, agreeing dates."""

from tests.pages.at_the_wall import Wall

COAT = "/d/garden-stair-rail/visit?activity=base-coat"
BOARD = "/d/garden-stair-rail/visit?activity=hang-board"
ASK = "/d/garden-stair-rail/visit"


def test_a_crew_is_asked_for_the_first_day_it_could_work(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    assert browser.send(browser.get(COAT), ASK).status_code == 303
    asked = [b for b in wall.snapshot().bookings.values() if "base-coat" in b.activity_ids]
    assert [(b.state, b.start.hour) for b in asked] == [("asked", 7)]


def test_a_visit_in_the_past_is_refused_and_what_was_typed_is_kept(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    answer = browser.send(browser.get(COAT), ASK, {"start": "2025-11-01T07:00"})
    assert answer.status_code == 422
    assert 'value="2025-11-01T07:00"' in answer.text
    assert 'id="start-e"' in answer.text


def test_an_answer_by_phone_is_entered_by_the_super(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    fields = {"answer": "cannot", "other_day": "2025-12-05T07:00", "key": "one-key"}
    assert browser.post("/visit/ninepail-plaster-1/answer", fields).status_code == 303
    booking = wall.snapshot().bookings["ninepail-plaster-1"]
    assert (booking.state, booking.by_phone) == ("can't come", True)


def test_a_visit_is_moved_and_asked_again(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    typed = {"start": "2025-12-08T07:00", "finish": "2025-12-08T11:00"}
    page = browser.get(BOARD)
    assert browser.send(page, "/visit/ninepail-plaster-1/move", typed).status_code == 303
    booking = wall.snapshot().bookings["ninepail-plaster-1"]
    assert (booking.state, booking.start.day) == ("asked", 8)


def test_a_visit_is_taken_back(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    assert browser.send(browser.get(BOARD), "/visit/ninepail-plaster-1/end").status_code == 303
    assert wall.snapshot().bookings["ninepail-plaster-1"].ended is not None


def test_promised_dates_change_only_with_a_reason(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    path = "/d/garden-stair-rail/promise"
    refused = browser.send(browser.get(path), path)
    assert refused.status_code == 422
    taken = browser.send(browser.get(path), path, {"reason": "Board came later"})
    assert taken.status_code == 303
    rounds = {a.round for a in wall.snapshot().agreed.values()}
    assert rounds == {1, 2}


def test_only_the_super_asks(wall: Wall) -> None:
    for person in ("Ninepail Plaster lead", "Lou Vance"):
        assert wall.browser(person).status(COAT) == 403
