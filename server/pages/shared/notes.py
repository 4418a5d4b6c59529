"""The numbered notes: each warning with its hexagon, its sentence and the presses that mend it."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from markupsafe import Markup

from server.core.refusals import message
from server.core.warnings import Mend, Warning
from server.core.world import Snapshot
from server.drawing.notes import NoteLeader, hexagon
from server.words import Words


class Seen(Protocol):
    """A project seen by somebody now."""

    @property
    def snapshot(self) -> Snapshot:
        """As it stands."""

    @property
    def words(self) -> Words:
        """In the words of whoever looks."""

    @property
    def now(self) -> datetime:
        """By the project's clock."""


CLASSES = {"danger": "danger", "lost work": "lost", "in the way": "way", "watch": "watch"}


@dataclass(frozen=True)
class NotePress:
    """A press at a note: a page to go to, or the number of a mend to send."""

    label: str
    href: str
    mend: int


@dataclass(frozen=True)
class NoteShown:
    """A numbered note as it is printed. `untried`: its mends are looked for on its own page."""

    number: int
    bad: str
    hexagon: Markup
    kind: str
    sentence: str
    identity: str
    where: str
    href: str
    presses: tuple[NotePress, ...]
    untried: bool = False


def notes_shown(opened: Seen, found: Iterable[Warning], first: int = 1) -> tuple[NoteShown, ...]:
    """Notes in the order given, numbered from the first number."""
    words, now, snapshot = opened.words, opened.now, opened.snapshot
    shown = []
    for number, warning in enumerate(found, first):
        kind = message("note.kind", bad=warning.bad, title=warning.title)
        detail = snapshot.details.get(warning.detail_id or "")
        presses = tuple(
            NotePress(
                words.say(mend.label, now=now),
                _page_of(snapshot, mend),
                index,
            )
            for index, mend in enumerate(warning.mends)
        )
        shown.append(
            NoteShown(
                number=number,
                bad=CLASSES[warning.bad],
                hexagon=hexagon(number, warning.bad),
                kind=words.say(kind, now=now),
                sentence=words.say(warning.sentence, now=now),
                identity=warning.identity,
                where=detail.name if detail else "",
                href=f"/d/{detail.id}" if detail else "",
                presses=presses,
                untried=warning.untried,
            )
        )
    return tuple(shown)


def _page_of(snapshot: Snapshot, mend: Mend) -> str:
    if mend.goto_activity_id:
        activity = snapshot.activities[mend.goto_activity_id]
        return f"/d/{activity.detail_id}/a/{activity.id}"
    if mend.goto_figure_id:
        kept = snapshot.kept_figures[mend.goto_figure_id]
        return f"/d/{kept.detail_id}/figures/{kept.id}"
    return f"/h/{mend.goto_hold_id}" if mend.goto_hold_id else ""


def leaders(found: Iterable[Warning]) -> tuple[NoteLeader, ...]:
    """The leaders of notes to the check or layer they are about, with the same numbers."""
    return tuple(
        NoteLeader(
            number,
            warning.bad,
            str(number),
            layer=warning.layer_ids[0] if warning.layer_ids and not warning.hold_id else None,
            hold=warning.hold_id,
            href=f"#note-{number}",
        )
        for number, warning in enumerate(found, 1)
        if warning.hold_id or warning.layer_ids
    )
