"""The figure of a wall rail's stand-offs: its form, and the tables that crews take to the wall."""

from fractions import Fraction

from server.core.figures.standoffs import LOAD_LB, RailOnWall, StandOffFigure, stand_offs
from server.core.figures.studs import On, Studs
from server.drawing.rail_standoffs import RailWords, rail_standoffs
from server.pages.figures.asked import Asked
from server.pages.figures.figure import Figure
from server.pages.figures.result import Group, Result, Row
from server.pages.figures.saying import cautions, count_row, held, held_against, row, shown
from server.pages.figures.standoffs_tables import for_framing, for_metal

SHAPES = (("round", "standoffs.shape.round"), ("other", "standoffs.shape.other"))
NM_PER_INCH_POUND = 0.1129848


def make(asked: Asked) -> Result:
    """The stand-offs that were asked for, worked out and said."""
    given = given_by(asked)
    asked.group("figures.limits_group")
    profile = asked.profile()
    asked.check()
    figure = stand_offs(given, profile)
    return Result(
        answer=_answer(asked, figure),
        groups=(_values(asked, figure), _from_what(asked, figure)),
        tables=(for_framing(asked, figure), for_metal(asked, figure)),
        held=held(asked, figure.judged),
        held_against=held_against(asked, profile),
        notes=_notes(asked, figure),
        cautions=cautions(
            asked,
            "standoffs.caution.guidance",
            "figures.caution.structure",
            "figures.caution.code",
            "figures.caution.temporary",
        ),
        drawing=rail_standoffs(
            figure,
            RailWords(
                title=asked.say("standoffs.drawing", n=len(figure.stand_offs)),
                height=shown(asked, given.rail_height),
                spacing=shown(asked, figure.spacing),
            ),
        ),
        drawn=asked.say("standoffs.drawn"),
    )


def given_by(asked: Asked) -> RailOnWall:
    """What the form says of the rail and its wall."""
    asked.group("standoffs.group.flight")
    rise = asked.length("rise", "standoffs.rise", "7 1/2", "190")
    tread = asked.length("tread", "standoffs.tread", "10", "250", hint="standoffs.tread_hint")
    treads = asked.whole("treads", "standoffs.treads_of", 13, least=1, most=60)
    asked.group("standoffs.group.rail")
    height = asked.length(
        "rail_height", "standoffs.rail_height", "36", "920", hint="standoffs.rail_height_hint"
    )
    clearance = asked.length("clearance", "standoffs.clearance", "1 3/4", "45", zero=True)
    shape = asked.choice("shape", "standoffs.shape_of", SHAPES, "round")
    deep = asked.length("rail_deep", "standoffs.rail_deep", "1 1/2", "38")
    wide = asked.length("rail_wide", "standoffs.rail_wide", "1 1/2", "38")
    asked.group("standoffs.group.stand_offs")
    first = asked.length("first", "standoffs.first", "8", "200", zero=True)
    last = asked.length("last", "standoffs.last", "8", "200", zero=True)
    most = asked.length("most", "standoffs.most", "32", "800", hint="standoffs.most_hint")
    asked.group("standoffs.group.wall")
    board = asked.length("board", "standoffs.board", "1/2", "13", zero=True)
    plaster = asked.length("plaster", "standoffs.plaster", "3/4", "19", zero=True)
    spacing = asked.length("stud_spacing", "standoffs.stud_spacing", "16", "400")
    first_stud = asked.length(
        "first_stud", "standoffs.first_stud", "3", "75", hint="standoffs.first_stud_hint", zero=True
    )
    asked.group("standoffs.group.rods", folded=True)
    rod = asked.maybe_length("rod", "standoffs.rod", hint="standoffs.rod_hint")
    grip = asked.maybe_length("grip", "standoffs.grip", hint="standoffs.grip_hint")
    rod_wide = asked.length("rod_wide", "standoffs.rod_wide", "1/2", "12")
    walls = asked.lengths("walls", "standoffs.walls", "", hint="standoffs.walls_hint")
    more = _seldom(asked)
    return RailOnWall(
        rise=rise,
        tread=tread,
        treads=treads,
        rail_height=height,
        rail_deep=deep,
        rail_wide=wide,
        is_round=shape == "round",
        clearance=clearance,
        board=board,
        plaster=plaster,
        first=first,
        last=last,
        most=most,
        rod=rod,
        grip=grip,
        walls=walls,
        studs=Studs(
            spacing=spacing, first=first_stud, wide=more.pop("stud_wide"), rod_wide=rod_wide
        ),
        **more,
    )


def _seldom(asked: Asked) -> dict[str, float]:
    """What is nearly always as it begins."""
    asked.group("standoffs.group.more", folded=True)
    practice = "standoffs.practice"
    return {
        name: asked.length(name, label, start, metric, hint=hint, zero=name != "stud_wide")
        for name, label, start, metric, hint in (
            ("floor", "standoffs.floor", "3/4", "19", ""),
            ("cover", "standoffs.cover", "1 1/2", "40", practice),
            ("height_within", "standoffs.height_within", "1/4", "6", practice),
            ("string_within", "standoffs.string_within", "1/16", "1.5", practice),
            ("past_bottom", "standoffs.past_bottom", "0", "0", ""),
            ("past_top", "standoffs.past_top", "0", "0", ""),
            ("stud_wide", "standoffs.stud_wide", "1 1/2", "38", ""),
        )
    }


def _answer(asked: Asked, figure: StandOffFigure) -> tuple[Row, ...]:
    return (
        count_row(asked, "standoffs.count", len(figure.stand_offs)),
        row(asked, "standoffs.spacing", figure.spacing),
        row(asked, "standoffs.to_middle", figure.stand_offs[0].to_middle),
        row(asked, "standoffs.middle_above", figure.middle_above_nosings),
    )


def _notes(asked: Asked, figure: StandOffFigure) -> tuple[str, ...]:
    rail = figure.rail
    longest = max(one.to_middle for one in figure.stand_offs)
    said = [
        asked.say(
            "standoffs.straight",
            string=shown(asked, rail.string_within),
            height=shown(asked, rail.height_within),
        ),
        asked.say("standoffs.cut_to_measured"),
        asked.say(
            "standoffs.ask_engineer",
            load=asked.words.length(Fraction(LOAD_LB), "lb"),
            arm=shown(asked, longest),
            moment=_moment(asked, LOAD_LB * longest),
        ),
    ]
    edges = [one for one in figure.stand_offs if one.place.on is On.EDGE]
    said += [asked.say("standoffs.at_edge", no=one.no, stud=one.place.no) for one in edges]
    return tuple(said)


def _values(asked: Asked, figure: StandOffFigure) -> Group:
    rows = [
        row(asked, "standoffs.slope", figure.slope_degrees, "°", source="C"),
        row(asked, "standoffs.rail_long", figure.rail_long, source="C"),
        row(asked, "standoffs.spacing", figure.spacing, source="C"),
        row(asked, "standoffs.under_top", figure.middle_under_top, source="C"),
        row(asked, "standoffs.middle_above", figure.middle_above_nosings, source="C"),
    ]
    return Group(asked.say("standoffs.values"), tuple(rows))


def _from_what(asked: Asked, figure: StandOffFigure) -> Group:
    """From what each number is measured."""
    first = figure.stand_offs[0]
    values = (
        ("standoffs.from.along_floor", first.along_floor, "standoffs.datum.along_floor"),
        ("standoffs.from.along_rake", first.along_rake, "standoffs.datum.along_rake"),
        ("standoffs.from.above_tread", first.above_tread, "standoffs.datum.above_tread"),
        ("standoffs.from.band", first.band_low, "standoffs.datum.band"),
        ("standoffs.from.rod", first.to_middle, "standoffs.datum.rod"),
    )
    rows = tuple(row(asked, label, value, source=datum) for label, value, datum in values)
    return Group(asked.say("standoffs.from_what"), rows)


def _moment(asked: Asked, inch_pounds: float) -> str:
    return asked.say(
        "standoffs.moment",
        inch_pounds=round(inch_pounds),
        newton_meters=round(inch_pounds * NM_PER_INCH_POUND),
    )


FIGURE = Figure(
    name="standoffs",
    title="standoffs.title",
    about="standoffs.about",
    make=make,
    family="figures.family.walls",
    template="figures/standoffs.html",
)
