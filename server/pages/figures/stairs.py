"""The figure of a straight flight: its form, and what it says of the result."""

from collections.abc import Iterator

from markupsafe import Markup

from server.core.figures.base import Profile
from server.core.figures.stairs import Flight, FlightFigure, flight, rails_asked
from server.core.figures.stairs.risers import MOST_RISERS
from server.drawing.flight import flight_drawing
from server.drawing.flight_shape import FlightWords, Shape
from server.pages.figures.asked import Asked
from server.pages.figures.figure import Figure
from server.pages.figures.result import Group, Result, Row, Table
from server.pages.figures.saying import cautions, count_row, held, held_against, row, shown

NOTHING = 1 / 32
"""Inches that nobody packs: less is read off as nothing."""
MEASURED = (("finished", "stairs.measured.finished"), ("rough", "stairs.measured.rough"))


def given_by(asked: Asked) -> Flight:
    """What the form says of the flight."""
    asked.group("stairs.group.flight")
    rise = asked.length("rise", "stairs.rise", "107 1/4", "2725", hint="stairs.rise_hint")
    measured = asked.choice("measured", "stairs.measured_from", MEASURED, "finished")
    count = asked.maybe_whole(
        "count", "stairs.count_of", hint="stairs.count_hint", least=1, most=MOST_RISERS
    )
    wanted = asked.maybe_length("wanted_riser", "stairs.wanted_riser", "7 1/2", "190")
    going = asked.length("going", "stairs.going", "10 1/4", "260", hint="stairs.going_hint")
    nosing = asked.length("nosing", "stairs.nosing", "1", "25", zero=True)
    asked.group("stairs.group.build_ups")
    tread = asked.length("tread", "stairs.tread", "1", "25", zero=True)
    below = asked.length("floor_below", "stairs.floor_below", "3/4", "19", zero=True)
    above = asked.length("floor_above", "stairs.floor_above", "3/4", "19", zero=True)
    asked.group("stairs.group.headroom", folded=True)
    opening = asked.maybe_length("opening", "stairs.opening", hint="stairs.opening_hint")
    depth = asked.maybe_length(
        "floor_depth", "stairs.floor_depth", hint="stairs.floor_depth_hint", zero=True
    )
    return Flight(
        rise=rise,
        going=going,
        count=count,
        wanted_riser=wanted,
        measured="rough" if measured == "rough" else "finished",
        nosing=nosing,
        tread=tread,
        floor_below=below,
        floor_above=above,
        opening=opening,
        floor_depth=depth,
    )


def make(asked: Asked) -> Result:
    """The flight that was asked for, worked out and said."""
    given = given_by(asked)
    asked.group("figures.limits_group")
    profile = asked.profile()
    asked.check()
    figure = flight(given, profile)
    return Result(
        answer=_answer(asked, figure),
        groups=(_values(asked, figure), _from_what(asked, figure)),
        tables=(_cuts(asked, figure), _choices(asked, figure)),
        held=held(asked, figure.judged),
        held_against=held_against(asked, profile),
        notes=(*_notes(asked, figure), *_rails(asked, figure, profile)),
        drawing=_drawing(asked, figure),
        drawn=asked.say("stairs.drawn"),
        cautions=cautions(
            asked, "figures.caution.code", "figures.caution.structure", "figures.caution.temporary"
        ),
    )


def _drawing(asked: Asked, figure: FlightFigure) -> Markup:
    given = figure.given
    shape = Shape(
        count=figure.count,
        riser=figure.riser,
        going=given.going,
        nosing=given.nosing,
        tread=given.tread,
        floor_below=given.floor_below,
        floor_above=given.floor_above,
        opening=given.opening,
        floor_depth=given.floor_depth,
        headroom_wanted=figure.headroom_wanted,
    )
    rise, run = shown(asked, figure.total_rise), shown(asked, figure.run)
    riser, going = shown(asked, figure.riser), shown(asked, given.going)
    first, last = shown(asked, figure.rough[0]), shown(asked, figure.rough[-1])
    pitch = shown(asked, figure.pitch, "°")
    wanted = figure.headroom_wanted
    words = FlightWords(
        title=asked.say("stairs.drawing_title", n=figure.count, riser=riser, rise=rise, run=run,
                        first=first, last=last),
        rise=(rise, asked.say("stairs.finished_short")),
        run=asked.say("stairs.run_drawn", run=run),
        riser=riser,
        first=(first, asked.say("stairs.rough_short")),
        last=(last, asked.say("stairs.rough_short")),
        finished=asked.say("stairs.finished"),
        rough=asked.say("stairs.as_cut"),
        foot=asked.say("stairs.foot"),
        head=asked.say("stairs.head"),
        under=(
            pitch,
            asked.say("stairs.treads_drawn", n=figure.treads, going=going),
            asked.say("stairs.risers_drawn", n=figure.count, riser=riser),
        ),
        headroom="" if figure.headroom is None else shown(asked, figure.headroom),
        headroom_line="" if wanted is None
        else asked.say("stairs.headroom_drawn", headroom=shown(asked, wanted)),
    )  # fmt: skip
    return flight_drawing(shape, words)


def _answer(asked: Asked, figure: FlightFigure) -> tuple[Row, ...]:
    rows = [
        count_row(asked, "stairs.risers", figure.count),
        row(asked, "stairs.riser", figure.riser),
        row(asked, "stairs.rough_first", figure.rough[0]),
    ]
    if figure.count > 2:
        rows.append(row(asked, "stairs.rough_rest", figure.riser))
    if figure.count > 1:
        rows.append(row(asked, "stairs.rough_last", figure.rough[-1]))
    return tuple(rows)


def _notes(asked: Asked, figure: FlightFigure) -> tuple[str, ...]:
    said = []
    if figure.packing.needed:
        said.append(asked.say("stairs.rough_uneven", off=shown(asked, figure.rough_difference)))
    if figure.least_opening is not None and figure.headroom is None:
        said.append(asked.say("stairs.opening_needed", opening=shown(asked, figure.least_opening)))
    return tuple(said)


def _rails(asked: Asked, figure: FlightFigure, profile: Profile) -> Iterator[str]:
    """One sentence on the rails and guards that these limits ask for."""
    found = rails_asked(profile, figure.count, figure.total_rise)
    if found:
        parts = tuple(
            asked.say("stairs.rail_asked", what=one.name, section=one.limit.section or profile.name)
            for one in found
        )
        yield asked.say("stairs.rails_asked", profile=profile.name, parts=parts)


def _cuts(asked: Asked, figure: FlightFigure) -> Table:
    """Every riser as it is cut, what is packed on its tread, and its marks on the story pole."""
    packed = figure.packing
    laid = (*packed.treads, packed.above)
    lines = zip(figure.rough, laid, figure.rough_marks, figure.marks, strict=True)
    rows = tuple(
        (
            str(no),
            shown(asked, rough),
            shown(asked, thick) if thick > NOTHING else "–",
            shown(asked, rough_mark),
            shown(asked, mark),
        )
        for no, (rough, thick, rough_mark, mark) in enumerate(lines, 1)
    )
    note = asked.say("stairs.cuts_note")
    if packed.needed:
        note += " " + asked.say("stairs.packed_note", riser=shown(asked, packed.riser))
    if packed.below > NOTHING:
        note += " " + asked.say("stairs.pack_below", thick=shown(asked, packed.below))
    heads = ("stairs.no", "stairs.as_cut", "stairs.packing", "stairs.rough_mark",
             "stairs.finished_mark")  # fmt: skip
    return Table(asked.say("stairs.cuts"), tuple(asked.say(head) for head in heads), rows, note)


def _choices(asked: Asked, figure: FlightFigure) -> Table:
    rows = tuple(
        (
            str(one.count),
            shown(asked, one.riser),
            shown(asked, one.pitch, "°"),
            shown(asked, one.twice_riser_and_tread),
            asked.say("figures.within" if one.within else "stairs.beyond"),
        )
        for one in figure.choices
    )
    heads = ("stairs.risers", "stairs.riser", "stairs.pitch", "stairs.twice", "stairs.limits_are")
    marked = frozenset(n for n, one in enumerate(figure.choices) if one.count == figure.count)
    return Table(
        asked.say("stairs.choices"), tuple(asked.say(head) for head in heads), rows, marked=marked
    )


def _values(asked: Asked, figure: FlightFigure) -> Group:
    rows = [
        row(asked, "stairs.total_rise", figure.total_rise, source="C"),
        row(asked, "stairs.riser", figure.riser, source="C"),
        count_row(asked, "stairs.treads", figure.treads, "C"),
        row(asked, "stairs.run", figure.run, source="C"),
        row(asked, "stairs.pitch", figure.pitch, "°", source="C"),
        row(asked, "stairs.twice", figure.twice_riser_and_tread, source="C"),
        row(asked, "stairs.board", figure.board, source="C"),
        row(asked, "stairs.nosing_line", figure.nosing_line, source="C"),
        row(asked, "stairs.stringer", figure.stringer, source="P"),
    ]
    if figure.headroom is not None:
        rows.append(row(asked, "stairs.headroom", figure.headroom, source="C"))
    if figure.least_opening is not None:
        rows.append(row(asked, "stairs.least_opening", figure.least_opening, source="C"))
    return Group(asked.say("stairs.values"), tuple(rows))


def _from_what(asked: Asked, figure: FlightFigure) -> Group:
    """From what each number is measured, and with what."""
    given = figure.given
    return Group(
        asked.say("stairs.from_what"),
        (
            row(asked, "stairs.from_rise", given.rise, source="stairs.datum.rise"),
            row(asked, "stairs.from_going", given.going, source="stairs.datum.going"),
            row(asked, "stairs.from_first", figure.rough[0], source="stairs.datum.first"),
            row(asked, "stairs.from_last", figure.rough[-1], source="stairs.datum.last"),
        ),
    )


FIGURE = Figure(name="stairs", title="stairs.title", about="stairs.about", make=make)
