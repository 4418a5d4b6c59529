"""The presses by which a check is OK to cover, looked at again or rejected."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from server.core.refusals import message
from server.core.world import Ask, Attempt, HoldPoint
from server.pages.check.asking import Asking, Part, may_release, parts_of
from server.pages.check.attempts import parts_said
from server.pages.check.commands import numbers
from server.pages.check.numbers import Judged, judged
from server.words.words import Words


@dataclass(frozen=True)
class DecideForm:
    """What whoever says OK to cover can press, and what each press would push."""

    attempt_id: str
    attempt_version: int
    parts: tuple[Part, ...]
    press: str
    outside: str
    needs_reason: bool
    asks_inspector: bool
    again_by: str
    pushes: Mapping[str, str]


def decide_form(asking: Asking, pushes: Mapping[str, str]) -> DecideForm | None:
    """The presses; None for who may not decide now."""
    attempt = asking.attempt
    if attempt is None or asking.state != "marked" or not may_release(asking):
        return None
    form = asking.form("release")
    outside = outside_of(asking, attempt)
    left = tuple(sorted({ask.part for ask, _ in outside if ask.part is not None}))
    if form.fields:
        left = numbers(form, "leave")
    parts = parts_of(asking, attempt.parts, left)
    return DecideForm(
        attempt_id=attempt.id,
        attempt_version=attempt.version,
        parts=parts if len(parts) > 1 else (),
        press=release_label(asking.hold, left, asking.words),
        outside=_outside_said(asking, outside),
        needs_reason=any(ask.part is None or ask.part not in left for ask, _ in outside),
        asks_inspector=asking.hold.authority,
        again_by=_again_by(asking.now).isoformat(timespec="minutes"),
        pushes=pushes,
    )


def _again_by(now: datetime) -> datetime:
    """What the time to look again starts with: 2 pm, in the afternoon the next morning at 8."""
    if now.hour < 12:
        return now.replace(hour=14, minute=0)
    return now.replace(hour=8, minute=0) + timedelta(days=1)


def outside_of(asking: Asking, attempt: Attempt) -> tuple[tuple[Ask, Judged], ...]:
    """The numbers of a mark that are out of tolerance, each with its verdict."""
    typed = {m.ask_id: m.typed for m in asking.snapshot.measurements_of.get(attempt.id, ())}
    asks = asking.snapshot.asks_of.get(asking.hold.id, ())
    found = ((ask, judged(ask, typed.get(ask.id, ""), asking.words)) for ask in asks)
    return tuple((ask, verdict) for ask, verdict in found if verdict.outside)


def release_label(hold: HoldPoint, left: tuple[int, ...], words: Words) -> str:
    """What the press to release says: "OK to cover, all but No. 3"."""
    if not left:
        return words.say(message("check.ok"))
    return words.say(message("check.ok_all_but", left=parts_said(hold, left, words)))


def _outside_said(asking: Asking, outside: tuple[tuple[Ask, Judged], ...]) -> str:
    """What is out of tolerance, in a sentence: "No. 3 is 1/16 high."."""
    said = (
        message(
            "check.is_outside",
            what=ask.label if ask.part is None else f"{asking.hold.part_name} {ask.part}",
            verdict=verdict.said,
        )
        for ask, verdict in outside
    )
    return " ".join(asking.say(one) for one in said)
