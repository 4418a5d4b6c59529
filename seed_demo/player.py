"""Plays the month of the details: each happening becomes the commands that record it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from pathlib import Path

from seed_demo.happened import Answered, Came, Detail, Done, Looked
from seed_demo.house import COMPANY, FOUNDED, PEOPLE, PROJECT, SUPER
from seed_demo.photos import kept
from server.core.changes import Actor, Command
from server.core.changes.actuals import Answer, Arrive, CountOver, Finish, Order, Start
from server.core.changes.holds import (
    AddPhoto,
    CallForLook,
    LookAgain,
    Mark,
    OpenAgain,
    Reject,
    Release,
)
from server.core.changes.marking import asks_for, expected
from server.core.changes.orders import GAP
from server.core.changes.stages import CircuitDead, StageDelivery
from server.core.states import to_mark
from server.core.world import Activity, Ask, HoldPoint, Snapshot
from server.data.patterns import pattern
from server.store import Store
from server.store.ids import new_id

REWORK = 120


@dataclass(frozen=True)
class Event:
    """Something at a moment; `play` gives its commands when the moment has come."""

    at: datetime
    play: Callable[["Player"], None]


def moment(text: str) -> datetime:
    """ "11-03 07:00" of 2025."""
    return datetime.fromisoformat(f"2025-{text}")


class Player:
    """Gives commands at past moments, in the name of the people of the demo."""

    def __init__(self, store: Store, data_dir: Path) -> None:
        self.store, self.data_dir = store, data_dir
        self.at = FOUNDED
        self.commands = 0

    @property
    def now(self) -> Snapshot:
        """The house as it stands."""
        return self.store.snapshot(PROJECT)

    def give(self, who: str, *commands: Command, project: str | None = PROJECT) -> None:
        """These commands, now, by this person."""
        company = COMPANY if project is None else None
        self.store.apply(self.actor(who), project, *commands, company_id=company, at=self.at)
        self.commands += len(commands)

    def actor(self, who: str) -> Actor:
        """Somebody of the demo, as who gives a command."""
        person = PEOPLE[who]
        return Actor(person_id=who, name=person.name, role=person.role, crew_id=person.crew)

    def play(self, events: list[Event]) -> None:
        """All of it, in the order of time."""
        for event in sorted(events, key=lambda e: e.at):
            self.at = event.at
            event.play(self)

    def activity(self, detail: Detail, key: str) -> Activity:
        """The activity that was copied from this one of the pattern, whatever its name is now."""
        order = [a.key for a in pattern(detail.pattern).chain].index(key) * GAP
        return next(
            a for a in self.now.activities.values() if a.detail_id == detail.id and a.order == order
        )


def events_of(detail: Detail) -> Iterator[Event]:
    """The month of a detail."""
    for one in detail.month:
        match one:
            case Answered():
                yield _answered(detail, one)
            case Done():
                yield from _done(detail, one)
            case Came():
                yield from _came(detail, one)
            case Looked():
                yield from _looked(detail, one)


def _answered(detail: Detail, one: Answered) -> Event:
    def answer(player: Player) -> None:
        activity = player.activity(detail, one.key)
        player.give(activity.person_id or SUPER, Answer(activity_id=activity.id, answer=one.answer))

    return Event(moment(one.at), answer)


def _done(detail: Detail, one: Done) -> Iterator[Event]:
    def start(player: Player) -> None:
        activity = player.activity(detail, one.key)
        player.give(activity.crew_id or SUPER, Start(activity_id=activity.id, when=player.at))

    def finish(player: Player) -> None:
        activity = player.activity(detail, one.key)
        player.give(activity.crew_id or SUPER, Finish(activity_id=activity.id, when=player.at))

    def dead(player: Player) -> None:
        activity = player.activity(detail, one.key)
        player.give(activity.crew_id or SUPER, CircuitDead(activity_id=activity.id, when=player.at))

    if one.dead:
        yield Event(moment(one.dead), dead)
    yield Event(moment(one.start), start)
    if one.finish:
        yield Event(moment(one.finish), finish)


def _came(detail: Detail, one: Came) -> Iterator[Event]:
    def order(player: Player) -> None:
        id = player.activity(detail, one.key).id
        promised = moment(one.promised)
        player.give(SUPER, Order(activity_id=id, when=player.at, promised=promised))

    def arrive(player: Player) -> None:
        id = player.activity(detail, one.key).id
        player.give(
            SUPER, Arrive(activity_id=id, when=player.at), CountOver(activity_id=id, note=one.note)
        )

    def reached(stage: str) -> Callable[[Player], None]:
        def say(player: Player) -> None:
            id = player.activity(detail, one.key).id
            player.give(SUPER, StageDelivery(activity_id=id, stage=stage, when=player.at))

        return say

    for name, at in one.stages:
        yield Event(moment(at), reached(name))
    yield Event(moment(one.ordered), order)
    if one.arrived:
        yield Event(moment(one.arrived), arrive)


def _looked(detail: Detail, one: Looked) -> Iterator[Event]:
    def mark(player: Player) -> None:
        hold = player.now.hold_of[player.activity(detail, one.key).id]
        _mark(player, detail, hold, one)

    def decide(player: Player) -> None:
        hold = player.now.hold_of[player.activity(detail, one.key).id]
        who = hold.releases_id or SUPER
        if one.verdict == "rejected":
            player.give(
                who, Reject(hold_id=hold.id, rework_id=new_id(), reason=one.reason, rework=REWORK)
            )
        elif one.verdict == "look again":
            by = player.at.replace(hour=15, minute=30)
            player.give(who, LookAgain(hold_id=hold.id, by=by, reason=one.reason))
        else:
            inspector = "R. Abernook, town inspector" if hold.authority else ""
            player.give(who, Release(hold_id=hold.id, reason=one.reason, inspector=inspector))

    def call(player: Player) -> None:
        hold = player.now.hold_of[player.activity(detail, one.key).id]
        player.give(SUPER, CallForLook(hold_id=hold.id, called=player.at))

    def open_again(player: Player) -> None:
        hold = player.now.hold_of[player.activity(detail, one.key).id]
        player.give(SUPER, OpenAgain(hold_id=hold.id, reason=one.opened[1]))

    if one.called:
        yield Event(moment(one.called), call)
    if one.opened[0]:
        yield Event(moment(one.opened[0]), open_again)
    yield Event(moment(one.marked), mark)
    if one.decided:
        yield Event(moment(one.decided), decide)
    if one.rework[0]:
        yield from _rework(detail, one)


def _rework(detail: Detail, one: Looked) -> Iterator[Event]:
    def of(player: Player) -> Activity:
        hold = player.now.hold_of[player.activity(detail, one.key).id]
        attempts = {a.id for a in player.now.attempts_of[hold.id]}
        return next(a for a in player.now.activities.values() if a.rework_of_id in attempts)

    def start(player: Player) -> None:
        work = of(player)
        player.give(work.crew_id or SUPER, Start(activity_id=work.id, when=player.at))

    def finish(player: Player) -> None:
        work = of(player)
        player.give(work.crew_id or SUPER, Finish(activity_id=work.id, when=player.at))

    yield Event(moment(one.rework[0]), start)
    yield Event(moment(one.rework[1]), finish)


def _mark(player: Player, detail: Detail, hold: HoldPoint, one: Looked) -> None:
    """The numbers and the photos that the check asks for, by whoever marks it."""
    snapshot = player.now
    asks = asks_for(snapshot, hold, to_mark(snapshot, hold))
    numbers = {
        ask.id: one.numbers.get(str(ask.part) if ask.part else ask.label, usual(ask))
        for ask in asks
    }
    who = hold.marks_crew_id or SUPER
    name = snapshot.activities[hold.activity_id].name
    photos = []
    for asked in range(hold.photos):
        typed = list(numbers.values())[asked] if asked < len(numbers) else ""
        saved = kept(f"{detail.sheet}  {name}"[:52], f"{asked + 1}: {typed}", player.data_dir)
        photos.append(
            AddPhoto(
                id=new_id(),
                hold_id=hold.id,
                sha256=saved.sha256,
                width=saved.width,
                height=saved.height,
            )
        )
    ids = tuple(photo.id for photo in photos)
    player.give(who, *photos, Mark(id=new_id(), hold_id=hold.id, numbers=numbers, photo_ids=ids))


def usual(ask: Ask) -> str:
    """What is typed when nothing is particular about it: as it should be."""
    if ask.unit == "yes":
        return "yes"
    value = expected(ask) or Fraction(0)
    if ask.unit != "in":
        return f"{float(value):g}"
    sixteenths = round(value * 16)
    whole, rest = divmod(sixteenths, 16)
    part = f"{Fraction(rest, 16)}" if rest else ""
    return f"{whole or ''} {part}".strip() or "0"
