"""A detail built from an empty page by keyboard alone.

In words: a rail in a well. On the well side, from the bearing side out, 5 1/2 in of studs; within
them three blocks that must be seen; 5/8 board; a 3/8 lime plaster, which is the finished face; and
the bronze rail. Anvil & Sons frame it in a day, then set the blocks in half a day. Before anything
covers them the super looks at them: Anvil mark them ready. Trowel Bros. hang the board over both in
half a day and plaster in a day, beginning within two days of the board. The plaster dries for a
week. Ada Ford chooses the profile; then the rail is two weeks in the making. Anvil set it in half a
day, when it is there and the plaster has dried, and an outside inspector looks at it.

The house starts Mon Dec 1 at 7; everybody works 7 to 12 and 12:30 to 3:30, Monday to Friday.
"""

from datetime import datetime
from typing import Any

from server.core.world import Company, Detail, Snapshot
from server.core.world.network import forecast
from server.people.sign_in import set_password
from server.store import open_store
from tests.browser.conftest import PASSWORD, Phone
from tests.pages.at_the_wall import nouns_of
from tests.pages.plan.test_from_nothing import named
from tests.servers import RunningServer
from tests.worlds import PROJECT, a_project, on

LAYERS = (
    ("Studs", "wood", "5 1/2", "", ""),
    ("Blocks", "blocking", "1 1/2", "3 blocks", "within st"),
    ("Board", "", "5/8", "", ""),
    ("Plaster", "lime plaster", "3/8", "", "fin"),
    ("Bronze rail", "", "1 1/2", "", "pass"),
)
ROWS = (
    # kind, who, does, takes, after, puts in, hides, looked at by
    ("task", "anvil", "Frame the well side", "1 d", "", "studs", "", ""),
    ("task", "anvil", "Set the blocks", "4 h", "frame", "blocks", "", ""),
    ("hold", "anvil", "Blocks where the rail needs them", "", "set the blocks", "blocks", "", ""),
    ("task", "trowel", "Hang board", "4 h", "3", "board", "studs, blocks", ""),
    ("task", "trowel", "Plaster", "1 d", "within 2 d of hang", "plaster", "board", ""),
    ("wait", "", "Plaster dries", "7 d", "plaster", "", "", ""),
    ("decision", "ada", "Profile of the rail", "", "", "", "", ""),
    ("delivery", "anvil", "Rail made", "10 d", "profile", "", "", ""),
    ("task", "anvil", "Set the rail", "4 h", "dries, rail made", "rail", "", ""),
    ("hold", "anvil", "Rail holds", "", "set the rail", "rail", "", "inspector"),
)
BY_HAND = {
    "Frame the well side": (on("Dec 1 07:00"), on("Dec 1 15:30")),
    "Set the blocks": (on("Dec 2 07:00"), on("Dec 2 11:00")),
    "Blocks where the rail needs them": (on("Dec 2 11:00"), on("Dec 2 11:00")),
    "Hang board": (on("Dec 2 11:00"), on("Dec 2 15:30")),
    "Plaster": (on("Dec 3 07:00"), on("Dec 3 15:30")),
    "Plaster dries": (on("Dec 3 15:30"), on("Dec 10 15:30")),
    "Profile of the rail": (on("Dec 1 07:00"), on("Dec 1 07:00")),
    # ten days of eight hours from Monday, so that it is there Friday of the week after
    "Rail made": (on("Dec 1 07:00"), on("Dec 12 15:30")),
    "Set the rail": (on("Dec 15 07:00"), on("Dec 15 11:00")),
    "Rail holds": (on("Dec 15 11:00"), on("Dec 15 11:00")),
}


class Keys:
    """Somebody with a keyboard and nothing else, who counts the keys."""

    def __init__(self, page: Any) -> None:
        self.page, self.count = page, 0

    def press(self, *keys: str) -> None:
        for key in keys:
            self.page.keyboard.press(key)
            self.count += 1

    def type(self, text: str) -> None:
        self.page.keyboard.type(text)
        self.count += len(text)

    @property
    def at(self) -> str:
        return str(self.page.evaluate("document.activeElement.id"))

    def tab_to(self, id: str) -> None:
        for _ in range(60):
            if self.at == id:
                return
            self.press("Tab")
        raise AssertionError(f"Tab never comes to {id}")

    def taken(self, text: str) -> None:
        """Waits until a box of the desk keeps this, and it is no longer a press under way."""
        box = self.page.locator(f'#desk [data-saved="{text}"]').first
        box.wait_for()


def test_a_detail_is_built_from_an_empty_page_by_keyboard_alone(
    running_server: RunningServer, phone: Phone
) -> None:
    store = open_store(running_server.database_url)
    world = (
        a_project()
        .with_changed("Tallow Creek", frozen_at=on("Nov 28 09:00"))
        .with_crew("Anvil & Sons", trade="metal")
        .with_crew("Trowel Bros.", trade="plaster")
        .with_person("Ada Ford", title="owner's rep")
        .put(Detail(id="well-rail", project_id=PROJECT, name="Well rail", sheet="D9"))
    )
    company, *nouns = nouns_of(world.snapshot())
    assert isinstance(company, Company)
    store.found_company(company, *nouns)
    set_password(store, "rufus-orme", "rufus", PASSWORD)
    page = phone(width=1280)
    page.goto(f"{running_server.base_url}/sign-in?then=/d/well-rail/plan")
    page.fill("#login", "rufus")
    page.fill("#password", PASSWORD)
    page.locator("main button").click()
    page.get_by_text("Nothing in the plan yet").wait_for()

    keys = Keys(page)
    keys.tab_to("side")
    keys.type("Well side")
    keys.press("Enter")
    page.get_by_text("No layers yet").wait_for()
    keys.tab_to(new_layer(page, "name"))
    for layer in LAYERS:
        type_layer(keys, layer)
    keys.tab_to("new-kind")
    for row in ROWS:
        type_row(keys, row)
    print(f"\nbuilt with {keys.count} keys")  # noqa: T201

    snapshot = store.snapshot(PROJECT)
    store.close()
    assert_built(snapshot)
    drawing = page.locator("figure.buildup svg").text_content()
    assert "Bronze rail" in drawing


def new_layer(page: Any, column: str) -> str:
    return str(page.locator(f'.layer.new textarea[name="{column}"]').get_attribute("id"))


def type_layer(keys: Keys, layer: tuple[str, ...]) -> None:
    """What, of what, inches, parts, and: the last one chosen from what is offered."""
    *plain, also = layer
    for text in plain:
        keys.type(text)
        keys.press("Tab")
    if also:
        keys.type(also)
        keys.page.locator("#offers li").first.wait_for()
        keys.press("ArrowDown", "Enter")
    keys.press("Enter")
    keys.taken(layer[0])
    keys.page.locator(f"#{new_layer(keys.page, 'name')}:focus").wait_for()


def type_row(keys: Keys, row: tuple[str, ...]) -> None:
    kind, *cells = row
    if kind != "task":
        if keys.at != "new-kind":
            keys.press("Shift+Tab")
        keys.type({"wait": "w", "hold": "c", "delivery": "del", "decision": "dec"}[kind])
    if keys.at == "new-kind":
        keys.press("Tab")
    for text in cells:
        if text:
            keys.type(text)
        elif keys.at.endswith("-after"):
            keys.press("Delete")
        keys.press("Tab")
    keys.press("Shift+Tab", "Enter")
    keys.taken(cells[1])
    keys.page.locator("#i-new-who:focus").wait_for()


def assert_built(snapshot: Snapshot) -> None:
    side = next(iter(snapshot.sides.values()))
    layers = sorted(snapshot.layers.values(), key=lambda layer: layer.order)
    assert [layer.name for layer in layers] == [name for name, *_ in LAYERS]
    assert {layer.side_id for layer in layers} == {side.id}
    studs, blocks, board, plaster, rail = layers
    assert (blocks.within_id, blocks.parts, blocks.part_name) == (studs.id, 3, "blocks")
    assert (board.material, str(plaster.thickness), plaster.finished) == ("Board", "3/8", True)
    assert rail.passes_through

    assert [(a.kind, a.name) for a in snapshot.chain] == [(row[0], row[2]) for row in ROWS]
    schedule = forecast(snapshot, datetime(2025, 11, 28, 9))
    for name, dates in BY_HAND.items():
        found = schedule[named(snapshot, name).id]
        assert (found.early_start, found.early_finish) == dates, name

    effects = {
        (snapshot.activities[e.activity_id].name, e.verb, snapshot.layers[e.layer_id].name)
        for e in snapshot.effects.values()
    }
    assert effects == {
        ("Frame the well side", "puts in", "Studs"),
        ("Set the blocks", "puts in", "Blocks"),
        ("Hang board", "puts in", "Board"),
        ("Hang board", "covers", "Studs"),
        ("Hang board", "covers", "Blocks"),
        ("Plaster", "puts in", "Plaster"),
        ("Plaster", "covers", "Board"),
        ("Set the rail", "puts in", "Bronze rail"),
    }
    first, last = (snapshot.hold_of[named(snapshot, row[2]).id] for row in ROWS if row[0] == "hold")
    assert (first.layer_ids, first.releases_id, first.authority) == ((blocks.id,), None, False)
    assert (last.layer_ids, last.authority) == ((rail.id,), True)
    plastering = snapshot.before[named(snapshot, "Plaster").id]
    assert [(d.lag, d.most) for d in plastering] == [(0, 2 * 1440)]
