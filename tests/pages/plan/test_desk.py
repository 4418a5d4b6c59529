"""The plan typed in place: each cell, a new row, layers, and two people at one desk."""

import pytest
from bs4 import BeautifulSoup
from httpx import Response

from server.core.world import Dependency, Snapshot
from tests.pages.at_the_wall import Browser, Wall

PLAN = "/d/garden-stair-rail/plan"
DESK = f"{PLAN}/desk"
HTMX = {"HX-Request": "true", "HX-Target": "desk"}


@pytest.fixture
def rufus(rail: Wall) -> Browser:
    """The super of the garden rail."""
    return rail.browser("Rufus Orme")


def cell(page: BeautifulSoup, row: str, column: str) -> str:
    """What stands in a cell."""
    box = page.select_one(f"#i-{row}-{column}")
    assert box is not None, (row, column)
    return box.text


def put(browser: Browser, row: str, column: str, typed: str, was: str | None = None) -> Response:
    """Types over one cell, as the desk's script sends it; `was` is what it was shown with."""
    if was is None:
        was = cell(browser.get(PLAN), row, column)
    fields = {column: typed, f"was_{column}": was}
    return browser.post(f"{DESK}/rows/{row}", fields, **HTMX)


def taken(answer: Response) -> BeautifulSoup:
    """The desk after a press that was taken."""
    page = BeautifulSoup(answer.text, "html.parser")
    assert answer.status_code == 200, [p.text for p in page.select(".err, .errors")]
    assert page.html is None
    return page


def wrong(answer: Response) -> dict[str, str]:
    """Cell -> what is said beside it."""
    assert answer.status_code == 422, answer.status_code
    page = BeautifulSoup(answer.text, "html.parser")
    boxes = page.select("[aria-invalid]")
    return {str(box["id"]): " ".join(p.text for p in box.parent.select(".err")) for box in boxes}  # type: ignore[union-attr]


def orders(snapshot: Snapshot, row: str) -> list[Dependency]:
    return list(snapshot.before.get(row, ()))


@pytest.mark.parametrize(
    ("row", "column", "text"),
    [
        ("hang-board", "who", "Ninepail Plaster"),
        ("hang-board", "takes", "1/2 d"),
        ("hang-board", "after", "Height"),
        ("hang-board", "puts_in", "Board"),
        ("hang-board", "hides", "Stand-offs, Studs and blocking"),
        ("height", "who", "Ore Street Metal"),
        ("height", "puts_in", "Stand-offs"),
        ("height", "looked_at", "the super"),
        ("base-coat-dries", "takes", "3 d"),
    ],
)
def test_a_cell_says_what_is_kept(rufus: Browser, row: str, column: str, text: str) -> None:
    assert cell(rufus.get(PLAN), row, column) == text


def test_every_row_sent_as_it_stands_changes_nothing(rail: Wall, rufus: Browser) -> None:
    before = rail.snapshot()
    page = rufus.get(PLAN)
    rows = [str(row["id"]) for row in page.select("tr[data-row]:not(.new)")]
    assert len(rows) == 6
    for row in rows:
        boxes = page.select(f'[form="f-{row}"]')
        fields = {str(box["name"]): box.text for box in boxes}
        fields |= {f"was_{name}": text for name, text in fields.items()}
        assert rufus.post(f"{DESK}/rows/{row}", fields).status_code == 303
    assert rail.snapshot() == before


def test_a_cell_typed_over_is_kept_and_the_dates_follow(rail: Wall, rufus: Browser) -> None:
    page = taken(put(rufus, "base-coat", "takes", "3 d, 2 d to 4 d"))
    coat = rail.snapshot().activities["base-coat"]
    assert (coat.work, coat.low, coat.high) == (1440, 960, 1920)
    assert cell(page, "base-coat", "takes") == "3 d, 2 d to 4 d"
    when = page.select_one("#base-coat .when")
    # Half a day of board from Wednesday, 11 am; then three days of work.
    assert when is not None
    assert "Wed Dec 3 to Mon Dec 8" in when.text


def test_after_is_typed_in_plain_words(rail: Wall, rufus: Browser) -> None:
    taken(put(rufus, "base-coat", "after", "within 24 h of hang board, 2 d after height"))
    (first, second) = sorted(orders(rail.snapshot(), "base-coat"), key=lambda d: d.before_id)
    assert (first.before_id, first.lag, first.most) == ("hang-board", 0, 1440)
    assert (second.before_id, second.lag, second.most) == ("height", 2880, None)


def test_what_stays_of_after_keeps_its_row(rail: Wall, rufus: Browser) -> None:
    (kept,) = orders(rail.snapshot(), "base-coat")
    taken(put(rufus, "base-coat", "after", "Hang board; Blocking"))
    assert kept in orders(rail.snapshot(), "base-coat")
    assert len(orders(rail.snapshot(), "base-coat")) == 2


def test_one_change_of_a_cell_is_one_entry_of_the_log(rail: Wall, rufus: Browser) -> None:
    taken(put(rufus, "base-coat", "after", "Height, Blocking"))
    (entry, *_) = rail.store.log("quarry-road")
    assert sorted(entry.commands) == ["AddDependency", "AddDependency", "EndDependency"]


def test_two_crews_work_together_by_with(rail: Wall, rufus: Browser) -> None:
    page = taken(put(rufus, "hang-board", "who", "ninepail with thimble"))
    board = rail.snapshot().activities["hang-board"]
    assert (board.crew_id, board.with_crew_ids) == ("ninepail-plaster", ("thimble-hill-framing",))
    assert cell(page, "hang-board", "who") == "Ninepail Plaster with Thimble Hill Framing"


def test_a_layer_may_be_named_with_some_of_its_parts(rail: Wall, rufus: Browser) -> None:
    taken(put(rufus, "hang-board", "hides", "stand-offs (1-3, 5), studs"))
    effects = rail.snapshot().effects_of["hang-board"]
    hidden = {e.layer_id: e.parts for e in effects if e.verb == "covers"}
    assert hidden == {"stand-offs": (1, 2, 3, 5), "studs-and-blocking": ()}
    page = taken(put(rufus, "hang-board", "hides", "stand-offs (all but the bottom two)"))
    effects = rail.snapshot().effects_of["hang-board"]
    assert [e.parts for e in effects if e.verb == "covers"] == [(3, 4, 5, 6, 7)]
    assert cell(page, "hang-board", "hides") == "Stand-offs (3-7)"


def test_who_looks_at_a_check_is_typed_by_name(rail: Wall, rufus: Browser) -> None:
    taken(put(rufus, "height", "looked_at", "lou"))
    assert rail.snapshot().hold_of["height"].releases_id == "lou-vance"
    taken(put(rufus, "height", "looked_at", "an outside inspector"))
    hold = rail.snapshot().hold_of["height"]
    assert (hold.releases_id, hold.authority) == (None, True)


def test_a_check_typed_over_keeps_its_numbers(rail: Wall, rufus: Browser) -> None:
    before = rail.snapshot()
    taken(put(rufus, "height", "does", "Height over the nosing line"))
    after = rail.snapshot()
    assert after.activities["height"].name == "Height over the nosing line"
    assert after.asks == before.asks


@pytest.mark.parametrize(
    ("row", "column", "typed", "said"),
    [
        ("base-coat", "takes", "soon", "is not a length of time"),
        ("base-coat", "takes", "", "takes"),
        ("base-coat", "takes", "1 d, 2 d to 3 d", "The shortest"),
        ("base-coat", "after", "base coat dries", "wait on one another"),
        ("base-coat", "after", "base coat", "itself"),
        ("base-coat", "after", "xyz", "is not there"),
        ("base-coat", "who", "xyz", "is not there"),
        ("base-coat", "does", "  ", "has to be filled in"),
        ("base-coat", "hides", "base coat", "Base coat"),
        ("base-coat", "puts_in", "stand-offs (9)", "It has 7 parts"),
        ("base-coat", "puts_in", "stand-offs (nine)", "Write it as"),
        ("height", "looked_at", "nobody I know", "is not there"),
    ],
)
def test_a_refusal_stands_beside_its_cell_and_what_was_typed_stays(
    rail: Wall, rufus: Browser, row: str, column: str, typed: str, said: str
) -> None:
    before = rail.snapshot()
    answer = put(rufus, row, column, typed)
    assert list(wrong(answer)) == [f"i-{row}-{column}"]
    assert said in wrong(answer)[f"i-{row}-{column}"]
    page = BeautifulSoup(answer.text, "html.parser")
    assert cell(page, row, column) == typed
    assert rail.snapshot() == before


def test_without_a_script_a_whole_row_is_taken_and_all_its_refusals_told(
    rail: Wall, rufus: Browser
) -> None:
    fields = {"takes": "2 d", "was_takes": "1 d", "does": "Base coat, two hands"}
    answer = rufus.post(f"{DESK}/rows/base-coat", fields)
    assert (answer.status_code, answer.headers["location"]) == (303, PLAN)
    coat = rail.snapshot().activities["base-coat"]
    assert (coat.name, coat.work) == ("Base coat, two hands", 960)
    answer = rufus.post(f"{DESK}/rows/base-coat", {"takes": "soon", "after": "xyz"})
    assert set(wrong(answer)) == {"i-base-coat-takes", "i-base-coat-after"}
    assert "<html" in answer.text


def test_a_new_row_comes_after_what_is_said_and_stands_behind_the_row_named(
    rail: Wall, rufus: Browser
) -> None:
    fields = {
        "kind": "task", "behind_id": "hang-board", "who": "ninepail", "does": "Tape the joints",
        "takes": "4 h", "after": "24 h after hang board", "puts_in": "", "hides": "board",
    }  # fmt: skip
    taken(rufus.post(f"{DESK}/rows/new", fields, **HTMX))
    snapshot = rail.snapshot()
    names = [a.name for a in snapshot.chain_of("garden-stair-rail")]
    assert names.index("Tape the joints") == names.index("Hang board") + 1
    (tape,) = (a for a in snapshot.chain if a.name == "Tape the joints")
    assert (tape.crew_id, tape.work, tape.place_id) == ("ninepail-plaster", 240, None)
    (order,) = orders(snapshot, tape.id)
    assert (order.before_id, order.lag) == ("hang-board", 1440)


def test_a_new_check_looks_at_layers_and_is_looked_at_by_somebody(
    rail: Wall, rufus: Browser
) -> None:
    fields = {
        "kind": "hold", "does": "Board plane", "after": "hang board", "puts_in": "board",
        "who": "ninepail", "looked_at": "lou vance",
    }  # fmt: skip
    taken(rufus.post(f"{DESK}/rows/new", fields, **HTMX))
    snapshot = rail.snapshot()
    (check,) = (h for h in snapshot.holds.values() if h.what == "Board plane")
    assert (check.layer_ids, check.releases_id) == (("board",), "lou-vance")
    assert check.marks_crew_id == "ninepail-plaster"


def test_a_new_row_that_is_refused_keeps_all_that_was_typed(rail: Wall, rufus: Browser) -> None:
    before = rail.snapshot()
    fields = {"kind": "wait", "does": "", "takes": "long", "after": "xyz", "who": "ninepail"}
    answer = rufus.post(f"{DESK}/rows/new", fields, **HTMX)
    assert set(wrong(answer)) == {"i-new-who"}
    answer = rufus.post(f"{DESK}/rows/new", {**fields, "who": ""}, **HTMX)
    assert set(wrong(answer)) == {"i-new-does", "i-new-takes", "i-new-after"}
    page = BeautifulSoup(answer.text, "html.parser")
    assert cell(page, "new", "takes") == "long"
    chosen = page.select_one("#new-kind option[selected]")
    assert chosen is not None
    assert chosen["value"] == "wait"
    assert rail.snapshot() == before


def test_the_new_row_starts_out_behind_the_last(rufus: Browser) -> None:
    assert cell(rufus.get(PLAN), "new", "after") == "Base coat dries"


# -- layers and sides ----------------------------------------------------------------------------


def test_a_layer_typed_on_a_side_is_drawn_and_may_lie_within_another(
    rail: Wall, rufus: Browser
) -> None:
    side = next(iter(rail.snapshot().sides))
    fields = {"side_id": side, "name": "Nail plates", "material": "steel", "thickness": "1/16",
              "parts": "4 plates", "also": "must be seen, within studs"}  # fmt: skip
    page = taken(rufus.post(f"{DESK}/layers/new", fields, **HTMX))
    (plates,) = (x for x in rail.snapshot().layers.values() if x.name == "Nail plates")
    assert (plates.parts, plates.part_name, plates.must_be_seen) == (4, "plates", True)
    assert plates.within_id == "studs-and-blocking"
    drawing = page.select_one(f"#drawn-{side}")
    assert drawing is not None
    assert "Nail plates" in drawing.text


def test_a_layer_called_after_its_material_needs_no_other(rail: Wall, rufus: Browser) -> None:
    side = next(iter(rail.snapshot().sides))
    taken(rufus.post(f"{DESK}/layers/new", {"side_id": side, "name": "Lime plaster"}, **HTMX))
    (coat,) = (x for x in rail.snapshot().layers.values() if x.name == "Lime plaster")
    assert coat.material == "Lime plaster"
    answer = rufus.post(f"{DESK}/layers/new", {"side_id": side, "name": "Fog"}, **HTMX)
    assert set(wrong(answer)) == {f"l-new-{side}-material"}


def test_a_layer_being_typed_is_drawn_before_it_is_added(rail: Wall, rufus: Browser) -> None:
    before = rail.snapshot()
    side = next(iter(before.sides))
    page = rufus.get(f"{DESK}/drawn?side_id={side}&name=Felt&material=felt")
    assert "Felt" in page.text
    assert "Board" in rufus.get(f"{DESK}/drawn?side_id={side}&name=&material=").text
    assert rail.snapshot() == before


def test_a_layer_typed_over_is_kept(rail: Wall, rufus: Browser) -> None:
    fields = {"thickness": "5/8", "was_thickness": "1/2"}
    taken(rufus.post(f"{DESK}/layers/board", fields, **HTMX))
    assert str(rail.snapshot().layers["board"].thickness) == "5/8"
    answer = rufus.post(f"{DESK}/layers/board", {"parts": "many"}, **HTMX)
    assert "7 stand-offs" in wrong(answer)["l-board-parts"]


def test_a_side_is_added_by_its_name(rail: Wall, rufus: Browser) -> None:
    taken(rufus.post(f"{DESK}/sides", {"side": "Hall side"}, **HTMX))
    assert "Hall side" in {s.name for s in rail.snapshot().sides.values()}
    answer = rufus.post(f"{DESK}/sides", {"side": " "}, **HTMX)
    assert answer.status_code == 422


# -- suggestions ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("query", "first"),
    [
        ("column=after&kind=task&row=base-coat&typed=ha", "Hang board"),
        ("column=after&kind=task&row=new&typed=", "Base coat dries"),
        ("column=after&kind=task&row=base-coat&typed=height, 24 h after bl",
         "height, 24 h after Blocking"),
        ("column=who&kind=task&row=new&typed=ninepail with th",
         "ninepail with Thimble Hill Framing"),
        ("column=puts_in&kind=task&row=new&typed=board, ba", "board, Base coat"),
        ("column=looked_at&kind=hold&row=new&typed=an", "an outside inspector"),
        ("column=who&kind=decision&row=new&typed=lou", "Lou Vance"),
    ],
)  # fmt: skip
def test_a_cell_is_offered_whole(rufus: Browser, query: str, first: str) -> None:
    offers = [str(li["data-whole"]) for li in rufus.get(f"{DESK}/suggest?{query}").select("li")]
    assert offers[:1] == [first], offers


def test_a_name_with_a_comma_is_offered_while_it_is_typed(rail: Wall, rufus: Browser) -> None:
    taken(put(rufus, "base-coat", "does", "Base coat, by hand"))
    path = f"{DESK}/suggest?column=after&kind=task&row=new&typed=height, base coat, b"
    (first, *_) = rufus.get(path).select("li")
    assert (first.text, first["data-whole"]) == ("Base coat, by hand", "height, Base coat, by hand")


def test_a_row_is_offered_with_ways_to_come_after_it(rufus: Browser) -> None:
    path = f"{DESK}/suggest?column=after&kind=task&row=base-coat&typed=hang"
    offers = [li.text for li in rufus.get(path).select("li")]
    assert "24 h after Hang board" in offers
    assert "within 24 h of Hang board" in offers
    assert "Base coat" not in offers


# -- two people ----------------------------------------------------------------------------------


def test_nobody_writes_over_what_another_made_of_a_cell_meanwhile(
    rail: Wall, rufus: Browser
) -> None:
    taken(put(rufus, "hang-board", "takes", "2 d"))
    answer = put(rufus, "hang-board", "takes", "4 d", was="1/2 d")
    said = wrong(answer)["i-hang-board-takes"]
    assert "“2 d” (Rufus Orme" in said
    page = BeautifulSoup(answer.text, "html.parser")
    assert cell(page, "hang-board", "takes") == "4 d"
    assert rail.snapshot().activities["hang-board"].work == 960
    # pressed again on what is shown now, it is meant
    taken(put(rufus, "hang-board", "takes", "4 d", was="2 d"))
    assert rail.snapshot().activities["hang-board"].work == 1920


def test_two_people_in_different_cells_of_a_row_are_not_in_each_others_way(
    rail: Wall, rufus: Browser
) -> None:
    taken(put(rufus, "hang-board", "takes", "2 d"))
    taken(put(rufus, "hang-board", "does", "Screw board", was="Hang board"))
    board = rail.snapshot().activities["hang-board"]
    assert (board.name, board.work) == ("Screw board", 960)


def test_both_typing_the_same_is_no_conflict(rail: Wall, rufus: Browser) -> None:
    taken(put(rufus, "base-coat", "takes", "2 d"))
    taken(put(rufus, "base-coat", "takes", "2 d", was="1 d"))


def test_a_row_that_has_left_meanwhile_is_told_with_what_was_typed(
    rail: Wall, rufus: Browser
) -> None:
    ended = rufus.post(f"{PLAN}/base-coat-dries/end", {"reason": "It is gypsum"})
    assert ended.status_code == 303
    answer = put(rufus, "base-coat-dries", "takes", "5 d", was="3 d")
    assert answer.status_code == 422
    said = BeautifulSoup(answer.text, "html.parser").select_one(".errors")
    assert said is not None
    assert "“Base coat dries” has left the order of work meanwhile (Rufus Orme" in said.text
    assert "“5 d”" in said.text


def test_a_desk_that_has_not_changed_is_not_sent_again(rufus: Browser) -> None:
    first = rufus.client.get(DESK, headers=HTMX)
    again = rufus.client.get(DESK, headers={**HTMX, "If-None-Match": first.headers["etag"]})
    assert (first.status_code, again.status_code, again.text) == (200, 304, "")
    taken(put(rufus, "base-coat", "takes", "2 d"))
    changed = rufus.client.get(DESK, headers={**HTMX, "If-None-Match": first.headers["etag"]})
    assert changed.status_code == 200
    assert cell(BeautifulSoup(changed.text, "html.parser"), "base-coat", "takes") == "2 d"
