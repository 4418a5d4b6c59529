"""Forms: a task split in two, and two tasks made one."""

from dataclasses import dataclass

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.plan_rows import MergeActivities, SplitActivity
from server.core.changes.rules_plan_rows import happened
from server.core.states import ahead
from server.core.world import Activity, Layer, Snapshot
from server.pages.kit.forms import Form
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.activities import opened_at
from server.pages.plan.pressing import FormPage, ids_of, seen, send, shown
from server.pages.plan.writing import read_parts, span_written
from server.pages.shared.opened import Opened
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()
DOES = {"puts in": "put in", "covers": "hide", "opens": "open up", "needs open": "need open"}


@dataclass(frozen=True)
class LayerDone:
    """A layer that a task does something to, in how many parts, and what."""

    id: str
    name: str
    part_name: str
    parts: int
    does: str


@router.get("/d/{short}/plan/{activity_id}/split")
def to_split(request: Request, viewer: SuperViewing, short: str, activity_id: str) -> Response:
    opened, task = opened_at(request, viewer, short, activity_id)
    start = {
        "name": (f"{task.name}, first part",),
        "second_name": (f"{task.name}, the rest",),
    }
    return _show_split(request, viewer, opened, task, Form(start), 200)


@router.post("/d/{short}/plan/{activity_id}/split")
def split(
    request: Request, viewer: SuperViewing, form: Sent, short: str, activity_id: str
) -> Response:
    opened, task = opened_at(request, viewer, short, activity_id)

    def command() -> SplitActivity:
        return SplitActivity(
            id=next(ids_of(viewer, form)),
            activity_id=task.id,
            name=form.text("name", needed=True, most=120),
            work=form.minutes("work", 0) or 0,
            second_name=form.text("second_name", needed=True, most=120),
            second_work=form.minutes("second_work"),
            parts=_parts(opened.snapshot, task, form),
            seen=seen(form, task.id),
        )

    return send(
        request, viewer, form, opened, command,
        lambda form, status: _show_split(request, viewer, opened, task, form, status),
        f"/d/{short}/plan",
    )  # fmt: skip


@router.get("/d/{short}/plan/{activity_id}/merge")
def to_merge(request: Request, viewer: SuperViewing, short: str, activity_id: str) -> Response:
    opened, task = opened_at(request, viewer, short, activity_id)
    start = {"name": (task.name,)}
    return _show_merge(request, viewer, opened, task, Form(start), 200)


@router.post("/d/{short}/plan/{activity_id}/merge")
def merge(
    request: Request, viewer: SuperViewing, form: Sent, short: str, activity_id: str
) -> Response:
    opened, task = opened_at(request, viewer, short, activity_id)
    return send(
        request, viewer, form, opened,
        lambda: MergeActivities(
            first_id=task.id,
            second_id=form.text("second_id", needed=True, most=40),
            name=form.text("name", most=120),
            work=form.minutes("work"),
            seen=seen(form, task.id),
        ),
        lambda form, status: _show_merge(request, viewer, opened, task, form, status),
        f"/d/{short}/plan",
    )  # fmt: skip


def _parts(snapshot: Snapshot, task: Activity, form: Form) -> dict[str, tuple[int, ...]]:
    """The parts of each layer that the first half does; nothing typed says nothing of a layer."""
    found: dict[str, tuple[int, ...]] = {}
    for layer in _layers(snapshot, task):
        name = f"parts_{layer.id}"
        if layer.parts and form.typed(name).strip():
            said = read_parts(form, name, layer.parts, layer.part_name)
            found[layer.id] = said or tuple(range(1, layer.parts + 1))
    return found


def _layers(snapshot: Snapshot, task: Activity) -> tuple[Layer, ...]:
    effects = snapshot.effects_of.get(task.id, ())
    return tuple(snapshot.layers[id] for id in dict.fromkeys(e.layer_id for e in effects))


def _done(snapshot: Snapshot, task: Activity) -> tuple[LayerDone, ...]:
    effects = snapshot.effects_of.get(task.id, ())
    return tuple(
        LayerDone(
            layer.id,
            f"{layer.name}, {snapshot.sides[layer.side_id].name}",
            layer.part_name or "part",
            layer.parts,
            " and ".join(DOES[e.verb] for e in effects if e.layer_id == layer.id),
        )
        for layer in _layers(snapshot, task)
    )


def _show_split(
    request: Request, viewer: Viewer, opened: Opened, task: Activity, form: Form, status: int
) -> Response:
    snapshot, back = opened.snapshot, f"/d/{opened.detail_id}/plan/{task.id}"
    page = FormPage(
        form=form,
        heading=f"Split “{task.name}”",
        above=snapshot.details[opened.detail_id].name,
        back=back,
        action=f"{back}/split",
        about={
            "whole": opened.words.span(task.work, 480),
            "layers": _done(snapshot, task),
            "asked": any(
                visit.ended is None and visit.finish > opened.now
                for visit in snapshot.visits_of.get(task.id, ())
            ),
        },
        version=task.version,
    )
    return shown(request, viewer, "plan/split.html", page, status)


def _show_merge(
    request: Request, viewer: Viewer, opened: Opened, task: Activity, form: Form, status: int
) -> Response:
    snapshot, back = opened.snapshot, f"/d/{opened.detail_id}/plan/{task.id}"
    crews = {task.crew_id, *task.with_crew_ids}
    others = [
        a
        for a in snapshot.chain_of(opened.detail_id)
        if a is not task and a.kind == "task" and {a.crew_id, *a.with_crew_ids} == crews
        if not happened(snapshot, a)
    ]
    # what follows it next comes first
    others.sort(key=lambda a: task.id not in {d.before_id for d in snapshot.before.get(a.id, ())})
    page = FormPage(
        form=form,
        heading=f"Make “{task.name}” one with another",
        above=snapshot.details[opened.detail_id].name,
        back=back,
        action=f"{back}/merge",
        options={
            "second_id": (
                ("", "choose"),
                *((a.id, f"{a.name}, {span_written(a.work)}{_where(snapshot, task, a)}")
                  for a in others),
            )
        },
        about={"own": span_written(task.work), "any": bool(others)},
        version=task.version,
    )  # fmt: skip
    return shown(request, viewer, "plan/merge.html", page, status)


def _where(snapshot: Snapshot, task: Activity, other: Activity) -> str:
    if other.id in ahead(snapshot, task.id):
        return ", before it"
    return ", after it" if task.id in ahead(snapshot, other.id) else ""
