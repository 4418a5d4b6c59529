"""The decisions of a house: what is owed by whom by when, and what has been answered."""

from dataclasses import dataclass
from datetime import datetime

from server.core.refusals import message
from server.core.world import Activity, Person
from server.core.world.hours import working_days
from server.pages.shared.opened import Opened
from server.pages.shared.reach import Reach, in_a_sentence, reach
from server.pages.site.needing import ForWork, works_for
from server.people.viewer import Viewer
from server.words import words as words_of


@dataclass(frozen=True)
class Owed:
    """A decision that nobody has answered: by when, by whom, and how they are reached."""

    id: str
    detail_id: str
    name: str
    detail: str
    by: datetime
    said: str
    overdue: bool
    who: str
    title: str
    call: Reach | None
    works: tuple[ForWork, ...]


@dataclass(frozen=True)
class Answered:
    """A decision with its answer."""

    name: str
    detail: str
    href: str
    answer: str
    said: str


@dataclass(frozen=True)
class DecisionsPage:
    """What is owed, worst first; what is answered, the newest first."""

    project_id: str
    house: str
    owed: tuple[Owed, ...]
    answered: tuple[Answered, ...]
    overdue: int


def decisions_page(opened: Opened, viewer: Viewer) -> DecisionsPage:
    """All decisions of the house. The viewer is not asked to call themselves."""
    asked = [a for a in opened.snapshot.chain if a.kind == "decision"]
    owed = [_owed(opened, viewer, a) for a in asked if a.finished is None]
    answered = sorted(
        ((a.finished, a) for a in asked if a.finished is not None),
        key=lambda pair: pair[0],
        reverse=True,
    )
    return DecisionsPage(
        project_id=opened.project_id,
        house=opened.snapshot.project.name,
        owed=tuple(sorted(owed, key=lambda row: row.by)),
        answered=tuple(_answered(opened, a, at) for at, a in answered),
        overdue=sum(row.overdue for row in owed),
    )


def _owed(opened: Opened, viewer: Viewer, decision: Activity) -> Owed:
    snapshot, words = opened.snapshot, opened.words
    person = snapshot.people.get(decision.person_id or "")
    by = opened.schedule[decision.id].late_finish
    overdue = by < opened.status
    days = working_days(snapshot, by.date(), opened.now.date())
    said = message("decisions.by", by=by.date())
    if overdue:
        said = message("decisions.was_by" if days else "decisions.by_today", by=by, days=days)
    nobody = words.say(message("decisions.nobody"))
    return Owed(
        id=decision.id,
        detail_id=decision.detail_id,
        name=decision.name,
        detail=snapshot.details[decision.detail_id].name,
        by=by,
        said=words.say(said, now=opened.now),
        overdue=overdue,
        who=person.name if person else nobody,
        title=person.title if person else "",
        call=_call(opened, decision, person, by) if person != viewer.person else None,
        works=tuple(works_for(opened, decision, frozenset(snapshot.details))),
    )


def _call(opened: Opened, decision: Activity, person: Person | None, by: datetime) -> Reach | None:
    """How whoever owes it is reached, with a question in their language."""
    if person is None or person.ended is not None:
        return None
    detail = opened.snapshot.details[decision.detail_id].name
    late = by < opened.status
    ask = message(
        "decisions.sms_late" if late else "decisions.sms",
        what=decision.name,
        detail=in_a_sentence(detail),
        by=by,
    )
    return reach(person.phone, words_of(person.language).say(ask, now=opened.now))


def _answered(opened: Opened, decision: Activity, at: datetime) -> Answered:
    person = opened.snapshot.people.get(decision.person_id or "")
    said = message("decisions.answered_at", at=at)
    if person:
        said = message("decisions.answered_by", at=at, who=person.name)
    return Answered(
        name=decision.name,
        detail=opened.snapshot.details[decision.detail_id].name,
        href=f"/d/{decision.detail_id}/a/{decision.id}",
        answer=decision.answer,
        said=opened.words.say(said, now=opened.now),
    )
