"""What a crew has to hear, said as a sentence on a page and as a text that waits to be sent.

Days are said by their date, never as "tomorrow": a text is read when the crew gets to it.
"""

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Protocol

from server.core.refusals import Message, message
from server.core.world import Snapshot
from server.pages.shared.reach import in_a_sentence
from server.words import Words, words

ASKS = frozenset({"asked", "moves"})
"""Those that the crew has to answer."""

SAID: Mapping[str, str] = {
    "asked": "telling.asked",
    "moves": "telling.moves",
    "hour": "telling.hour",
    "as before": "telling.as_before",
    "ends": "telling.ends",
    "breaks": "telling.breaks",
    "work": "telling.work",
    "works": "telling.works",
}
TEXTS: Mapping[str, str] = {
    "asked": "telling.sms_asked",
    "moves": "telling.sms_moves",
    "hour": "telling.sms_hour",
    "as before": "telling.sms_as_before",
    "ends": "telling.sms_ends",
    "breaks": "telling.sms_breaks",
    "work": "telling.sms_work",
    "works": "telling.sms_works",
}


class ToSay(Protocol):
    """One thing to hear: of a change that is only shown (`ToHear`), or kept (`Telling`)."""

    @property
    def crew_id(self) -> str:
        """Who has to hear it."""

    @property
    def what(self) -> str:
        """ "asked", "moves", "ends", "breaks" or "work"."""

    @property
    def activity_ids(self) -> tuple[str, ...]:
        """Of what work."""

    @property
    def booking_id(self) -> str | None:
        """Of what visit."""

    @property
    def was(self) -> datetime | None:
        """When it was."""

    @property
    def now(self) -> datetime | None:
        """When it is."""


def telling_said(snapshot: Snapshot, telling: ToSay, words: Words, now: datetime) -> str:
    """One thing as a sentence: "Hang board, garden stair rail: Fri Dec 5 instead of Thu Dec 4".

    `snapshot` is one that knows its work: of a change that is only shown, the one after it.
    """
    said = words.say(_said(snapshot, telling, SAID), now=now)
    return said[:1].upper() + said[1:]


def text_for(snapshot: Snapshot, tellings: Iterable[ToSay], language: str, now: datetime) -> str:
    """All of them in one text, in the crew's language, with a question where one is to be answered:
    "Fri Dec 5, 7 am instead of Thu Dec 4: hang board, garden stair rail. Can you?"
    """
    its_words, told = words(language), tuple(tellings)
    said = [its_words.say(_said(snapshot, one, TEXTS), now=now) for one in told]
    if any(one.what in ASKS for one in told):
        said.append(its_words.say(message("telling.can_you")))
    elif any(one.what == "breaks" for one in told):
        said.append(its_words.say(message("telling.when_can_you")))
    return " ".join(f"{one[:1].upper()}{one[1:]}" for one in said)


def _said(snapshot: Snapshot, telling: ToSay, ids: Mapping[str, str]) -> Message:
    how = _how(telling)
    first = telling.activity_ids[:1] if how == "works" else telling.activity_ids
    return message(
        ids[how],
        work=_work(snapshot, first),
        more=len(telling.activity_ids) - 1,
        was=telling.was,
        now=telling.now,
    )


def _how(telling: ToSay) -> str:
    """Which sentence it is: who has not heard of a first day is not told that it has changed."""
    if telling.what == "work" and len(telling.activity_ids) > 1:
        return "works"
    if telling.what != "moves":
        return telling.what
    if telling.was is None or telling.now is None:
        return "asked"
    if telling.was == telling.now:
        return "as before"
    return "hour" if telling.was.date() == telling.now.date() else "moves"


def _work(snapshot: Snapshot, activity_ids: tuple[str, ...]) -> tuple[Message, ...]:
    """The tasks with their detail, each detail said once."""
    names: dict[str, list[str]] = {}
    for id in activity_ids:
        activity = snapshot.activities[id]
        names.setdefault(activity.detail_id, []).append(in_a_sentence(activity.name))
    return tuple(
        message(
            "telling.of_detail",
            works=tuple(works),
            detail=in_a_sentence(snapshot.details[detail_id].name),
        )
        for detail_id, works in names.items()
    )
