"""How the forecast finish moved from day to day: a chalk line hanging under a taut string.

The string is the promised date, set anew where another date was promised. The chalk line is what
was forecast: a later finish hangs lower. The gap is hatched where it is later than promised.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from markupsafe import Markup

from server.drawing.finish_scale import (
    LEFT,
    LINE,
    SIZE,
    WIDTH,
    Evening,
    Room,
    Scale,
    lettered,
    wide_of,
)
from server.drawing.finish_strokes import strokes
from server.drawing.notes import spread
from server.drawing.svg import Box, element, joined, number, path

_GAP = 9.0  # between the last evening and its labels


@dataclass(frozen=True)
class Kept:
    """What the forecast finish was on the evening of a day."""

    day: date
    finish: date


@dataclass(frozen=True)
class Promised:
    """From the day `since` on, this finish was promised."""

    since: date
    finish: date


@dataclass(frozen=True)
class SlipMark:
    """A day on which the finish moved and people gave a cause, by its number in their list."""

    day: date
    number: int


@dataclass(frozen=True)
class Labels:
    """The words of the drawing, in the reader's language.

    `title` says the whole to those who do not see it; `axis_day` and `finish_day` write a date.
    """

    title: str
    promised: str
    forecast: str
    axis_day: Callable[[date], str]
    finish_day: Callable[[date], str]


def finish_line(
    kept: Sequence[Kept],
    promised: Sequence[Promised],
    slips: Sequence[SlipMark],
    labels: Labels,
) -> Markup:
    """The drawing, 320 units wide; empty where nothing is kept.

    A promise made after the last day kept is not shown yet. A slip on a day that is not kept
    stands at the next one.
    """
    if not kept:
        return Markup()
    evenings = _evenings(kept, promised)
    ends = _end_words(evenings[-1], labels)
    scale = Scale(evenings, _GAP + max(wide_of(text, bold=True) for text in ends) + 2)
    room = Room(scale)
    numbers = _numbers(slips, room)
    dates = _promised_dates(room, labels) + _forecast_dates(room, labels)
    ending = _ending(room, labels)
    highest, lowest = scale.reach(LEFT, scale.right)
    top = min(highest - 6, *(box.y for box in room.taken))
    foot = max(lowest, *(box.bottom for box in room.taken)) + 5
    return element(
        "svg",
        element("title", labels.title),
        *strokes(scale),
        numbers,
        dates,
        ending,
        _axis(scale, labels, foot),
        class_="fl",
        role="img",
        viewBox=" ".join(number(edge) for edge in (0, top - 2, WIDTH, foot + LINE + 9 - top)),
        font_size=SIZE,
    )


def _evenings(kept: Sequence[Kept], promised: Sequence[Promised]) -> tuple[Evening, ...]:
    rounds = sorted(promised, key=lambda one: one.since)
    by_day = sorted({one.day: one for one in kept}.values(), key=lambda one: one.day)
    return tuple(
        Evening(
            one.day,
            one.finish,
            next((made.finish for made in reversed(rounds) if made.since <= one.day), None),
        )
        for one in by_day
    )


def _numbers(slips: Sequence[SlipMark], room: Room) -> Markup:
    """A tick at each slip, and its number beside; numbers without room for each share one text."""
    groups: list[tuple[list[SlipMark], Box, bool]] = []
    for slip in sorted(slips, key=lambda slip: (slip.day, slip.number)):
        members = [slip]
        box, under = _number_box(members, room)
        while groups and groups[-1][1].right + 6 > box.x:
            members = groups.pop()[0] + members
            box, under = _number_box(members, room)
        groups.append((members, box, under))
    ticks, texts = "", []
    for members, box, under in groups:
        room.taken.append(Box(box.x - 4, box.y, box.w + 4, box.h))
        texts.append(lettered(_span(members), box.x, box))
        xs = [room.scale.x(room.scale.index(slip.day)) for slip in members]
        main = xs[0] if xs[0] < box.x else xs[-1]
        for x, slip in dict(zip(xs, members, strict=True)).items():
            y = room.scale.hung(room.scale.evenings[room.scale.index(slip.day)].finish)
            far = (box.bottom - 2 if under else box.y + 2) if x == main else y + (6, -6)[not under]
            room.taken.append(Box(x - 1, min(y, far), 2, abs(far - y)))
            ticks += f"M{number(x)} {number(y)}V{number(far)}"
    if not texts:
        return Markup()
    return path(ticks, class_="fl-tick") + element("g", joined(texts), class_="fl-no")


def _number_box(members: Sequence[SlipMark], room: Room) -> tuple[Box, bool]:
    """To the right of the first of the ticks; to the left of the last where that is too far."""
    scale, text = room.scale, _span(members)
    first, last = scale.index(members[0].day), scale.index(members[-1].day)
    wide = wide_of(text, bold=True)
    left = scale.x(first) + 3
    at = first
    if left + wide > scale.right:
        left, at = max(scale.x(last) - 3 - wide, 1), last
    under, level = not scale.evenings[at].early, scale.hung(scale.evenings[at].finish)
    return room.beside(left, text, level, under=under, bold=True), under


def _span(members: Sequence[SlipMark]) -> str:
    numbers = sorted({slip.number for slip in members})
    if len(numbers) > 2 and numbers[-1] - numbers[0] == len(numbers) - 1:
        return f"{numbers[0]}\u2013{numbers[-1]}"
    return ", ".join(str(one) for one in numbers)


def _promised_dates(room: Room, labels: Labels) -> Markup:
    """The date of each string but the last, which has its label at the right end."""
    scale, texts = room.scale, []
    start = 0
    for index, (before, now) in enumerate(pairwise(scale.evenings), 1):
        if before.promised == now.promised:
            continue
        if before.promised:
            text = labels.finish_day(before.promised)
            lefts = (scale.start(start) + 6, scale.start(index) - wide_of(text) - 3)
            level = scale.y(before.promised)
            box = room.find(lefts, text, level, under=scale.evenings[start].early)
            texts += [lettered(text, box.x, box)] if box else []
        start = index
    return element("g", joined(texts)) if texts else Markup()


def _forecast_dates(room: Room, labels: Labels) -> Markup:
    """The new date where the forecast moved by more than a day, the widest moves first."""
    scale, texts = room.scale, []
    moves = [
        (-abs((now.finish - before.finish).days), index, now)
        for index, (before, now) in enumerate(pairwise(scale.evenings), 1)
        if abs((now.finish - before.finish).days) > 1
    ]
    for _, index, now in sorted(moves, key=lambda move: move[:2]):
        if now.finish == scale.evenings[-1].finish:
            continue
        text, x = labels.finish_day(now.finish), scale.x(index)
        lefts = (x + 3, x + 18, x + 26, x - 9 - wide_of(text))
        box = room.find(lefts, text, scale.hung(now.finish), under=not now.early)
        texts += [lettered(text, box.x, box)] if box else []
    return element("g", joined(texts), class_="fl-then") if texts else Markup()


def _end_words(last: Evening, labels: Labels) -> tuple[str, ...]:
    promised = (labels.promised, labels.finish_day(last.promised)) if last.promised else ()
    return (labels.forecast, labels.finish_day(last.finish), *promised)


def _ending(room: Room, labels: Labels) -> Markup:
    """At the right end: the dates at their levels, and outside of both what each of them is."""
    last, x = room.scale.evenings[-1], room.scale.right + _GAP
    rows = [(room.scale.y(last.finish), labels.finish_day(last.finish), "fl-now")]
    words = [labels.forecast]
    if last.promised and last.promised != last.finish:
        row = (room.scale.y(last.promised), labels.finish_day(last.promised), "fl-set")
        rows.insert(last.early, row)
    if last.promised:
        words.insert(last.early, labels.promised)
    middles = spread([y for y, _, _ in rows], LINE + 1, -WIDTH)
    lines = [(y, text, kind) for y, (_, text, kind) in zip(middles, rows, strict=True)]
    if last.promised:
        lines.insert(0, (middles[0] - LINE, words[0], "fl-soft"))
    lines.append((middles[-1] + LINE, words[-1], "fl-soft"))
    texts = []
    for y, text, kind in lines:
        box = Box(x, y - LINE / 2, wide_of(text, bold=True), LINE)
        room.taken.append(box)
        texts.append(lettered(text, x, box, class_=kind))
    return joined(texts)


def _axis(scale: Scale, labels: Labels, top: float) -> Markup:
    """The days: the first, the last, and as many between as stand well apart."""
    count = len(scale.evenings)
    parts = max(1, int((scale.right - LEFT) / 75))
    inner = [round(part * (count - 1) / parts) for part in range(1, parts)]
    texts, taken = [], list[Box]()
    d = f"M{number(LEFT)} {number(top)}H{number(scale.right)}"
    for index in (count - 1, 0, *inner):
        text = labels.axis_day(scale.evenings[index].day)
        wide = wide_of(text)
        x = scale.x(index)
        middle = min(max(x, wide / 2 + 1), WIDTH - wide / 2 - 1)
        box = Box(middle - wide / 2, top + 5, wide, LINE)
        apart = Box(middle - max(wide + 8, 68) / 2, box.y, max(wide + 8, 68), LINE)
        if any(apart.touches(other) for other in taken):
            continue
        taken.append(apart)
        texts.append(lettered(text, middle, box))
        d += f"M{number(x)} {number(top)}v4"
    days = element("g", joined(texts), class_="fl-soft", text_anchor="middle")
    return path(d, class_="fl-axis") + days
