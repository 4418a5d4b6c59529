"""Forms: what comes after what, and the time between."""

from dataclasses import asdict

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.plan import AddDependency, ChangeDependency, EndDependency
from server.core.rights import Hidden
from server.core.world import Activity, Dependency
from server.pages.kit.forms import Form
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.activities import opened_at
from server.pages.plan.order_form import RUNS, TYPES, filled, read_order
from server.pages.plan.pressing import FormPage, ids_of, seen, send, shown
from server.pages.shared.opened import Opened
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()


@router.get("/d/{short}/plan/{activity_id}/after/new")
def new(request: Request, viewer: SuperViewing, short: str, activity_id: str) -> Response:
    opened, activity = opened_at(request, viewer, short, activity_id)
    return _show(request, viewer, opened, activity, Form(), 200)


@router.post("/d/{short}/plan/{activity_id}/after/new")
def add(
    request: Request, viewer: SuperViewing, form: Sent, short: str, activity_id: str
) -> Response:
    opened, activity = opened_at(request, viewer, short, activity_id)

    def command() -> AddDependency:
        return AddDependency(
            id=next(ids_of(viewer, form)),
            before_id=form.text("before_id", needed=True, most=40),
            after_id=activity.id,
            **asdict(read_order(form)),
        )

    return send(
        request, viewer, form, opened, command,
        lambda form, status: _show(request, viewer, opened, activity, form, status),
        f"/d/{short}/plan",
    )  # fmt: skip


@router.get("/d/{short}/plan/{activity_id}/after/{order_id}")
def one(
    request: Request, viewer: SuperViewing, short: str, activity_id: str, order_id: str
) -> Response:
    opened, activity = opened_at(request, viewer, short, activity_id)
    order = _order(opened, activity, order_id)
    return _show(request, viewer, opened, activity, Form(filled(order)), 200, order)


@router.post("/d/{short}/plan/{activity_id}/after/{order_id}")
def put_right(
    request: Request, viewer: SuperViewing, form: Sent, short: str, activity_id: str, order_id: str
) -> Response:
    opened, activity = opened_at(request, viewer, short, activity_id)
    order = _order(opened, activity, order_id)

    def command() -> ChangeDependency | EndDependency:
        if form.ticked("end"):
            return EndDependency(dependency_id=order.id, seen=seen(form, order.id))
        return ChangeDependency(
            dependency_id=order.id, seen=seen(form, order.id), **asdict(read_order(form))
        )

    return send(
        request, viewer, form, opened, command,
        lambda form, status: _show(request, viewer, opened, activity, form, status, order),
        f"/d/{short}/plan",
    )  # fmt: skip


def _order(opened: Opened, activity: Activity, order_id: str) -> Dependency:
    for order in opened.snapshot.before.get(activity.id, ()):
        if order.id == order_id:
            return order
    raise Hidden("rights.hidden")


def _show(
    request: Request,
    viewer: Viewer,
    opened: Opened,
    activity: Activity,
    form: Form,
    status: int,
    order: Dependency | None = None,
) -> Response:
    snapshot = opened.snapshot
    back = f"/d/{opened.detail_id}/plan/{activity.id}"
    details = snapshot.details
    others = sorted(snapshot.chain, key=lambda a: a.detail_id != activity.detail_id)
    before = tuple((a.id, _name(opened, a)) for a in others if a.id != activity.id)
    page = FormPage(
        form=form,
        heading=f"“{activity.name}” comes after …",
        above=details[opened.detail_id].name,
        back=back,
        action=f"{back}/after/{order.id if order else 'new'}",
        options={"before_id": (("", "choose"), *before), "type": TYPES, "lag_on": RUNS},
        about={"before": snapshot.activities[order.before_id].name if order else ""},
        version=order.version if order else 0,
    )
    return shown(request, viewer, "plan/order.html", page, status)


def _name(opened: Opened, activity: Activity) -> str:
    """The name of an activity, with its detail's if that is another."""
    if activity.detail_id == opened.detail_id:
        return activity.name
    return f"{opened.snapshot.details[activity.detail_id].name}: {activity.name}"
