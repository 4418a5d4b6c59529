"""Rules of what stands around the chain: readings, drawings, temporary works, accepted notes."""

from dataclasses import replace
from datetime import datetime, timedelta
from fractions import Fraction

from server.core.changes.actuals import (
    AcceptWarning,
    AddReading,
    AddSheet,
    AddTemporary,
    LookAtTemporary,
    TakeOutTemporary,
)
from server.core.changes.base import Actor, Outcome, find, rule
from server.core.changes.held import minute
from server.core.changes.inputs import (
    BadInput,
    name_of,
    new_id,
    one_of,
    reason_of,
    text_of,
    there,
    there_or_none,
    whole,
)
from server.core.measure import read
from server.core.refusals import message
from server.core.world import (
    AcceptedWarning,
    Crew,
    Detail,
    Look,
    Place,
    Reading,
    Sheet,
    Snapshot,
    TemporaryWork,
)

UNITS = {"air": "°F", "humidity": "%", "wood": "%", "plaster": "%"}
KINDS = ("shore", "stair", "rail", "guard", "cover", "deck", "scaffold", "heat")
MOST_RISERS = 40
HIGHEST = Fraction(480)
HAS_RISE = ("stair", "deck")
LONGEST_ACCEPTED = timedelta(days=60)


@rule(AddReading)
def add_reading(snapshot: Snapshot, actor: Actor, command: AddReading, at: datetime) -> Outcome:
    """A reading, in the unit of what was read."""
    place = there(snapshot, Place, command.place_id, "place_id")
    unit = UNITS[one_of(command.what, UNITS, "what")]
    value = read(command.typed, unit, field="typed")
    if unit == "%" and not 0 <= value <= 100:
        raise BadInput("site.percent", field="typed")
    reading = Reading(
        id=new_id(snapshot, Reading, command.id),
        project_id=place.project_id,
        place_id=place.id,
        what=command.what,
        value=value,
        unit=unit,
        by_id=actor.person_id,
        at=minute(at),
        where=text_of(command.where, "where", 120),
    )
    return Outcome(snapshot.put(reading), message("log.reading", place=place.name))


@rule(AddSheet)
def add_sheet(snapshot: Snapshot, actor: Actor, command: AddSheet, at: datetime) -> Outcome:
    """A drawing; a new revision replaces the one before it."""
    detail = there(snapshot, Detail, command.detail_id, "detail_id")
    sheet = Sheet(
        id=new_id(snapshot, Sheet, command.id),
        project_id=detail.project_id,
        detail_id=detail.id,
        number=name_of(command.number, "number", 40),
        revision=name_of(command.revision, "revision", 20),
        title=text_of(command.title, "title", 120),
        dated=command.dated,
    )
    rows = [sheet]
    if command.replaces_id:
        older = find(snapshot, Sheet, command.replaces_id)
        if older.detail_id != detail.id or older.replaced_id is not None:
            raise BadInput("site.replaced_already", field="replaces_id", number=older.number)
        rows.append(replace(older, replaced_id=sheet.id))
    _not_there(snapshot, sheet)
    said = message("log.sheet", number=sheet.number, revision=sheet.revision)
    return Outcome(snapshot.put(*rows), said)


def _not_there(snapshot: Snapshot, sheet: Sheet) -> None:
    """Refuses a revision of a drawing that is there already."""
    for other in snapshot.sheets.values():
        same = (other.detail_id, other.number.casefold(), other.revision.casefold())
        if same == (sheet.detail_id, sheet.number.casefold(), sheet.revision.casefold()):
            raise BadInput("site.sheet_there", field="revision", number=sheet.number)


@rule(AddTemporary)
def add_temporary(snapshot: Snapshot, actor: Actor, command: AddTemporary, at: datetime) -> Outcome:
    """A temporary work is in."""
    there_or_none(snapshot, Detail, command.detail_id, "detail_id")
    there_or_none(snapshot, Place, command.place_id, "place_id")
    there_or_none(snapshot, Crew, command.crew_id, "crew_id")
    _height(command)
    put_in = command.put_in or at
    if put_in > at:
        raise BadInput("actuals.in_the_future", field="put_in", when=put_in)
    work = TemporaryWork(
        id=new_id(snapshot, TemporaryWork, command.id),
        project_id=snapshot.project.id,
        kind=one_of(command.kind, KINDS, "kind"),
        name=name_of(command.name),
        detail_id=command.detail_id,
        place_id=command.place_id,
        crew_id=command.crew_id,
        daily=command.daily,
        risers=command.risers,
        rise=command.rise,
        put_in=minute(put_in),
    )
    return Outcome(snapshot.put(work), message("log.temporary_in", what=work.name))


def _height(command: AddTemporary) -> None:
    """Only a stair has risers, and only a stair or a deck a rise."""
    whole(command.risers, 0, MOST_RISERS, "risers")
    if command.risers and command.kind != "stair":
        raise BadInput("site.risers_of_a_stair", field="risers")
    if command.rise is None:
        return
    if command.kind not in HAS_RISE:
        raise BadInput("site.no_rise", field="rise")
    if not 0 < command.rise <= HIGHEST:
        raise BadInput("site.absurd_rise", field="rise", most=HIGHEST)


@rule(LookAtTemporary)
def look(snapshot: Snapshot, actor: Actor, command: LookAtTemporary, at: datetime) -> Outcome:
    """Today's look at a temporary work; one that is not in order says what."""
    work = find(snapshot, TemporaryWork, command.temporary_id)
    if work.taken_out is not None:
        raise BadInput("site.out_already")
    note = text_of(command.note, "note")
    if not command.in_order and not note:
        raise BadInput("site.what_is_wrong", field="note")
    look = Look(
        id=new_id(snapshot, Look, command.id),
        project_id=work.project_id,
        temporary_id=work.id,
        by_id=actor.person_id,
        at=minute(at),
        in_order=command.in_order,
        note=note,
    )
    said = (
        message("log.looked", what=work.name)
        if command.in_order
        else message("log.not_in_order", what=work.name, note=note)
    )
    return Outcome(snapshot.put(look), said)


@rule(TakeOutTemporary)
def take_out(snapshot: Snapshot, actor: Actor, command: TakeOutTemporary, at: datetime) -> Outcome:
    """A temporary work is out."""
    work = find(snapshot, TemporaryWork, command.temporary_id)
    if work.taken_out is not None:
        raise BadInput("site.out_already")
    if command.when > at:
        raise BadInput("actuals.in_the_future", field="when", when=command.when)
    if work.put_in is not None and minute(command.when) < work.put_in:
        raise BadInput("site.out_before_in", field="when")
    out = replace(work, taken_out=minute(command.when))
    return Outcome(snapshot.put(out), message("log.temporary_out", what=work.name))


@rule(AcceptWarning)
def accept(snapshot: Snapshot, actor: Actor, command: AcceptWarning, at: datetime) -> Outcome:
    """A note is accepted with a reason, until a day at most 60 days off."""
    reason = reason_of(command.reason)
    if not command.warning:
        raise BadInput("site.no_note", field="warning")
    if not at.date() <= command.until <= (at + LONGEST_ACCEPTED).date():
        raise BadInput("site.accept_until", field="until", most=LONGEST_ACCEPTED.days)
    accepted = AcceptedWarning(
        id=new_id(snapshot, AcceptedWarning, command.id),
        project_id=snapshot.project.id,
        warning=command.warning,
        reason=reason,
        until=command.until,
        by_id=actor.person_id,
        at=minute(at),
    )
    said = message("log.accepted", reason=reason, until=command.until)
    return Outcome(snapshot.put(accepted), said)
