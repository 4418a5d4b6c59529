"""The forecast finish of each day, kept, and what people said of the days on which it moved.

Nothing has to run at night: between two changes a project stands still, so the first change of a
day finds it as it was on every evening since the last, and keeps those finishes.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from server.core.promises import finish_of
from server.core.schedule import Schedule
from server.core.world import Cause, DayFinish, Snapshot
from server.core.world.hours import working_days
from server.core.world.network import forecast

EVENING = time(23, 45)
MOST = 60
"""How many evenings are kept at once: a house that nobody touched for longer has a gap."""


@dataclass(frozen=True)
class Day:
    """The forecast finish of a detail on the evening of a day; `later` is how many working days
    later that is than the evening before, and `causes` what people gave as the reason."""

    day: date
    finish: datetime
    later: int
    causes: tuple[Cause, ...]


def keep_days(snapshot: Snapshot, at: datetime) -> Snapshot:
    """The same with the finishes of the evenings that have passed and are not kept yet.

    `snapshot` is as it has stood since the last change, `at` is now. A detail that is done is kept
    no longer once its finish stands.
    """
    rows = list(_missing(snapshot, at.date()))
    return snapshot.put(*rows) if rows else snapshot


def days_of(
    snapshot: Snapshot, schedule: Schedule, detail_id: str, now: datetime
) -> tuple[Day, ...]:
    """Every evening that is known of a detail, and how it looks now as the last of them.

    `schedule` is the forecast as of now.
    """
    kept = {
        row.day: row.finish
        for row in keep_days(snapshot, now).finishes.values()
        if row.detail_id == detail_id
    }
    finish = finish_of(snapshot, schedule, detail_id)
    if finish is not None:
        kept[now.date()] = finish
    causes = [c for c in snapshot.causes.values() if c.detail_id == detail_id]
    days: list[Day] = []
    for day in sorted(kept):
        before = days[-1].finish if days else kept[day]
        later = working_days(snapshot, before.date(), kept[day].date())
        given = tuple(c for c in causes if c.day == day)
        days.append(Day(day, kept[day], later, given))
    return tuple(days)


def _missing(snapshot: Snapshot, today: date) -> Iterator[DayFinish]:
    last: dict[str, DayFinish] = {}
    for row in snapshot.finishes.values():
        if row.detail_id not in last or row.day > last[row.detail_id].day:
            last[row.detail_id] = row
    going, since = _going(snapshot, last, today)
    for back in range((today - since).days, 0, -1):
        day = today - timedelta(days=back)
        schedule = forecast(snapshot, datetime.combine(day, EVENING))
        for id in going:
            finish = finish_of(snapshot, schedule, id)
            if finish is None or (id in last and _stands(snapshot, schedule, last[id])):
                continue
            row = DayFinish(
                id=f"{id}{day:%Y%m%d}",
                project_id=snapshot.project.id,
                detail_id=id,
                day=day,
                finish=finish,
            )
            last[id] = row
            yield row


def _going(
    snapshot: Snapshot, last: Mapping[str, DayFinish], today: date
) -> tuple[tuple[str, ...], date]:
    """The ids of the details that go on, and the first evening that is not kept of them.

    That is of the day of the last change, the one after the evening that is kept last: with it may
    have come a detail of which none is kept yet. Where nothing is kept, only yesterday's is wanted.
    """
    day, yesterday = timedelta(days=1), today - timedelta(days=1)
    planned = [
        id
        for id, detail in snapshot.details.items()
        if detail.ended is None and snapshot.chain_of(id)
    ]
    if all(id in last and last[id].day == yesterday for id in planned):
        return (), today
    schedule = forecast(snapshot, datetime.combine(yesterday, EVENING))
    going = [id for id in planned if id not in last or not _stands(snapshot, schedule, last[id])]
    changed = max((last[id].day + day for id in going if id in last), default=yesterday)
    return tuple(going), max(changed, today - MOST * day)


def _stands(snapshot: Snapshot, schedule: Schedule, row: DayFinish) -> bool:
    """Whether a detail was done on the evening that is kept of it last, and is where it was."""
    done = all(a.id in schedule.done for a in snapshot.chain_of(row.detail_id))
    by_then = row.finish <= datetime.combine(row.day, EVENING)
    return done and by_then and finish_of(snapshot, schedule, row.detail_id) == row.finish
