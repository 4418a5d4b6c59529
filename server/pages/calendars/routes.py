"""The page of a calendar, and its days pressed."""

import re
from datetime import date

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.calendars import DropCalendar, SetDays
from server.core.refusals import Message, Refusal, message
from server.core.world import Snapshot
from server.pages.calendars import holidays, week
from server.pages.calendars.context import CARRIED, calendar_page
from server.pages.calendars.moved import Now, as_if, moved
from server.pages.calendars.opening import calendar_in, houses_of, month_address
from server.pages.house.hours import hours_of
from server.pages.house.opening import company_of, now_of, refuse_elsewhere
from server.pages.kit.forms import BadField, Form
from server.pages.kit.press import press, see
from server.pages.kit.render import is_partial, render
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.pressing import seen
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer
from server.store import Applied
from server.words import words

router = APIRouter()
for part in (week, holidays):
    router.include_router(part.router)

USUAL = "7:00-12:00, 12:30-15:30"
NO_DAY = date(2000, 1, 1)
LONGEST_SAID = 900
MONTH = "month"
"""The id of the part of the page that a press on a day brings anew."""
_MONTH = re.compile(r"(\d{4})-(\d\d)")


@router.get("/house/calendars/{id}")
def one(request: Request, viewer: SuperViewing, id: str) -> Response:
    query = request.query_params
    fields = {name: (query[name],) for name in CARRIED if name in query}
    return _show(request, viewer, id, query.get("month", ""), Form(fields), 200)


@router.post("/house/calendars/{id}/days")
def days(request: Request, viewer: SuperViewing, form: Sent, id: str) -> Response:
    company = company_of(request, viewer)
    calendar_in(company, id)
    before = houses_of(request, viewer)
    month = form.typed("month")

    def once_more(form: Form, status: int) -> Response:
        return _show(request, viewer, id, month, form, status)

    if form.ticked("only_try"):
        return _try(request, viewer, id, form, before)

    def done(applied: Applied, said: Message) -> Response:
        text = moved(before, houses_of(request, viewer), _now(request), words(viewer.language))
        if is_partial(request):
            again = Form({name: form.fields.get(name, ()) for name in CARRIED})
            said_now = f"Taken. {text}".strip()
            return _show(request, viewer, id, month, again, 200, said=said_now)
        chosen = {name: form.typed(name) for name in CARRIED}
        day = form.typed("day") or form.typed("first")
        address = month_address(id, _month(month, _today(request, company)), chosen)
        told = message("calendars.said", text=text[:LONGEST_SAID]) if text else said
        return see(request, f"{address}#d{day}", told)

    return press(
        request,
        viewer,
        form,
        None,
        lambda: (_read(form, id),),
        to="",
        again=once_more,
        done=done,
    )


@router.post("/house/calendars/{id}/drop")
def drop(request: Request, viewer: SuperViewing, form: Sent, id: str) -> Response:
    calendar_in(company_of(request, viewer), id)

    def command() -> DropCalendar:
        gone = DropCalendar(calendar_id=id, seen=seen(form, id))
        refuse_elsewhere(request, viewer, gone)
        return gone

    return press(
        request,
        viewer,
        form,
        None,
        lambda: (command(),),
        to="/house",
        again=lambda form, status: _show(request, viewer, id, "", form, status),
    )


def _try(
    request: Request, viewer: Viewer, id: str, form: Form, before: tuple[Snapshot, ...]
) -> Response:
    """What a press would move, with nothing kept."""
    month, text, status = form.typed("month"), "", 200
    try:
        command = _read(form, id)
        form.check()
        after = as_if(before, viewer.actor, command, _now(request))
        text = moved(before, after, _now(request), words(viewer.language))
    except Refusal as refusal:
        if not form.refusals:
            form.refuse(refusal)
        status = 422
    return _show(request, viewer, id, month, form, status, said=text, only_tried=not status > 200)


def _read(form: Form, id: str) -> SetDays:
    """The day that was pressed, or the days from one to another, and what they are made."""
    pressed = form.day("day")
    if pressed is not None:
        first = last = pressed
    else:
        form.text("first", needed=True)
        first = form.day("first") or NO_DAY
        last = form.day("last", first) or first
    make, shifts = form.typed("make", "closed"), tuple[str, ...]()
    if make == "hours":
        found = hours_of(form.typed("hours"))
        if found is None:
            typed = form.typed("hours")[:60]
            form.refuse(BadField("plan_form.hours", field="hours", typed=typed))
        shifts = tuple(f"{start} {end}" for start, end in found or ())
        if found == ():
            form.refuse(BadField("calendars.no_hours", field="hours"))
    return SetDays(
        calendar_id=id,
        first=first,
        last=last,
        to=make,
        shifts=shifts,
        name=form.text("note", most=60),
        seen=seen(form, id),
    )


def _now(request: Request) -> Now:
    return lambda snapshot: now_of(request, snapshot)


def _today(request: Request, company: Snapshot) -> date:
    return now_of(request, company).date()


def _month(text: str, today: date) -> date:
    """The first day of the month asked for, or of this one."""
    found = _MONTH.fullmatch(text)
    if found and 1990 <= int(found[1]) <= 2200 and 1 <= int(found[2]) <= 12:
        return date(int(found[1]), int(found[2]), 1)
    return today.replace(day=1)


def _show(
    request: Request,
    viewer: Viewer,
    id: str,
    month: str,
    form: Form,
    status: int,
    *,
    said: str = "",
    only_tried: bool = False,
) -> Response:
    """The page of a calendar, or for htmx its month alone."""
    company, houses = company_of(request, viewer), houses_of(request, viewer)
    calendar_in(company, id)
    today = _today(request, company)
    if "hours" not in form.fields:
        form.fields = {**form.fields, "hours": (USUAL,)}
    context = calendar_page(
        company,
        houses,
        id,
        _month(month, today),
        today,
        form,
        words(viewer.language),
        said,
        only_tried,
    )
    # whoever is led here by htmx after a press elsewhere wants all of it
    part = is_partial(request) and request.headers.get("hx-target") == MONTH
    template = "calendars/_month.html" if part else "calendars/page.html"
    now = now_of(request, company)
    return render(request, viewer, template, context, now=now, status=status)
