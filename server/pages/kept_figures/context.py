"""What the pages of a detail's figures show: frozen, in words."""

from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import urlencode

from starlette.requests import Request

from server.core.changes.rules_kept_figures import figures_of
from server.core.refusals import Message, message
from server.core.world import Activity, KeptFigure, Snapshot
from server.pages.figures.at_work import AtWork
from server.pages.figures.known import FIGURES
from server.pages.figures.numbers import CLOCK_DAY, NUMBERS, WAITS
from server.pages.figures.result import Row
from server.pages.kept_figures.comparing import Compared, compared
from server.pages.kept_figures.filling import address
from server.pages.kept_figures.working import Worked, Working, limits_of
from server.pages.kit import Form
from server.pages.plan.writing import span_written
from server.pages.shared.opened import Opened
from server.people.viewer import Viewer


@dataclass(frozen=True)
class Tied:
    """What hangs on a figure: its name, its page, and whether it is as the figure is now."""

    said: str
    href: str
    stale: str


@dataclass(frozen=True)
class Line:
    """A kept figure in one line."""

    name: str
    href: str
    title: str
    result: str
    outside: str
    tied: Tied | None


@dataclass(frozen=True)
class Offer:
    """A figure that can be filled in for the detail."""

    title: str
    about: str
    href: str


@dataclass(frozen=True)
class DetailFigures:
    """The figures of a detail: those kept, and those that can be filled in."""

    detail_id: str
    detail: str
    sheet: str
    kept: tuple[Line, ...]
    offers: tuple[Offer, ...]


@dataclass(frozen=True)
class Wait:
    """A wait beside the length that its figure plans."""

    name: str
    now: str
    then: str
    href: str
    other: bool


@dataclass(frozen=True)
class OneFigure:
    """A kept figure: what came out, what hangs on it, what could."""

    detail_id: str
    detail: str
    sheet: str
    id: str
    name: str
    version: int
    title: str
    href: str
    inputs: str
    answer: tuple[Row, ...]
    outside: str
    tied: Tied | None
    checks: tuple[tuple[str, str], ...]
    waits: tuple[tuple[str, str], ...]
    compared: Compared | None
    wait: Wait | None
    action: str
    may_change: bool
    form: Form


def detail_figures(request: Request, viewer: Viewer, opened: Opened) -> DetailFigures:
    """The page of a detail's figures."""
    snapshot, detail = opened.snapshot, opened.snapshot.details[opened.detail_id]
    working, at = Working(request, viewer), AtWork(request, viewer)
    units = viewer.person.units
    return DetailFigures(
        detail_id=detail.id,
        detail=detail.name,
        sheet=detail.sheet,
        kept=tuple(_line(opened, working, one) for one in figures_of(snapshot, detail.id)),
        offers=tuple(
            Offer(
                _say(opened, one.title),
                _say(opened, one.about),
                address(one.href, one.name, snapshot, detail, units, at),
            )
            for one in FIGURES
        ),
    )


def one_figure(
    request: Request, viewer: Viewer, opened: Opened, kept: KeptFigure, form: Form, check: str
) -> OneFigure:
    """The page of a kept figure; `check` is the one whose numbers are shown beside its own."""
    snapshot, detail = opened.snapshot, opened.snapshot.details[opened.detail_id]
    working = Working(request, viewer)
    worked = working.of(kept)
    chain = snapshot.chain_of(detail.id)
    checks = _checks(snapshot, chain) if kept.figure in NUMBERS else ()
    waits = [a for a in chain if a.kind == "wait" and a.finished is None]
    return OneFigure(
        detail_id=detail.id,
        detail=detail.name,
        sheet=detail.sheet,
        id=kept.id,
        name=kept.name,
        version=kept.version,
        title=_say(opened, worked.figure.title),
        href=_page_of(worked, kept),
        inputs=kept.inputs,
        answer=worked.result.answer if worked.result else (),
        outside=_outside(opened, kept, worked),
        tied=_tied(opened, working, kept),
        checks=checks,
        waits=tuple((a.id, a.name) for a in waits) if kept.figure in WAITS else (),
        compared=_compared(opened, working, kept, check or kept.hold_id or "", dict(checks)),
        wait=_wait(opened, working, kept),
        action=f"/d/{detail.id}/figures/{kept.id}",
        may_change=viewer.actor.role == "super" and viewer.actor.confirmed,
        form=form,
    )


def compared_with(
    request: Request, viewer: Viewer, opened: Opened, kept: KeptFigure, hold_id: str
) -> Compared | None:
    """A check of the detail beside the figure; None where there is nothing to compare."""
    checks = _checks(opened.snapshot, opened.snapshot.chain_of(opened.detail_id))
    return _compared(opened, Working(request, viewer), kept, hold_id, dict(checks))


def _checks(snapshot: Snapshot, chain: Iterable[Activity]) -> tuple[tuple[str, str], ...]:
    return tuple((snapshot.hold_of[a.id].id, a.name) for a in chain if a.id in snapshot.hold_of)


def _compared(
    opened: Opened, working: Working, kept: KeptFigure, hold_id: str, checks: dict[str, str]
) -> Compared | None:
    if hold_id not in checks:
        return None
    hold = opened.snapshot.holds[hold_id]
    numbers = working.numbers(kept, opened.snapshot, hold)
    if numbers is None:
        return None
    return compared(opened.snapshot, kept, hold, numbers, opened.words)


def _line(opened: Opened, working: Working, kept: KeptFigure) -> Line:
    worked = working.of(kept)
    answer = worked.result.answer if worked.result else ()
    return Line(
        name=kept.name,
        href=f"/d/{kept.detail_id}/figures/{kept.id}",
        title=_say(opened, worked.figure.title),
        result=" · ".join(f"{row.label}: {row.said}" for row in answer),
        outside=_outside(opened, kept, worked),
        tied=_tied(opened, working, kept),
    )


def _tied(opened: Opened, working: Working, kept: KeptFigure) -> Tied | None:
    snapshot = opened.snapshot
    hold = snapshot.holds.get(kept.hold_id or "")
    if hold is not None:
        check = snapshot.activities[hold.activity_id]
        stale = "" if kept.taken == kept.inputs else "kept_figures.not_taken"
        said = _say(opened, "kept_figures.gives_numbers", check=check.name)
        return Tied(said, f"/h/{hold.id}", _say(opened, stale) if stale else "")
    wait = snapshot.activities.get(kept.activity_id or "")
    if wait is None:
        return None
    said = _say(opened, "kept_figures.gives_length", wait=wait.name)
    shown = _wait(opened, working, kept)
    stale = "kept_figures.not_its_length" if shown is not None and shown.other else ""
    href = f"/d/{wait.detail_id}/a/{wait.id}"
    return Tied(said, href, _say(opened, stale) if stale else "")


def _wait(opened: Opened, working: Working, kept: KeptFigure) -> Wait | None:
    wait = opened.snapshot.activities.get(kept.activity_id or "")
    minutes = working.minutes(kept) if wait is not None else None
    if wait is None or minutes is None:
        return None
    query = urlencode({"what": "takes", "takes": span_written(minutes, CLOCK_DAY)})
    return Wait(
        name=wait.name,
        now=opened.words.span(wait.work),
        then=opened.words.span(minutes),
        href=f"/d/{wait.detail_id}/push/{wait.id}?{query}",
        other=minutes != wait.work and wait.finished is None,
    )


def _outside(opened: Opened, kept: KeptFigure, worked: Worked) -> str:
    """What lies outside of its limits, as it was kept; or that those are others by now."""
    if worked.result is not None and limits_of(worked)[1] != kept.outside:
        return _say(opened, "kept_figures.other_limits", limits=kept.limits)
    if not kept.outside:
        return ""
    said = tuple(message("figures.limit_said", what=what) for what in kept.outside)
    return _say(opened, "kept_figures.outside", what=said, limits=kept.limits)


def _page_of(worked: Worked, kept: KeptFigure) -> str:
    """The figure's own page, filled in as it is kept."""
    ids = urlencode({"detail": kept.detail_id, "kept": kept.id})
    return f"{worked.figure.href}?{kept.inputs}&to={worked.asked.units}&{ids}"


def _say(opened: Opened, id: str, /, **values: object) -> str:
    return opened.words.say(Message(id, values))  # type: ignore[arg-type]
