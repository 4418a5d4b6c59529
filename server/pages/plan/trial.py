"""A refused command tried again on the snapshot, so that all that is wrong is told at once."""

from dataclasses import MISSING, fields, replace
from datetime import datetime
from typing import Any

from server.core.changes import Actor, ChangedSince, Command, change
from server.core.refusals import Refusal
from server.core.rights import NotTheirs
from server.core.world import Snapshot
from server.pages.kit.forms import Form
from server.store.ids import new_id

# Where the facts of a command stand: on it, or in these.
INSIDE = ("facts", "check")
# What goes out together: limits of a time say nothing about a time that is not known.
WITH_WORK: dict[str, object] = {"work": 60, "low": None, "high": None, "one_day": False}


def tried(form: Form, snapshot: Snapshot, actor: Actor, at: datetime, command: Command) -> None:
    """Keeps in the form every refusal of a command, not only the first; raises none of them.

    A field that is refused is taken out of the command, and the rest is tried again.
    """
    refused: set[str] = set()
    while True:
        try:
            change(snapshot, actor, command, at)
        except (NotTheirs, ChangedSince):
            return
        except Refusal as refusal:
            if refusal.field not in {r.field for r in form.all_refusals}:
                form.refuse(refusal)
            if refusal.field is None or refusal.field in refused:
                return
            refused.add(refusal.field)
            command = _without(command, refusal.field, at)
        else:
            return


def _without(holder: Any, name: str, at: datetime) -> Any:
    if any(f.name == name for f in fields(holder)):
        if name == "work":
            known = {f.name for f in fields(holder)}
            return replace(holder, **{n: v for n, v in WITH_WORK.items() if n in known})
        return replace(holder, **{name: _plain(holder, name, at)})
    for inner in INSIDE:
        if getattr(holder, inner, None) is not None:
            holder = replace(holder, **{inner: _without(getattr(holder, inner), name, at)})
    return holder


def _plain(holder: Any, name: str, at: datetime) -> object:
    """The field left out, or where it has to say something, something nobody said before."""
    if isinstance(getattr(holder, name), datetime):
        return at
    of = next(f for f in fields(holder) if f.name == name)
    if of.default is not MISSING:
        return of.default
    return of.default_factory() if of.default_factory is not MISSING else new_id()
