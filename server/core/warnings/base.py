"""What a warning is: a registered pure function, typed values, and mends that are tried."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from server.core.changes import Command
from server.core.refusals import Message
from server.core.schedule import Schedule
from server.core.world import Snapshot

Bad = Literal["danger", "lost work", "in the way", "watch"]
WORST: dict[Bad, int] = {"danger": 0, "lost work": 1, "in the way": 2, "watch": 3}


@dataclass(frozen=True)
class Mend:
    """Something that can be pressed: commands that clear the warning, or the page of the check, the
    activity or the kept figure where only what is typed there does."""

    label: Message
    commands: tuple[Command, ...] = ()
    goto_hold_id: str | None = None
    goto_activity_id: str | None = None
    goto_figure_id: str | None = None


@dataclass(frozen=True)
class Warning:
    """A conflict that was found: what, where, who should act, and what would mend it.

    `subject` names what it is about and stays while it lasts. `identity` is made of the rule and
    of the facts: the same facts give the same identity, and a warning that was accepted comes back
    when its facts change. `at` is when it bites. `untried`: it may have more mends, not tried yet
    and so not among these.
    """

    rule: str
    bad: Bad
    title: Message
    sentence: Message
    subject: tuple[str, ...]
    identity: str
    at: datetime | None = None
    detail_id: str | None = None
    activity_ids: tuple[str, ...] = ()
    layer_ids: tuple[str, ...] = ()
    place_ids: tuple[str, ...] = ()
    hold_id: str | None = None
    crew_id: str | None = None
    person_id: str | None = None
    mends: tuple[Mend, ...] = ()
    untried: bool = False


Find = Callable[[Snapshot, Schedule], Iterable[Warning]]


@dataclass(frozen=True)
class Rule:
    """One kind of warning. `bad` is how bad it is at its worst.

    `plan_only`: about how the plan is drawn, for the page where it is drawn and nowhere else.
    """

    id: str
    title: Message
    bad: Bad
    family: str
    find: Find
    plan_only: bool = False


RULES: dict[str, Rule] = {}


def warns(
    id: str, *, title: Message, bad: Bad, family: str, plan_only: bool = False
) -> Callable[[Find], Find]:
    """Registers a function that finds warnings of one kind, with candidate mends."""

    def register(find: Find) -> Find:
        RULES[id] = Rule(id, title, bad, family, find, plan_only)
        return find

    return register


def identity(rule: str, *facts: object) -> str:
    """A short text that is the same for the same facts."""
    return "|".join((rule, *(str(fact) for fact in facts)))
