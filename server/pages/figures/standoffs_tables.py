"""The tables of a rail's stand-offs that framing and metal crews take to the wall."""

from server.core.figures.standoffs import StandOff, StandOffFigure
from server.core.figures.studs import On
from server.pages.figures.asked import Asked
from server.pages.figures.result import Table
from server.pages.figures.saying import shown

BEHIND = {
    On.STUD: "standoffs.behind.stud",
    On.EDGE: "standoffs.behind.edge",
    On.BAY: "standoffs.behind.bay",
}


def for_framing(asked: Asked, figure: StandOffFigure) -> Table:
    """What whoever sets the blocking needs."""
    heads = (
        "standoffs.head.no",
        "standoffs.head.along_floor",
        "standoffs.head.behind",
        "standoffs.head.band_low",
        "standoffs.head.band_high",
        "standoffs.head.above_floor",
    )
    rows = tuple(
        (
            str(one.no),
            shown(asked, one.along_floor),
            asked.say(BEHIND[one.place.on], no=one.place.no, next=one.place.no + 1),
            shown(asked, one.band_low),
            shown(asked, one.band_high),
            shown(asked, one.above_floor),
        )
        for one in figure.stand_offs
    )
    heading, note = asked.say("standoffs.framing"), asked.say("standoffs.framing_note")
    return Table(heading, tuple(asked.say(head) for head in heads), rows, note)


def for_metal(asked: Asked, figure: StandOffFigure) -> Table:
    """What whoever makes and sets the rail needs; walls not measured are filled in by hand."""
    heads = [
        "standoffs.head.no",
        "standoffs.head.along_rake",
        "standoffs.head.over",
        "standoffs.head.above_tread",
        "standoffs.head.wall",
        "standoffs.head.to_middle",
    ]
    if figure.rail.grip is not None:
        heads.append("standoffs.head.cut_to")
    if figure.rail.rod is not None:
        heads.append("standoffs.head.grip")
    rows = tuple(
        (
            str(one.no),
            shown(asked, one.along_rake),
            _over(asked, figure, one),
            shown(asked, one.above_tread),
            shown(asked, one.wall) if one.wall_measured else "",
            *(
                shown(asked, length)
                for length in (one.to_middle, one.cut_to, one.grip)
                if length is not None
            ),
        )
        for one in figure.stand_offs
    )
    heading, note = asked.say("standoffs.metal"), asked.say("standoffs.metal_note")
    return Table(heading, tuple(asked.say(head) for head in heads), rows, note)


def _over(asked: Asked, figure: StandOffFigure, one: StandOff) -> str:
    if one.tread == 0:
        return asked.say("standoffs.over.below")
    if one.tread > figure.rail.treads:
        return asked.say("standoffs.over.above")
    return asked.say("standoffs.over.tread", no=one.tread)
