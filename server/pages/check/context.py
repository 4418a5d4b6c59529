"""What the page of a check shows, built from the snapshot for one viewer."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from markupsafe import Markup

from server.core.refusals import message
from server.core.world import Person
from server.drawing.pegs import peg_mark
from server.pages.check.asking import Asking, may_call, may_mark, may_release
from server.pages.check.attempts import AttemptShown, attempts_shown, name_of
from server.pages.check.deciding import DecideForm, decide_form
from server.pages.check.marking import MarkForm, mark_form
from server.pages.check.numbers import Group, groups_of, tag_said
from server.pages.kit import Form
from server.pages.shared.coming import hidden_by, when
from server.pages.shared.layers import PEGS
from server.pages.shared.tied_figure import TiedFigure, tied_figure

FORMS = ("mark", "release", "again", "reject", "open", "call")


@dataclass(frozen=True)
class CheckPage:
    """The page. `forms` holds each form as it was sent last, empty ones else."""

    hold_id: str
    name: str
    detail_id: str
    detail: str
    sheet: str
    state: str
    stands: str
    peg: Markup
    last_look: str
    hides: str
    hides_id: str
    hides_detail_id: str
    what: str
    facts: tuple[tuple[str, str], ...]
    tag: str
    note: str
    asked: tuple[Group, ...]
    photos_asked: int
    mark: MarkForm | None
    decide: DecideForm | None
    current: AttemptShown | None
    earlier: tuple[AttemptShown, ...]
    receipt: str
    whose: str
    phone: str
    may_open: bool
    may_call: bool
    called: str
    drawings: tuple[str, ...]
    figure: TiedFigure | None
    forms: Mapping[str, Form] = field(default_factory=dict)


def check_page(asking: Asking, pushes: Mapping[str, str]) -> CheckPage:
    """The page of a check; `pushes` says of each press what it would move."""
    snapshot, hold, words = asking.snapshot, asking.hold, asking.words
    activity = snapshot.activities[hold.activity_id]
    detail = snapshot.details[activity.detail_id]
    attempts = attempts_shown(snapshot, hold, words, asking.now)
    hiding = hidden_by(snapshot, asking.schedule, hold) if asking.state != "released" else None
    looks = _looks(asking)
    return CheckPage(
        hold_id=hold.id,
        name=activity.name,
        detail_id=detail.id,
        detail=detail.name,
        sheet=detail.sheet,
        state=asking.state,
        stands=_stands(asking),
        peg=peg_mark(PEGS[asking.state]),
        last_look=when(words, hiding.coming.shown, asking.now) if hiding else "",
        hides=hiding.work.name if hiding else "",
        hides_id=hiding.work.id if hiding else "",
        hides_detail_id=hiding.work.detail_id if hiding else "",
        what=hold.what,
        facts=_facts(asking),
        tag=tag_said(hold.tag, words),
        note=activity.note,
        asked=groups_of(snapshot.asks_of.get(hold.id, ()), hold.part_name, {}, words, {}),
        photos_asked=hold.photos,
        mark=mark_form(asking),
        decide=decide_form(asking, pushes),
        current=attempts[-1] if attempts else None,
        earlier=tuple(reversed(attempts[:-1])),
        receipt=attempts[-1].outcome if attempts and asking.state == "released" else "",
        whose=_whose(asking),
        phone=looks.phone if looks and looks.id != asking.actor.person_id else "",
        may_open=asking.state == "released" and may_release(asking),
        may_call=may_call(asking),
        called=when(words, hold.called, asking.now) if hold.called else "",
        drawings=tuple(
            f"{s.number} {s.revision}" for s in snapshot.sheets.values()
            if s.detail_id == detail.id and s.replaced_id is None
        ),
        figure=tied_figure(snapshot, hold.id),
        forms={name: asking.form(name) for name in FORMS},
    )  # fmt: skip


def _stands(asking: Asking) -> str:
    attempt = asking.attempt
    if attempt is not None and asking.state == "marked":
        who = name_of(asking.snapshot, attempt.marked_by_id)
        said = message(
            "check.marked_by", who=who, when=when(asking.words, attempt.marked_at, asking.now)
        )
        return asking.say(said)
    return asking.say(message("build_up.state", state=asking.state))


def _facts(asking: Asking) -> tuple[tuple[str, str], ...]:
    hold, words = asking.hold, asking.words
    marks_crew = asking.snapshot.crews.get(hold.marks_crew_id or "")
    rows = (
        ("check.from", hold.datum),
        ("check.tool", hold.tool),
        ("check.marks", marks_crew.name if marks_crew else ""),
        ("check.looks", _looks_said(asking)),
        ("check.notice", words.span(hold.notice) if hold.notice else ""),
        ("check.source", hold.source),
    )
    return tuple((id, said) for id, said in rows if said)


def _looks(asking: Asking) -> Person | None:
    return asking.snapshot.people.get(asking.hold.releases_id or "")


def _looks_said(asking: Asking) -> str:
    looks = _looks(asking)
    if looks is not None:
        return f"{looks.name}, {looks.title}" if looks.title else looks.name
    return asking.say(message("check.authority" if asking.hold.authority else "check.super"))


def _whose(asking: Asking) -> str:
    """Whose turn it is, where it is not the viewer's."""
    if asking.state == "marked" and not may_release(asking):
        return asking.say(message("check.waits_for", who=_looks_said(asking)))
    crew = asking.snapshot.crews.get(asking.hold.marks_crew_id or "")
    if asking.state != "marked" and asking.state != "released" and not may_mark(asking) and crew:
        return asking.say(message("check.waits_for_mark", who=crew.name))
    return ""
