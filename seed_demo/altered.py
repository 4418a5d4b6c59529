"""How the chains that were copied from patterns were altered for this house, and when."""

from collections.abc import Callable, Iterator

from seed_demo.house import SUPER
from seed_demo.month import FLIGHT, GLASS, GUARD, RAIL, WELL, Detail
from seed_demo.player import Event, Player, moment
from server.core.changes.plan import (
    ActivityFacts,
    AddActivity,
    AddDependency,
    EndActivity,
    EndDependency,
)
from server.core.warnings.making import with_facts

__all__ = ["events"]

# detail, key of a check, the drawing it is made to, when that was said
MADE_TO: tuple[tuple[Detail, str, str, str], ...] = (
    (FLIGHT, "sub-tread-check", "sheetmain3", "11-13 08:10"),
    (GUARD, "ribs-check", "sheetgardb", "11-12 10:00"),
    (GUARD, "skin-check", "sheetgardb", "11-12 10:05"),
    (RAIL, "height-check", "sheetrail3", "11-11 09:00"),
    (GLASS, "recess-check", "sheetglasa", "11-06 08:00"),
    (GLASS, "recess-check", "sheetglasb", "11-24 10:50"),
    (WELL, "batten-check", "sheetwellb", "11-18 09:00"),
)


def events() -> Iterator[Event]:
    """All of it, in no order."""
    yield Event(moment("11-05 08:10"), _tower)
    yield Event(moment("11-06 08:20"), _treads_early)
    yield Event(moment("11-21 09:40"), _seen_with_the_flight)
    yield Event(moment("11-24 14:00"), _channel)
    yield Event(moment("11-24 14:30"), _two_samples)
    yield Event(moment("11-26 13:20"), _scaffold_out)
    yield Event(moment("12-01 13:10"), _mock_up)
    yield Event(moment("12-02 08:30"), _off_the_stand_offs)
    for detail, key, sheet, at in MADE_TO:
        yield Event(moment(at), _made_to(detail, key, sheet))


def _made_to(detail: Detail, key: str, sheet: str) -> Callable[[Player], None]:
    def say(player: Player) -> None:
        player.give(SUPER, with_facts(player.now, player.activity(detail, key), sheet_id=sheet))

    return say


def _tower(player: Player) -> None:
    """The well is reached from a tower, not from a deck; the zinc crew hangs its own battens."""
    now, tower = player.now, "Tower in the well, planked at the top"
    deck, strike, battens = (player.activity(WELL, key) for key in ("deck", "strike", "battens"))
    strikes = "Strike the tower, top down"
    player.give(
        SUPER,
        with_facts(now, deck, name=tower, note="The flight stays open.", closes_way_id=None),
        with_facts(now, strike, name=strikes, note="", opens_way_id=None),
        with_facts(now, battens, crew_id="orestreet"),
    )


def _treads_early(player: Player) -> None:
    """The joint to the wall is a reveal: treads are made to the layout, not to the plaster."""
    now = player.now
    template, dries, made = (
        player.activity(FLIGHT, key) for key in ("template", "finish-dries", "treads-made")
    )
    (after,) = (d for d in now.before[template.id] if d.before_id == dries.id)
    player.give(
        SUPER,
        EndDependency(dependency_id=after.id),
        EndActivity(
            activity_id=template.id,
            reason="A reveal at the wall: the treads are made to the layout, not to the plaster",
        ),
        with_facts(now, made, measured_from_id=None),
    )


def _seen_with_the_flight(player: Player) -> None:
    rough = player.activity(RAIL, "rough")
    player.give(
        SUPER,
        EndActivity(activity_id=rough.id, reason="Town looked at this wall with the main flight"),
    )


def _channel(player: Player) -> None:
    """The light channel is a piece of its own: it is ordered, comes, and goes in before lath."""
    skin, lath = (player.activity(GUARD, key) for key in ("skin-on", "lath-on"))
    player.give(
        SUPER,
        AddActivity(
            id="channelcut",
            detail_id=GUARD.id,
            facts=ActivityFacts(
                name="Light channel, cut and drilled", kind="delivery", work=6 * 1440
            ),
            behind_id=skin.id,
        ),
        AddActivity(
            id="channelin2",
            detail_id=GUARD.id,
            facts=ActivityFacts(
                name="Light channel and its wire in the slot",
                work=180,
                crew_id="cricket",
                place_id=GUARD.place,
            ),
            behind_id="channelcut",
            after=(skin.id, "channelcut"),
        ),
        AddDependency(id="channeldep", before_id="channelin2", after_id=lath.id),
    )


def _two_samples(player: Player) -> None:
    """Ninepail made the piece in two finishes: one of them has to be chosen."""
    choice = player.activity(GUARD, "sample-accepted")
    player.give(
        SUPER, with_facts(player.now, choice, name="Which of the two plaster samples, signed")
    )


def _scaffold_out(player: Player) -> None:
    """The scaffold outside is hired to a day: it goes then, whether the rough stair is open or
    not."""
    now = player.now
    walked, opened = (
        player.activity(FLIGHT, key) for key in ("sub-tread-check", "rough-stair-open")
    )
    out = ActivityFacts(
        name="Scaffold stair outside comes out",
        note="Its hire ends on Dec 9.",
        work=240,
        not_before=moment("12-09 07:00"),
        crew_id="thimble",
        closes_way_id=opened.closes_way_id,
    )
    player.give(
        SUPER,
        with_facts(now, opened, name="Open the rough stair", closes_way_id=None),
        AddActivity(
            id="scaffldout",
            detail_id=FLIGHT.id,
            facts=out,
            behind_id=opened.id,
            after=(walked.id,),
        ),
    )


def _mock_up(player: Player) -> None:
    blocking, rail = (player.activity(FLIGHT, key) for key in ("blocking", "rail-set"))
    facts = ActivityFacts(
        name="Rail parts carried up, rail mocked up full size",
        note="In poplar, at the upper landing.",
        work=2400,
        not_before=moment("12-08 07:00"),
        crew_id="hobnail",
        place_id="landing",
        heavy=True,
    )
    player.give(
        SUPER,
        AddActivity(
            id="mockedrail",
            detail_id=FLIGHT.id,
            facts=facts,
            behind_id="scaffldout",
            after=(blocking.id,),
        ),
        AddDependency(id="mockeddep2", before_id="mockedrail", after_id=rail.id),
    )


def _off_the_stand_offs(player: Player) -> None:
    """Hobnail wants the ends while the wall is open and the stand-offs stand free."""
    stand_offs, drawing = (player.activity(RAIL, key) for key in ("set-stand-offs", "rail-drawing"))
    facts = ActivityFacts(
        name="Pattern of the rail ends off the bare stand-offs",
        work=270,
        crew_id="hobnail",
        place_id=RAIL.place,
    )
    player.give(
        SUPER,
        AddActivity(
            id="endpattern",
            detail_id=RAIL.id,
            facts=facts,
            behind_id=stand_offs.id,
            after=(stand_offs.id,),
        ),
        AddDependency(id="endpatdep2", before_id="endpattern", after_id=drawing.id),
    )
