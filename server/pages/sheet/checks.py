"""The checks still to come: what to look for, with numbers and tolerances, and who looks."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from server.core.changes.held import part_names, releaser_of
from server.core.refusals import Message, message
from server.core.states import hold_state, left_out
from server.core.world import HoldPoint
from server.drawing.pegs import peg_mark
from server.pages.check.numbers import Group, groups_of
from server.pages.detail.looking import Looking
from server.pages.shared.layers import PEGS
from server.pages.sheet.paper import GAP, MARK, NAME, TEXT, height_of, shortened, that_fit

NUMBERS = 4
"""How many numbers of one check stand on the sheet."""


@dataclass(frozen=True)
class CheckLine:
    """A check on paper: its peg, its name, and what is said of it line by line."""

    name: str
    peg: Markup
    said: tuple[str, ...]
    height: float


def check_lines(looking: Looking, width: float) -> tuple[CheckLine, ...]:
    """Every check that is not OK to cover, or not all of it, in the order of work."""
    return tuple(
        _line(looking, hold, width - MARK)
        for hold in looking.holds
        if hold_state(looking.snapshot, hold, looking.schedule) != "released"
        or left_out(looking.snapshot, hold)
    )


def in_columns(
    lines: Sequence[CheckLine], columns: int, room: float, after: float
) -> tuple[tuple[tuple[CheckLine, ...], ...], int]:
    """The lines that fit, column by column, and how many do not; their number is said last."""
    rest, placed = list(lines), []
    for column in range(columns):
        last = column == columns - 1
        count = that_fit([line.height for line in rest], room, after if last else 0.0)
        placed.append(tuple(rest[:count]))
        del rest[:count]
    return tuple(placed), len(rest)


def _line(looking: Looking, hold: HoldPoint, width: float) -> CheckLine:
    name = shortened(looking.snapshot.activities[hold.activity_id].name, width, NAME, 2)
    said = tuple(shortened(text, width, TEXT, most) for text, most in _said(looking, hold))
    high = height_of(name, width, NAME) + sum(height_of(text, width, TEXT) for text in said)
    state = hold_state(looking.snapshot, hold, looking.schedule)
    return CheckLine(name, peg_mark(PEGS[state]), said, high + GAP)


def _said(looking: Looking, hold: HoldPoint) -> Iterator[tuple[str, int]]:
    """What is said of a check, and in how many lines at most."""
    if missing := left_out(looking.snapshot, hold):
        left = part_names(hold, frozenset(missing))
        yield looking.say(message("sheet.left_out", parts=left)), 1
    if hold.what:
        yield hold.what, 3
    asks = looking.snapshot.asks_of.get(hold.id, ())
    groups = groups_of(asks, hold.part_name, {}, looking.words, {})
    for group in groups[:NUMBERS]:
        yield _number(looking, hold, group), 2
    if len(groups) > NUMBERS:
        yield looking.say(message("sheet.more_numbers", n=len(groups) - NUMBERS)), 1
    if hold.datum or hold.tool:
        yield looking.say(_measured(hold)), 2
    photos = looking.say(message("sheet.photos", n=hold.photos)) if hold.photos else ""
    yield " · ".join(part for part in (looks(looking, hold), photos) if part), 2


def _number(looking: Looking, hold: HoldPoint, group: Group) -> str:
    question = group.rows[0].question
    said = message("sheet.asked", what=group.title, each=group.each, part=hold.part_name)
    wanted = looking.say(message("sheet.yes_or_no")) if question else group.tolerance
    if any(row.tolerance for row in group.rows):
        wanted = looking.say(message("sheet.each_its_own"))
    tail = f" ({group.tag})" if group.tag and not question else ""
    return f"{looking.say(said)}: {wanted}{tail}" if wanted else looking.say(said)


def looker(looking: Looking, hold: HoldPoint) -> str:
    """Who looks at a check, by name; an outside look is the inspector's."""
    if hold.authority:
        return looking.say(message("sheet.inspector"))
    person = releaser_of(looking.snapshot, hold)
    return person.name if person else looking.say(message("check.super"))


def looks(looking: Looking, hold: HoldPoint) -> str:
    """Who marks it ready and who looks at it, by name."""
    crew, who = looking.snapshot.crews.get(hold.marks_crew_id or ""), looker(looking, hold)
    if crew is None:
        return looking.say(message("sheet.looks", who=who))
    return looking.say(message("sheet.marks_and_looks", crew=crew.name, who=who))


def _measured(hold: HoldPoint) -> Message:
    if hold.datum and hold.tool:
        return message("sheet.from_with", datum=hold.datum, tool=hold.tool)
    return message("sheet.from" if hold.datum else "sheet.with", what=hold.datum or hold.tool)
