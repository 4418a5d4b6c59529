"""Forms: an activity comes into the order of work, is changed, leaves it."""

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.plan import ActivityFacts, AddActivity, ChangeActivity, EndActivity
from server.core.rights import Hidden
from server.core.world import Activity, Snapshot
from server.pages.kit.forms import Form
from server.pages.kit.viewing import SuperViewing
from server.pages.plan import check_form, particulars_form
from server.pages.plan.activity_form import KINDS, OF_KIND, facts_of, filled, read_facts
from server.pages.plan.context import TAGS, AfterRow, how_after, layers_of_detail
from server.pages.plan.pressing import FormPage, Options, ids_of, seen, send, shown
from server.pages.shared.opened import Opened, open_detail
from server.pages.shared.tied_figure import TiedFigure, tied_figure
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()
FORM = "plan/activity.html"


@router.get("/d/{short}/plan/new")
def new(
    request: Request, viewer: SuperViewing, short: str, kind: Annotated[str, Query()] = "task"
) -> Response:
    opened = open_detail(request, viewer, short)
    kind = kind if kind in KINDS else "task"
    chain = opened.snapshot.chain_of(short)
    place = opened.snapshot.details[short].place_id or ""
    start = {"kind": (kind,), "after": tuple(a.id for a in chain[-1:])}
    if kind != "delivery":
        start["place_id"] = (place,)
    return _show(request, viewer, opened, Form(start), 200, kind)


@router.post("/d/{short}/plan/new")
def add(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    opened = open_detail(request, viewer, short)
    kind = form.typed("kind", "task")
    kind = kind if kind in KINDS else "task"
    if form.ticked("more"):
        return _show(request, viewer, opened, _more(form), 200, kind)

    def command() -> AddActivity:
        ids = ids_of(viewer, form)
        layers = layers_of_detail(opened.snapshot, short)
        return AddActivity(
            id=next(ids),
            hold_id=next(ids),
            detail_id=short,
            facts=read_facts(form, ActivityFacts(name="", kind=kind), layers),
            behind_id=form.text("behind_id", most=40) or None,
            after=form.chosen("after"),
            check=check_form.read_check(form) if kind == "hold" else None,
        )

    return send(
        request, viewer, form, opened, command,
        lambda form, status: _show(request, viewer, opened, form, status, kind),
        f"/d/{short}/plan",
    )  # fmt: skip


@router.get("/d/{short}/plan/{activity_id}")
def one(request: Request, viewer: SuperViewing, short: str, activity_id: str) -> Response:
    opened, activity = opened_at(request, viewer, short, activity_id)
    layers = layers_of_detail(opened.snapshot, short)
    fields = filled(facts_of(opened.snapshot, activity), layers)
    hold = opened.snapshot.hold_of.get(activity.id)
    if hold is not None:
        fields |= check_form.filled(hold, opened.snapshot.asks_of.get(hold.id, ()))
    return _show(request, viewer, opened, Form(fields), 200, activity.kind, activity)


@router.post("/d/{short}/plan/{activity_id}")
def put_right(
    request: Request, viewer: SuperViewing, form: Sent, short: str, activity_id: str
) -> Response:
    opened, activity = opened_at(request, viewer, short, activity_id)
    if form.ticked("more"):
        return _show(request, viewer, opened, _more(form), 200, activity.kind, activity)

    def command() -> ChangeActivity:
        layers = layers_of_detail(opened.snapshot, short)
        hold = opened.snapshot.hold_of.get(activity.id)
        return ChangeActivity(
            activity_id=activity.id,
            facts=read_facts(form, facts_of(opened.snapshot, activity), layers),
            check=check_form.read_check(form, hold.layer_ids) if hold else None,
            seen=seen(form, activity.id),
        )

    return send(
        request, viewer, form, opened, command,
        lambda form, status: _show(request, viewer, opened, form, status, activity.kind, activity),
        f"/d/{short}/plan",
    )  # fmt: skip


@router.get("/d/{short}/plan/{activity_id}/end")
def leaving(request: Request, viewer: SuperViewing, short: str, activity_id: str) -> Response:
    opened, activity = opened_at(request, viewer, short, activity_id)
    return _show_end(request, viewer, opened, activity, Form(), 200)


@router.post("/d/{short}/plan/{activity_id}/end")
def leave(
    request: Request, viewer: SuperViewing, form: Sent, short: str, activity_id: str
) -> Response:
    opened, activity = opened_at(request, viewer, short, activity_id)
    return send(
        request, viewer, form, opened,
        lambda: EndActivity(activity_id=activity.id, reason=form.text("reason", needed=True)),
        lambda form, status: _show_end(request, viewer, opened, activity, form, status),
        f"/d/{short}/plan",
    )  # fmt: skip


def opened_at(
    request: Request, viewer: Viewer, short: str, activity_id: str
) -> tuple[Opened, Activity]:
    """The project of a detail and an activity of its chain; `Hidden` if it has it not."""
    opened = open_detail(request, viewer, short)
    for activity in opened.snapshot.chain_of(short):
        if activity.id == activity_id:
            return opened, activity
    raise Hidden("rights.hidden")


def _more(form: Form) -> Form:
    rows = str(check_form.rows_of(form) + check_form.BLANK)
    return Form({**form.fields, "rows": (rows,)})


def _show_end(
    request: Request, viewer: Viewer, opened: Opened, activity: Activity, form: Form, status: int
) -> Response:
    back = f"/d/{opened.detail_id}/plan/{activity.id}"
    page = FormPage(
        form=form,
        heading=f"Take out “{activity.name}”",
        above=opened.snapshot.details[opened.detail_id].name,
        back=back,
        action=f"{back}/end",
    )
    return shown(request, viewer, "plan/end.html", page, status)


def _show(
    request: Request,
    viewer: Viewer,
    opened: Opened,
    form: Form,
    status: int,
    kind: str,
    activity: Activity | None = None,
) -> Response:
    snapshot, short = opened.snapshot, opened.detail_id
    back = f"/d/{short}/plan"
    chain = snapshot.chain_of(short)
    page = FormPage(
        form=form,
        heading=f"Add a {KINDS[kind]}" if activity is None else activity.name,
        above=snapshot.details[short].name,
        back=back,
        action=f"{back}/{activity.id if activity else 'new'}",
        options=_options(snapshot, kind) | particulars_form.options(snapshot, activity),
        about={
            "kind": kind,
            "has": OF_KIND[kind],
            "more": {
                "has": particulars_form.has(kind),
                "said": particulars_form.said(form, kind),
                "wrong": particulars_form.wrong(form, kind),
            },
            "layers": layers_of_detail(snapshot, short),
            "side_of": {side.id: side.name for side in snapshot.sides.values()},
            "chain": tuple((a.id, a.name) for a in chain if a is not activity),
            "new": activity is None,
            "done": activity is not None and activity.finished is not None,
            "after": _after(opened, activity) if activity else (),
            "rows": check_form.rows_of(form),
            "from": _from(snapshot, activity),
            "figure": _figure(snapshot, activity),
        },
        version=activity.version if activity else 0,
    )
    return shown(request, viewer, FORM, page, status)


def _figure(snapshot: Snapshot, activity: Activity | None) -> TiedFigure | None:
    """The figure that a check has its numbers from."""
    hold = snapshot.hold_of.get(activity.id) if activity is not None else None
    return tied_figure(snapshot, hold.id) if hold is not None else None


def _from(snapshot: Snapshot, activity: Activity | None) -> tuple[str, ...]:
    """Where the numbers of an activity come from, as long as nobody typed over them."""
    if activity is None:
        return ()
    hold = snapshot.hold_of.get(activity.id)
    asks = snapshot.asks_of.get(hold.id, ()) if hold else ()
    tags = (activity.tag if activity.work else "", *(ask.tag for ask in asks))
    return tuple(dict.fromkeys(TAGS[tag] for tag in tags if tag in TAGS))


def _after(opened: Opened, activity: Activity) -> tuple[AfterRow, ...]:
    snapshot = opened.snapshot
    return tuple(
        AfterRow(d.id, snapshot.activities[d.before_id].name, how_after(opened.words, d))
        for d in snapshot.before.get(activity.id, ())
    )


def _options(snapshot: Snapshot, kind: str) -> dict[str, Options]:
    crews = tuple((c.id, f"{c.name}, {c.trade}") for c in snapshot.crews.values() if not c.ended)
    people = tuple((p.id, p.name) for p in snapshot.people.values() if p.ended is None)
    layers = tuple((x.id, x.name) for x in snapshot.layers.values() if x.ended is None)
    places = tuple((p.id, p.name) for p in snapshot.places.values())
    ways = tuple((w.id, w.name) for w in snapshot.ways.values())
    return {
        "crew_id": (("", "nobody yet"), *crews),
        "with_crew_ids": crews,
        "marks_crew_id": (("", "the super"), *crews),
        "person_id": (("", "nobody yet"), *people),
        "releases_id": (
            ("", "the super"),
            ("authority", "an outside inspector"),
            *people,
        ),
        "place_id": (("", "nowhere in the house"), *places),
        "calendar_id": (
            ("", "the crew's own, or the house's"),
            *((c.id, c.name) for c in snapshot.calendars.values()),
        ),
        "opens_way_id": (("", "none"), *ways) if ways else (),
        "closes_way_id": (("", "none"), *ways) if ways else (),
        "measured_from_id": (("", "nothing"), *layers) if layers else (),
    }  # fmt: skip
