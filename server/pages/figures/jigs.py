"""The figures of a jig from its chord, and of an easing from the rake to level."""

import math

from server.core.figures.stairs import easing, jig
from server.drawing.jig import EasingWords, JigWords, easing_drawing, jig_drawing
from server.pages.figures.asked import Asked
from server.pages.figures.figure import Figure
from server.pages.figures.result import Group, Result, Table
from server.pages.figures.saying import cautions, row, shown


def make_jig(asked: Asked) -> Result:
    """Ordinates of an arc at even spacing."""
    asked.group("jig.group")
    radius = asked.length("radius", "jig.radius", "60", "1500")
    chord = asked.length("chord", "jig.chord", "96", "2400")
    spacing = asked.length("spacing", "jig.spacing", "6", "150")
    asked.check()
    found = jig(radius, chord, spacing)
    rise = shown(asked, found.rise)
    words = JigWords(
        title=asked.say("jig.drawing_title", radius=shown(asked, radius),
                        chord=shown(asked, chord), rise=rise),
        chord=asked.say("jig.chord_drawn", chord=shown(asked, chord)),
        rise=rise,
        radius=asked.say("jig.radius_drawn", radius=shown(asked, radius)),
    )  # fmt: skip
    points = [(one.along, one.off) for one in found.ordinates]
    return Result(
        answer=(row(asked, "jig.rise", found.rise), row(asked, "jig.length", found.length)),
        drawing=jig_drawing(radius, chord, found.rise, points, words),
        drawn=asked.say("jig.drawn"),
        tables=(
            Table(
                asked.say("jig.ordinates"),
                (asked.say("jig.along"), asked.say("jig.off"), asked.say("figures.exact")),
                tuple(
                    (
                        shown(asked, one.along),
                        shown(asked, one.off),
                        row(asked, "jig.off", one.off).exact or shown(asked, one.off),
                    )
                    for one in found.ordinates
                ),
                asked.say("jig.ordinates_note"),
            ),
        ),
        groups=(
            Group(
                asked.say("stairs.values"),
                (
                    row(asked, "jig.rise", found.rise, source="C"),
                    row(asked, "jig.length", found.length, source="C"),
                    row(asked, "jig.angle", found.angle, "°", "C"),
                ),
            ),
        ),
        cautions=cautions(asked),
    )


def make_easing(asked: Asked) -> Result:
    """An arc between the rake of a flight and level."""
    asked.group("easing.group")
    riser = asked.length("riser", "stairs.riser", "7 1/2", "190")
    going = asked.length("going", "stairs.going", "10 1/2", "265", hint="stairs.going_hint")
    radius = asked.length("easing", "easing.radius", "12", "300")
    asked.check()
    pitch = math.degrees(math.atan2(riser, going))
    found = easing(pitch, radius)
    tangent = shown(asked, found.tangent)
    words = EasingWords(
        title=asked.say("easing.drawing_title", pitch=shown(asked, pitch, "°"),
                        radius=shown(asked, radius), tangent=tangent),
        tangent=tangent,
        radius=asked.say("jig.radius_drawn", radius=shown(asked, radius)),
        pitch=asked.say("easing.pitch_drawn", pitch=shown(asked, pitch, "°")),
    )  # fmt: skip
    return Result(
        answer=(
            row(asked, "easing.length", found.length),
            row(asked, "easing.tangent", found.tangent),
        ),
        drawing=easing_drawing(radius, pitch, words),
        drawn=asked.say("easing.drawn"),
        groups=(
            Group(
                asked.say("stairs.values"),
                (
                    row(asked, "stairs.pitch", found.pitch, "°", "C"),
                    row(asked, "easing.length", found.length, source="C"),
                    row(asked, "easing.tangent", found.tangent, source="C"),
                    row(asked, "easing.run", found.run, source="C"),
                    row(asked, "easing.climb", found.climb, source="C"),
                    row(asked, "easing.off_corner", found.rise_off_corner, source="C"),
                ),
            ),
        ),
        cautions=cautions(asked, "figures.caution.code"),
    )  # fmt: skip


JIG = Figure(name="jig", title="jig.title", about="jig.about", make=make_jig)
EASING = Figure(name="easing", title="easing.title", about="easing.about", make=make_easing)
