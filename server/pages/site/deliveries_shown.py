"""The deliveries of a house: how far each has come, what is next, by when, and what it is for."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from server.core.deliveries import comes_with_another, here_at, order_by, review_left
from server.core.next import waits_for
from server.core.refusals import Message, message
from server.core.rights import details_seen
from server.core.world import Activity
from server.pages.kit import Form
from server.pages.shared.opened import Opened
from server.pages.shared.reach import Reach, in_a_sentence, reach
from server.pages.site.needing import ForWork, works_for
from server.people.viewer import Viewer
from server.words import words as words_of

ROW = ("measured", "drawn", "approved", "ordered", "shipped", "finished", "counted")
"""What happens to a delivery, in its order; each is a field of the activity."""
FIRST = 12
"""So many of the deliveries of a house are shown; the others by their detail, or all."""


@dataclass(frozen=True)
class StageShown:
    """A stage in the row: its word, under it when or how it stands. `place` is its class."""

    name: str
    under: str
    place: str


@dataclass(frozen=True)
class DeliveryShown:
    """A delivery that is not here, or not counted yet.

    `presses` are what may be recorded next by this person, `others` what else may be.
    """

    id: str
    detail_id: str
    name: str
    detail: str
    whose: str
    call: Reach | None
    stages: tuple[StageShown, ...]
    by: datetime
    by_said: str
    overdue: bool
    waits: str
    forecast: str
    works: tuple[ForWork, ...]
    presses: tuple[str, ...]
    others: tuple[str, ...]
    form: Form
    opens: bool


@dataclass(frozen=True)
class DeliveriesPage:
    """What is on its way, the overdue first; what is here and nobody has counted.

    `more` are not shown; `details` are those to choose from where there are many, `only` the one
    that is chosen.
    """

    project_id: str
    house: str
    coming: tuple[DeliveryShown, ...]
    here: tuple[DeliveryShown, ...]
    overdue: int
    more: int
    details: tuple[tuple[str, str], ...]
    only: str
    back: str


def deliveries_page(
    opened: Opened,
    viewer: Viewer,
    form: Form | None = None,
    refused_id: str = "",
    *,
    only: str = "",
    whole: bool = False,
) -> DeliveriesPage:
    """The deliveries in the details that the viewer sees; `form` is that of `refused_id`.

    Of many the first are shown, or those of the detail `only`, or the `whole` list.
    """
    seen = details_seen(opened.snapshot, viewer.actor)
    found = [
        (one, *_by(opened, one))
        for one in opened.snapshot.chain
        if one.kind == "delivery" and one.counted is None and one.detail_id in seen
    ]
    found.sort(key=lambda row: (not row[3], row[1]))
    asked = [row[0] for row in found if not only or row[0].detail_id == only]
    most = len(asked) if whole or only else FIRST
    chosen = [one for place, one in enumerate(asked) if place < most or one.id == refused_id]
    rows = [
        _shown(opened, viewer, seen, one, form if one.id == refused_id else None) for one in chosen
    ]
    here = {a.id for a in chosen if a.finished is not None}
    details = dict.fromkeys(row[0].detail_id for row in found) if len(found) > FIRST else {}
    return DeliveriesPage(
        project_id=opened.project_id,
        house=opened.snapshot.project.name,
        coming=tuple(row for row in rows if row.id not in here),
        here=tuple(row for row in rows if row.id in here),
        overdue=sum(row[3] for row in found),
        more=len(asked) - len(chosen),
        details=tuple((d.id, d.name) for d in opened.snapshot.details.values() if d.id in details),
        only=only,
        back=f"/p/{opened.project_id}" if viewer.actor.role == "super" else "/",
    )


def _shown(
    opened: Opened,
    viewer: Viewer,
    seen: frozenset[str],
    delivery: Activity,
    form: Form | None,
) -> DeliveryShown:
    snapshot, words, now = opened.snapshot, opened.words, opened.now
    crew = snapshot.crews.get(delivery.crew_id or "")
    by, said, overdue = _by(opened, delivery)
    first = first_stage(opened, delivery)
    following = next_stages(delivery, first)
    may = tuple(stage for stage in ROW if _may(viewer, delivery, stage))
    there = here_at(opened.schedule, delivery)
    forecast = message("deliveries.can_be_here", at=there)
    return DeliveryShown(
        id=delivery.id,
        detail_id=delivery.detail_id,
        name=delivery.name,
        detail=snapshot.details[delivery.detail_id].name,
        whose=crew.name if crew else "",
        call=_call(opened, delivery) if viewer.actor.role == "super" else None,
        stages=tuple(_stages(opened, delivery, first, following)),
        by=by,
        by_said=words.say(said, now=now),
        overdue=overdue,
        waits=_waits(opened, delivery),
        forecast="" if delivery.finished else words.say(forecast, now=now),
        works=tuple(works_for(opened, delivery, seen, None if delivery.finished else there)),
        presses=tuple(stage for stage in following if stage in may),
        others=tuple(stage for stage in may if _possible(delivery, stage)),
        form=form or Form(),
        opens=form is not None,
    )


def first_stage(opened: Opened, delivery: Activity) -> str:
    """Where its row begins: what nobody draws is ordered; what another has ordered is sent off."""
    if comes_with_another(opened.snapshot, delivery):
        return "shipped"
    drawn_up = delivery.review or delivery.sheet_id or delivery.measured_from_id
    return "measured" if drawn_up else "ordered"


def next_stages(delivery: Activity, first: str) -> tuple[str, ...]:
    """The stage after the last one that was reached; what is sent off may as well be here."""
    reached = [n for n, stage in enumerate(ROW) if getattr(delivery, stage) is not None]
    at = max([ROW.index(first), *(n + 1 for n in reached)])
    return ("shipped", "finished") if ROW[at] == "shipped" else (ROW[at],)


def _stages(
    opened: Opened, delivery: Activity, first: str, following: tuple[str, ...]
) -> Iterator[StageShown]:
    words, now = opened.words, opened.now
    for stage in ROW:
        name = words.say(message("deliveries.stage", stage=stage))
        when: datetime | None = getattr(delivery, stage)
        if when is not None:
            yield StageShown(name, words.when(when.date(), now), "done")
        elif ROW.index(stage) < ROW.index(first):
            continue
        elif stage == following[0]:
            yield StageShown(name, words.say(message("deliveries.next")), "next")
        elif ROW.index(stage) < ROW.index(following[0]):
            yield StageShown(name, words.say(message("deliveries.not_recorded")), "later")
        else:
            yield StageShown(name, "", "later")


def _by(opened: Opened, delivery: Activity) -> tuple[datetime, Message, bool]:
    """The day by which something has to happen to it, that in words, and whether it has gone by."""
    schedule, dates = opened.schedule, opened.schedule[delivery.id]
    if delivery.finished is not None:
        return delivery.finished, message("deliveries.here", at=delivery.finished), False
    if delivery.ordered is not None:
        due = delivery.promised or dates.late_finish
        late = due.date() < opened.now.date()
        if delivery.promised is None:
            return due, message("deliveries.needed", by=due), late
        id = "deliveries.was_promised" if late else "deliveries.promised"
        return due, message(id, promised=due, by=dates.late_finish), late
    by, review = order_by(schedule, delivery), review_left(delivery)
    late = by < opened.status
    if comes_with_another(opened.snapshot, delivery):
        return dates.late_finish, message("deliveries.with", by=dates.late_finish), False
    if review:
        id = "deliveries.was_to_begin" if late else "deliveries.begin_by"
        return by, message(id, by=by, review=review, order=dates.late_start), late
    id = "deliveries.was_to_order" if late else "deliveries.order_by"
    return by, message(id, by=by), late


def _waits(opened: Opened, delivery: Activity) -> str:
    """What stands before its order, and who moves that."""
    if delivery.ordered or delivery.finished or opened.schedule[delivery.id].ready:
        return ""
    first = waits_for(opened.snapshot, opened.schedule, delivery)
    return opened.words.say(message("deliveries.waits", what=first.name)) if first else ""


def _call(opened: Opened, delivery: Activity) -> Reach | None:
    """How whoever makes or brings it is reached, with a question in their language."""
    crew = opened.snapshot.crews.get(delivery.crew_id or "")
    if crew is None or delivery.finished is not None:
        return None
    detail = opened.snapshot.details[delivery.detail_id].name
    ask = message("deliveries.sms", what=in_a_sentence(delivery.name), detail=in_a_sentence(detail))
    return reach(crew.phone, words_of(crew.language).say(ask, now=opened.now))


def _may(viewer: Viewer, delivery: Activity, stage: str) -> bool:
    """Whether this person may record it: a crew what it brings itself, but no order."""
    actor = viewer.actor
    if actor.role == "super":
        return True
    own = actor.crew_id is not None and actor.crew_id in (
        delivery.crew_id,
        *delivery.with_crew_ids,
    )
    return actor.role == "crew" and own and stage != "ordered"


def _possible(delivery: Activity, stage: str) -> bool:
    """Whether a stage can be recorded, or recorded again, as it stands."""
    match stage:
        case "ordered" | "finished":
            return delivery.finished is None
        case "counted":
            return delivery.finished is not None
    return True
