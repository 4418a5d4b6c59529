"""Calendars: which minutes of which days are working minutes.

A calendar is a week that repeats, and single days that differ from it. It reaches without end in
both directions, because work that should have started before the project did needs days there.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from server.core.schedule.instants import DAY, EPOCH_DAY
from server.core.schedule.refused import Refused

Span = tuple[int, int]
Spans = tuple[Span, ...]


@dataclass(frozen=True)
class Calendar:
    """Working time. Make one with `week`, `always` or `both`.

    `weekdays` are the spans of Monday to Sunday in minutes from midnight; `days` are the days that
    differ, by their number (days from the epoch of `instants`), in order.
    """

    weekdays: tuple[Spans, ...]
    days: tuple[tuple[int, Spans], ...] = ()

    @staticmethod
    def week(
        shifts: Mapping[int, Sequence[tuple[str, str]]],
        closed: Collection[date] = (),
        extra: Mapping[date, Sequence[tuple[str, str]]] | None = None,
    ) -> "Calendar":
        """A calendar from the shifts of each weekday (0 is Monday), as ("07:00", "15:30") pairs.

        `closed` days have no work; `extra` replaces a day's shifts and beats `closed`. A shift may
        end at "24:00" but not cross it. Refused: times that are not times, shifts that end before
        they start or overlap, a weekday outside 0 to 6, a week without work.
        """
        for weekday in shifts:
            if weekday not in range(7):
                raise Refused("schedule.bad_weekday", field="shifts", weekday=weekday)
        weekdays = tuple(_spans(shifts.get(weekday, ()), "shifts") for weekday in range(7))
        days: dict[int, Spans] = {day.toordinal() - EPOCH_DAY: () for day in closed}
        for day, its_shifts in (extra or {}).items():
            days[day.toordinal() - EPOCH_DAY] = _spans(its_shifts, "extra")
        return _checked(weekdays, days)

    @staticmethod
    def always() -> "Calendar":
        """Clock time: every minute counts."""
        return Calendar((((0, DAY),),) * 7)

    @staticmethod
    def both(a: "Calendar", b: "Calendar") -> "Calendar":
        """Joint work: only the minutes that are working minutes on `a` and on `b`.

        Refused if their weeks have no minute in common.
        """
        weekdays = tuple(map(_common, a.weekdays, b.weekdays))
        singled_out = sorted({day for day, _ in a.days} | {day for day, _ in b.days})
        return _checked(weekdays, {day: _common(a.spans(day), b.spans(day)) for day in singled_out})

    def spans(self, day: int) -> Spans:
        """The working spans of a day, in minutes from its midnight."""
        spans = self._singled_out.get(day)
        return self.weekdays[day % 7] if spans is None else spans

    @cached_property
    def _singled_out(self) -> dict[int, Spans]:
        return dict(self.days)

    @cached_property
    def is_always(self) -> bool:
        """Whether every minute is a working minute."""
        return not self.days and self.weekdays == (((0, DAY),),) * 7

    @cached_property
    def longest_weekday(self) -> int:
        """The most working minutes on a day of the ordinary week."""
        return max(map(_length, self.weekdays))

    def long_days(self, work: int) -> list[int]:
        """The days outside the ordinary week that have at least `work` minutes, in order."""
        return [day for day, spans in self.days if _length(spans) >= work]


def _length(spans: Spans) -> int:
    return sum(end - start for start, end in spans)


def _checked(weekdays: tuple[Spans, ...], days: Mapping[int, Spans]) -> Calendar:
    if not any(weekdays):
        raise Refused("schedule.empty_week", field="shifts")
    return Calendar(weekdays, tuple(sorted(days.items())))


def _spans(shifts: Iterable[tuple[str, str]], field: str) -> Spans:
    """Shifts as minutes, in order of time, each checked."""
    spans: list[Span] = []
    for start, end in sorted((_minute(a, field), _minute(b, field)) for a, b in shifts):
        if end <= start:
            raise Refused("schedule.shift_ends_first", field=field, start=start, end=end)
        if spans and start < spans[-1][1]:
            raise Refused("schedule.shifts_overlap", field=field, start=start, end=end)
        spans.append((start, end))
    return tuple(spans)


def _minute(text: str, field: str) -> int:
    hours, _, minutes = text.partition(":")
    if hours.isdecimal() and minutes.isdecimal() and len(hours) == len(minutes) == 2:
        minute = int(hours) * 60 + int(minutes)
        if int(minutes) < 60 and minute <= DAY:
            return minute
    raise Refused("schedule.bad_time", field=field, text=text)


def _common(a: Spans, b: Spans) -> Spans:
    pairs = ((max(s, t), min(e, f)) for s, e in a for t, f in b)
    return tuple(sorted((start, end) for start, end in pairs if start < end))
