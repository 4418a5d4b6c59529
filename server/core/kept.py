"""The forecast finish of each day, kept, and what people said of the days on which it moved.

Nothing has to run at night: between two changes a project stands still, so the first change of a
day finds it as it was on every evening since the last, and keeps those finishes.
"""

from collections.abc import Iterator
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
    yesterday = today - timedelta(days=1)
    wanted = {
        id: max(last[id].day + timedelta(days=1), today - timedelta(days=MOST))
        if id in last
        else yesterday
        for id, detail in snapshot.details.items()
        if detail.ended is None and snapshot.chain_of(id)
    }
    first = min(wanted.values(), default=today)
    for back in range((today - first).days, 0, -1):
        day = today - timedelta(days=back)
        schedule = forecast(snapshot, datetime.combine(day, EVENING))
        for id, since in wanted.items():
            finish = finish_of(snapshot, schedule, id)
            if day < since or finish is None:
                continue
            done = all(a.id in schedule.done for a in snapshot.chain_of(id))
            if done and id in last and last[id].finish == finish:
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
