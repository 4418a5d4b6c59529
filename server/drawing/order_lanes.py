"""Where the arrows of the order that layers imply stand: each in a lane left of the layers.

The words stand at the right of the layers, so an arrow and a word never meet.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

from server.drawing.buildup import BuildUp
from server.drawing.layout import Measures, Row, lay_out
from server.drawing.pegs import PegDrawn, PegSize, place_pegs
from server.drawing.svg import Box

# A little more than a small phone is wide: words here are smaller than in the build-up above.
_WIDTH = 300.0
_LANES = 96.0  # the room for lanes; more arrows than fit get another drawing of the side
_STUB = 17.0  # from the innermost lane to the layers: an arrow's head and a piece of its line
LEADER = 9.0
CHIP, _DIGIT = 16.0, 7.5
_APART = 9.5  # between two arrows at one layer
_PEG = PegSize(11.0, 24.0, 3.0)


@dataclass(frozen=True)
class End:
    """Where an arrow starts or ends: a layer, the peg `hold` on it, or `task` named beside it."""

    layer: str
    hold: str = ""
    task: str = ""


@dataclass(frozen=True)
class Arrow:
    """What has to come first, and what covers it. `against`: the chain says the opposite."""

    number: int
    start: End
    end: End
    against: bool = False


@dataclass(frozen=True)
class Placed:
    """An arrow in its place: from `start` along to its lane, along that, then along to `end`."""

    arrow: Arrow
    start: tuple[float, float]
    lane: float
    end: tuple[float, float]
    chip: Box


@dataclass(frozen=True)
class Sheet:
    """One drawing of a side, with as many arrows as have room beside it."""

    measures: Measures
    rows: tuple[Row, ...]
    pegs: tuple[tuple[PegDrawn, Box], ...]
    arrows: tuple[Placed, ...]


def sheets(side: BuildUp, arrows: Sequence[Arrow]) -> tuple[Sheet, ...]:
    """Where everything stands. Arrows beside each other have lanes, the shortest nearest."""
    known = {layer.id for layer in side.layers}
    shown = [a for a in arrows if a.start.layer in known and a.end.layer in known]
    pitch = chip_width(max((a.number for a in shown), default=0)) + 3
    most = int(_LANES / pitch)
    rough = _laid_out(side, shown, most * pitch)
    lanes = _lanes([_span(arrow, rough.rows) for arrow in shown])
    found = []
    for first in range(0, max(lanes, default=-1) + 1, most):
        of_lane = {
            arrow: lane - first
            for arrow, lane in zip(shown, lanes, strict=True)
            if first <= lane < first + most
        }
        sheet = _laid_out(side, tuple(of_lane), pitch * (max(of_lane.values()) + 1))
        found.append(replace(sheet, arrows=_placed(sheet, of_lane, pitch)))
    return tuple(found)


def _laid_out(side: BuildUp, arrows: Sequence[Arrow], gutter: float) -> Sheet:
    """The side without its arrows, with room for them at the left."""
    left = 1 + gutter + _STUB
    width = 68 + (_LANES - gutter) * 0.4
    measures = Measures(
        width=_WIDTH, left=left, layer_width=width, least_row=_least_row(arrows),
        thin=34, thick=48, label_left=left + width + LEADER + 3,
    )  # fmt: skip
    wanted = {end.hold for a in arrows for end in (a.start, a.end) if end.hold}
    pegs = [peg for peg in side.pegs if peg.hold_id in wanted]
    layers = [
        replace(layer, next=False, thickness_text="", who_text=_tasks_at(layer.id, arrows))
        for layer in side.layers
    ]
    rows = lay_out(layers, measures, _PEG.h / 2 + 1 if pegs else 7.0)
    room = Box(left + 6, 0, width * 0.45, 0)
    placed = place_pegs(pegs, {row.layer.id: row.box.y for row in rows}, room, _PEG)
    return Sheet(measures, rows, placed, ())


def _least_row(arrows: Sequence[Arrow]) -> float:
    """The height of a row where the most arrows meet still keeps their heads apart."""
    counts: defaultdict[str, int] = defaultdict(int)
    for arrow in arrows:
        for end in (arrow.start, arrow.end):
            counts[end.layer] += 1
    return max(34.0, _APART * (max(counts.values(), default=0) + 1) + 3)


def _tasks_at(layer_id: str, arrows: Sequence[Arrow]) -> str:
    """The tasks that are named beside a layer, each behind the number of its arrow."""
    ends = ((a.number, end) for a in arrows for end in (a.start, a.end))
    return " · ".join(f"{no} {end.task}" for no, end in ends if end.task and end.layer == layer_id)


def _span(arrow: Arrow, rows: Sequence[Row]) -> tuple[float, float]:
    """From where to where an arrow reaches, about; checks and faces are at the top of a layer."""
    by_id = {row.layer.id: row for row in rows}
    start, end = by_id[arrow.start.layer], by_id[arrow.end.layer]
    from_y = start.box.y if arrow.start.hold else start.band.mid
    to_y = end.box.y if arrow.end.task else end.band.mid
    return min(from_y, to_y), max(from_y, to_y)


def _lanes(spans: Sequence[tuple[float, float]]) -> list[int]:
    """For each span the nearest lane that nothing else has at its height, the shortest first."""
    taken: list[list[tuple[float, float]]] = []
    lanes = [0] * len(spans)
    for which in sorted(range(len(spans)), key=lambda n: (spans[n][1] - spans[n][0], n)):
        top, foot = spans[which]
        free = (
            no
            for no, others in enumerate(taken)
            if all(foot < above or below < top for above, below in others)
        )
        lane = next(free, len(taken))
        taken.extend([[]] if lane == len(taken) else [])
        taken[lane].append(spans[which])
        lanes[which] = lane
    return lanes


def _placed(sheet: Sheet, of_lane: dict[Arrow, int], pitch: float) -> tuple[Placed, ...]:
    innermost = sheet.measures.left - _STUB - pitch / 2
    ends = _ends(sheet, of_lane)
    strung = [
        Placed(a, ends[a, True], innermost - lane * pitch, ends[a, False], Box(0, 0, 0, 0))
        for a, lane in of_lane.items()
    ]
    return tuple(replace(one, chip=_chip_at(one, strung)) for one in strung)


def _ends(sheet: Sheet, of_lane: dict[Arrow, int]) -> dict[tuple[Arrow, bool], tuple[float, float]]:
    """Where each arrow starts (True) and ends (False), no two at one height of a layer.

    Of those that go up, what has the nearer lane stands higher, of those that go down lower: so
    none crosses another before it has to.
    """
    rows = {row.layer.id: row for row in sheet.rows}
    pegs = {peg.hold_id: box for peg, box in sheet.pegs}
    meeting: defaultdict[tuple[float, float], list[tuple[int, Arrow, bool]]] = defaultdict(list)
    lefts: dict[tuple[Arrow, bool], float] = {}
    for arrow, lane in of_lane.items():
        spots = [_spot(arrow, starts, rows, pegs) for starts in (True, False)]
        for starts, spot, other in zip((True, False), spots, reversed(spots), strict=True):
            up = other.mid < spot.mid or (other == spot and starts)
            meeting[spot.y, spot.h].append((lane - 1000 if up else 1000 - lane, arrow, starts))
            lefts[arrow, starts] = spot.x
    found = {}
    for (top, height), there in meeting.items():
        there.sort(key=lambda one: (one[0], one[1].number))
        for index, (_, arrow, starts) in enumerate(there, 1):
            y = top + height * index / (len(there) + 1)
            found[arrow, starts] = (lefts[arrow, starts], y)
    return found


def _spot(arrow: Arrow, starts: bool, rows: dict[str, Row], pegs: dict[str, Box]) -> Box:
    """The left edge that an arrow meets: of a peg the half in its layer, of a cover its face."""
    end = arrow.start if starts else arrow.end
    row = rows[end.layer]
    if end.hold in pegs:
        peg = pegs[end.hold]
        return Box(peg.x, peg.mid, 0, peg.h / 2)
    if end.task and not starts:
        return Box(row.box.x, row.box.y - 8, 0, 16)
    return Box(row.box.x, row.band.y, 0, row.band.h - 3)


def _chip_at(one: Placed, others: Sequence[Placed]) -> Box:
    """The number stands where its arrow turns into its lane, or further on if another is there."""
    width, (_, start), (_, end) = chip_width(one.arrow.number), one.start, one.end
    crossing = [y for o in others if o.lane < one.lane for _, y in (o.start, o.end)]
    along = (start + (end - start) * part / 20 for part in range(16))
    clear = (y for y in along if all(abs(y - other) > CHIP / 2 + 2 for other in crossing))
    return Box(one.lane - width / 2, next(clear, start) - CHIP / 2, width, CHIP)


def chip_width(no: int) -> float:
    """How wide a number is with the frame around it."""
    return CHIP + _DIGIT * (len(str(no)) - 1)
