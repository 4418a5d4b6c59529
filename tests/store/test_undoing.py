"""What would be undone next is found in the log, for its own person, once."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest

from server.core.changes import Actor, Command, Gone
from server.core.changes.actuals import Start
from server.core.changes.bookings import AgreeDates
from server.core.changes.calendars import DropCalendar
from server.core.changes.people import KeepCrew, KeepPerson
from server.core.changes.places import AddFloor, KeepCalendar, KeepPlace, StartProject
from server.core.changes.plan import ActivityFacts, AddActivity, AddDependency, ChangeActivity
from server.core.changes.plan_facts import MOST_WORK
from server.core.changes.plan_rows import MergeActivities, SplitActivity
from server.core.changes.pushing import ChangeWork, PutOff
from server.core.changes.undoing import NotPutBack, Redo, Undo
from server.core.refusals import Refusal
from server.core.rights import NotTheirs
from server.core.world import Snapshot
from server.store import ChangedBySomebody, LogRow, Store, of_what
from server.store.undoing import NotNext
from server.words import say
from tests.store.logged import company_entries
from tests.store.random_plans import INES, RUFUS, a_planned_house
from tests.store.worlds import another_company, kept
from tests.worlds import COMPANY, DAY, PROJECT, WEEK, actor, on

COAT = "south-rail-coat"
NOON, LATER = on("Dec 3 12:00"), on("Dec 3 14:00")
LONGER = ChangeWork(activity_id=COAT, work=3 * DAY)
OFF = PutOff(activity_id=COAT, until=on("Dec 22"))
ATTIC = AddFloor(id="attic", name="Attic")
SPLIT = SplitActivity(
    id="rest",
    activity_id="south-rail-boarding",
    name="Board",
    work=DAY // 2,
    second_name="Board the rest",
)
LONGER_BOARD = ChangeWork(activity_id="south-rail-boarding", work=2 * DAY)
TIE = AddDependency(id="tie", before_id="south-rail-boarding", after_id="north-rail-coat")
CREW = KeepCrew(id="glazing", name="Larch Glazing", trade="glass")


@pytest.fixture
def planned(store: Store) -> Store:
    """The house of Rufus and Ines, once per kind of database."""
    return kept(store, a_planned_house())


def by(store: Store, who: str) -> Actor:
    return actor(store.snapshot(PROJECT), who)


def do(store: Store, *commands: Command, who: str = RUFUS, project: str | None = PROJECT) -> None:
    company = COMPANY if project is None else None
    store.apply(by(store, who), project, *commands, company_id=company, at=NOON)


def next_undo(store: Store, who: str = RUFUS, project: str | None = PROJECT) -> LogRow | None:
    return store.turns(who, COMPANY, project).undo


def next_redo(store: Store, who: str = RUFUS, project: str | None = PROJECT) -> LogRow | None:
    return store.turns(who, COMPANY, project).redo


def undo(store: Store, who: str = RUFUS, project: str | None = PROJECT) -> None:
    row = next_undo(store, who, project)
    assert row is not None
    do(store, Undo(entry_id=row.id), who=who, project=project)


def redo(store: Store, who: str = RUFUS, project: str | None = PROJECT) -> None:
    row = next_redo(store, who, project)
    assert row is not None
    do(store, Redo(entry_id=row.id), who=who, project=project)


def said(row: LogRow | None) -> str:
    return say(of_what(row)) if row else ""


def refusal(store: Store, command: Command, who: str = RUFUS) -> Refusal:
    """The refusal, which can be said, and after which all is as it was."""
    before, log = store.snapshot(PROJECT), company_entries(store, COMPANY)
    with pytest.raises(Refusal) as caught:
        do(store, command, who=who)
    assert say(caught.value.message)
    assert (store.snapshot(PROJECT), company_entries(store, COMPANY)) == (before, log)
    return caught.value


def work(snapshot: Snapshot) -> int:
    return snapshot.activities[COAT].work


# -- what is next --------------------------------------------------------------------------------


def test_a_change_is_undone_and_done_again(planned: Store) -> None:
    do(planned, LONGER)
    undo(planned)
    assert work(planned.snapshot(PROJECT)) == DAY
    redo(planned)
    assert work(planned.snapshot(PROJECT)) == 3 * DAY


def test_nothing_is_undone_where_nothing_was_changed(planned: Store) -> None:
    assert (next_undo(planned), next_redo(planned)) == (None, None)


def test_the_newest_is_undone_first_and_done_again_last(planned: Store) -> None:
    do(planned, LONGER)
    do(planned, ATTIC)
    assert said(next_undo(planned)) == "Added the floor Attic."
    undo(planned)
    assert said(next_undo(planned)) == "“South rail coat” takes 3 days."
    undo(planned)
    assert next_undo(planned) is None
    assert said(next_redo(planned)) == "“South rail coat” takes 3 days."
    redo(planned)
    assert said(next_redo(planned)) == "Added the floor Attic."
    redo(planned)
    assert next_redo(planned) is None
    assert said(next_undo(planned)) == "Added the floor Attic."


def test_what_is_done_again_can_be_undone_again_and_so_on(planned: Store) -> None:
    do(planned, LONGER)
    for _ in range(3):
        undo(planned)
        assert work(planned.snapshot(PROJECT)) == DAY
        redo(planned)
        assert work(planned.snapshot(PROJECT)) == 3 * DAY
    assert said(next_undo(planned)) == "“South rail coat” takes 3 days."


def test_after_another_change_nothing_is_done_again(planned: Store) -> None:
    do(planned, LONGER)
    undo(planned)
    do(planned, ATTIC)
    assert next_redo(planned) is None
    undo(planned)
    assert said(next_redo(planned)) == "Added the floor Attic."
    redo(planned)
    assert next_redo(planned) is None


def test_each_person_undoes_their_own(planned: Store) -> None:
    do(planned, LONGER)
    do(planned, ATTIC, who=INES)
    assert said(next_undo(planned)) == "“South rail coat” takes 3 days."
    assert said(next_undo(planned, INES)) == "Added the floor Attic."
    undo(planned)
    assert "attic" in planned.snapshot(PROJECT).floors


def test_what_happened_stands_and_what_was_planned_before_it_is_next(planned: Store) -> None:
    do(planned, LONGER)
    do(planned, Start(activity_id="north-rail-framing", when=on("Dec 3 8:00")))
    do(planned, AgreeDates(detail_id="north-rail"))
    assert said(next_undo(planned)) == "“South rail coat” takes 3 days."


def test_a_change_that_is_partly_what_happened_is_not_undone(planned: Store) -> None:
    do(planned, LONGER, Start(activity_id="north-rail-framing", when=on("Dec 3 8:00")))
    assert next_undo(planned) is None


def test_several_commands_of_one_change_are_undone_together(planned: Store) -> None:
    do(planned, ATTIC, KeepPlace(id="loft", name="Loft", floor_id="attic"))
    assert said(next_undo(planned)) == "Added the floor Attic. Set the place Loft."
    undo(planned)
    after = planned.snapshot(PROJECT)
    assert not {"attic", "loft"} & (after.floors.keys() | after.places.keys())


def test_a_change_that_changed_nothing_is_passed_over(planned: Store) -> None:
    do(planned, LONGER)
    do(planned, LONGER)
    undo(planned)
    assert work(planned.snapshot(PROJECT)) == DAY


def test_what_is_next_is_found_behind_many_marks(planned: Store) -> None:
    do(planned, LONGER)
    for _ in range(60):
        do(planned, AgreeDates(detail_id="north-rail", reason="Again"))
    assert said(next_undo(planned)) == "“South rail coat” takes 3 days."


def test_the_log_says_what_was_undone_and_of_which_entry(planned: Store) -> None:
    do(planned, LONGER)
    undo(planned)
    redo(planned)
    again, back, first = planned.log(PROJECT, limit=3)
    assert (first.of_id, back.of_id, again.of_id) == (None, first.id, back.id)
    assert [say(row.said[0]) for row in (back, again)] == [
        "Undone: “South rail coat” takes 3 days.",
        "Done again: “South rail coat” takes 3 days.",
    ]
    assert first.detail_ids == back.detail_ids == again.detail_ids == ("south-rail",)


# -- what is refused -----------------------------------------------------------------------------


def entry(row: LogRow | None) -> str:
    assert row is not None
    return row.id


def test_somebody_elses_change_is_not_undone(planned: Store) -> None:
    do(planned, LONGER)
    theirs = refusal(planned, Undo(entry_id=entry(next_undo(planned))), INES)
    assert isinstance(theirs, NotTheirs)
    assert say(theirs.message) == "Rufus Orme did that, so Rufus Orme can undo it."


def test_a_crew_undoes_nothing(planned: Store) -> None:
    do(planned, LONGER)
    lead = refusal(planned, Undo(entry_id=entry(next_undo(planned))), "ninepail-plaster-lead")
    assert (type(lead), lead.id) == (NotTheirs, "rights.role")


def test_what_is_not_next_is_not_undone(planned: Store) -> None:
    do(planned, LONGER)
    first = entry(next_undo(planned))
    do(planned, ATTIC)
    for id in (first, "no-entry", ""):
        assert refusal(planned, Undo(entry_id=id)).id == "undo.not_next"


def test_what_has_happened_is_not_undone(planned: Store) -> None:
    do(planned, AgreeDates(detail_id="north-rail"))
    promised = planned.log(PROJECT, limit=1)[0].id
    assert refusal(planned, Undo(entry_id=promised)).id == "undo.never"


def test_an_undoing_is_done_again_and_not_undone(planned: Store) -> None:
    do(planned, LONGER)
    undo(planned)
    undoing = planned.log(PROJECT, limit=1)[0].id
    assert refusal(planned, Undo(entry_id=undoing)).id == "undo.not_next"


def test_rows_that_a_page_would_send_along_are_not_looked_at(planned: Store) -> None:
    do(planned, LONGER)
    do(planned, ATTIC)
    newest, _ = planned.log(PROJECT, limit=2)
    forged = Undo(entry_id=newest.id, rows=(), what=newest.said[0])
    do(planned, forged)
    assert "attic" not in planned.snapshot(PROJECT).floors


def test_the_refusal_says_who_changed_it_since_and_how(planned: Store) -> None:
    do(planned, LONGER)
    do(planned, OFF, who=INES)
    refused = refusal(planned, Undo(entry_id=entry(next_undo(planned))))
    assert isinstance(refused, ChangedBySomebody)
    assert refused.entry.person_id == INES
    assert say(refused.message) == (
        "This stays: it is not as you left it any more (task or check “South rail coat”). "
        "Ines Halloran, Wed Dec 3, noon: “South rail coat” not before Mon Dec 22, 7 am."
    )


def test_the_refusal_says_who_hung_something_on_it(planned: Store) -> None:
    do(planned, ATTIC)
    do(planned, KeepPlace(id="loft", name="Loft", floor_id="attic"), who=INES)
    refused = refusal(planned, Undo(entry_id=entry(next_undo(planned))))
    assert isinstance(refused, ChangedBySomebody)
    assert say(refused.message).endswith("Ines Halloran, Wed Dec 3, noon: Set the place Loft.")


def test_what_was_changed_and_undone_since_is_not_named(planned: Store) -> None:
    do(planned, LONGER)
    do(planned, OFF, who=INES)
    note = ChangeActivity(activity_id=COAT, facts=ActivityFacts(name="Coat", work=DAY))
    do(planned, note, who=INES)
    undo(planned, INES)
    refused = refusal(planned, Undo(entry_id=entry(next_undo(planned))))
    assert isinstance(refused, ChangedBySomebody)
    assert refused.entry.commands == ("PutOff",)


def test_what_was_undone_and_done_again_since_has_come_to_nothing(planned: Store) -> None:
    do(planned, SPLIT)
    undo(planned)
    do(planned, LONGER_BOARD, who=INES)
    undo(planned, INES)
    redo(planned)
    undo(planned)
    do(planned, TIE, who=INES)
    undo(planned, INES)
    redo(planned)
    undo(planned)
    assert "rest" not in planned.snapshot(PROJECT).activities


def test_work_that_was_split_stays_so_when_another_came_to_the_first_half(planned: Store) -> None:
    do(planned, SPLIT)
    do(planned, TIE, who=INES)
    refused = refusal(planned, Undo(entry_id=entry(next_undo(planned))))
    assert isinstance(refused, ChangedBySomebody)
    assert say(refused.message).startswith(
        "This stays: something has come to it since (order “North rail coat”). Ines Halloran, "
    )


def test_work_that_was_merged_stays_so_when_it_was_promised_by_now(planned: Store) -> None:
    do(planned, SPLIT)
    do(planned, MergeActivities(first_id="south-rail-boarding", second_id="rest"))
    do(planned, AgreeDates(detail_id="south-rail"), who=INES)
    refused = refusal(planned, Undo(entry_id=entry(next_undo(planned))))
    assert isinstance(refused, ChangedBySomebody)
    assert refused.entry.commands == ("AgreeDates",)
    assert "promised date “Board”" in say(refused.message)


def test_what_was_taken_out_since_is_named_by_whoever_took_it_out(planned: Store) -> None:
    week = KeepCalendar(id="short", name="Short week", shifts=WEEK)
    do(planned, week, replace(CREW, calendar_id="short"))
    do(planned, CREW)
    do(planned, DropCalendar(calendar_id="short"), who=INES)
    refused = refusal(planned, Undo(entry_id=entry(next_undo(planned))))
    assert say(refused.message) == (
        "This stays: what it belongs to is not there any more (calendar of the crew "
        "“Larch Glazing”). Ines Halloran, Wed Dec 3, noon: Took the calendar Short week out."
    )


def test_when_the_other_takes_it_back_it_can_be_undone(planned: Store) -> None:
    do(planned, LONGER)
    do(planned, OFF, who=INES)
    undo(planned, INES)
    undo(planned)
    assert work(planned.snapshot(PROJECT)) == DAY


# -- twice at once -------------------------------------------------------------------------------


def test_the_same_press_twice_gets_the_first_answer(planned: Store) -> None:
    do(planned, LONGER)
    press = Undo(entry_id=entry(next_undo(planned)))
    first = planned.apply(by(planned, RUFUS), PROJECT, press, key="k", at=NOON)
    again = planned.apply(by(planned, RUFUS), PROJECT, press, key="k", at=LATER)
    assert (again.first_at, again.said) == (NOON, first.said)


def test_of_two_presses_at_once_one_is_refused(planned: Store) -> None:
    do(planned, ATTIC)
    do(planned, LONGER)
    press = Undo(entry_id=entry(next_undo(planned)))

    def pressed(key: str) -> type[Exception] | None:
        try:
            planned.apply(actor(a_planned_house(), RUFUS), PROJECT, press, key=key, at=NOON)
        except Refusal as refused:
            return type(refused)
        return None

    with ThreadPoolExecutor(2) as pool:
        came_of_it = list(pool.map(pressed, ("one", "other")))
    assert set(came_of_it) == {None, NotNext}
    assert "attic" in planned.snapshot(PROJECT).floors


# -- the company alone ---------------------------------------------------------------------------


def test_a_crew_of_the_company_is_undone_and_done_again(planned: Store) -> None:
    do(planned, CREW, project=None)
    assert next_undo(planned) is None
    undo(planned, project=None)
    assert "glazing" not in planned.snapshot(PROJECT).crews
    assert "glass" not in planned.snapshot(PROJECT).company.trades
    redo(planned, project=None)
    assert planned.snapshot(PROJECT).crews["glazing"].version > 1


def test_a_crew_that_works_in_some_house_by_now_stays(planned: Store) -> None:
    do(planned, CREW, project=None)
    together = ActivityFacts(name="Set glass", work=DAY, with_crew_ids=("glazing",))
    do(planned, AddActivity(id="set-glass", detail_id="north-rail", facts=together), who=INES)
    row = next_undo(planned, project=None)
    with pytest.raises(NotPutBack) as refused:
        do(planned, Undo(entry_id=entry(row)), project=None)
    assert "Ines Halloran" in say(refused.value.message)
    assert "glazing" in planned.snapshot(PROJECT).crews


def test_hours_by_which_a_house_would_have_no_dates_do_not_come_back(planned: Store) -> None:
    few = KeepCalendar(id="few", name="Few", shifts=("0 07:00 07:01",))
    do(planned, few, project=None)
    do(planned, replace(few, shifts=WEEK), project=None)
    for number in (1, 2):
        work = ActivityFacts(name=f"Carve {number}", work=MOST_WORK, calendar_id="few")
        after = ("carve-1",) if number == 2 else ()
        id = f"carve-{number}"
        do(planned, AddActivity(id=id, detail_id="north-rail", facts=work, after=after), who=INES)
    with pytest.raises(NotPutBack) as refused:
        undo(planned, project=None)
    assert refused.value.id == "undo.no_dates"


def test_a_new_house_is_not_undone(planned: Store) -> None:
    start = StartProject(
        id="p2", name="Mill Lane", time_zone="America/Denver", start=on("Dec 1"), calendar_id="site"
    )
    do(planned, start, project=None)
    assert next_undo(planned, project=None) is None
    assert next_undo(planned, project="p2") is None


def test_nothing_is_undone_from_another_company(planned: Store) -> None:
    other = another_company(planned)
    do(planned, LONGER)
    press = Undo(entry_id=entry(next_undo(planned)))
    ada = Actor(person_id="ada", name="Ada", role="super")
    with pytest.raises(NotNext):
        planned.apply(ada, other.id, press, at=NOON)


def test_whoever_is_no_super_any_more_undoes_nothing(planned: Store) -> None:
    do(planned, LONGER, who=INES)
    press = Undo(entry_id=entry(next_undo(planned, INES)))
    do(planned, KeepPerson(id=INES, name="Ines Halloran", role="rep"))
    with pytest.raises(NotTheirs):
        planned.apply(Actor(person_id=INES, name="Ines", role="super"), PROJECT, press, at=NOON)


def test_a_house_that_is_not_there_has_nothing_to_undo(planned: Store) -> None:
    with pytest.raises(Gone):
        planned.apply(by(planned, RUFUS), "no-house", Undo(entry_id="e"), at=NOON)
