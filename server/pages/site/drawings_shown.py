"""A detail's drawings: each with what is made to it, and to which revision."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from server.core.refusals import message
from server.core.world import Activity, Sheet, Snapshot
from server.pages.kit import Form
from server.pages.shared.opened import Opened


@dataclass(frozen=True)
class MadeTo:
    """A check, order or other work that is made to a drawing.

    `older` says that it is made to a revision which has been replaced; else it is empty.
    """

    href: str
    name: str
    what: str
    older: str


@dataclass(frozen=True)
class SheetShown:
    """A drawing. `replaced` says by which revision, if it was; `made` is then empty."""

    id: str
    number: str
    revision: str
    title: str
    dated: date | None
    made: tuple[MadeTo, ...]
    replaced: str


@dataclass(frozen=True)
class DrawingsPage:
    """The drawings of a detail. `replaces` is the one that the open form makes a revision of."""

    detail_id: str
    detail: str
    sheet: str
    current: tuple[SheetShown, ...]
    replaced: tuple[SheetShown, ...]
    without: tuple[MadeTo, ...]
    may_add: bool
    form: Form
    opens: bool
    replaces: SheetShown | None


def drawings_page(opened: Opened, role: str, form: Form, replaces_id: str) -> DrawingsPage:
    """The drawings of the detail that is open, the current ones first."""
    snapshot = opened.snapshot
    detail = snapshot.details[opened.detail_id]
    sheets = [s for s in snapshot.sheets.values() if s.detail_id == detail.id]
    sheets.sort(key=lambda s: (s.number.casefold(), s.dated or date.min, s.revision.casefold()))
    current = tuple(_shown(opened, s) for s in sheets if s.replaced_id is None)
    replaces = next((one for one in current if one.id == replaces_id), None)
    return DrawingsPage(
        detail_id=detail.id,
        detail=detail.name,
        sheet=detail.sheet,
        current=current,
        replaced=tuple(_shown(opened, s) for s in reversed(sheets) if s.replaced_id),
        without=tuple(_without(opened)) if role == "super" and sheets else (),
        may_add=role == "super",
        form=form,
        opens=bool(form.fields) or replaces is not None,
        replaces=replaces,
    )


def newest(snapshot: Snapshot, sheet: Sheet) -> Sheet:
    """The revision that stands for this drawing now; itself if nothing has replaced it."""
    while sheet.replaced_id is not None:
        sheet = snapshot.sheets[sheet.replaced_id]
    return sheet


def _shown(opened: Opened, sheet: Sheet) -> SheetShown:
    newer = opened.snapshot.sheets.get(sheet.replaced_id or "")
    replaced = message("drawings.replaced_by", revision=newer.revision) if newer else None
    return SheetShown(
        id=sheet.id,
        number=sheet.number,
        revision=sheet.revision,
        title=sheet.title,
        dated=sheet.dated,
        made=() if newer else tuple(_made(opened, sheet)),
        replaced=opened.words.say(replaced) if replaced else "",
    )


def _made(opened: Opened, sheet: Sheet) -> Iterator[MadeTo]:
    """What is made to a drawing, what is still made to an older revision of it first."""
    snapshot, found = opened.snapshot, []
    for activity in snapshot.chain_of(opened.detail_id):
        named = snapshot.sheets.get(activity.sheet_id or "")
        if named is not None and newest(snapshot, named) is sheet:
            found.append(_work(opened, activity, "" if named is sheet else named.revision))
    yield from sorted(found, key=lambda made: not made.older)


def _without(opened: Opened) -> Iterator[MadeTo]:
    """The checks and orders still to do that name no drawing."""
    done = opened.schedule.done
    for activity in opened.snapshot.chain_of(opened.detail_id):
        asked = activity.kind in ("hold", "delivery") and activity.id not in done
        if asked and activity.sheet_id is None:
            yield _work(opened, activity, "")


def _work(opened: Opened, activity: Activity, older: str) -> MadeTo:
    words, hold = opened.words, opened.snapshot.hold_of.get(activity.id)
    done = activity.id in opened.schedule.done
    said = message("drawings.was_made" if done else "drawings.is_made", revision=older)
    return MadeTo(
        href=f"/h/{hold.id}" if hold else f"/d/{activity.detail_id}/a/{activity.id}",
        name=activity.name,
        what=words.say(message("drawings.what", kind=activity.kind, done=done)),
        older=words.say(said) if older else "",
    )
