"""The super's page of people: add, give a link, end a link, say whose phone that is, end."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.people import EndPerson, KeepPerson
from server.core.refusals import Refusal, message
from server.core.rights import Hidden
from server.core.world import Person
from server.pages.kit.forms import Form
from server.pages.kit.press import press, see
from server.pages.kit.refused import status_of_refusal
from server.pages.kit.render import render
from server.pages.kit.viewing import SuperViewing
from server.pages.kit.web import web_of
from server.pages.people.context import PeoplePage, people_page
from server.pages.sign_in.routes import Sent
from server.people.accounts import confirm_device, end_link, give_link, set_password
from server.people.viewer import Viewer
from server.store import accounts
from server.store.ids import ids_from, new_id

router = APIRouter()


class SignsInOtherwise(Refusal):
    """A super signs in with a password, everybody else comes by a link."""


@router.get("/people")
def page(request: Request, viewer: SuperViewing) -> Response:
    return _show(request, viewer, Form())


@router.post("/people")
def add(request: Request, viewer: SuperViewing, form: Sent) -> Response:
    def commands() -> tuple[KeepPerson, ...]:
        ids = ids_from(viewer.person.id, form.key) if form.key else iter([new_id()])
        return (
            KeepPerson(
                id=next(ids),
                name=form.text("name", needed=True, most=120),
                role=form.text("role", most=20),
                title=form.text("title", most=120),
                crew_id=form.text("crew_id", most=40) or None,
                phone=form.text("phone", most=40),
                email=form.text("email", most=200),
                units="mm" if form.typed("units") == "mm" else "in",
            ),
        )

    return press(
        request,
        viewer,
        form,
        None,
        commands,
        to="/people",
        again=lambda form, status: _show(request, viewer, form, status=status),
    )


@router.post("/people/{person_id}/link")
def link(request: Request, viewer: SuperViewing, form: Sent, person_id: str) -> Response:
    web, person = web_of(request), _person(request, viewer, person_id)
    projects = {p.id for p in web.store.projects(viewer.company_id)}
    chosen = tuple(p for p in form.chosen("project") if p in projects)
    if person.role == "super":
        form.refuse(SignsInOtherwise("people.by_password"))
        return _show(request, viewer, form, status=422)
    if not chosen:
        form.refuse(Refusal("people.choose_project", field=f"project-{person_id}"))
        return _show(request, viewer, form, status=422)
    try:
        address = give_link(web.store, person, chosen, web.settings.base_url, viewer.actor)
    except Refusal as refusal:
        form.refuse(refusal)
        return _show(request, viewer, form, status=status_of_refusal(refusal))
    return _show(request, viewer, Form(), link=(person, address))


@router.post("/people/{person_id}/password")
def password(request: Request, viewer: SuperViewing, form: Sent, person_id: str) -> Response:
    web, person = web_of(request), _person(request, viewer, person_id)
    try:
        if person.role != "super":
            raise SignsInOtherwise("people.by_link", field=f"login-{person_id}")
        login = form.text("login", most=200) or person.email or person.name
        set_password(web.store, person_id, login, form.typed("password"))
    except Refusal as refusal:
        field = f"login-{person_id}" if refusal.field == "login" else f"password-{person_id}"
        form.refuse(SignsInOtherwise(refusal.id, field=field, **refusal.values))
        return _show(request, viewer, form, status=status_of_refusal(refusal))
    return see(request, "/people", message("web.taken"))


@router.post("/people/{person_id}/link/{link_id}/end")
def finish_link(request: Request, viewer: SuperViewing, person_id: str, link_id: str) -> Response:
    web, person = web_of(request), _person(request, viewer, person_id)
    with web.store.reading() as connection:
        links = accounts.links_of(connection, person.id)
    if link_id not in {one.id for one in links}:
        raise Hidden("rights.hidden")
    end_link(web.store, link_id)
    return see(request, "/people")


@router.post("/people/{person_id}/phone/{device_id}")
def that_is_them(
    request: Request, viewer: SuperViewing, person_id: str, device_id: str
) -> Response:
    web, person = web_of(request), _person(request, viewer, person_id)
    with web.store.reading() as connection:
        devices = accounts.devices_of(connection, person.id)
    if device_id not in {one.id for one in devices}:
        raise Hidden("rights.hidden")
    confirm_device(web.store, device_id, viewer.actor)
    return see(request, "/people")


@router.post("/people/{person_id}/end")
def finish(request: Request, viewer: SuperViewing, form: Sent, person_id: str) -> Response:
    _person(request, viewer, person_id)
    return press(
        request,
        viewer,
        form,
        None,
        lambda: (EndPerson(person_id=person_id),),
        to="/people",
        again=lambda form, status: _show(request, viewer, form, status=status),
    )


def _person(request: Request, viewer: Viewer, person_id: str) -> Person:
    people = web_of(request).store.company_snapshot(viewer.company_id).people
    if person_id not in people:
        raise Hidden("rights.hidden")
    return people[person_id]


def _show(
    request: Request,
    viewer: Viewer,
    form: Form,
    *,
    status: int = 200,
    link: tuple[Person, str] | None = None,
) -> Response:
    context: PeoplePage = people_page(web_of(request).store, viewer, form, link)
    return render(request, viewer, "people/page.html", context, status=status)
