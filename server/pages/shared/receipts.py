"""Checks that were OK'd lately, with the photos that went with them."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from server.core.refusals import message
from server.core.world import Attempt, HoldPoint
from server.pages.shared.opened import Opened


@dataclass(frozen=True)
class Receipt:
    """An OK to cover: of what, when, by whom, all but what; and its photos."""

    href: str
    said: str
    photos: tuple[str, ...]


def receipts(opened: Opened, since: datetime) -> Iterator[tuple[HoldPoint, Receipt]]:
    """The releases since then, the newest first, each with its check."""
    snapshot = opened.snapshot
    found = [
        (attempt.decided_at, attempt)
        for attempt in snapshot.attempts.values()
        if attempt.state == "released" and attempt.decided_at and attempt.decided_at >= since
    ]
    for at, attempt in sorted(found, key=lambda pair: pair[0], reverse=True):
        hold = snapshot.holds[attempt.hold_id]
        yield (
            hold,
            Receipt(f"/h/{hold.id}", _said(opened, hold, attempt, at), _photos(opened, attempt)),
        )


def _said(opened: Opened, hold: HoldPoint, attempt: Attempt, at: datetime) -> str:
    snapshot = opened.snapshot
    person = snapshot.people.get(attempt.decided_by_id or "")
    by = attempt.inspector or (person.name if person else "")
    check = snapshot.activities[hold.activity_id].name
    said = message("mine.receipt", check=check, at=at, by=by)
    if attempt.left_out:
        left = tuple(f"{hold.part_name} {no}" for no in attempt.left_out)
        said = message("mine.receipt_but", check=check, at=at, by=by, left=left)
    return opened.words.say(said, now=opened.now)


def _photos(opened: Opened, attempt: Attempt) -> tuple[str, ...]:
    photos = opened.snapshot.photos.values()
    return tuple(f"/photo/{p.id}/small" for p in photos if p.attempt_id == attempt.id)
