"""What a check asks for, as rows to type in: tolerances in words, verdicts as they are typed."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from server.core.measure import Band, State, judge, read
from server.core.refusals import Message, Refusal, message
from server.core.world import Ask
from server.words.words import Words

QUESTION = "yes"
FIELD = "ask-"
CSS = {State.WITHIN: "ok", State.PUT_RIGHT: "no", State.ASK: "ask"}


@dataclass(frozen=True)
class Judged:
    """A typed answer judged: what is said of it, its class, whether it lies outside."""

    said: str = ""
    css: str = ""
    outside: bool = False
    value: Fraction | None = None


@dataclass(frozen=True)
class Row:
    """One number or question. `label` is short, `spoken` whole for who cannot see the heading.

    `tolerance` is its own, where those under one heading differ.
    """

    field: str
    label: str
    spoken: str
    question: bool
    part: int | None
    typed: str
    judged: Judged
    error: str = ""
    tolerance: str = ""


@dataclass(frozen=True)
class Group:
    """Rows asked alike: one heading, one tolerance. `each` says that each part has a row."""

    title: str
    tolerance: str
    tag: str
    each: bool
    rows: tuple[Row, ...]


def groups_of(
    asks: Sequence[Ask],
    part_name: str,
    typed: Mapping[str, str],
    words: Words,
    errors: Mapping[str, str],
) -> tuple[Group, ...]:
    """The asks of a check; the numbers of one ask for each part stand under one heading.

    `typed` and `errors` go by the id of the ask.
    """
    return tuple(_groups(asks, part_name, typed, words, errors))


def _groups(
    asks: Sequence[Ask],
    part_name: str,
    typed: Mapping[str, str],
    words: Words,
    errors: Mapping[str, str],
) -> Iterator[Group]:
    for (label, each), members in groupby(asks, key=lambda ask: (ask.label, ask.part is not None)):
        same = tuple(members)
        asked_for = tuple(tolerance(ask, words) for ask in same)
        alike = len(set(asked_for)) == 1
        rows = tuple(
            Row(
                field=FIELD + ask.id,
                label=str(ask.part) if each else label,
                spoken=f"{label}, {part_name} {ask.part}" if each else label,
                question=ask.unit == QUESTION,
                part=ask.part,
                typed=typed.get(ask.id, ""),
                judged=judged(ask, typed.get(ask.id, ""), words),
                error=errors.get(ask.id, ""),
                tolerance="" if alike else own,
            )
            for ask, own in zip(same, asked_for, strict=True)
        )
        yield Group(label, asked_for[0] if alike else "", tag_said(same[0].tag, words), each, rows)


def judged(ask: Ask, typed: str, words: Words) -> Judged:
    """The verdict on what was typed so far; nothing yet for an empty box.

    What cannot be read is said as it would be refused.
    """
    if not typed.strip():
        return Judged()
    if ask.unit == QUESTION:
        return _answer(typed, words)
    try:
        value = read(typed, ask.unit, near=ask.nominal)
    except Refusal as refusal:
        return Judged(words.say(refusal.message), "no")
    if ask.low is None and ask.high is None:
        return Judged(words.say(message("check.noted")), "ok", value=value)
    verdict = judge(value, ask.nominal, Band(ask.low, ask.high), far_band(ask))
    said = verdict.message(ask.unit)
    if verdict.state is State.ASK:
        said = message("check.and_ask", verdict=said)
    outside = verdict.state is not State.WITHIN
    return Judged(words.say(said), CSS[verdict.state], outside, value)


def far_band(ask: Ask) -> Band | None:
    """The second tolerance, if there is one."""
    if ask.far_low is None and ask.far_high is None:
        return None
    return Band(ask.far_low, ask.far_high)


def tolerance(ask: Ask, words: Words) -> str:
    """Both tolerances in one line: "36 ± 1/8 in; beyond 36 ± 1/4 in, ask"."""
    if ask.low is None and ask.high is None:
        return ""
    near = _band(ask, Band(ask.low, ask.high))
    far = far_band(ask)
    if far is None or far == Band(ask.low, ask.high):
        return words.say(message("check.one_band", band=near))
    return words.say(message("check.two_bands", band=near, far=_band(ask, far)))


def tag_said(tag: str, words: Words) -> str:
    """Where a number comes from: common practice, from memory, or nothing for the firm's own."""
    return words.say(message("check.tagged", tag=tag)) if tag else ""


def _band(ask: Ask, band: Band) -> Message:
    unit, low, high, nominal = ask.unit, band.low, band.high, ask.nominal
    if low is None:
        return message("check.band_most", high=high, unit=unit)
    if high is None:
        return message("check.band_least", low=low, unit=unit)
    if nominal is not None and nominal - low == high - nominal:
        if not nominal:
            return message("check.band_zero", off=high, unit=unit)
        return message("check.band_around", nominal=nominal, off=high - nominal, unit=unit)
    return message("check.band_between", low=low, high=high, unit=unit)


def _answer(typed: str, words: Words) -> Judged:
    yes = typed == "yes"
    return Judged(
        "" if yes else words.say(message("check.answered_no")),
        "ok" if yes else "no",
        not yes,
        Fraction(yes),
    )
