"""Marking a check ready to look at: its numbers read and judged, its photos named."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from fractions import Fraction

from server.core.changes.base import Actor, Outcome, rule
from server.core.changes.held import check_name, check_of, minute, person_name
from server.core.changes.holds import Mark
from server.core.changes.inputs import BadInput, ids_after, new_id, text_of
from server.core.measure import Band, State, Verdict, judge, read
from server.core.refusals import Refusal, message
from server.core.states import hold_state, left_out, live_attempts, still_to_do, to_mark
from server.core.world import Ask, Attempt, HoldPoint, Measurement, Photo, Snapshot
from server.core.world.network import forecast_of

YES, NO = Fraction(1), Fraction(0)


class NotMarked(Refusal):
    """A check that cannot be marked ready to look at now."""


class NumbersMissing(Refusal):
    """Numbers missing or not read, photos missing, told together; `all` has each with its field.

    On its own it says the first of them.
    """

    def __init__(self, all: tuple[Refusal, ...]) -> None:
        super().__init__(all[0].id, field=all[0].field, **all[0].values)
        self.all = all


def asks_for(snapshot: Snapshot, hold: HoldPoint, parts: tuple[int, ...]) -> tuple[Ask, ...]:
    """What a mark about these parts must answer: their numbers, and what is asked of the whole.

    When parts that were left out are marked again, only their own numbers are asked.
    """
    asks = snapshot.asks_of.get(hold.id, ())
    again = bool(left_out(snapshot, hold))
    chosen = tuple(a for a in asks if a.part in parts or (a.part is None and not again))
    # a check that asks nothing of its parts one by one asks again of the whole
    return chosen or asks


def value_of(ask: Ask, typed: str) -> Fraction:
    """A number as it was typed, or yes and no as 1 and 0. Raises a refusal with its field."""
    field = f"ask-{ask.id}"
    if ask.unit == "yes":
        answer = typed.strip().lower()
        if answer not in ("yes", "no"):
            raise BadInput("holds.yes_or_no", field=field)
        return YES if answer == "yes" else NO
    return read(typed, ask.unit, near=expected(ask), field=field)


def expected(ask: Ask) -> Fraction | None:
    """The value that a reading should be near: the nominal, else the middle of what is allowed."""
    if ask.nominal is not None:
        return ask.nominal
    limits = [limit for limit in (ask.low, ask.high) if limit is not None]
    return sum(limits, Fraction(0)) / len(limits) if limits else None


def verdict_of(ask: Ask, value: Fraction) -> Verdict | None:
    """A number against the ask's two tolerances; None where it has none. A "no" is to be asked."""
    if ask.unit == "yes":
        return Verdict(State.WITHIN if value == YES else State.ASK, value - YES, None)
    if ask.low is None and ask.high is None:
        return None
    near = Band(ask.low, ask.high)
    far = None if ask.far_low is None and ask.far_high is None else Band(ask.far_low, ask.far_high)
    return judge(value, ask.nominal, near, far)


@rule(Mark)
def mark(snapshot: Snapshot, actor: Actor, command: Mark, at: datetime) -> Outcome:
    """A new attempt with its numbers and photos; what was marked before stays as it was."""
    hold = check_of(snapshot, command.hold_id)
    _can_be_marked(snapshot, hold, at)
    parts = _parts(snapshot, hold, command)
    attempt = Attempt(
        id=new_id(snapshot, Attempt, command.id),
        project_id=hold.project_id,
        hold_id=hold.id,
        no=len(snapshot.attempts_of.get(hold.id, ())) + 1,
        state="marked",
        marked_by_id=actor.person_id,
        marked_at=minute(at),
        # none named: all of them
        parts=() if len(parts) == hold.parts else parts,
        note=text_of(command.note, "note"),
        sheet_id=_sheet(snapshot, hold),
    )
    refusals: list[Refusal] = []
    asks = asks_for(snapshot, hold, parts)
    measurements = list(_measurements(snapshot, attempt, asks, command, refusals))
    photos = _photos(snapshot, actor, hold, command, refusals)
    if refusals:
        raise NumbersMissing(tuple(refusals))
    taken = [replace(photo, attempt_id=attempt.id) for photo in photos]
    said = message(
        "log.marked",
        check=check_name(snapshot, hold),
        numbers=len(measurements),
        photos=len(taken),
    )
    return Outcome(snapshot.put(attempt, *measurements, *taken), said)


def _can_be_marked(snapshot: Snapshot, hold: HoldPoint, at: datetime) -> None:
    schedule = forecast_of(snapshot, minute(at), hold.activity_id)
    state = hold_state(snapshot, hold, schedule)
    last = live_attempts(snapshot, hold)[-1:]
    if state == "marked":
        by, when = person_name(snapshot, last[0].marked_by_id), last[0].marked_at
        raise NotMarked("holds.already_marked", by=by, at=when)
    if state == "released" and not left_out(snapshot, hold):
        raise NotMarked(
            "holds.already_released",
            by=person_name(snapshot, last[0].decided_by_id),
            at=last[0].decided_at,
        )
    if still_open := still_to_do(snapshot, hold, schedule):
        raise NotMarked("holds.not_done_yet", open=tuple(a.name for a in still_open))


def _parts(snapshot: Snapshot, hold: HoldPoint, command: Mark) -> tuple[int, ...]:
    """The parts a mark is about, in order."""
    could = to_mark(snapshot, hold)
    if set(command.parts) - set(could):
        raise BadInput("holds.no_such_part", field="parts")
    return tuple(sorted(set(command.parts))) or could


def _measurements(
    snapshot: Snapshot,
    attempt: Attempt,
    asks: tuple[Ask, ...],
    command: Mark,
    refusals: list[Refusal],
) -> Iterator[Measurement]:
    ids = ids_after(attempt.id, snapshot.measurements)
    for ask in asks:
        typed = command.numbers.get(ask.id, "")
        try:
            value = value_of(ask, typed)
        except Refusal as refusal:
            refusals.append(refusal)
            continue
        yield Measurement(
            id=next(ids),
            project_id=attempt.project_id,
            attempt_id=attempt.id,
            ask_id=ask.id,
            typed=typed.strip(),
            value=value,
        )


def _photos(
    snapshot: Snapshot, actor: Actor, hold: HoldPoint, command: Mark, refusals: list[Refusal]
) -> list[Photo]:
    named = (snapshot.photos.get(id) for id in dict.fromkeys(command.photo_ids))
    photos = [photo for photo in named if photo is not None]
    if any(
        photo.hold_id != hold.id or photo.by_id != actor.person_id or photo.attempt_id
        for photo in photos
    ):
        refusals.append(BadInput("holds.other_photo", field="photos"))
    if len(photos) < hold.photos:
        refusals.append(
            BadInput("holds.photos_missing", field="photos", asked=hold.photos, there=len(photos))
        )
    return photos


def _sheet(snapshot: Snapshot, hold: HoldPoint) -> str | None:
    """The current drawing of the detail, if there is just one."""
    detail_id = snapshot.activities[hold.activity_id].detail_id
    sheets = (s for s in snapshot.sheets.values() if s.detail_id == detail_id)
    current = [sheet for sheet in sheets if sheet.replaced_id is None]
    return current[0].id if len(current) == 1 else None
