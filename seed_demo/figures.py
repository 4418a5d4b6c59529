"""The figures that the super kept: the flight, the stand-offs, the clear behind the rail."""

from collections.abc import Iterator, Mapping
from fractions import Fraction
from urllib.parse import urlencode

from seed_demo.house import SUPER
from seed_demo.month import FLIGHT, RAIL, Detail
from seed_demo.player import Event, Player, moment
from server.core.changes.kept_figures import KeepFigure, StackFacts, StackPartFacts
from server.core.world import HoldPoint

__all__ = ["events"]

IRC = "IRC 2021 figures"
RISERS = {
    "rise": "112", "measured": "finished", "count": "16", "wanted_riser": "", "going": "10 1/4",
    "nosing": "1", "tread": "1 1/4", "floor_below": "3/4", "floor_above": "3/4",
    "limits": "irc-2021",
}  # fmt: skip
STAND_OFFS = {
    "rise": "7", "tread": "11", "treads": "12", "rail_height": "36", "clearance": "1 3/4",
    "shape": "round", "rail_deep": "1 3/4", "rail_wide": "1 3/4", "first": "8", "last": "8",
    "most": "26", "board": "1/2", "plaster": "3/4", "stud_spacing": "16", "first_stud": "3",
    "limits": "irc-2021",
}  # fmt: skip
PARTS = (
    ("Stand-off, stud to the middle of the rail", "1", "3 7/8", "1/16"),
    ("Board", "-1", "1/2", "1/32"),
    ("Plaster", "-1", "3/4", "1/8"),
    ("Half of the rail", "-1", "7/8", "1/64"),
)
LEAST = "1 1/2"
PROJECTION = "Projection off the gauge"


def events() -> Iterator[Event]:
    """Each kept on the day its numbers were known."""
    yield Event(moment("11-03 09:40"), lambda p: _keep(p, FLIGHT, "stairs", "Flight", RISERS))
    yield Event(
        moment("11-06 15:20"), lambda p: _keep(p, RAIL, "standoffs", "Stand-offs", STAND_OFFS)
    )
    yield Event(moment("11-13 11:20"), _clear)


def _keep(player: Player, detail: Detail, figure: str, name: str, typed: Mapping[str, str]) -> None:
    player.give(
        SUPER,
        KeepFigure(
            id=f"{detail.id}-{figure}",
            detail_id=detail.id,
            figure=figure,
            name=name,
            inputs=urlencode({"units": "in", **typed}),
            limits=IRC,
        ),
    )


def _clear(player: Player) -> None:
    """The clear behind the rail, as a stack: how far each stand-off stands out is measured."""
    check = player.now.hold_of[player.activity(RAIL, "string-check").id]
    typed = {"units": "in", "parts": str(len(PARTS)), "least": LEAST, "most": ""}
    for no, (name, counts, nominal, plus) in enumerate(PARTS, 1):
        fields = {"name": name, "counts": counts, "nominal": nominal, "plus": plus}
        typed |= {f"{field}-{no}": value for field, value in fields.items()}
    typed["by-1"] = f"{check.id}/{PROJECTION}"
    player.give(
        SUPER,
        KeepFigure(
            id=f"{RAIL.id}-stack",
            detail_id=RAIL.id,
            figure="stack",
            name="Clear behind the rail",
            inputs=urlencode(typed),
            stack=StackFacts(parts=tuple(_parts(check)), least=_number(LEAST)),
        ),
    )


def _parts(check: HoldPoint) -> Iterator[StackPartFacts]:
    for no, (name, counts, nominal, plus) in enumerate(PARTS):
        within = _number(plus)
        yield StackPartFacts(
            name=name,
            counts=Fraction(counts),
            nominal=_number(nominal),
            plus=within,
            minus=within,
            hold_id=None if no else check.id,
            label="" if no else PROJECTION,
        )


def _number(text: str) -> Fraction:
    """ "3 7/8" as it stands on a tape."""
    return sum(map(Fraction, text.split()), Fraction(0))
