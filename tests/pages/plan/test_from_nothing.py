"""A detail that no demo has, built by forms from an empty company; its dates worked out by hand."""

from datetime import datetime
from fractions import Fraction

from server.core.world import Activity, Snapshot
from server.core.world.network import forecast
from tests.pages.at_the_wall import Wall
from tests.pages.plan.typing_in import Super

# By hand. The site works Monday to Friday 7:00-12:00 and 12:30-15:30: 8 h a day. Start: Mon Dec 1,
# 7:00. It is Fri Nov 28, 9:00. The look wants 12 d of notice by the clock and nobody has called:
# it is no sooner than now and 12 d, Wed Dec 10 9:00.
#
# Brackets come   delivery, 3 d of work from Mon Dec 1 7:00: Mon, Tue, Wed     -> Wed Dec 3 15:30
# Set posts       1 1/2 d after it: Thu Dec 4 7:00-15:30 (8 h), Fri 7:00-11:00 -> Fri Dec 5 11:00
# Epoxy sets      72 h by the clock over the weekend                           -> Mon Dec 8 11:00
# Plumb of posts  would be Mon Dec 8 11:00, but for the notice                 -> Wed Dec 10 9:00
# Close the well  3 1/2 h after it: 9:00-12:00 and 12:30-13:00                 -> Wed Dec 10 13:00
START = datetime(2025, 12, 1, 7)
BY_HAND = {
    "Brackets come": (START, datetime(2025, 12, 3, 15, 30)),
    "Set posts": (datetime(2025, 12, 4, 7), datetime(2025, 12, 5, 11)),
    "Epoxy sets": (datetime(2025, 12, 5, 11), datetime(2025, 12, 8, 11)),
    "Close the well": (datetime(2025, 12, 10, 9), datetime(2025, 12, 10, 13)),
}


def built(ada: Super) -> str:
    """Everything typed in, as one would; the path of the new detail's plan."""
    ada.take("/house/calendars/new", {"name": "Site hours"})
    ada.take(
        "/house/crews/new",
        {"name": "Anvil & Sons", "trade": "metal", "phone": "555 0199", "notice": "1 d"},
    )
    house = ada.take("/house/new", {"name": "Mill Lane",
                                    "start": "2025-12-01T07:00",
                                    "calendar_id": "Site hours"})  # fmt: skip
    ada.take(f"{house}/floors/new", {"name": "Ground floor"})
    ada.take(f"{house}/floors/new", {"name": "Upper floor"})
    ada.take(f"{house}/places/new", {"name": "Well", "floor_id": "Ground floor"})
    ada.take(f"{house}/ways/new", {"name": "Ladder", "lower_id": "Ground floor",
                                   "upper_id": "Upper floor", "carries": "ladder"})  # fmt: skip
    plan = ada.take(f"{house}/details/new?pattern=empty",
                    {"name": "Well rail", "sheet": "D9", "place_id": "Well"})  # fmt: skip
    ada.take(f"{plan}/sides/new", {"name": "Well side"})
    side = str(ada.page(plan).select_one('a[href*="layers/new"]')["href"])  # type: ignore[index]
    ada.take(side, {"name": "Posts", "material": "steel", "thickness": "1 1/2", "parts": "4",
                    "part_name": "post", "must_be_seen": "yes"})  # fmt: skip
    ada.take(side, {"name": "Cover board", "material": "board", "thickness": "5/8",
                    "over_id": "Posts"})  # fmt: skip
    ada.take(f"{plan}/new?kind=delivery", {"name": "Brackets come", "work": "3 d"})
    ada.take(f"{plan}/new?kind=task", {"name": "Set posts", "work": "1 1/2 d", "puts_in": "Posts",
                                       "crew_id": "Anvil & Sons, metal"})  # fmt: skip
    ada.take(f"{plan}/new?kind=wait", {"name": "Epoxy sets", "work": "72 h"})
    ada.take(
        f"{plan}/new?kind=hold",
        {
            "name": "Plumb of posts", "what": "Each post plumb", "datum": "floor", "tool": "level",
            "notice": "12 d", "layer_ids": "Posts", "marks_crew_id": "Anvil & Sons, metal",
            "parts": "4", "part_name": "post", "label_0": "Height", "nominal_0": "36",
            "within_0": "1/8", "beyond_0": "1/4", "for_0": "each",
            "label_1": "Is the epoxy hard?", "unit_1": "yes or no",
        },
    )  # fmt: skip
    ada.take(f"{plan}/new?kind=task", {"name": "Close the well",
                                       "work": "3 1/2 h", "covers": "Posts",
                                       "puts_in": "Cover board"})  # fmt: skip
    return plan


def named(snapshot: Snapshot, name: str) -> Activity:
    return next(a for a in snapshot.activities.values() if a.name == name)


def kept(wall: Wall) -> Snapshot:
    (house,) = wall.store.projects("new-company")
    return wall.store.snapshot(house.id)


def test_a_detail_built_by_forms_has_the_dates_worked_out_by_hand(empty: Wall, ada: Super) -> None:
    built(ada)
    snapshot = kept(empty)
    schedule = forecast(snapshot, datetime(2025, 11, 28, 9))
    dates = {
        name: (schedule[id].early_start, schedule[id].early_finish)
        for name in BY_HAND
        for id in [named(snapshot, name).id]
    }
    assert dates == BY_HAND
    assert schedule[named(snapshot, "Plumb of posts").id].early_finish == datetime(2025, 12, 10, 9)
    assert schedule.finish == datetime(2025, 12, 10, 13)


def test_the_plan_page_says_the_finish_and_each_row(empty: Wall, ada: Super) -> None:
    page = ada.page(built(ada))
    assert "Finish Wed Dec 10, 1 pm" in page.select_one(".countdown").text  # type: ignore[union-attr]
    rows = [row.text for row in page.select("table.desk tbody tr:not(.new)")]
    assert len(rows) == 5
    assert "Anvil & Sons" in rows[1]
    assert "Posts" in rows[1]
    assert "check" in rows[3]
    assert "the super" in rows[3]


def test_a_number_for_each_of_four_becomes_four_numbers_with_two_tolerances(
    empty: Wall, ada: Super
) -> None:
    built(ada)
    snapshot = kept(empty)
    asks = snapshot.asks_of[snapshot.hold_of[named(snapshot, "Plumb of posts").id].id]
    assert [ask.part for ask in asks] == [1, 2, 3, 4, None]
    first = asks[0]
    assert (first.low, first.high) == (Fraction("35.875"), Fraction("36.125"))
    assert (first.far_low, first.far_high) == (Fraction("35.75"), Fraction("36.25"))
    assert asks[4].unit == "yes"


def test_a_wait_between_put_in_afterward_moves_what_follows(empty: Wall, ada: Super) -> None:
    plan = built(ada)
    set_posts = named(kept(empty), "Set posts").id
    order = str(ada.page(f"{plan}/{set_posts}").select_one('main a[href*="/after/"]')["href"])  # type: ignore[index]
    ada.take(order, {"lag": "1 d", "lag_on": "in working time (1 d is 8 h)"})
    schedule = forecast(kept(empty), datetime(2025, 11, 28, 9))
    # A working day more between Wed Dec 3 and Set posts: it starts Fri Dec 5 at 7.
    assert schedule[set_posts].early_start == datetime(2025, 12, 5, 7)


def test_sending_a_form_as_it_stands_changes_nothing_of_the_check(empty: Wall, ada: Super) -> None:
    plan = built(ada)
    before = kept(empty)
    check = named(before, "Plumb of posts").id
    ada.take(f"{plan}/{check}", {})
    after = kept(empty)
    assert (after.asks, after.activities, after.effects) == (
        before.asks,
        before.activities,
        before.effects,
    )
    assert after.holds == before.holds
