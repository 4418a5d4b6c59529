"""Two people at the plan of one detail, each in a browser of their own."""

from dataclasses import dataclass
from typing import Any

import pytest

from server.core.world import Company, Snapshot
from server.people.sign_in import set_password
from server.store import Store, open_store
from tests.browser.conftest import PASSWORD, Phone
from tests.pages.at_the_wall import garden_rail, nouns_of
from tests.servers import RunningServer
from tests.worlds import PROJECT

PLAN = "/d/garden-stair-rail/plan"
SOON = 5_000
"""Within so many milliseconds each sees what the other did."""


@dataclass(frozen=True)
class Desks:
    """The desks of Rufus and of Bo, and what is kept."""

    rufus: Any
    bo: Any
    store: Store

    @property
    def snapshot(self) -> Snapshot:
        return self.store.snapshot(PROJECT)


@pytest.fixture
def desks(running_server: RunningServer, phone: Phone) -> Any:
    store = open_store(running_server.database_url)
    world = garden_rail().with_person("Bo Lind", role="super")
    company, *nouns = nouns_of(world.snapshot())
    assert isinstance(company, Company)
    store.found_company(company, *nouns)
    pages = []
    for id, login in (("rufus-orme", "rufus"), ("bo-lind", "bo")):
        set_password(store, id, login, PASSWORD)
        page = phone(width=1280)
        page.goto(f"{running_server.base_url}/sign-in?then={PLAN}")
        page.fill("#login", login)
        page.fill("#password", PASSWORD)
        page.locator("main button").click()
        page.locator("#desk").wait_for()
        pages.append(page)
    yield Desks(*pages, store)
    store.close()


def box(page: Any, row: str, column: str) -> Any:
    return page.locator(f"#i-{row}-{column}")


def type_over(page: Any, row: str, column: str, text: str) -> None:
    """Types into a cell and stays in it."""
    cell = box(page, row, column)
    cell.focus()
    cell.press("Control+a")
    page.keyboard.type(text)


def keeps(page: Any, row: str, column: str, text: str, timeout: int = SOON) -> None:
    """Waits until a cell of the desk keeps this."""
    page.locator(f'#i-{row}-{column}[data-saved="{text}"]').wait_for(timeout=timeout)


def test_each_sees_what_the_other_did_within_five_seconds(desks: Desks) -> None:
    type_over(desks.rufus, "base-coat", "takes", "2 d")
    desks.rufus.keyboard.press("Tab")
    keeps(desks.rufus, "base-coat", "takes", "2 d")
    keeps(desks.bo, "base-coat", "takes", "2 d")


def test_what_is_being_typed_stays_when_the_other_changes_something(desks: Desks) -> None:
    type_over(desks.bo, "hang-board", "after", "2 h after hei")
    type_over(desks.rufus, "base-coat", "takes", "2 d")
    desks.rufus.keyboard.press("Tab")
    keeps(desks.bo, "base-coat", "takes", "2 d")
    assert box(desks.bo, "hang-board", "after").input_value() == "2 h after hei"
    desks.bo.keyboard.type("ght")
    desks.bo.keyboard.press("Tab")
    keeps(desks.bo, "hang-board", "after", "2 h after Height")
    (order,) = desks.snapshot.before["hang-board"]
    assert (order.before_id, order.lag) == ("height", 120)


def test_the_second_in_one_cell_is_shown_what_the_first_did_and_chooses(desks: Desks) -> None:
    type_over(desks.bo, "hang-board", "takes", "3 d")
    type_over(desks.rufus, "hang-board", "takes", "2 d")
    desks.rufus.keyboard.press("Tab")
    keeps(desks.bo, "hang-board", "takes", "2 d")
    desks.bo.keyboard.press("Tab")
    said = desks.bo.locator("#i-hang-board-takes-e")
    said.wait_for()
    assert "“2 d” (Rufus Orme" in said.inner_text()
    assert box(desks.bo, "hang-board", "takes").input_value() == "3 d"
    assert desks.snapshot.activities["hang-board"].work == 2 * 480

    box(desks.bo, "hang-board", "takes").focus()
    desks.bo.keyboard.press("Enter")
    keeps(desks.bo, "hang-board", "takes", "3 d")
    keeps(desks.rufus, "hang-board", "takes", "3 d")
    assert desks.snapshot.activities["hang-board"].work == 3 * 480


def test_a_refused_cell_keeps_what_was_typed_while_others_change(desks: Desks) -> None:
    type_over(desks.bo, "base-coat", "after", "hang bored")
    desks.bo.keyboard.press("Tab")
    desks.bo.locator("#i-base-coat-after-e").wait_for()
    type_over(desks.rufus, "hang-board", "does", "Hang the board")
    desks.rufus.keyboard.press("Tab")
    keeps(desks.bo, "hang-board", "does", "Hang the board")
    assert box(desks.bo, "base-coat", "after").input_value() == "hang bored"
    assert "is not there" in desks.bo.locator("#i-base-coat-after-e").inner_text()
    box(desks.bo, "base-coat", "after").focus()
    desks.bo.keyboard.press("Escape")
    assert box(desks.bo, "base-coat", "after").input_value() == "Hang the board"


def test_a_layer_pressed_in_the_drawing_comes_into_the_cell_and_goes_out_again(
    desks: Desks,
) -> None:
    page = desks.rufus
    box(page, "base-coat", "hides").focus()
    page.locator('.bu-press[data-layer="board"]').click()
    keeps(page, "base-coat", "hides", "Board")
    assert page.evaluate("document.activeElement.id") == "i-base-coat-hides"
    page.locator('.bu-press[data-layer="board"]').click()
    keeps(page, "base-coat", "hides", "")
    effects = desks.snapshot.effects_of["base-coat"]
    assert [(e.verb, e.layer_id) for e in effects] == [("puts in", "base-coat")]


def test_a_new_row_half_typed_survives_what_the_other_does(desks: Desks) -> None:
    bo = desks.bo
    box(bo, "hang-board", "does").focus()
    bo.keyboard.press("Control+Enter")
    bo.keyboard.type("ninepail")
    bo.keyboard.press("Tab")
    bo.keyboard.type("Tape")
    type_over(desks.rufus, "base-coat", "takes", "2 d")
    desks.rufus.keyboard.press("Tab")
    keeps(bo, "base-coat", "takes", "2 d")
    assert box(bo, "new", "who").input_value() == "ninepail"
    bo.keyboard.press("Tab")
    bo.keyboard.type("4 h")
    bo.keyboard.press("Enter")
    bo.locator('[name="does"][data-saved="Tape"]').wait_for()
    chain = [a.name for a in desks.snapshot.chain_of("garden-stair-rail")]
    assert chain.index("Tape") == chain.index("Hang board") + 1
    (tape,) = (a for a in desks.snapshot.chain if a.name == "Tape")
    assert [d.before_id for d in desks.snapshot.before[tape.id]] == ["hang-board"]


def test_undoing_takes_back_ones_own_change_and_leaves_the_others(desks: Desks) -> None:
    type_over(desks.rufus, "base-coat", "takes", "2 d")
    desks.rufus.keyboard.press("Tab")
    keeps(desks.rufus, "base-coat", "takes", "2 d")
    type_over(desks.bo, "hang-board", "takes", "1 d")
    desks.bo.keyboard.press("Tab")
    keeps(desks.rufus, "hang-board", "takes", "1 d")
    box(desks.rufus, "base-coat", "takes").focus()
    desks.rufus.keyboard.press("Control+z")
    keeps(desks.rufus, "base-coat", "takes", "1 d")
    keeps(desks.bo, "base-coat", "takes", "1 d")
    assert desks.snapshot.activities["hang-board"].work == 480
    desks.rufus.keyboard.press("Control+y")
    keeps(desks.bo, "base-coat", "takes", "2 d")


def test_a_check_is_added_beside_the_joint_it_looks_at(desks: Desks) -> None:
    page = desks.rufus
    page.locator('[data-check="Board"]').click()
    assert page.evaluate("document.activeElement.id") == "i-new-does"
    page.keyboard.type("Board plane")
    page.keyboard.press("Enter")
    page.locator('[name="does"][data-saved="Board plane"]').wait_for()
    (check,) = (h for h in desks.snapshot.holds.values() if h.what == "Board plane")
    assert check.layer_ids == ("board",)
    chain = [a.name for a in desks.snapshot.chain_of("garden-stair-rail")]
    assert chain.index("Board plane") == chain.index("Hang board") + 1
    (order,) = desks.snapshot.before[check.activity_id]
    assert order.before_id == "hang-board"
    page.locator(f'figure.buildup a[href="/h/{check.id}"]').wait_for()
