"""The rounds of promised dates: each time that the dates of a detail were promised."""

from dataclasses import dataclass
from datetime import datetime

from server.core.world import Agreed, Snapshot


@dataclass(frozen=True)
class RoundRow:
    """One time that dates were promised: when, by whom, why, and the finish of it."""

    number: int
    at: datetime
    who: str
    reason: str
    finish: datetime


def rounds_of(snapshot: Snapshot, detail_id: str) -> tuple[tuple[Agreed, ...], ...]:
    """The promised dates of a detail, a tuple for each round, the oldest first."""
    rounds: dict[int, list[Agreed]] = {}
    for one in snapshot.agreed.values():
        if one.detail_id == detail_id:
            rounds.setdefault(one.round, []).append(one)
    return tuple(tuple(rounds[number]) for number in sorted(rounds))


def round_rows(snapshot: Snapshot, detail_id: str) -> tuple[RoundRow, ...]:
    """The rounds of a detail as they are told, the newest first."""
    return tuple(_row(snapshot, agreed) for agreed in reversed(rounds_of(snapshot, detail_id)))


def _row(snapshot: Snapshot, agreed: tuple[Agreed, ...]) -> RoundRow:
    first = agreed[0]
    person = snapshot.people.get(first.by_id)
    finish = max(one.finish for one in agreed)
    return RoundRow(first.round, first.at, person.name if person else "", first.reason, finish)
