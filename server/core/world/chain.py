"""The chain of a detail: activities, dependencies, and what a task does to layers."""

from dataclasses import dataclass
from datetime import datetime

from server.core.world.noun import OfProject


@dataclass(frozen=True, kw_only=True)
class Activity(OfProject):
    """One of five kinds: "task", "wait", "hold", "delivery", "decision".

    `work`, `low`, `high`, `remaining` are minutes: working time of its calendar, clock time for a
    wait, lead time for a delivery. `person_id` is who owes a decision. `calendar_id` is None for
    the crew's own (or the site's). `tag` says where its number comes from: "P" common practice,
    "M" from memory, "" the company's own. `anyway` keeps the reason why it was started although
    something before it was open. `ended` takes it out of the chain and keeps what it left.
    """

    detail_id: str
    order: int
    kind: str
    name: str
    work: int = 0
    low: int | None = None
    high: int | None = None
    tag: str = ""
    note: str = ""
    crew_id: str | None = None
    with_crew_ids: tuple[str, ...] = ()
    person_id: str | None = None
    place_id: str | None = None
    calendar_id: str | None = None
    not_before: datetime | None = None
    finish_by: datetime | None = None
    one_day: bool = False
    # facts of a task
    overhead: bool = False
    wet: bool = False
    dirty: bool = False
    hot: bool = False
    heavy: bool = False
    opens_way_id: str | None = None
    closes_way_id: str | None = None
    edge: str = ""
    """"" or "opens" or "closes": an open edge or floor hole."""
    closes_place: bool = False
    finish_wood: bool = False
    """Finish wood is brought or fitted."""
    shakes: bool = False
    """Nailing, heavy loading or cutting that is felt in what carries it."""
    stuff: str = ""
    """Of wet work or a wait: "lime", "cement", "gypsum", "compound", "adhesive", "grout"."""
    fire_watch: bool = False
    """Hot work with a fire watch and what is near protected."""
    circuit: str = ""
    """The circuit in the opened wall or channel that is worked in."""
    circuit_dead: datetime | None = None
    """When that circuit was recorded dead."""
    temporary: str = ""
    """"sets", "strikes" or "stands on" the temporary work `temporary_id`."""
    temporary_id: str | None = None
    way_in_id: str | None = None
    """The way that a long piece has to come in by."""
    sample_id: str | None = None
    """The decision that accepts the sample it must match."""
    sheet_id: str | None = None
    """The drawing a check, template or order is made to."""
    carries_datum: bool = False
    """Moves the line or benchmark it is measured from to where it can still be seen."""
    measured_from_id: str | None = None
    """The layer a template, order or check is measured from."""
    # delivery
    review: int = 0
    """Clock minutes that drawing it up, review and approval take before it can be ordered."""
    measured: datetime | None = None
    drawn: datetime | None = None
    approved: datetime | None = None
    shipped: datetime | None = None
    ordered: datetime | None = None
    promised: datetime | None = None
    counted: datetime | None = None
    """Counted and looked over on site."""
    # decision
    answer: str = ""
    # what happened
    started: datetime | None = None
    finished: datetime | None = None
    remaining: int | None = None
    remaining_at: datetime | None = None
    """When somebody said how much remains; it runs down in working time from then."""
    anyway: str = ""
    rework_of_id: str | None = None
    """The attempt whose rejection made this task."""
    ended: datetime | None = None
    ended_reason: str = ""

    @property
    def crew_ids(self) -> tuple[str, ...]:
        """The crews that do it: its own first, then those that work with it."""
        return tuple(id for id in (self.crew_id, *self.with_crew_ids) if id)


@dataclass(frozen=True, kw_only=True)
class Dependency(OfProject):
    """`before_id` before `after_id`: type "FS", "SS", "FF", "SF"; lag and `most` in minutes."""

    before_id: str
    after_id: str
    type: str = "FS"
    lag: int = 0
    lag_on: str = "clock"
    most: int | None = None
    tag: str = ""


@dataclass(frozen=True, kw_only=True)
class Effect(OfProject):
    """What a task does to a layer, all of it or some parts.

    It "puts in", "covers" or "opens" it, or "needs open": it works inside, and has to be done
    before the layer is covered.
    """

    activity_id: str
    layer_id: str
    verb: str
    parts: tuple[int, ...] = ()
