"""What the layers say of the order and the chain does not: drawn, said, and mended by a press."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from server.core.refusals import Message, message
from server.core.warnings import Warning
from server.core.warnings.order import CONTRADICTED, UNDRAWN
from server.core.world import Activity, Layer, Side
from server.drawing.buildup import BuildUp
from server.drawing.layers import LayerDrawn
from server.drawing.order_arrows import arrow_mark, order_arrows
from server.drawing.order_lanes import Arrow, End
from server.drawing.pegs import PegDrawn
from server.pages.detail.looking import Looking
from server.pages.shared.buildup import pegged_layer
from server.pages.shared.layers import Standing
from server.pages.shared.notes import NotePress

ABOUT_ORDER = frozenset((UNDRAWN, CONTRADICTED))


@dataclass(frozen=True)
class OrderSaid:
    """One arrow in words, with the presses that mend the chain."""

    number: int
    mark: Markup
    sentence: str
    identity: str
    presses: tuple[NotePress, ...]


@dataclass(frozen=True)
class SideOrder:
    """A side with its arrows, and the same in words. The name is left out where one side is all."""

    name: str
    drawings: tuple[Markup, ...]
    said: tuple[OrderSaid, ...]


def about_order(warning: Warning) -> bool:
    """Whether a note is about the order that layers imply."""
    return warning.rule in ABOUT_ORDER


def order_said(looking: Looking, found: Iterable[Warning]) -> tuple[SideOrder, ...]:
    """The notes about the order, side by side, each pair of works once; nothing where none is."""
    pairs = {warning.subject: _Pair(looking, warning) for warning in reversed(tuple(found))}
    by_side: dict[str, list[_Pair]] = {}
    for pair in reversed(pairs.values()):
        by_side.setdefault(pair.layer.side_id, []).append(pair)
    snapshot = looking.snapshot
    sides = sorted((snapshot.sides[id] for id in by_side), key=lambda side: side.order)
    shown: list[SideOrder] = []
    number = 1
    for side in sides:
        here = by_side[side.id]
        shown.append(_side(looking, side, here, number, named=len(sides) > 1))
        number += len(here)
    return tuple(shown)


class _Pair:
    """What has to come first and what covers its layer, as a note names them."""

    def __init__(self, looking: Looking, warning: Warning) -> None:
        self.snapshot = looking.snapshot
        self.warning = warning
        after, before = warning.activity_ids
        self.after, self.before = self.snapshot.activities[after], self.snapshot.activities[before]
        self.layer = self.snapshot.layers[warning.layer_ids[0]]
        self.against = warning.rule == CONTRADICTED

    @property
    def cover(self) -> Layer | None:
        """The layer that the cover puts in over it on the same side, the nearest."""
        over = [
            x
            for x in self._with(self.after, "puts in")
            if x.side_id == self.layer.side_id and x.id != self.layer.id and x.ended is None
        ]
        return min(over, key=lambda x: (x.order < self.layer.order, x.order), default=None)

    def arrow(self, number: int) -> Arrow:
        """From the layer, the check or the task that comes first to the layer over it."""
        cover = self.cover
        end = End(cover.id) if cover else End(self.layer.id, task=self.after.name)
        return Arrow(number, self._start(), end, self.against)

    def said(self) -> Message:
        """The sentence; of what lies within the layer, that which the work is about is named."""
        names = {"layer": self._worked_in().name, "before": self.before.name}
        cover = self.cover
        over = cover.name if cover else message("order_said.task", task=self.after.name)
        if self.against:
            return message("order_said.contradicted", cover=over, **names)
        return message("order_said.undrawn", cover=over, **names)

    def _start(self) -> End:
        hold = self.snapshot.hold_of.get(self.before.id)
        pegged = pegged_layer(self.snapshot, hold, self.layer.side_id) if hold else None
        if hold and pegged:
            return End(pegged, hold=hold.id)
        own = self._worked_in()
        puts_in = own in self._with(self.before, "puts in")
        return End(own.id, task="" if puts_in else self.before.name)

    def _worked_in(self) -> Layer:
        """The covered layer, or the one within it that comes first is about."""
        hold = self.snapshot.hold_of.get(self.before.id)
        about = {
            *(hold.layer_ids if hold else ()),
            *(x.id for x in self._with(self.before, "puts in", "needs open")),
        }
        within = (self.layer, *self.snapshot.within.get(self.layer.id, ()))
        here = (x for x in within if x.id in about and x.side_id == self.layer.side_id)
        return next(here, self.layer)

    def _with(self, task: Activity, *verbs: str) -> list[Layer]:
        effects = self.snapshot.effects_of.get(task.id, ())
        return [self.snapshot.layers[e.layer_id] for e in effects if e.verb in verbs]


def _side(
    looking: Looking, side: Side, pairs: Sequence[_Pair], first: int, *, named: bool
) -> SideOrder:
    standing = Standing(looking.snapshot, looking.schedule, looking.words, looking.now)
    drawing = BuildUp(
        side.name, tuple(_layers(standing, side)), tuple(_pegs(looking, standing, side))
    )
    said = tuple(_said(looking, pair, number) for number, pair in enumerate(pairs, first))
    title = message("order_said.title", detail=looking.detail.name, side=side.name)
    drawn = order_arrows(
        drawing,
        [pair.arrow(number) for number, pair in enumerate(pairs, first)],
        title=looking.say(title),
        desc=" ".join(f"{one.number}. {one.sentence}" for one in said),
    )
    return SideOrder(side.name if named else "", drawn, said)


def _said(looking: Looking, pair: _Pair, number: int) -> OrderSaid:
    presses = (
        NotePress(looking.say(mend.label), "", index)
        for index, mend in enumerate(pair.warning.mends)
    )
    return OrderSaid(
        number=number,
        mark=arrow_mark(number, against=pair.against),
        sentence=looking.say(pair.said()),
        identity=pair.warning.identity,
        presses=tuple(presses),
    )


def _layers(standing: Standing, side: Side) -> Iterator[LayerDrawn]:
    here = [x for x in standing.snapshot.layers.values() if x.side_id == side.id and not x.ended]
    for layer in sorted(here, key=lambda layer: layer.order):
        yield LayerDrawn(
            id=layer.id,
            name=layer.name,
            material=layer.material,
            state=standing.state(layer),
            thickness=float(layer.thickness) if layer.thickness else 1.0,
            within=layer.within_id,
            passes_through=layer.passes_through,
        )


def _pegs(looking: Looking, standing: Standing, side: Side) -> Iterator[PegDrawn]:
    for hold in looking.snapshot.holds.values():
        if layer_id := pegged_layer(looking.snapshot, hold, side.id):
            yield PegDrawn(hold.id, layer_id, standing.peg(hold), standing.check(hold))
