"""Who says OK to cover: nobody, and whoever did it."""

import pytest

from tests.core.warnings.finding import NOW, mended, of, one
from tests.worlds import a_project, on

NOBODY, OWN = "nobody to release", "released by the one who did it"
DONE = {"started": on("Dec 1"), "finished": on("Dec 2")}
METAL = "Ore Street Metal"
WORLD = (
    a_project()
    .with_crew(METAL)
    .with_person("Ada Quill", phone="555-0101")
    .with_person("Noor Baird", phone="555-0102")
    .with_detail("Garden stair rail")
    .with_layer("Stand-offs")
    .with_task("Set the stand-offs", crew=METAL, puts_in="Stand-offs", **DONE)
    .with_check(
        "Height",
        after="Set the stand-offs",
        layers="Stand-offs",
        marks=METAL,
        releases="Ada Quill",
    )
    .with_ask("Height", low="35 7/8", high="36 1/8")
)
BY_LEAD = WORLD.with_changed("height-check", releases_id="ore-street-metal-lead")
RELEASED = {"started": on("Dec 3"), "finished": on("Dec 3")}

# -- nobody to release --------------------------------------------------------------------------


def test_a_check_whose_releaser_has_gone_has_nobody_to_say_ok() -> None:
    found = one(NOBODY, WORLD.with_changed("Ada Quill", ended=NOW))
    assert (found.bad, found.hold_id, found.person_id) == (
        "in the way",
        "height-check",
        "rufus-orme",
    )


def test_one_whose_releaser_can_be_called_has_somebody() -> None:
    assert not of(NOBODY, WORLD)


def test_one_without_a_name_is_the_supers() -> None:
    world = WORLD.with_changed("height-check", releases_id=None)
    assert not of(NOBODY, world)
    assert one(NOBODY, world.with_changed("Rufus Orme", ended=NOW)).mends == ()


def test_a_releaser_without_number_or_address_is_told_when_it_is_time_to_look() -> None:
    silent = WORLD.with_changed("Ada Quill", phone="")
    assert one(NOBODY, silent).sentence.id == "warning.nobody_to_release.silent"
    assert not of(NOBODY, silent.with_changed("Ada Quill", email="ada@quarry.example"))
    assert not of(NOBODY, silent.with_changed("Set the stand-offs", finished=None))


def test_a_releaser_who_was_not_given_the_house_cannot_look() -> None:
    world = WORLD.with_changed("Ada Quill-given", person_id="noor-baird")
    assert one(NOBODY, world).sentence.id == "warning.nobody_to_release.hidden"


def test_what_is_released_or_only_invited_needs_nobody() -> None:
    gone = WORLD.with_changed("Ada Quill", ended=NOW)
    released = gone.with_attempt("Height", "released").with_changed("Height", **RELEASED)
    assert not of(NOBODY, released)
    assert not of(NOBODY, gone.with_changed("height-check", witness=True))


def test_the_super_or_another_who_can_be_reached_mends_it() -> None:
    world = WORLD.with_changed("Ada Quill", ended=NOW)
    found = one(NOBODY, world)
    assert [m.label.values["whose"] for m in found.mends] == ["Rufus Orme", "Noor Baird"]
    assert all(NOBODY not in left for left in mended(world, found))


def test_the_super_is_no_mend_where_only_the_super_marks() -> None:
    world = WORLD.with_changed("Ada Quill", ended=NOW).with_changed(
        "height-check", marks_crew_id=None
    )
    assert [m.label.values["whose"] for m in one(NOBODY, world).mends] == ["Noor Baird"]


# -- released by the one who did it -------------------------------------------------------------


def test_a_releaser_of_the_crew_that_does_it_is_told() -> None:
    found = one(OWN, BY_LEAD)
    assert (found.bad, found.hold_id) == ("in the way", "height-check")
    assert one(OWN, BY_LEAD.with_changed("height-check", marks_crew_id=None))


def test_one_of_the_crew_that_marks_it_is_told() -> None:
    world = BY_LEAD.with_crew("Thimble Hill").with_changed(
        "Set the stand-offs", crew_id="thimble-hill"
    )
    assert one(OWN, world)
    assert not of(OWN, world.with_changed("height-check", marks_crew_id="thimble-hill"))


@pytest.mark.parametrize("field", ["own_mark_ok", "authority", "witness"])
def test_where_that_is_allowed_it_is_no_warning(field: str) -> None:
    assert not of(OWN, BY_LEAD.with_changed("height-check", **{field: True}))


def test_somebody_else_who_looks_is_none() -> None:
    assert not of(OWN, WORLD)


def test_somebody_else_mends_it() -> None:
    found = one(OWN, BY_LEAD)
    assert [m.label.values["whose"] for m in found.mends] == [
        "Rufus Orme",
        "Ada Quill",
        "Noor Baird",
    ]
    assert all(OWN not in left for left in mended(BY_LEAD, found))


def test_a_release_in_fact_by_the_crew_that_did_it_leads_to_the_check() -> None:
    released = BY_LEAD.with_attempt(
        "Height", "released", decided_by_id="ore-street-metal-lead", decided_at=on("Dec 3")
    ).with_changed("Height", **RELEASED)
    found = one(OWN, released)
    assert found.sentence.id == "warning.own_release.done"
    assert [m.goto_hold_id for m in found.mends] == ["height-check"]
    by_ada = {"decided_by_id": "ada-quill"}
    assert not of(OWN, released.with_changed("height-attempt-1", **by_ada))
    assert not of(
        OWN,
        released.with_changed("height-attempt-1", state="opened again").with_changed(
            "height-check", releases_id="ada-quill"
        ),
    )


def test_whoever_marked_it_and_said_ok_is_told_until_what_it_held_is_done() -> None:
    both = {"decided_by_id": "ada-quill", "decided_at": on("Dec 3"), "marked_by_id": "ada-quill"}
    world = (
        WORLD.with_task("Hang board", after="Height")
        .with_attempt("Height", "released", **both)
        .with_changed("Height", **RELEASED)
    )
    assert one(OWN, world).sentence.id == "warning.own_release.marked"
    assert not of(OWN, world.with_changed("Hang board", **RELEASED))
