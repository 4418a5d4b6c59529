"""The build-up of a detail, side by side, drawn from the snapshot and said in words as well."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from markupsafe import Markup

from server.core.schedule import Schedule
from server.core.world import Activity, HoldPoint, Layer, Side, Snapshot
from server.drawing.buildup import BuildUp, build_up_svg
from server.drawing.layers import LayerDrawn
from server.drawing.notes import NoteLeader
from server.drawing.pegs import PegDrawn
from server.pages.shared.layers import Standing
from server.words.words import Words


@dataclass(frozen=True)
class SideShown:
    """One side of a detail: its drawing, the same small, and what the drawing says, in words."""

    id: str
    name: str
    drawing: Markup
    small: Markup
    lines: tuple[str, ...]


def sides_shown(
    snapshot: Snapshot,
    schedule: Schedule,
    detail_id: str,
    words: Words,
    now: datetime,
    notes: Sequence[NoteLeader] = (),
    *,
    press: bool = False,
) -> tuple[SideShown, ...]:
    """The sides of a detail that have layers, the one that is next first.

    `press`: the layers of the large drawings can be pressed.
    """
    drawer = _Drawer(snapshot, schedule, detail_id, words, now, press=press)
    return tuple(
        SideShown(
            side.id,
            side.name,
            drawer.drawn(side, notes),
            drawer.drawn(side, small=True),
            drawer.lines(side),
        )
        for side in drawer.sides()
    )


def small_build_up(
    snapshot: Snapshot, schedule: Schedule, detail_id: str, words: Words, now: datetime
) -> Markup:
    """The side of a detail that is next, small; nothing where it has no layers."""
    drawer = _Drawer(snapshot, schedule, detail_id, words, now)
    return Markup().join(drawer.drawn(side, small=True) for side in drawer.sides()[:1])


def next_in(snapshot: Snapshot, schedule: Schedule, detail_id: str) -> Activity | None:
    """The task that puts in the next layer: of those not started, the earliest."""
    waiting = [
        a
        for a in snapshot.chain_of(detail_id)
        if a.started is None and a.finished is None and _puts_in(snapshot, a)
    ]
    return min(waiting, key=lambda a: (schedule[a.id].early_start, a.order), default=None)


def pegged_layer(snapshot: Snapshot, hold: HoldPoint, side_id: str) -> str | None:
    """The layer at whose room side a check stands: the outermost of those it looks at there.

    A layer that lies within another has no room side of its own: its host's counts.
    """
    looked_at = [layer for id in hold.layer_ids if (layer := snapshot.layers.get(id))]
    hosts = [snapshot.layers.get(layer.within_id or "", layer) for layer in looked_at]
    here = [x for x in hosts if x.side_id == side_id and x.ended is None]
    return max(here, key=lambda layer: layer.order).id if here else None


def _puts_in(snapshot: Snapshot, activity: Activity) -> tuple[str, ...]:
    effects = snapshot.effects_of.get(activity.id, ())
    return tuple(e.layer_id for e in effects if e.verb == "puts in")


class _Drawer:
    """Draws the sides of one detail as they stand now."""

    def __init__(
        self,
        snapshot: Snapshot,
        schedule: Schedule,
        detail_id: str,
        words: Words,
        now: datetime,
        *,
        press: bool = False,
    ) -> None:
        self.press = press
        self.snapshot = snapshot
        self.detail = snapshot.details[detail_id]
        task = next_in(snapshot, schedule, detail_id)
        self.next_layers = _puts_in(snapshot, task) if task else ()
        self.standing = Standing(snapshot, schedule, words, now, self.next_layers)
        self.holds = [h for a in snapshot.chain_of(detail_id) if (h := snapshot.hold_of.get(a.id))]
        self._said: dict[str, tuple[str, ...]] = {}

    def sides(self) -> list[Side]:
        """The sides with layers, in order, those with the next layer before the others."""
        layers = [x for x in self.snapshot.layers.values() if x.ended is None]
        filled = {layer.side_id for layer in layers}
        first = {layer.side_id for layer in layers if layer.id in self.next_layers}
        sides = [
            s for s in self.snapshot.sides.values()
            if s.detail_id == self.detail.id and s.id in filled
        ]  # fmt: skip
        return sorted(sides, key=lambda side: (side.id not in first, side.order))

    def drawn(self, side: Side, notes: Sequence[NoteLeader] = (), *, small: bool = False) -> Markup:
        """The drawing of a side; the words it is said in go into it for screen readers."""
        layers = tuple(self._layer(layer) for layer in self._layers(side))
        pegs, press = self._pegs(side, link=not small), self.press and not small
        drawing = BuildUp(side.name, layers, pegs, tuple(notes), press)
        title = self.standing.title(self.detail, side)
        return build_up_svg(drawing, title=title, desc=" ".join(self.lines(side)), small=small)

    def lines(self, side: Side) -> tuple[str, ...]:
        """A sentence for each layer from the bearing side to the room side, then for each check."""
        if side.id not in self._said:
            layers = tuple(self.standing.sentence(layer) for layer in self._layers(side))
            pegs = tuple(f"{peg.label}." for peg in self._pegs(side, link=False))
            self._said[side.id] = layers + pegs
        return self._said[side.id]

    def _layers(self, side: Side) -> list[Layer]:
        layers = [x for x in self.snapshot.layers.values() if x.side_id == side.id and not x.ended]
        return sorted(layers, key=lambda layer: layer.order)

    def _layer(self, layer: Layer) -> LayerDrawn:
        parts = self.standing.parts(layer)
        return LayerDrawn(
            id=layer.id,
            name=layer.name,
            material=layer.material,
            state=self.standing.state(layer),
            thickness=float(layer.thickness) if layer.thickness else 1.0,
            thickness_text=self.standing.size(layer),
            who_text=self.standing.who(layer),
            next=layer.id in self.next_layers,
            within=layer.within_id,
            passes_through=layer.passes_through,
            parts=parts if len({part.state for part in parts}) > 1 else (),
        )

    def _pegs(self, side: Side, *, link: bool) -> tuple[PegDrawn, ...]:
        return tuple(
            PegDrawn(
                hold_id=hold.id,
                after_layer=layer_id,
                state=self.standing.peg(hold),
                label=self.standing.check(hold),
                href=f"/h/{hold.id}" if link else "",
            )
            for hold in self.holds
            if (layer_id := pegged_layer(self.snapshot, hold, side.id))
        )
