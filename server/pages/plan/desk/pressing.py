"""A press on the desk: what was typed against what was shown, and the desk again."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import Command
from server.core.refusals import Message, Refusal
from server.pages.kit import press
from server.pages.kit.forms import BadField, Form, Refusals
from server.pages.plan.desk.context import Refused
from server.pages.plan.desk.meanwhile import who_since
from server.pages.plan.desk.showing import show_desk, show_taken
from server.pages.shared.opened import Opened, open_detail
from server.people.viewer import Viewer

LONGEST = 600


@dataclass(frozen=True)
class Where:
    """Where what was typed stands: which row, the texts, and the column of each refused fact.

    What belongs to no column is said in the first.
    """

    id: str
    typed: Mapping[str, str]
    columns: tuple[str, ...]
    column_of: Mapping[str, str]

    def refused(self, form: Form) -> tuple[Refused, tuple[Message, ...]]:
        """What is wrong by column; what belongs to none of them is about the whole."""
        wrong: dict[str, tuple[Message, ...]] = {}
        whole: list[Message] = []
        for refusal in form.all_refusals:
            if refusal.field is None:
                whole.append(refusal.message)
                continue
            column = self.column_of.get(refusal.field, refusal.field)
            column = column if column in self.columns else self.columns[0]
            wrong[column] = (*wrong.get(column, ()), refusal.message)
        return Refused(self.id, self.typed, wrong), tuple(whole)


def press_desk(
    request: Request,
    viewer: Viewer,
    form: Form,
    opened: Opened,
    commands: Callable[[], tuple[Command, ...]],
    where: Where,
) -> Response:
    short = opened.detail_id

    def once_more(form: Form, status: int) -> Response:
        refused, whole = where.refused(form)
        now = open_detail(request, viewer, short)
        return show_desk(request, viewer, now, refused, whole, status=status)

    made: list[tuple[Command, ...]] = []

    def asked() -> tuple[Command, ...]:
        made.append(commands())
        return made[0]

    try:
        if not asked():
            return show_taken(request, viewer, short, None)
    except Refusal as refusal:
        form.refuse(refusal)
    return press(
        request, viewer, form, opened.project_id, lambda: made[0] if made else (),
        to="", again=once_more,
        done=lambda applied, said: show_taken(request, viewer, short, said),
    )  # fmt: skip


def typed_in(form: Form, columns: tuple[str, ...]) -> dict[str, str]:
    return {c: form.typed(c)[:LONGEST] for c in columns if c in form.fields}


def changed_in(form: Form, typed: Mapping[str, str], now: Mapping[str, str]) -> dict[str, str]:
    """What was typed over what was shown; a cell that says what is so already is no change."""
    return {
        column: text
        for column, text in typed.items()
        if _plain(text)
        not in (_plain(form.typed(f"was_{column}", now[column])), _plain(now[column]))
    }


def refuse_theirs(
    request: Request,
    opened: Opened,
    form: Form,
    changed: Mapping[str, str],
    now: Mapping[str, str],
    id: str,
) -> None:
    """Refuses to write over what somebody else has made of a cell since it was shown."""
    refused = []
    for column in changed:
        was = form.typed(f"was_{column}", now[column])
        if _plain(was) != _plain(now[column]):
            who = who_since(request, opened, id)
            refused.append(
                BadField("desk.changed_meanwhile", field=column, who=who, now=now[column] or "–")
            )
    if refused:
        raise Refusals(tuple(refused))


def _plain(text: str) -> str:
    return " ".join(text.split())
