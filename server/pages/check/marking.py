"""The form in which a check is marked ready to look at."""

from dataclasses import dataclass

from server.core.changes.marking import asks_for
from server.core.states import to_mark
from server.core.world import Photo
from server.pages.check.asking import Asking, Part, may_mark, parts_of
from server.pages.check.attempts import PhotoShown, photo_shown
from server.pages.check.commands import numbers
from server.pages.check.numbers import FIELD, Group, groups_of


@dataclass(frozen=True)
class MarkForm:
    """What whoever marks fills in."""

    groups: tuple[Group, ...]
    drafts: tuple[PhotoShown, ...]
    parts: tuple[Part, ...]
    photos_asked: int
    photo_note: str


def mark_form(asking: Asking) -> MarkForm | None:
    """The form, with what was typed into it; None for who may not mark now."""
    if not may_mark(asking):
        return None
    snapshot, hold, form = asking.snapshot, asking.hold, asking.form("mark")
    could = to_mark(snapshot, hold)
    asks = asks_for(snapshot, hold, could)
    wrong = {ask.id: form.wrong(FIELD + ask.id) for ask in asks}
    return MarkForm(
        groups=groups_of(
            asks,
            hold.part_name,
            {ask.id: form.typed(FIELD + ask.id) for ask in asks},
            asking.words,
            {id: asking.say(said) for id, said in wrong.items() if said},
        ),
        drafts=tuple(photo_shown(p, snapshot, asking.words, asking.now) for p in drafts_of(asking)),
        parts=parts_of(asking, could, numbers(form, "part") or could),
        photos_asked=hold.photos,
        photo_note=hold.photo_note,
    )


def drafts_of(asking: Asking) -> tuple[Photo, ...]:
    """The photos that this person has taken for the next mark, first to last."""
    drafts = (
        p
        for p in asking.snapshot.photos.values()
        if p.hold_id == asking.hold.id
        and p.attempt_id is None
        and p.by_id == asking.actor.person_id
    )
    return tuple(sorted(drafts, key=lambda p: p.at))
