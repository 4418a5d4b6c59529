"""What stands on the wall sheet of a detail, cut to one page by rules that it says itself."""

from dataclasses import dataclass, replace

from markupsafe import Markup

from server.core.refusals import Message, message
from server.core.world import Sheet
from server.drawing.text import width_of
from server.pages.detail.heading import finish_said
from server.pages.detail.looking import Looking
from server.pages.shared.buildup import SideShown, sides_shown
from server.pages.sheet.cautions import cautions_of
from server.pages.sheet.checks import CheckLine, check_lines, in_columns
from server.pages.sheet.code import address_of, code_svg
from server.pages.sheet.going import NextLine, next_lines
from server.pages.sheet.paper import (
    FINE,
    FOOT_GAP,
    GUTTER,
    HEAD,
    HEADING,
    HEIGHT,
    SUB,
    TEXT,
    TITLE,
    WIDTH,
    Type,
    drawn_height,
    height_of,
    shortened,
)

SIDES = 3
DRAWINGS = 4
NEXT_WIDTH = 84.0
ALONE = (WIDTH - GUTTER) / 2
"""A side that stands alone takes half the sheet, and the next five the other half."""
HEAD_TEXT = 118.0
MARK_BOX = 24.0
BESIDE = 84.0
"""Beside a side that stands alone there is at least so much room for the next five."""
REST = 2
"""At least so many lines name the checks that did not fit."""
REST_TYPE = Type(TEXT.size, TEXT.line, bold=True)
KEY, CUT = Message("sheet.key"), Message("sheet.cut")


@dataclass(frozen=True)
class SheetPage:
    """The sheet. `more_…` say how many did not fit; `here_only`: no phone can follow the code."""

    detail_id: str
    mark: str
    name: str
    house: str
    stands: str
    drawings: str
    code: Markup
    address: str
    here_only: bool
    alone: bool
    sides: tuple[SideShown, ...]
    more_sides: int
    next: tuple[NextLine, ...]
    more_next: int
    checks: tuple[tuple[CheckLine, ...], ...]
    all_checks: int
    rest_of_checks: str
    cautions: str


def sheet_page(looking: Looking, base_url: str, here_only: bool) -> SheetPage:
    """The sheet of a detail as it stands now. Nothing on it is for one person alone."""
    detail = looking.detail
    sides = sides_shown(looking.snapshot, looking.schedule, detail.id, looking.words, looking.now)
    shown = _named_shortly(sides[:SIDES])
    alone = len(shown) == 1
    cautions = " ".join(looking.say(one) for one in cautions_of(looking.snapshot, detail.id))
    address = address_of(base_url, detail.id)
    top, room = _heights(looking, shown, cautions, address)
    width = ALONE if alone else WIDTH - GUTTER - NEXT_WIDTH
    going, more = next_lines(looking, ALONE if alone else NEXT_WIDTH, top if alone else room)
    checks = check_lines(looking, width)
    columns, rest = in_columns(checks, 2 if alone else 1, room, REST * TEXT.line)
    left = room - sum(check.height for check in columns[-1])
    return SheetPage(
        detail_id=detail.id,
        mark=_mark(detail.sheet),
        name=shortened(detail.name, HEAD_TEXT, TITLE, 2),
        house=shortened(looking.snapshot.project.name, HEAD_TEXT, SUB, 1),
        stands=shortened(_stands(looking), HEAD_TEXT, SUB, 2),
        drawings=shortened(_drawings(looking), HEAD_TEXT, SUB, 1),
        code=code_svg(address),
        address=address,
        here_only=here_only,
        alone=alone,
        sides=shown,
        more_sides=len(sides) - len(shown),
        next=going,
        more_next=more,
        checks=columns,
        all_checks=len(checks),
        rest_of_checks=_rest(looking, checks[len(checks) - rest :], width, left) if rest else "",
        cautions=cautions,
    )


def _heights(
    looking: Looking, sides: tuple[SideShown, ...], cautions: str, address: str
) -> tuple[float, float]:
    """The room for the top row without its heading, and for what stands below it."""
    width = _side_width(len(sides))
    names = max((height_of(side.name, width, TEXT) for side in sides), default=0.0)
    drawn = max((drawn_height(side.drawing, width) + names for side in sides), default=0.0)
    top = max(drawn, BESIDE) if len(sides) == 1 else drawn
    page = message("sheet.address", address=address)
    said = (cautions, f"{looking.say(KEY)} {looking.say(CUT)} {looking.say(page)}")
    foot = FOOT_GAP + sum(height_of(text, WIDTH, FINE) for text in said)
    return top, HEIGHT - HEAD - (HEADING + top if sides else 0) - HEADING - foot


def _stands(looking: Looking) -> str:
    """As of when, and the finish as it was forecast then."""
    as_of = looking.say(message("sheet.as_of", at=looking.now))
    return f"{as_of} · {finish_said(looking)}"


def _rest(looking: Looking, checks: tuple[CheckLine, ...], width: float, room: float) -> str:
    """The checks that did not fit: how many, and their names as far as there is room."""
    names = "; ".join(check.name for check in checks)
    said = looking.say(message("sheet.more_checks", n=len(checks), names=names))
    return shortened(said, width, REST_TYPE, int(room // REST_TYPE.line))


def _named_shortly(sides: tuple[SideShown, ...]) -> tuple[SideShown, ...]:
    """The sides with no more of their names than two lines hold."""
    width = _side_width(len(sides))
    return tuple(replace(side, name=shortened(side.name, width, TEXT, 2)) for side in sides)


def _side_width(count: int) -> float:
    return (WIDTH - GUTTER * (max(2, count) - 1)) / max(2, count)


def _mark(sheet: str) -> str:
    """The mark on the drawings, as much of it as its box holds."""
    kept = sheet.strip()
    while len(kept) > 1 and width_of(kept, TITLE.size, bold=True) > MARK_BOX:
        kept = kept[:-1]
    return kept if kept == sheet.strip() else f"{kept[:-1]}…"


def _drawings(looking: Looking) -> str:
    """The current drawings by number and revision."""
    current = [
        sheet
        for sheet in looking.snapshot.sheets.values()
        if sheet.detail_id == looking.detail.id and sheet.replaced_id is None
    ]
    if not current:
        return looking.say(message("sheet.no_drawing"))
    named = tuple(_named(looking, sheet) for sheet in current[:DRAWINGS])
    if len(current) > DRAWINGS:
        return looking.say(
            message("sheet.drawings_more", drawings=named, n=len(current) - DRAWINGS)
        )
    return looking.say(message("sheet.drawings", drawings=named))


def _named(looking: Looking, sheet: Sheet) -> str:
    return looking.say(message("sheet.drawing", number=sheet.number, revision=sheet.revision))
