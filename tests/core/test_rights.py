"""Who may do what: the table is whole, and each sees and presses only what is theirs."""

from dataclasses import fields, replace
from typing import Any

import pytest

from server.core.changes import Actor, Command
from server.core.changes.actuals import Answer, Finish, LookAtTemporary, Start
from server.core.changes.base import RULES
from server.core.changes.bookings import AnswerVisit
from server.core.changes.holds import (
    AddPhoto,
    DropPhoto,
    LookAgain,
    Mark,
    OpenAgain,
    Reject,
    Release,
)
from server.core.changes.places import AddFloor
from server.core.changes.plan import ActivityFacts, AddActivity
from server.core.rights import (
    ROLES,
    Hidden,
    NotTheirs,
    allowed,
    details_seen,
    marks,
    releases,
    sees_project,
)
from server.core.world import Given, Photo, Snapshot, TemporaryWork
from tests.worlds import PROJECT, World, a_project, on

RUFUS = Actor(person_id="rufus-orme", name="Rufus Orme", role="super")
PLASTER = Actor(
    person_id="ninepail-plaster-lead", name="Plaster lead", role="crew", crew_id="ninepail-plaster"
)
GLASS = Actor(
    person_id="larch-glazing-lead", name="Glass lead", role="crew", crew_id="larch-glazing"
)
OWNERS_REP = Actor(person_id="ada-quill", name="Ada Quill", role="rep")
ENGINEER = Actor(person_id="noor-baird", name="Noor Baird", role="rep")


def house() -> World:
    """A rail for plaster, whose check is the engineer's; glass, whose check is the super's."""
    return (
        a_project()
        .with_crew("Ninepail Plaster")
        .with_crew("Larch Glazing")
        .with_person("Ada Quill")
        .with_person("Noor Baird")
        .with_detail("Rail")
        .with_layer("Stand-offs")
        .with_task("Hang board", crew="Ninepail Plaster")
        .with_check("String", after="Hang board", marks="Ninepail Plaster", releases="Noor Baird")
        .with_decision("Sample", person="Ada Quill")
        .with_detail("Glass")
        .with_task("Set glass", crew="Larch Glazing")
        .with_check("Gaps", after="Set glass", marks="Larch Glazing")
        .with_detail("Attic hatch")
        .with_task("Frame hatch")
        .with_booking("Ninepail Plaster", "Hang board", on("Dec 4"), on("Dec 4 15:30"))
        .put(
            Given(
                id="ada-quill-given",
                project_id=PROJECT,
                person_id="ada-quill",
                detail_ids=("rail",),
            ),
            Given(
                id="noor-baird-given",
                project_id=PROJECT,
                person_id="noor-baird",
                detail_ids=("attic-hatch",),
            ),
        )
    )


def commands() -> set[type[Command]]:
    """Every command that the program has."""
    found: set[type[Command]] = set()
    waiting = [Command]
    while waiting:
        below = waiting.pop().__subclasses__()
        found.update(below)
        waiting.extend(below)
    return {command for command in found if command.__module__.startswith("server.")}


def refused(world: World, actor: Actor, command: Command) -> str | None:
    """The id of the refusal, or None if the person may."""
    try:
        allowed(world.snapshot(), actor, command)
    except NotTheirs as refusal:
        return refusal.id
    return None


# -- the table -----------------------------------------------------------------------------------


def test_every_command_stands_in_the_table_and_nothing_else_does() -> None:
    assert {command.__name__ for command in commands()} == set(ROLES)


def test_every_command_has_a_rule() -> None:
    assert commands() == set(RULES)


def test_no_two_commands_have_one_name() -> None:
    assert len({command.__name__ for command in commands()}) == len(commands())


def test_the_super_may_do_everything_that_anybody_may() -> None:
    assert [name for name, roles in ROLES.items() if "super" not in roles] == []


def test_a_rep_never_plans_and_never_says_what_happened() -> None:
    for name in ("AddActivity", "Start", "Finish", "Mark", "AskVisit", "Give", "KeepPerson"):
        assert "rep" not in ROLES[name]


@pytest.mark.parametrize(
    ("command", "role"),
    [
        (command, role)
        for command in sorted(commands(), key=lambda command: command.__name__)
        for role in ("crew", "rep", "owner")
        if role not in ROLES[command.__name__]
    ],
)
def test_a_role_that_the_table_does_not_name_is_refused(command: type[Command], role: str) -> None:
    empty: Any = object.__new__(command)
    for field in fields(command):
        object.__setattr__(empty, field.name, None)
    nobody = Actor(person_id="nobody", name="", role=role)
    assert refused(house(), nobody, empty) == "rights.role"


# -- what is seen --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("actor", "seen"),
    [
        (RUFUS, {"rail", "glass", "attic-hatch"}),
        (PLASTER, {"rail"}),
        (GLASS, {"glass"}),
        (OWNERS_REP, {"rail"}),
        (ENGINEER, {"attic-hatch", "rail"}),
    ],
    ids=lambda value: value.name if isinstance(value, Actor) else "",
)
def test_each_sees_the_details_that_are_theirs(actor: Actor, seen: set[str]) -> None:
    assert details_seen(house().snapshot(), actor) == seen


def test_a_rep_who_was_given_the_whole_project_sees_all_details() -> None:
    whole = house().put(Given(id="ada-quill-given", project_id=PROJECT, person_id="ada-quill"))
    assert details_seen(whole.snapshot(), OWNERS_REP) == {"rail", "glass", "attic-hatch"}


def test_a_crew_that_only_helps_sees_the_detail() -> None:
    world = house().with_changed("Set glass", with_crew_ids=("ninepail-plaster",))
    assert details_seen(world.snapshot(), PLASTER) == {"rail", "glass"}


def test_a_crew_sees_a_detail_no_longer_when_its_work_there_has_ended() -> None:
    world = house().with_changed("Hang board", ended=on("Dec 2"))
    assert details_seen(world.snapshot(), PLASTER) == {"rail"}  # it still marks the check
    world = world.with_changed("String", ended=on("Dec 2"))
    assert details_seen(world.snapshot(), PLASTER) == set()


def test_a_crews_person_without_a_crew_sees_nothing() -> None:
    nobody = Actor(person_id="ninepail-plaster-lead", name="", role="crew", crew_id=None)
    assert details_seen(house().snapshot(), nobody) == set()


def taken_away(person_id: str) -> Snapshot:
    world = house().snapshot()
    return world.drop(*(g for g in world.given.values() if g.person_id == person_id))


def test_what_was_not_given_does_not_exist() -> None:
    world = house().snapshot()
    assert sees_project(world, RUFUS)
    assert sees_project(world, PLASTER)
    assert not sees_project(taken_away(PLASTER.person_id), PLASTER)
    assert details_seen(taken_away(PLASTER.person_id), PLASTER) == set()


# -- what is pressed -----------------------------------------------------------------------------


def start(activity_id: str) -> Start:
    return Start(activity_id=activity_id, when=on("Dec 3"))


def test_a_crew_starts_its_own_work() -> None:
    assert refused(house(), PLASTER, start("hang-board")) is None


def test_work_in_a_detail_one_does_not_see_does_not_exist() -> None:
    with pytest.raises(Hidden):
        allowed(house().snapshot(), PLASTER, start("set-glass"))


def test_another_crews_work_in_a_detail_one_sees_is_not_ones_own() -> None:
    world = house().with_changed("String", detail_id="glass")
    assert details_seen(world.snapshot(), PLASTER) == {"rail", "glass"}
    assert refused(world, PLASTER, start("set-glass")) == "rights.not_your_work"
    done = Finish(activity_id="set-glass", when=on("Dec 3"))
    assert refused(world, PLASTER, done) == "rights.not_your_work"


def test_the_super_starts_anybodys_work() -> None:
    assert refused(house(), RUFUS, start("set-glass")) is None


def test_only_the_crew_of_a_check_and_the_super_mark_it() -> None:
    world, check = house(), Mark(id="m", hold_id="string-check")
    assert refused(world, PLASTER, check) is None
    assert refused(world, RUFUS, check) is None
    assert refused(world, GLASS, check) == "rights.hidden"
    assert refused(world, ENGINEER, check) == "rights.role"


@pytest.mark.parametrize(
    "decision",
    [
        Release(hold_id="string-check"),
        LookAgain(hold_id="string-check", by=on("Dec 4")),
        Reject(hold_id="string-check", rework_id="r", reason="low", rework=60),
        OpenAgain(hold_id="string-check", reason="moved"),
    ],
    ids=lambda command: type(command).__name__,
)
def test_the_named_person_alone_decides_on_a_check(decision: Command) -> None:
    world = house()
    assert refused(world, ENGINEER, decision) is None
    assert refused(world, RUFUS, decision) == "rights.not_your_check"
    assert refused(world, PLASTER, decision) == "rights.not_your_check"
    assert refused(world, OWNERS_REP, decision) == "rights.not_your_check"
    assert refused(world, GLASS, decision) == "rights.hidden"


def test_a_refused_decision_says_whose_it_is() -> None:
    with pytest.raises(NotTheirs) as refusal:
        allowed(house().snapshot(), RUFUS, Release(hold_id="string-check"))
    assert refusal.value.values == {"whose": "Noor Baird"}


def test_a_check_with_nobody_named_is_the_supers() -> None:
    world = house()
    assert refused(world, RUFUS, Release(hold_id="gaps-check")) is None
    assert refused(world, GLASS, Release(hold_id="gaps-check")) == "rights.not_your_check_super"
    hold = world.snapshot().holds["gaps-check"]
    assert [releases(world.snapshot(), a, hold) for a in (RUFUS, GLASS, ENGINEER)] == [
        True,
        False,
        False,
    ]


def test_a_check_without_a_marking_crew_is_marked_by_nobody_but_the_super() -> None:
    world = house().with_changed("String-check", marks_crew_id=None)
    hold = world.snapshot().holds["string-check"]
    crewless = Actor(person_id="x", name="", role="crew", crew_id=None)
    assert marks(world.snapshot(), RUFUS, hold)
    assert not marks(world.snapshot(), PLASTER, hold)
    assert not marks(world.snapshot(), crewless, hold)


def test_photos_are_added_by_who_marks_and_by_who_decides() -> None:
    world = house()
    photo = AddPhoto(id="p", hold_id="string-check", sha256="0", width=1, height=1)
    assert refused(world, PLASTER, photo) is None
    assert refused(world, ENGINEER, photo) is None
    assert refused(world, OWNERS_REP, photo) == "rights.not_your_check"


def test_a_draft_photo_is_dropped_by_who_took_it() -> None:
    photo = Photo(
        id="p", project_id=PROJECT, sha256="0", width=1, height=1, by_id=PLASTER.person_id,
        at=on("Dec 3"), hold_id="string-check",
    )  # fmt: skip
    assert refused(house().put(photo), PLASTER, DropPhoto(photo_id="p")) is None
    assert refused(house().put(photo), GLASS, DropPhoto(photo_id="p")) == "rights.not_your_photo"


def test_a_decision_is_answered_by_who_owes_it_or_by_the_super() -> None:
    world, answer = house(), Answer(activity_id="sample", answer="the second one")
    assert refused(world, OWNERS_REP, answer) is None
    assert refused(world, RUFUS, answer) is None
    assert refused(world, ENGINEER, answer) == "rights.not_your_decision"
    assert refused(world, PLASTER, answer) == "rights.not_your_decision"


def test_a_visit_is_answered_by_the_crew_that_was_asked_and_hidden_from_others() -> None:
    answer = AnswerVisit(booking_id="ninepail-plaster-1", coming=True)
    assert refused(house(), PLASTER, answer) is None
    assert refused(house(), RUFUS, answer) is None
    assert refused(house(), GLASS, answer) == "rights.hidden"


def test_a_temporary_work_is_looked_at_by_its_crew() -> None:
    rail = TemporaryWork(
        id="t", project_id=PROJECT, kind="rail", name="Rail", crew_id="ninepail-plaster"
    )
    look = LookAtTemporary(id="l", temporary_id="t")
    assert refused(house().put(rail), PLASTER, look) is None
    assert refused(house().put(rail), GLASS, look) == "rights.not_your_work"


def test_only_the_super_plans() -> None:
    plan = AddActivity(id="a", detail_id="rail", facts=ActivityFacts(name="Sand"))
    for command in (plan, AddFloor(id="f", name="Attic")):
        assert refused(house(), RUFUS, command) is None
        assert refused(house(), PLASTER, command) == "rights.role"
        assert refused(house(), OWNERS_REP, command) == "rights.role"


@pytest.mark.parametrize(
    ("actor", "command"),
    [
        (PLASTER, start("hang-board")),
        (PLASTER, Mark(id="m", hold_id="string-check")),
        (PLASTER, AnswerVisit(booking_id="ninepail-plaster-1", coming=True)),
        (ENGINEER, Release(hold_id="string-check")),
        (OWNERS_REP, Answer(activity_id="sample", answer="yes")),
    ],
    ids=lambda value: type(value).__name__,
)
def test_a_second_phone_that_nobody_confirmed_only_looks(actor: Actor, command: Command) -> None:
    waiting = replace(actor, confirmed=False)
    assert refused(house(), actor, command) is None
    assert refused(house(), waiting, command) == "rights.only_look"
    assert details_seen(house().snapshot(), waiting) == details_seen(house().snapshot(), actor)
