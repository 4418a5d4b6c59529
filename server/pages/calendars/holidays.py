"""The public holidays of a calendar: a country, its state, and which of the days are worked."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.calendars import KeepHolidays
from server.core.changes.rules_calendars import plain, worked_holidays
from server.core.refusals import Message, message
from server.core.world import Snapshot, WorkCalendar
from server.data.holidays import (
    Holiday,
    countries,
    half_days_in,
    holidays_in,
    is_place,
    states,
    years_around,
)
from server.pages.calendars.moved import moved
from server.pages.calendars.opening import calendar_in, country_of, houses_of
from server.pages.house.opening import company_of, now_of
from server.pages.kit.forms import BadField, Form
from server.pages.kit.press import press, see
from server.pages.kit.render import is_partial, render
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.pressing import seen
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer
from server.store import Applied
from server.words import Words, words

router = APIRouter()
DAYS_SHOWN = 2


@dataclass(frozen=True)
class HolidayRow:
    """A holiday by its name, the next days on which it falls, and whether it closes them."""

    name: str
    days: str
    closes: bool


@dataclass(frozen=True)
class HolidaysPage:
    """The choice of a place, and the holidays there."""

    calendar: WorkCalendar
    countries: tuple[tuple[str, str], ...]
    states: tuple[tuple[str, str], ...]
    country: str
    state: str
    rows: tuple[HolidayRow, ...]
    half: tuple[HolidayRow, ...]
    first: int
    last: int
    kept: bool
    form: Form
    address: str
    version: int


@router.get("/house/calendars/{id}/holidays")
def one(request: Request, viewer: SuperViewing, id: str) -> Response:
    company = company_of(request, viewer)
    calendar = calendar_in(company, id)
    asked = request.query_params.get("country")
    country, _, state = calendar.holidays_of.partition("-")
    if asked is not None:
        country, state = asked, request.query_params.get("state", "")
    if not is_place(country):
        country, state = country_of(company, houses_of(request, viewer), id), ""
    if not is_place(country, state):
        state = ""
    return _show(request, viewer, company, calendar, (country, state), Form(), 200)


@router.post("/house/calendars/{id}/holidays")
def keep(request: Request, viewer: SuperViewing, form: Sent, id: str) -> Response:
    company = company_of(request, viewer)
    calendar = calendar_in(company, id)
    before = houses_of(request, viewer)
    place = (form.typed("country"), form.typed("state"))

    def command() -> KeepHolidays:
        if form.ticked("none"):
            return KeepHolidays(calendar_id=id, place="", seen=seen(form, id))
        if not is_place(*place):
            form.refuse(BadField("calendars.no_place", field="country"))
            form.check()
        found = holidays_in(*place, _years(request, company, before))
        names = dict.fromkeys(plain(one.name) for one in found)
        worked = set(names) - set(form.chosen("closes"))
        if form.ticked("renew"):
            worked = set(worked_holidays(calendar))
        return KeepHolidays(
            calendar_id=id,
            place="-".join(filter(None, place)),
            days=tuple(f"{one.day} {one.name}" for one in found),
            worked=tuple(sorted(worked)),
            seen=seen(form, id),
        )

    def done(applied: Applied, said: Message) -> Response:
        after = houses_of(request, viewer)
        text = moved(before, after, lambda house: now_of(request, house), words(viewer.language))
        told = message("calendars.said", text=text) if text else said
        return see(request, f"/house/calendars/{id}", told)

    def again(form: Form, status: int) -> Response:
        there = place if is_place(*place) else (country_of(company, before, id), "")
        return _show(request, viewer, company, calendar, there, form, status)

    return press(request, viewer, form, None, lambda: (command(),), to="", again=again, done=done)


def _years(request: Request, company: Snapshot, houses: Iterable[Snapshot]) -> range:
    today = now_of(request, company).date()
    return years_around(today, (house.project.start.date() for house in houses))


def _show(
    request: Request,
    viewer: Viewer,
    company: Snapshot,
    calendar: WorkCalendar,
    place: tuple[str, str],
    form: Form,
    status: int,
) -> Response:
    country, state = place
    now = now_of(request, company)
    years = _years(request, company, houses_of(request, viewer))
    said = words(viewer.language)
    same = calendar.holidays_of == "-".join(filter(None, place))
    worked = worked_holidays(calendar) if same else frozenset()
    page = HolidaysPage(
        calendar=calendar,
        countries=countries(),
        states=states(country),
        country=country,
        state=state,
        rows=_rows(holidays_in(country, state, years), now.date(), worked, said),
        half=_rows(half_days_in(country, state, years), now.date(), frozenset(), said),
        first=years[0],
        last=years[-1],
        kept=bool(calendar.holidays_of),
        form=form,
        address=f"/house/calendars/{calendar.id}/holidays",
        version=calendar.version,
    )
    # only the choice of a place asks for a part; what is sent comes back whole
    part = is_partial(request) and request.method == "GET"
    template = "calendars/_place.html" if part else "calendars/holidays.html"
    return render(request, viewer, template, page, now=now, status=status)


def _rows(
    found: tuple[Holiday, ...], today: date, worked: frozenset[str], words: Words
) -> tuple[HolidayRow, ...]:
    """The holidays by their names, in the order in which they come next."""
    days: dict[str, list[date]] = {}
    for one in sorted(found, key=lambda one: (one.day < today, one.day)):
        days.setdefault(plain(one.name), []).append(one.day)
    return tuple(
        HolidayRow(name, ", ".join(map(words.dated, on[:DAYS_SHOWN])), name not in worked)
        for name, on in days.items()
    )
