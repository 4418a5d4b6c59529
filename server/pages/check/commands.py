"""The forms of a check read into commands, and their refusals led back to the form's fields.

Fields carry the name of their form, because several forms stand on the page.
"""

from collections.abc import Iterable
from datetime import datetime

from server.core.changes.holds import CallForLook, LookAgain, Mark, OpenAgain, Reject, Release
from server.core.measure import NoNumber, read
from server.core.world import Ask, HoldPoint, Photo
from server.pages.check.numbers import FIELD
from server.pages.kit import Form
from server.store.ids import ids_from, new_id

MOST_REASON = 1000
USUAL_REWORK = 240


def mark(
    form: Form, person_id: str, hold: HoldPoint, asks: Iterable[Ask], drafts: Iterable[Photo]
) -> Mark:
    """Ready to look at, with the numbers as typed and all photos taken for it."""
    return Mark(
        id=an_id(form, person_id),
        hold_id=hold.id,
        numbers={ask.id: typed for ask in asks if (typed := form.typed(FIELD + ask.id).strip())},
        photo_ids=tuple(photo.id for photo in drafts),
        parts=numbers(form, "part"),
        note=form.text("mark_note", most=MOST_REASON),
    )


def release(form: Form, hold: HoldPoint) -> Release:
    """OK to cover, all but the parts ticked."""
    return Release(
        hold_id=hold.id,
        seen=seen(form),
        left_out=numbers(form, "leave"),
        reason=form.text("release_reason", most=MOST_REASON),
        inspector=form.text("release_inspector", most=120),
    )


def look_again(form: Form, hold: HoldPoint, now: datetime) -> LookAgain:
    """Put right and looked at again by a time."""
    return LookAgain(
        hold_id=hold.id,
        seen=seen(form),
        by=form.moment("again_by") or now,
        reason=form.text("again_reason", most=MOST_REASON),
    )


def reject(form: Form, person_id: str, hold: HoldPoint) -> Reject:
    """Not OK: so many hours to put it right."""
    return Reject(
        hold_id=hold.id,
        seen=seen(form),
        rework_id=an_id(form, person_id),
        reason=form.text("reject_reason", most=MOST_REASON),
        rework=hours(form, "reject_rework"),
    )


def open_again(form: Form, hold: HoldPoint) -> OpenAgain:
    """A released check opened again."""
    return OpenAgain(hold_id=hold.id, reason=form.text("open_reason", most=MOST_REASON))


def call(form: Form, hold: HoldPoint, now: datetime) -> CallForLook:
    """Somebody was called to come and look."""
    return CallForLook(hold_id=hold.id, called=form.moment("call_called") or now)


def hours(form: Form, name: str) -> int:
    """Hours as trade people write them, in minutes: "4", "1/2", "90 min"."""
    try:
        return round(read(form.typed(name), "h", field=name) * 60)
    except NoNumber as refusal:
        form.refuse(refusal)
        return USUAL_REWORK


def numbers(form: Form, name: str) -> tuple[int, ...]:
    """The numbers of the parts ticked under a name."""
    return tuple(int(n) for n in form.chosen(name) if n.isascii() and n.isdigit())


def seen(form: Form) -> dict[str, int]:
    """The mark that stood on the page, and its version."""
    version = form.typed("version")
    return {form.typed("attempt"): int(version)} if version.isascii() and version.isdigit() else {}


def an_id(form: Form, person_id: str) -> str:
    """A new id; the same one for the same form sent twice."""
    return next(ids_from(person_id, form.key)) if form.key else new_id()


def lead_back(form: Form, name: str) -> None:
    """Names each refusal's field as it is called on the page."""
    own = {"parts": "part", "left_out": "leave", "photos": "photo", "photo": "photo"}
    for refusal in form.all_refusals:
        field = refusal.field
        if field in own:
            refusal.field = own[field]
        elif field is not None and not field.startswith((f"{name}_", FIELD)):
            refusal.field = f"{name}_{field}"
