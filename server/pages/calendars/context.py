"""What the page of a calendar shows: its month, and whose and what hours these are."""

from dataclasses import dataclass
from datetime import date, timedelta

from server.core.world import Snapshot, WorkCalendar
from server.core.world.hours import holidays_of, lineage
from server.data.holidays import first_weekday, place_name, years_around
from server.pages.calendars.month import Month, month_shown
from server.pages.calendars.opening import country_of, month_address
from server.pages.house.context import week_said
from server.pages.kit.forms import Form
from server.words import Words

CARRIED = ("make", "hours", "note")
_ONE_DAY, _FEW_DAYS = timedelta(days=1), timedelta(days=4)


@dataclass(frozen=True)
class HolidaysShown:
    """Whose holidays are kept, by which calendar, for which years, and whether more are due."""

    place: str
    own: bool
    country: str
    state: str
    first: int
    last: int
    renew_to: int | None


@dataclass(frozen=True)
class CalendarPage:
    """A calendar with one month of it. `moved` says what a press moved, or would move."""

    calendar: WorkCalendar
    about: str
    week: str
    week_of: str
    followed: WorkCalendar | None
    keeping: tuple[str, ...]
    following: tuple[WorkCalendar, ...]
    holidays: HolidaysShown | None
    month: Month
    this_month: str
    before: str
    after: str
    makes: tuple[tuple[str, str], ...]
    form: Form
    moved: str
    only_tried: bool
    action: str
    version: int


def calendar_page(
    company: Snapshot,
    houses: tuple[Snapshot, ...],
    id: str,
    month: date,
    today: date,
    form: Form,
    words: Words,
    moved: str = "",
    only_tried: bool = False,
) -> CalendarPage:
    """The page of one calendar, at the month that begins with this day."""
    calendar = company.calendars[id]
    followed = company.calendars.get(calendar.based_on_id or "")
    own_week = next((c for c in lineage(company, id) if c.shifts), calendar)
    chosen = {name: form.typed(name) for name in CARRIED}
    ahead = (month.replace(day=28) + _FEW_DAYS).replace(day=1)
    back = (month - _ONE_DAY).replace(day=1)
    return CalendarPage(
        calendar=calendar,
        about=f"Follows {followed.name}" if followed else "When somebody works",
        week=week_said(own_week.shifts),
        week_of="" if own_week is calendar else own_week.name,
        followed=followed,
        keeping=tuple(_keeping(company, houses, id)),
        following=tuple(c for c in company.calendars.values() if c.based_on_id == id),
        holidays=_holidays(company, houses, id, today),
        month=month_shown(
            company, id, month, today, first_weekday(country_of(company, houses, id)), words
        ),
        this_month=f"{month:%Y-%m}",
        before=month_address(id, back, chosen),
        after=month_address(id, ahead, chosen),
        makes=tuple(_makes(followed)),
        form=form,
        moved=moved,
        only_tried=only_tried,
        action=f"/house/calendars/{id}/days",
        version=calendar.version,
    )


def _keeping(company: Snapshot, houses: tuple[Snapshot, ...], id: str) -> list[str]:
    """The houses and the crews that keep a calendar."""
    names = [h.project.name for h in houses if h.project.calendar_id == id]
    crews = (c for c in company.crews.values() if c.calendar_id == id and c.ended is None)
    return names + sorted(c.name for c in crews)


def _makes(followed: WorkCalendar | None) -> list[tuple[str, str]]:
    choices = [
        ("closed", "closed"),
        ("hours", "worked, in these hours"),
        ("week", "as in the week"),
    ]
    if followed is not None:
        choices.append(("followed", f"as {followed.name} has it"))
    return choices


def _holidays(
    company: Snapshot, houses: tuple[Snapshot, ...], id: str, today: date
) -> HolidaysShown | None:
    of = next((c for c in lineage(company, id) if c.holidays_of), None)
    days = holidays_of(of) if of else {}
    if of is None or not days:
        return None
    country, _, state = of.holidays_of.partition("-")
    wanted = years_around(today, (h.project.start.date() for h in houses))
    last = max(days).year
    return HolidaysShown(
        place=place_name(of.holidays_of),
        own=of.id == id,
        country=country,
        state=state,
        first=min(days).year,
        last=last,
        renew_to=wanted[-1] if last < wanted[-1] else None,
    )
