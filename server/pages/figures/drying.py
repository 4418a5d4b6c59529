"""The figure of a wait of wet work: its form, and what it says of the result."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from markupsafe import Markup

from server.core.figures.air import Air
from server.core.figures.drying import MOST_DAYS, Drying, DryingAsked, drying
from server.drawing.drying_days import Point, WaitDrawn, WaitWords, drying_days
from server.pages.figures.asked import Asked
from server.pages.figures.at_work import AtWork, CoatRead
from server.pages.figures.figure import Figure
from server.pages.figures.maybe import air_of, maybe_number, readings
from server.pages.figures.result import Group, Held, Result, Row, Table
from server.pages.figures.saying import SOURCES, cautions, held, row, shown

_STUFFS = (
    ("gypsum", "drying.stuff.gypsum"),
    ("compound", "drying.stuff.compound"),
    ("lime", "drying.stuff.lime"),
    ("cement", "drying.stuff.cement"),
    ("adhesive", "drying.stuff.adhesive"),
    ("grout", "drying.stuff.grout"),
)
_STAGES = (("last", "drying.stage.last"), ("coat", "drying.stage.coat"))
MOST_ROWS = 14
TENTH = 0.1
CURVE = 24
"""Pieces that the curve is drawn with."""


def make(asked: Asked, at_work: AtWork | None = None) -> Result:
    """The wait that was asked for, planned and said."""
    given, coat = given_by(asked, at_work)
    asked.check()
    found = drying(given)
    return Result(
        answer=tuple(_answer(asked, found)),
        groups=(_values(asked, found),),
        tables=tuple(_tables(asked, found)),
        held=tuple(_unnamed(one) for one in held(asked, found.judged)),
        held_against=asked.say("drying.held_against"),
        notes=tuple(_notes(asked, found, coat)),
        cautions=cautions(asked, "drying.caution"),
        drawing=_drawing(asked, found),
        drawn=asked.say("drying.drawn" if found.base.how == "dries" else "drying.drawn_cures"),
    )


def given_by(asked: Asked, at_work: AtWork | None) -> tuple[DryingAsked, CoatRead | None]:
    """What the form says of the wet work, and what was read of the coat chosen."""
    asked.group("drying.group.what")
    coat = None
    if at_work is not None and (done := at_work.coats()):
        none = ("", asked.say("drying.no_coat"))
        coat = at_work.coat(asked.chosen("coat", "drying.coat", (none, *done), ""))
    usual = coat.stuff if coat and coat.stuff in dict(_STUFFS) else "gypsum"
    stuff = asked.choice("stuff", "drying.stuff_of", _STUFFS, usual)
    stage = asked.choice("stage", "drying.before", _STAGES, "last")
    thick = asked.length("thick", "drying.thick", "1/2", "12", hint="drying.thick_hint")
    asked.group("drying.group.air")
    warm = "70" if coat is None or coat.air is None else f"{coat.air:.4g}"
    damp = "50" if coat is None or coat.humidity is None else f"{coat.humidity:.4g}"
    air = asked.temperature("air", "joint.air", warm, hint="drying.air_hint")
    humidity = asked.number("humidity", "joint.humidity", damp, "%")
    asked.group("drying.group.meter")
    wet = maybe_number(asked, "wet", "drying.wet", "%", hint="drying.wet_hint")
    dry = maybe_number(asked, "dry", "drying.dry", "%", hint="drying.dry_hint")
    read = readings(asked, "readings", "drying.readings", "drying.readings_hint")
    if coat is not None and not read:
        read = coat.readings
    if wet is None and dry is not None and read and read[0].value > dry:
        wet = read[0].value
    asked.group("drying.group.own", folded=True)
    days = asked.maybe_whole("days", "drying.days", least=1, most=int(MOST_DAYS),
                             hint="drying.days_hint")  # fmt: skip
    room = air_of(asked, Air(air, humidity), "air", "humidity")
    return DryingAsked(
        stuff=stuff, stage="coat" if stage == "coat" else "last", air=room,
        thick_in=thick, days=days, wet=wet, dry=dry, readings=read,
    ), coat  # fmt: skip


def _unnamed(one: Held) -> Held:
    """Common practice has no source to name before it."""
    return replace(one, source=one.source.removeprefix("; "))


def _days(asked: Asked, days: float) -> str:
    """Days as they are planned: in halves below three, else whole."""
    return asked.say("drying.n_days", days=plain_days(days))


def plain_days(days: float) -> str:
    """A number of days as it is planned: in halves below three, else whole."""
    rounded = round(days * 2) / 2 if days < 3 else float(round(days))
    return f"{rounded:g}" if rounded else f"{days:.1g}"


def _answer(asked: Asked, found: Drying) -> Iterator[Row]:
    if found.days is None or found.low is None or found.high is None:
        yield Row(asked.say("drying.planned"), asked.say("drying.not_in_this_air"))
        return
    rounded = abs(found.days - float(plain_days(found.days))) > TENTH / 2
    exact = asked.say("drying.n_days", days=f"{found.days:.1f}") if rounded else ""
    yield Row(asked.say("drying.planned"), _days(asked, found.days), exact)
    between = asked.say("drying.between", low=plain_days(found.low), high=plain_days(found.high))
    yield Row(asked.say("drying.likely"), between)
    if found.power is not None:
        times = asked.say("drying.times", times=f"{found.power:.2f}")
        yield Row(asked.say("drying.power"), times)
    if found.base.damp:
        yield Row(asked.say("drying.damp"), _days(asked, found.base.damp))
    if found.pace is not None:
        yield Row(asked.say("drying.pace"), asked.say("drying.on_day", day=plain_days(found.pace)))


def _notes(asked: Asked, found: Drying, coat: CoatRead | None) -> Iterator[str]:
    if coat is not None and coat.said:
        yield coat.said
    if found.is_dry is not None:
        yield asked.say("drying.note.dry" if found.is_dry else "drying.note.not_dry")
    yield asked.say("drying.note.meter")
    beyond = {
        (one.what, "over" if one.most is not None and one.value > one.most else "under")
        for one in found.judged
        if not one.within
    }
    cures, damp = found.base.how == "cures", found.base.damp > 0
    if ("air", "under") in beyond:
        yield asked.say("drying.note.cold")
    if damp and beyond & {("air", "over"), ("humidity", "under")}:
        yield asked.say("drying.note.hot_or_dry")
    if not cures and found.days is None:
        yield asked.say("drying.note.full_air")
    if not damp and ("air", "over") in beyond:
        yield asked.say("drying.note.too_fast")
    if found.asked.stuff in ("lime", "cement"):
        yield asked.say("drying.note.cures")
    if found.asked.stuff == "gypsum":
        yield asked.say("drying.note.vent")
    if found.asked.stuff in ("adhesive", "grout"):
        yield asked.say("drying.note.maker")
    yield asked.say("drying.note.wood_behind")


def _values(asked: Asked, found: Drying) -> Group:
    base = found.base
    tag = "" if found.own else base.tag
    tagged = asked.say(SOURCES[tag]) if tag else asked.say("joint.own")
    named = tag not in ("", "P")
    source = asked.say("figures.source", source=base.source, tag=tagged) if named else tagged
    per = base.days if found.asked.days is None else found.asked.days
    what = asked.say("drying.base_days")
    if base.per_mm is not None:
        thick = asked.words.length(Fraction(str(base.per_mm)), "mm")
        what = asked.say("drying.base_per", thick=thick)
    rows = [Row(what, _days(asked, per), "", source)]
    if base.per_mm is not None:
        rows.append(Row(asked.say("drying.good_air"), _days(asked, found.good_days), "",
                        asked.say(SOURCES["C"])))  # fmt: skip
    rows.append(Row(
        asked.say("drying.usually"),
        asked.say("drying.between", low=plain_days(base.low), high=plain_days(base.high)), "",
        asked.say(SOURCES["P"]),
    ))  # fmt: skip
    if found.power is not None:
        rows.append(Row(asked.say("drying.power"), f"{found.power:.3f}", "",
                        asked.say("drying.power_source")))  # fmt: skip
    if found.asked.wet is not None and found.asked.dry is not None and found.power is not None:
        rows.append(row(asked, "drying.wet", found.from_wet, "%"))
        rows.append(row(asked, "drying.dry", found.to_dry, "%"))
    return Group(asked.say("joint.values"), tuple(rows))


def _tables(asked: Asked, found: Drying) -> Iterator[Table]:
    """The moisture planned for as many days as fit a page, and for each that was read."""
    planned = found.by_day()
    if not planned:
        return
    every = -(-len(planned) // MOST_ROWS)
    read = {round(one.day): shown(asked, one.value, "%") for one in found.readings}
    days = {*range(0, len(planned), every), *(day for day in read if day < len(planned))}
    rows = tuple(
        (str(day), shown(asked, planned[day], "%"), read.get(day, "–")) for day in sorted(days)
    )
    heads = ("drying.day", "drying.moisture", "drying.read")
    note = "drying.by_day_metered" if found.asked.wet and found.asked.dry else "drying.by_day_note"
    yield Table(
        asked.say("drying.by_day"), tuple(asked.say(head) for head in heads), rows, asked.say(note)
    )


def _drawing(asked: Asked, found: Drying) -> Markup:
    if found.days is None or found.low is None or found.high is None:
        return Markup()
    named = {found.low: plain_days(found.low), found.high: plain_days(found.high)}
    named[found.days] = _days(asked, found.days)
    metered = found.asked.wet is not None and found.asked.dry is not None
    readings_fit = metered or found.base.how == "cures"
    return drying_days(
        WaitDrawn(
            marks=tuple((named[day], day) for day in sorted(named)),
            planned=_curve(found, found.days),
            quick=_curve(found, found.low),
            slow=_curve(found, found.high),
            readings=tuple((r.day, r.value) for r in found.readings) if readings_fit else (),
            asked=found.asked.dry if readings_fit else None,
            damp=found.base.damp,
        ),
        WaitWords(
            title=asked.say("drying.drawing"),
            desc=asked.say("drying.drawing_said", days=plain_days(found.days)),
            value=lambda value: shown(asked, value, "%"),
            asked=asked.say("drying.dry_at", value=shown(asked, found.asked.dry or 0, "%")),
            damp=asked.say("drying.kept_damp", days=plain_days(found.base.damp)),
            first_day=asked.say("drying.put_on"),
        ),
    )


def _curve(found: Drying, over: float) -> tuple[Point, ...]:
    days = (over * piece / CURVE for piece in range(CURVE + 1))
    points = ((day, found.moisture(day, over)) for day in days)
    return tuple((day, value) for day, value in points if value is not None)


FIGURE = Figure("drying", "drying.title", "drying.about", make, family="figures.family.wood")
