"""A check's numbers beside those of a figure, and what happens when they are taken."""

from collections.abc import Iterable
from dataclasses import dataclass

from server.core.changes.plan import AskFacts
from server.core.changes.rules_kept_figures import figure_of_check
from server.core.measure.units import LENGTHS
from server.core.refusals import message
from server.core.states import live_attempts
from server.core.world import Ask, HoldPoint, KeptFigure, Snapshot
from server.pages.check.numbers import tolerance
from server.pages.figures.numbers import Numbers
from server.words import Words


@dataclass(frozen=True)
class Beside:
    """One number: which, as the check asks for it, as the figure gives it ("–" where not)."""

    label: str
    now: str
    then: str

    @property
    def other(self) -> bool:
        """Whether taking the figure's numbers changes it."""
        return self.now != self.then


@dataclass(frozen=True)
class Compared:
    """A check beside a figure. `asks` is all that it asks for once the numbers are taken."""

    hold_id: str
    check: str
    href: str
    rows: tuple[Beside, ...]
    asks: tuple[AskFacts, ...]
    datum: str
    datum_now: str
    released: bool
    other_figure: str

    @property
    def changes(self) -> bool:
        """Whether anything would be other than it is."""
        return any(row.other for row in self.rows) or self.datum != self.datum_now


def compared(
    snapshot: Snapshot, kept: KeptFigure, hold: HoldPoint, numbers: Numbers, words: Words
) -> Compared:
    """The check as it is beside the check with the figure's numbers.

    Its lengths are the figure's to say; questions and other numbers stay behind them.
    """
    now = snapshot.asks_of.get(hold.id, ())
    stay = tuple(AskFacts.of(ask) for ask in now if ask.unit not in LENGTHS)
    asks = (*numbers.asks, *stay)
    other = figure_of_check(snapshot, hold.id)
    activity = snapshot.activities[hold.activity_id]
    states = {attempt.state for attempt in live_attempts(snapshot, hold)}
    return Compared(
        hold_id=hold.id,
        check=activity.name,
        href=f"/h/{hold.id}",
        rows=tuple(_rows(now, asks, hold, words)),
        asks=asks,
        datum=numbers.datum or hold.datum,
        datum_now=hold.datum,
        released="released" in states,
        other_figure=other.name if other is not None and other.id != kept.id else "",
    )


def _rows(
    now: Iterable[Ask], then: Iterable[AskFacts], hold: HoldPoint, words: Words
) -> Iterable[Beside]:
    old = {(ask.label, ask.part): _said(ask, words) for ask in now}
    new = {(ask.label, ask.part): _said(_row(ask, hold), words) for ask in then}
    for label, part in dict.fromkeys((*new, *old)):
        said = label if part is None else f"{label}, {hold.part_name} {part}"
        yield Beside(said, old.get((label, part), "–"), new.get((label, part), "–"))


def _said(ask: Ask, words: Words) -> str:
    """The tolerances of a number; what is only asked for is said as that."""
    return tolerance(ask, words) or words.say(message("kept_figures.asked"))


def _row(ask: AskFacts, hold: HoldPoint) -> Ask:
    """The row that it would be, to be said like those there are."""
    return Ask(
        id="",
        project_id=hold.project_id,
        hold_id=hold.id,
        order=0,
        **vars(ask),
    )
