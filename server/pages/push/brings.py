"""The notes that a press would bring, said beside it before it is made."""

from dataclasses import dataclass

from server.core.changes import Actor, Command, changed
from server.core.refusals import Refusal
from server.core.ripple import ripple
from server.pages.kit import Form
from server.pages.push.shown import NoteSaid, note_said
from server.pages.shared.opened import Opened


@dataclass(frozen=True)
class Brings:
    """The notes that come, and a word that says they have been read."""

    notes: tuple[NoteSaid, ...]
    known: str


def brings(opened: Opened, actor: Actor, *commands: Command) -> Brings:
    """What these commands would bring; nothing where they would be refused."""
    snapshot = opened.snapshot
    try:
        after = changed(snapshot, actor, commands, opened.now)
    except Refusal:
        return Brings((), "")
    come = ripple(snapshot, after, opened.status, opened.schedule).come
    known = "|".join(sorted(warning.identity for warning in come))
    return Brings(tuple(note_said(opened, warning) for warning in come), known)


def unread(form: Form, brought: Brings) -> bool:
    """Whether it brings notes that were not beside the press when it was made."""
    return bool(brought.notes) and form.typed("known") != brought.known
