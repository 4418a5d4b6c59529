"""What a stack of tolerances says: numbers fine enough for it, rows, a table, notes."""

from server.core.figures import lengths
from server.core.figures.stack import Keeping, PartOfGap, Range, StackFigure
from server.drawing.stack_bars import StackWords
from server.pages.figures.asked import Asked
from server.pages.figures.printed import printed
from server.pages.figures.result import Group, Row, Table
from server.pages.figures.saying import SOURCES

_HAIR = 1e-6
KEEPING = {
    Keeping.UNASKED: "stack.keeping.unasked",
    Keeping.KEPT: "stack.keeping.kept",
    Keeping.OUT: "stack.keeping.out",
}


def fine(asked: Asked, inches: float) -> str:
    """A small value in words; see `lengths.fine`."""
    return asked.words.length(lengths.fine(inches, asked.units), asked.units)


def answered(asked: Asked, figure: StackFigure) -> tuple[Row, ...]:
    """The gap, its worst case as the headline, by chance beside it, and whether it is kept."""
    within = "stack.plus_minus"
    return (
        _row(asked, "stack.gap", figure.expected),
        Row(asked.say("stack.worst"), asked.say(within, off=fine(asked, figure.worst.half))),
        Row(asked.say("stack.rss"), asked.say(within, off=fine(asked, figure.rss.half))),
        Row(asked.say("stack.wanted"), asked.say(KEEPING[figure.keeping])),
    )


def ranges(asked: Asked, figure: StackFigure) -> Group:
    """Between which values the gap may come out, before and after what is measured."""
    rows = [
        _row(asked, "stack.nominal_gap", figure.nominal),
        _range(asked, "stack.worst", figure.worst),
        _range(asked, "stack.rss", figure.rss),
    ]
    if _measured(figure):
        rows += [
            _row(asked, "stack.gap", figure.expected),
            _range(asked, "stack.planned_worst", figure.planned_worst),
            _range(asked, "stack.planned_rss", figure.planned_rss),
        ]
    return Group(asked.say("stack.values"), tuple(rows))


def parts_table(asked: Asked, figure: StackFigure) -> Table:
    """Each part: what it is by the drawing, what it does to the gap, what it has to hold to."""
    heads = ["part", "gives", "tolerance", "eats"]
    wanted = figure.keeping is not Keeping.UNASKED
    heads += ["hold_to"] * wanted
    rows = tuple(
        (
            one.part.name,
            _gives(asked, one),
            _tolerance(asked, one),
            asked.say("stack.plus_minus", off=fine(asked, one.range.half)),
            *([_hold_to(asked, one)] if wanted else []),
        )
        for one in figure.parts
    )
    return Table(
        asked.say("stack.parts"),
        tuple(asked.say(HEADS[head]) for head in heads),
        rows,
        asked.say("stack.hold_to_note") if wanted else "",
        frozenset(figure.eat_most),
    )


HEADS = {
    "part": "stack.head.part",
    "gives": "stack.head.gives",
    "tolerance": "stack.head.tolerance",
    "eats": "stack.head.eats",
    "hold_to": "stack.head.hold_to",
}


def notes(asked: Asked, figure: StackFigure) -> tuple[str, ...]:
    """What is to be said of this very stack, the worst first."""
    said = []
    if figure.keeping is Keeping.OUT:
        if figure.under:
            said.append(asked.say("stack.under", off=fine(asked, figure.under)))
        if figure.over:
            said.append(asked.say("stack.over", off=fine(asked, figure.over)))
        if figure.rss_keeping is Keeping.KEPT:
            said.append(asked.say("stack.by_chance"))
    if figure.worst.low < -_HAIR:
        said.append(asked.say("stack.touches", off=fine(asked, -figure.worst.low)))
    for one in figure.parts:
        if one.part.strayed:
            off = fine(asked, abs(one.part.strayed))
            id = "stack.strayed_over" if one.part.strayed > 0 else "stack.strayed_under"
            said.append(asked.say(id, part=one.part.name, off=off))
    if figure.eat_most and len(figure.parts) > 1:
        said.append(
            asked.say(
                "stack.eats_most",
                parts=tuple(figure.parts[index].part.name for index in figure.eat_most),
                own=fine(asked, figure.parts[figure.eat_most[0]].range.half),
                all=fine(asked, figure.worst.half),
            )
        )
    if figure.narrowed > _HAIR:
        said.append(asked.say("stack.narrowed", off=fine(asked, figure.narrowed)))
    return tuple(said)


def drawing_words(asked: Asked, figure: StackFigure) -> StackWords:
    """The words of the drawing."""
    stack = figure.stack
    ends = {"least": stack.least, "most": stack.most}
    known = {name: fine(asked, end) for name, end in ends.items() if end is not None}
    return StackWords(
        title=asked.say("stack.drawing", n=len(figure.parts), gap=fine(asked, figure.expected)),
        part=lambda one: _gives(asked, one),
        tolerance=lambda one: _tolerance(asked, one),
        gap=asked.say("stack.gap_is", gap=fine(asked, figure.expected)),
        wanted=asked.say(_WANTED[tuple(known)], **known) if known else "",
        worst=_between(asked, "stack.worst_is", figure.worst),
        rss=_between(asked, "stack.rss_is", figure.rss),
        before=_between(asked, "stack.before_is", figure.planned_worst),
        touching=asked.say("stack.touching"),
    )


_WANTED = {
    ("least", "most"): "stack.wanted_between",
    ("least",): "stack.wanted_least",
    ("most",): "stack.wanted_most",
}


def _measured(figure: StackFigure) -> bool:
    return any(one.part.measured is not None for one in figure.parts)


def _row(asked: Asked, label: str, value: float) -> Row:
    """A value as a tape reads it, the exact one beside; where 1/16 says too little, that alone."""
    said = printed(value, "in", asked.units, asked.words)
    rounded = said.exact and abs(value) < 1
    exact = "" if rounded else said.exact
    source = asked.say(SOURCES["C"])
    return Row(asked.say(label), fine(asked, value) if rounded else said.said, exact, source)


def _range(asked: Asked, label: str, one: Range) -> Row:
    return Row(asked.say(label), _between(asked, "stack.between", one), "", asked.say(SOURCES["C"]))


def _between(asked: Asked, id: str, one: Range) -> str:
    return asked.say(id, low=fine(asked, one.low), high=fine(asked, one.high))


def _gives(asked: Asked, one: PartOfGap) -> str:
    id = "stack.plus_value" if one.gives >= 0 else "stack.minus_value"
    return asked.say(id, value=fine(asked, abs(one.gives)))


def _tolerance(asked: Asked, one: PartOfGap) -> str:
    part = one.part
    if part.measured is not None:
        return asked.say("stack.is_measured")
    if abs(part.plus - part.minus) < _HAIR:
        return asked.say("stack.plus_minus", off=fine(asked, part.plus))
    return asked.say("stack.uneven", plus=fine(asked, part.plus), minus=fine(asked, part.minus))


def _hold_to(asked: Asked, one: PartOfGap) -> str:
    if one.part.measured is not None:
        return ""
    hold = one.hold_to
    if hold is None or (hold.high is not None and hold.high < 0):
        return asked.say("stack.no_value_does")
    if hold.low is None and hold.high is not None:
        return asked.say("stack.hold_most", most=fine(asked, hold.high))
    if hold.high is None and hold.low is not None:
        return asked.say("stack.hold_least", least=fine(asked, hold.low))
    assert hold.low is not None
    assert hold.high is not None
    return asked.say("stack.between", low=fine(asked, hold.low), high=fine(asked, hold.high))
