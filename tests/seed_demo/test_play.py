"""The demo as it stands when it has been played: its day, its states, its warnings, its log."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path
from random import Random

import pytest
from starlette.datastructures import QueryParams

from seed_demo.house import COMPANY, CREWS, NOW, PEOPLE, PROJECT
from seed_demo.month import DETAILS, FLIGHT, GUARD, RAIL, WELL, Detail
from seed_demo.play import Accounts, play
from seed_demo.player import Player
from server.core.changes import Actor, changed
from server.core.figures.stack import Keeping
from server.core.kept import days_of
from server.core.promises import promised_finish
from server.core.stacks import stack_of
from server.core.states import hold_state
from server.core.warnings import find
from server.core.world import Activity, Snapshot
from server.core.world.clock import status_of
from server.core.world.network import forecast
from server.data.limits import all_profiles
from server.outside.photos import path_of
from server.pages.figures.figure import made
from server.pages.figures.known import FIGURES
from server.pages.kept_figures.working import UNBUILT
from server.people.links import open_link
from server.people.sign_in import sign_in
from server.settings import Settings
from server.store import Store, open_store
from server.store.migrate import upgrade
from server.words import words


@dataclass(frozen=True)
class Played:
    """The demo, played once for all tests here."""

    store: Store
    data_dir: Path
    accounts: Accounts

    @property
    def house(self) -> Snapshot:
        return self.store.snapshot(PROJECT)

    def activity(self, detail: Detail, key: str) -> Activity:
        return Player(self.store, self.data_dir).activity(detail, key)


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Played]:
    folder = tmp_path_factory.mktemp("demo")
    settings = Settings(data_dir=folder, database_url=f"sqlite:///{folder}/stairhold.db")
    upgrade(settings)
    store = open_store(settings)
    yield Played(store, folder, play(store, folder))
    store.close()


def test_its_clock_stands_at_the_demos_day(demo: Played) -> None:
    house = demo.house
    assert demo.store.now(house.company, house.project) == NOW


def notes(house: Snapshot) -> list[tuple[str, str | None]]:
    found = find(house, forecast(house, status_of(NOW)))
    return [(w.rule, w.detail_id) for w in found]


SEVEN = [
    ("work overhead", WELL.id),
    ("way cut off", FLIGHT.id),
    ("about to be hidden", RAIL.id),
    ("wood into a wet house", FLIGHT.id),
    ("decision overdue", GUARD.id),
    ("too many in one place", RAIL.id),
    ("crew coming, parts not here", GUARD.id),
]


def test_the_warnings_are_these_seven_and_no_others(demo: Played) -> None:
    assert notes(demo.house) == SEVEN


def test_each_of_the_seven_is_about_what_it_should_be(demo: Played) -> None:
    house = demo.house
    found = find(house, forecast(house, status_of(NOW)))
    check = house.hold_of[demo.activity(RAIL, "height-check").id]
    (channel,) = (b.id for b in house.bookings.values() if "channelin2" in b.activity_ids)
    assert {w.rule: w.subject for w in found} == {
        "work overhead": (demo.activity(WELL, "battens").id, "flight"),
        "way cut off": ("wayother", "floorupper"),
        "about to be hidden": (check.id,),
        "wood into a wet house": (demo.activity(FLIGHT, "treads-shipped").id,),
        "decision overdue": (demo.activity(GUARD, "sample-accepted").id,),
        "too many in one place": ("garden", "hobnail", "ninepail"),
        "crew coming, parts not here": (channel,),
    }


def without_todays_looks(house: Snapshot) -> Snapshot:
    guard = next(t for t in house.temporary.values() if t.kind == "guard" and t.put_in)
    return house.drop(*(x for x in house.looks.values() if x.temporary_id == guard.id))


def with_a_crew_that_is_silent(house: Snapshot) -> Snapshot:
    """Tomorrow's plasterers have not answered, and half the time to their visit is over."""
    visit = next(
        b
        for b in house.bookings.values()
        if b.crew_id == "ninepail"
        and b.ended is None
        and b.start.date() == datetime(2025, 12, 4).date()
    )
    return house.put(replace(visit, state="asked", asked_at=visit.start - timedelta(days=9)))


def with_another_drawing(house: Snapshot) -> Snapshot:
    check = next(a for a in house.chain if a.sheet_id and a.finished is None)
    sheet = house.sheets[check.sheet_id or ""]
    newer = replace(sheet, id="newer", revision="Z", version=1)
    return house.put(replace(sheet, replaced_id="newer"), newer)


@pytest.mark.parametrize(
    ("fact", "note"),
    [
        (without_todays_looks, "temporary work not looked at"),
        (with_a_crew_that_is_silent, "no answer"),
        (with_another_drawing, "old drawing"),
    ],
)
def test_one_changed_fact_adds_exactly_its_note(
    demo: Played, fact: Callable[[Snapshot], Snapshot], note: str
) -> None:
    added = [found for found in notes(fact(demo.house)) if found not in SEVEN]
    assert [rule for rule, _ in added] == [note]


@pytest.mark.parametrize("seed", range(6))
def test_mends_pressed_in_any_order_end_with_no_new_note(demo: Played, seed: int) -> None:
    """Each is found again before it is pressed: another may have cleared its note meanwhile."""
    house, dice, status = demo.house, Random(seed), status_of(NOW)
    dell = Actor(person_id="super", name="Dell", role="super")
    order = [rule for rule, _ in SEVEN]
    dice.shuffle(order)
    for rule in order:
        for warning in find(house, forecast(house, status)):
            presses = [mend for mend in warning.mends if mend.commands]
            if warning.rule == rule and presses:
                house = changed(house, dell, dice.choice(presses).commands, NOW)
    left = {rule for rule, _ in notes(house)}
    assert left <= {"about to be hidden"}


def test_the_height_check_is_marked_and_not_looked_at(demo: Played) -> None:
    house = demo.house
    hold = house.hold_of[demo.activity(RAIL, "height-check").id]
    (attempt,) = house.attempts_of[hold.id]
    typed = {house.asks[m.ask_id].part: m.typed for m in house.measurements_of[attempt.id]}
    assert hold_state(house, hold, forecast(house, status_of(NOW))) == "marked"
    assert len(typed) == 7


def test_framing_goes_on_in_the_main_flight_and_the_skin_is_on(demo: Played) -> None:
    sub_treads = demo.activity(FLIGHT, "sub-treads-on")
    assert sub_treads.started
    assert sub_treads.finished is None
    assert demo.activity(GUARD, "skin-on").finished


def test_one_check_was_rejected_and_one_looked_at_again(demo: Played) -> None:
    states = [a.state for a in demo.house.attempts.values()]
    assert (states.count("rejected"), states.count("look again")) == (1, 1)


def test_the_log_runs_from_early_november_to_the_day_in_order(demo: Played) -> None:
    times = [row.at for row in demo.store.log(PROJECT, limit=1000)]
    assert times == sorted(times, reverse=True)
    assert (times[-1].month, times[-1].day) == (11, 3)
    assert times[0].date() == NOW.date()
    assert 150 < len(times) < 500


def test_every_photo_of_it_is_kept(demo: Played) -> None:
    photos = demo.house.photos.values()
    assert photos
    assert all(path_of(demo.data_dir, photo.sha256).exists() for photo in photos)


def test_a_visit_on_monday_has_no_answer(demo: Played) -> None:
    asked = [b for b in demo.house.bookings.values() if b.state == "asked" and not b.ended]
    assert [(b.crew_id, b.start.day) for b in asked] == [("ninepail", 8)]


def test_the_super_signs_in_and_the_links_are_the_leads_and_the_reps(demo: Played) -> None:
    accounts = demo.accounts
    assert sign_in(demo.store, accounts.login, accounts.password, "127.0.0.1")
    for link, who in ((accounts.crew_link, "orestreet"), (accounts.rep_link, "wilhelmina")):
        assert open_link(demo.store, link.rsplit("/", 1)[1]).person.id == who


def test_its_people_and_crews_are_the_invented_ones(demo: Played) -> None:
    snapshot = demo.store.company_snapshot(COMPANY)
    assert {p.name for p in snapshot.people.values()} == {who.name for who in PEOPLE.values()}
    assert {c.name for c in snapshot.crews.values()} == {crew[0] for crew in CREWS.values()}
    assert all(p.phone.startswith("555-01") for p in snapshot.people.values())
    assert {d.name for d in demo.house.details.values()} == {d.name for d in DETAILS}


@pytest.mark.parametrize("detail", DETAILS, ids=lambda detail: detail.id)
def test_each_detail_was_promised_slipped_and_somebody_said_why(
    demo: Played, detail: Detail
) -> None:
    house = demo.house
    schedule = forecast(house, status_of(NOW))
    slips = [day for day in days_of(house, schedule, detail.id, NOW) if day.later > 0]
    assert promised_finish(house, detail.id)
    assert any(day.causes for day in slips)


def test_its_figures_come_out_within_their_limits_and_the_clear_is_measured(demo: Played) -> None:
    house, said = demo.house, words("en")
    profiles = {one.id: one for one in all_profiles()}
    named = {figure.name: figure for figure in FIGURES}
    kept = house.kept_figures.values()
    assert sorted(one.figure for one in kept) == ["stack", "stairs", "standoffs"]
    for one in kept:
        figure = named[one.figure]
        asked = figure.asks(QueryParams(one.inputs), "in", said, profiles)
        result = made(figure, asked)
        assert result is not None, asked.form.all_refusals
        beyond = [held.name for held in result.held if not held.within]
        assert [name for name in beyond if not name.startswith(UNBUILT)] == []
    each = stack_of(house, house.kept_figures[f"{RAIL.id}-stack"])
    assert [at.no for at in each] == list(range(1, 8))
    assert {at.figure.parts[0].part.measured for at in each} == {3.875}
    assert {at.figure.keeping for at in each} == {Keeping.KEPT}
