"""The figure of winders and curved rails: depths in plan, and lengths developed at any radius."""

from markupsafe import Markup

from server.core.figures.base import Profile
from server.core.figures.lengths import least_of
from server.core.figures.stairs import Developed, Winders, WindersFigure, developed, winders
from server.core.figures.stairs.winders import MOST_TURN, MOST_WINDERS
from server.drawing.turn import Turn, TurnWords, turn_drawing
from server.pages.figures.asked import Asked
from server.pages.figures.figure import Figure
from server.pages.figures.result import Group, Result, Row, Table
from server.pages.figures.saying import cautions, held, held_against, row, shown


def _asked(asked: Asked, profile: Profile) -> Winders:
    from_narrow = least_of(profile, "walkline_from")
    start = "12" if from_narrow is None else f"{from_narrow:g}"
    return Winders(
        radius=asked.length("radius", "winders.radius", "40", "1000", hint="winders.radius_hint"),
        width=asked.length("width", "winders.width", "36", "900"),
        turn=asked.number("turn", "winders.turn", "90", "°", least=1, most=MOST_TURN),
        count=asked.whole("winders", "winders.count", 4, least=1, most=MOST_WINDERS),
        walkline_from=asked.length(
            "walkline_from", "winders.walkline_from", start, "300", zero=True
        ),
    )


def make(asked: Asked) -> Result:
    """The winders that were asked for, and the lines that run around them."""
    asked.group("figures.limits_group")
    profile = asked.profile()
    asked.group("winders.group")
    given = _asked(asked, profile)
    asked.group("winders.group_lines")
    riser = asked.length("riser", "winders.riser", "7 1/2", "190", hint="winders.riser_hint")
    radii = asked.lengths("radii", "winders.radii", "", hint="winders.radii_hint")
    asked.check()
    figure = winders(given, profile)
    climb = given.count * riser
    return Result(
        answer=(
            row(asked, "winders.walkline", figure.walkline.depth),
            row(asked, "winders.narrow", figure.narrow.depth),
            row(asked, "winders.wide", figure.wide.depth),
        ),
        drawing=_drawing(asked, figure),
        drawn=asked.say("winders.drawn"),
        held=held(asked, figure.judged),
        held_against=held_against(asked, profile),
        groups=(_values(asked, figure),),
        tables=(_lines(asked, figure, radii, climb),),
        cautions=cautions(asked, "figures.caution.code", "figures.caution.structure"),
    )


def _values(asked: Asked, figure: WindersFigure) -> Group:
    rows: list[Row] = [
        row(asked, "winders.each", figure.each, "°", "C"),
        row(asked, "winders.narrow_radius", figure.narrow.radius, source="C"),
        row(asked, "winders.walkline_radius", figure.walkline.radius, source="C"),
        row(asked, "winders.wide_radius", figure.wide.radius, source="C"),
        row(asked, "winders.walkline_along", figure.walkline.along, source="C"),
        row(asked, "winders.narrow_along", figure.narrow.along, source="C"),
    ]
    if figure.least_walkline_radius is not None:
        rows.append(row(asked, "winders.least_radius", figure.least_walkline_radius, source="C"))
    return Group(asked.say("stairs.values"), tuple(rows), asked.say("winders.how"))


def _lines(asked: Asked, figure: WindersFigure, radii: tuple[float, ...], climb: float) -> Table:
    turn = figure.given.turn
    named = [
        ("winders.narrow_side", figure.narrow.radius),
        ("winders.at_walkline", figure.walkline.radius),
        ("winders.middle", figure.given.radius),
        ("winders.wide_side", figure.wide.radius),
    ]
    rows = [
        _line(asked, asked.say(id), developed(radius, turn, climb))
        for id, radius in named
        if radius > 0
    ]
    rows += [_line(asked, shown(asked, one), developed(one, turn, climb)) for one in radii]
    heads = ("winders.line", "winders.line_radius", "winders.plan", "winders.length",
             "stairs.pitch", "winders.bend")  # fmt: skip
    return Table(
        asked.say("winders.lines"),
        tuple(asked.say(head) for head in heads),
        tuple(rows),
        asked.say("winders.lines_note", climb=shown(asked, climb)),
    )


def _line(asked: Asked, name: str, found: Developed) -> tuple[str, ...]:
    return (
        name,
        shown(asked, found.radius),
        shown(asked, found.plan),
        shown(asked, found.length),
        shown(asked, found.pitch, "°"),
        shown(asked, found.bend),
    )


def _drawing(asked: Asked, figure: WindersFigure) -> Markup:
    def said(id: str, value: float, unit: str = "in") -> str:
        return asked.say("winders.drawn_line", what=asked.say(id), value=shown(asked, value, unit))

    given = figure.given
    words = TurnWords(
        title=asked.say(
            "winders.drawing_title",
            n=given.count,
            turn=shown(asked, given.turn, "°"),
            walkline=shown(asked, figure.walkline.depth),
            narrow=shown(asked, figure.narrow.depth),
        ),
        narrow=said("winders.narrow", figure.narrow.depth),
        walkline=said("winders.walkline", figure.walkline.depth),
        wide=said("winders.wide", figure.wide.depth),
        each=said("winders.each", figure.each, "°"),
    )
    radii = (figure.narrow.radius, figure.walkline.radius, figure.wide.radius)
    return turn_drawing(Turn(*radii, given.turn, given.count), words)


FIGURE = Figure(name="winders", title="winders.title", about="winders.about", make=make)
