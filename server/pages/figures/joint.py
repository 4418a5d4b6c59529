"""The figure of the joint through the year: what its page says of the result."""

from collections.abc import Iterator

from babel.numbers import format_decimal
from markupsafe import Markup

from server.core.figures.joint import Joint, joint
from server.core.figures.joint_today import Today, today
from server.core.figures.lengths import MM_PER_INCH
from server.drawing.joint_year import JointDrawn, JointWords, joint_year
from server.pages.figures.asked import Asked
from server.pages.figures.at_work import AtWork
from server.pages.figures.figure import Figure
from server.pages.figures.joint_form import Given, given_by
from server.pages.figures.maybe import (
    month_names,
)
from server.pages.figures.printed import EXACT, printed
from server.pages.figures.result import Group, Result, Row, Table
from server.pages.figures.saying import SOURCES, cautions, held, row, shown

READ_TODAY = ("room_air", "room_humidity", "wood_room", "wood_carrier")


def make(asked: Asked, at_work: AtWork | None = None) -> Result:
    """The joint that was asked for, worked out and said."""
    given = given_by(asked, at_work)
    asked.check()
    found = joint(given.asked)
    now = today(found)
    judged = dict.fromkeys((*now.judged, *found.judged))
    return Result(
        answer=_answer(asked, found, now),
        groups=(_values(asked, found, now),),
        tables=(_months(asked, found),),
        held=held(asked, judged),
        held_against=asked.say("joint.held_against"),
        notes=tuple(_notes(asked, given, found, now)),
        cautions=cautions(asked, "joint.caution"),
        drawing=_drawing(asked, found),
        drawn=asked.say("joint.drawn"),
    )


def _answer(asked: Asked, found: Joint, now: Today) -> tuple[Row, ...]:
    against = ", ".join(
        asked.say("figures.limit_said", what=one.what)
        for one in now.against
        if one.what in READ_TODAY
    )
    why = against or (asked.say("joint.nobody_read") if now.answer == "read" else "")
    answer = Row(asked.say("joint.today"), asked.say("joint.answer", answer=now.answer), why)
    if not found.possible and found.asked.fitted_in is None:
        none = Row(asked.say("joint.fit"), asked.say("joint.no_width"))
        return (none, row(asked, "joint.season", found.season_in), answer)
    fit = row(asked, "joint.fit", found.fit_in)
    return (
        fit,
        row(asked, "joint.narrowest", found.narrowest_in),
        row(asked, "joint.widest", found.widest_in),
        answer,
    )


def _notes(asked: Asked, given: Given, found: Joint, now: Today) -> Iterator[str]:
    names = month_names(asked)
    if given.read is not None and given.read.said:
        yield given.read.said
    if found.asked.grain == "along":
        yield asked.say("joint.note.along", season=_exact(asked, found.season_in))
    if found.high_in < 0:
        yield asked.say("joint.note.too_damp", wood=shown(asked, found.moisture, "%"))
    elif not found.possible:
        widest = found.widest_piece_in
        yield asked.say(
            "joint.note.impossible",
            season=_exact(asked, found.season_in),
            room=_exact(asked, found.asked.most_in - found.asked.least_in),
            widest=shown(asked, widest) if widest is not None else shown(asked, 0),
        )
    if found.narrowest_in < 0:
        yield asked.say("joint.note.presses", month=names[found.dampest])
    if found.corrected:
        read = found.asked.wood or 0.0
        yield asked.say(
            "joint.note.corrected", read=shown(asked, read, "%"),
            true=shown(asked, found.moisture, "%"),
        )  # fmt: skip
    if found.taken != "meter":
        yield asked.say("joint.note.unmetered", taken=found.taken)
    if not found.valid:
        yield asked.say("joint.note.range")
    if now.settles_at is not None:
        yield asked.say("joint.note.acclimated", rest=shown(asked, now.settles_at, "%"))


def _months(asked: Asked, found: Joint) -> Table:
    names = month_names(asked)
    with_insert = found.asked.insert is not None
    rows = tuple(
        (
            name,
            shown(asked, month.air.fahrenheit, "°F"),
            shown(asked, month.air.humidity, "%"),
            shown(asked, month.moisture, "%"),
            _exact(asked, month.width_in),
            *([shown(asked, month.pressed or 0.0, "%")] if with_insert else []),
        )
        for name, month in zip(names, found.months, strict=True)
    )
    heads = ("joint.month", "joint.air", "joint.humidity", "joint.wood_comes_to", "joint.joint")
    said = [asked.say(head) for head in (*heads, *(["joint.pressed"] if with_insert else []))]
    return Table(
        asked.say("joint.through_the_year"),
        tuple(said),
        rows,
        asked.say("joint.rooms_source"),
        frozenset({found.driest, found.dampest}),
    )


def _values(asked: Asked, found: Joint, now: Today) -> Group:
    wood = found.asked.species
    tag = "M" if found.asked.grain == "along" else wood.tag
    source = "" if found.asked.grain == "along" else wood.source
    tagged = asked.say(SOURCES[tag]) if tag else asked.say("joint.own")
    rows = [
        Row(
            asked.say("joint.coefficient"), f"{found.coefficient:.5f}", "",
            asked.say("figures.source", source=source, tag=tagged) if source else tagged,
        ),
        row(asked, "joint.wood_now", found.moisture, "%", f"joint.taken.{found.taken}"),
        row(asked, "joint.driest", found.months[found.driest].moisture, "%", "C"),
        row(asked, "joint.dampest", found.months[found.dampest].moisture, "%", "C"),
        row(asked, "joint.season", found.season_in, source="C"),
        row(asked, "joint.low", found.low_in, source="C"),
        row(asked, "joint.high", found.high_in, source="C"),
    ]  # fmt: skip
    if found.widest_piece_in is not None:
        rows.append(row(asked, "joint.widest_piece", found.widest_piece_in, source="C"))
    if now.settles_at is not None:
        rows.append(row(asked, "joint.settles_at", now.settles_at, "%", "C"))
    return Group(asked.say("joint.values"), tuple(rows), asked.say("joint.values_note"))


def _drawing(asked: Asked, found: Joint) -> Markup:
    ends = {
        "narrowest": _exact(asked, found.narrowest_in),
        "widest": _exact(asked, found.widest_in),
    }
    return joint_year(
        JointDrawn(
            widths=tuple(month.width_in for month in found.months),
            least=found.asked.least_in,
            most=found.asked.most_in,
            fitted=found.fit_in,
            grain=found.asked.grain,
        ),
        JointWords(
            title=asked.say("joint.drawing"),
            desc=asked.say("joint.drawing_said", **ends),
            months=month_names(asked),
            width=lambda width: _exact(asked, width),
            least=asked.say("figures.least", least=_limit(asked, found.asked.least_in)),
            most=asked.say("figures.most", most=_limit(asked, found.asked.most_in)),
            fitted=asked.say("joint.fitted_at", width=_exact(asked, found.fit_in)),
        ),
    )


def _exact(asked: Asked, value: float) -> str:
    """A width in thousandths of an inch, or hundredths of a mm: a season is under a sixteenth."""
    shown_in = value if asked.units == "in" else value * MM_PER_INCH
    pattern = f"0.{'0' * EXACT[asked.units]}"
    return f"{format_decimal(shown_in, pattern, locale=asked.words.locale)} {asked.units}"


def _limit(asked: Asked, value: float) -> str:
    """A limit as it was typed: rounded it would be another."""
    found = printed(value, "in", asked.units, asked.words)
    return found.exact or found.said


FIGURE = Figure("joint", "joint.title", "joint.about", make, family="figures.family.wood")
