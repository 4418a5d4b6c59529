"""What each mark of a check left: who and when, the numbers, the photos, what was said of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from server.core.refusals import Message, message
from server.core.world import Ask, Attempt, HoldPoint, Photo, Snapshot
from server.pages.check.numbers import QUESTION, Judged, judged
from server.words.words import Words


@dataclass(frozen=True)
class PhotoShown:
    """A photo with where it lies, and what is said of it for who cannot see it."""

    id: str
    href: str
    small: str
    alt: str


@dataclass(frozen=True)
class NumberShown:
    """A number or answer as it was given, with its verdict."""

    label: str
    said: str
    judged: Judged


@dataclass(frozen=True)
class AttemptShown:
    """One mark and what came of it, in sentences."""

    id: str
    no: int
    marked: str
    outcome: str
    note: str
    numbers: tuple[NumberShown, ...]
    photos: tuple[PhotoShown, ...]


def attempts_shown(
    snapshot: Snapshot, hold: HoldPoint, words: Words, now: datetime
) -> tuple[AttemptShown, ...]:
    """The attempts at a check, first to last."""
    return tuple(
        _shown(snapshot, hold, attempt, words, now)
        for attempt in snapshot.attempts_of.get(hold.id, ())
    )


def photo_shown(photo: Photo, snapshot: Snapshot, words: Words, now: datetime) -> PhotoShown:
    """A photo as it stands on a page."""
    by = snapshot.people.get(photo.by_id)
    alt = words.say(
        message("check.photo_by", who=by.name if by else "", when=words.when(photo.at, now))
    )
    return PhotoShown(photo.id, f"/photo/{photo.id}", f"/photo/{photo.id}/small", alt)


def numbers_shown(
    snapshot: Snapshot, hold: HoldPoint, attempt: Attempt, words: Words
) -> tuple[NumberShown, ...]:
    """The numbers of an attempt, in the order they are asked for."""
    typed = {m.ask_id: m.typed for m in snapshot.measurements_of.get(attempt.id, ())}
    asks = [ask for ask in snapshot.asks_of.get(hold.id, ()) if ask.id in typed]
    return tuple(_number(ask, typed, hold, words) for ask in asks)


def parts_said(hold: HoldPoint, parts: tuple[int, ...], words: Words) -> str:
    """Parts by their trade name and number: "No. 3 and No. 5"."""
    return words.listed([f"{hold.part_name} {no}" for no in parts]) if parts else ""


def _shown(
    snapshot: Snapshot, hold: HoldPoint, attempt: Attempt, words: Words, now: datetime
) -> AttemptShown:
    photos = sorted(
        (p for p in snapshot.photos.values() if p.attempt_id == attempt.id), key=lambda p: p.at
    )
    marked = message(
        "check.marked_by",
        who=name_of(snapshot, attempt.marked_by_id),
        when=words.when(attempt.marked_at, now),
    )
    outcome = outcome_of(snapshot, hold, attempt, words)
    return AttemptShown(
        id=attempt.id,
        no=attempt.no,
        marked=words.say(marked, now=now),
        outcome=words.say(outcome, now=now) if outcome else "",
        note=attempt.note,
        numbers=numbers_shown(snapshot, hold, attempt, words),
        photos=tuple(photo_shown(photo, snapshot, words, now) for photo in photos),
    )


def outcome_of(
    snapshot: Snapshot, hold: HoldPoint, attempt: Attempt, words: Words
) -> Message | None:
    """What came of a mark, said so that it can be kept as a receipt; None while nobody looked."""
    if attempt.decided_at is None:
        return None
    who = name_of(snapshot, attempt.decided_by_id)
    if attempt.inspector:
        inspector = message("check.inspector_by", inspector=attempt.inspector, who=who)
        who = words.say(inspector)
    at, reason = attempt.decided_at, attempt.reason
    if attempt.state == "opened again":
        return message(
            "check.opened_again",
            who=name_of(snapshot, attempt.opened_by_id),
            at=attempt.opened_at or at,
            reason=attempt.opened_reason,
        )
    if attempt.state == "look again":
        return message("check.look_again", who=who, at=at, by=attempt.again_by, reason=reason)
    if attempt.state == "rejected":
        return message("check.rejected", who=who, at=at, reason=reason)
    if attempt.left_out:
        left = parts_said(hold, attempt.left_out, words)
        return message("check.receipt_all_but", who=who, at=at, left=left)
    if attempt.parts:
        parts = parts_said(hold, attempt.parts, words)
        return message("check.receipt_parts", who=who, at=at, parts=parts)
    return message("check.receipt", who=who, at=at)


def name_of(snapshot: Snapshot, person_id: str | None) -> str:
    """A person's name with their crew's, as both are needed to know who it was."""
    person = snapshot.people.get(person_id or "")
    if person is None:
        return ""
    crew = snapshot.crews.get(person.crew_id or "")
    return f"{person.name}, {crew.name}" if crew and crew.name not in person.name else person.name


def _number(ask: Ask, typed: Mapping[str, str], hold: HoldPoint, words: Words) -> NumberShown:
    label = ask.label if ask.part is None else f"{ask.label}, {hold.part_name} {ask.part}"
    said = typed[ask.id]
    if ask.unit == QUESTION:
        said = words.say(message("value.yes" if said == "yes" else "value.no"))
    return NumberShown(label, said, judged(ask, typed[ask.id], words))
