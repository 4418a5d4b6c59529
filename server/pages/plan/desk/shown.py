"""The desk of a detail, made from its snapshot, with what was refused in its place."""

from collections.abc import Sequence

from server.core.promises import last_of
from server.core.refusals import Message
from server.core.schedule import Schedule
from server.core.warnings import Warning, find
from server.core.world import Activity, Side, Snapshot
from server.core.world.clock import status_of
from server.drawing.notes import hexagon
from server.pages.plan.activity_form import KINDS, day_of
from server.pages.plan.context import TAGS, layers_of_detail
from server.pages.plan.desk import layer_cells
from server.pages.plan.desk.cells import COLUMNS, Cells
from server.pages.plan.desk.context import (
    LABELS,
    LAYER_LABELS,
    NEW,
    OF_ONE_KIND,
    SHORT,
    Cell,
    Desk,
    LayerShown,
    NewRow,
    Refused,
    RowShown,
    SideEdited,
)
from server.pages.shared.buildup import SideShown, sides_shown
from server.pages.shared.notes import notes_shown
from server.pages.shared.opened import Opened
from server.pages.shared.undoing import UndoShown
from server.words import Words


def standing_of(opened: Opened) -> str:
    """What a desk is made of, as an ETag: other revisions or another status, another tag."""
    at = opened.snapshot
    return f'"{at.company_revision}.{at.project_revision}.{status_of(opened.now):%m%dT%H%M}"'


def desk(
    opened: Opened,
    undo: UndoShown,
    refused: Refused | None = None,
    whole: tuple[Message, ...] = (),
) -> Desk:
    """The desk of the detail that is open, with what was refused in its place."""
    return _Drawn(opened, refused or Refused("")).desk(undo, whole)


class _Drawn:
    def __init__(self, opened: Opened, refused: Refused) -> None:
        self.opened = opened
        self.snapshot: Snapshot = opened.snapshot
        self.schedule: Schedule = opened.schedule
        self.words: Words = opened.words
        self.refused = refused
        self.cells = Cells(self.snapshot, opened.detail_id)

    def desk(self, undo: UndoShown, whole: tuple[Message, ...]) -> Desk:
        snapshot, schedule, id = self.snapshot, self.schedule, self.opened.detail_id
        detail, chain = snapshot.details[id], snapshot.chain_of(id)
        last = last_of(snapshot, schedule, id)
        names, ids = snapshot.activities, {a.id for a in chain}
        warnings = find(snapshot, schedule, detail_id=id, plan=True)
        return Desk(
            detail_id=id,
            name=detail.name,
            sheet=detail.sheet,
            house_id=self.opened.project_id,
            house=snapshot.project.name,
            finish=schedule[last.id].early_finish if last else None,
            last_id=last.id if last else "",
            house_finish=schedule.finish,
            too_long=tuple(
                f"{names[d.after].name} cannot start as soon after {names[d.before].name}"
                " as it should."
                for d in schedule.too_long
                if d.after in ids
            ),
            columns=tuple((column, LABELS[column]) for column in COLUMNS),
            kinds=tuple(KINDS.items()),
            rows=tuple(self._row(n, a, warnings) for n, a in enumerate(chain, 1)),
            new=self._new(),
            sides=self._sides(),
            side_typed=self.refused.typed.get("side", ""),
            side_wrong=self.refused.wrong.get("side", ()),
            notes=notes_shown(self.opened, warnings),
            undo=undo,
            whole=whole,
            project_id=self.opened.project_id,
            back=f"/d/{id}/plan",
            standing=standing_of(self.opened),
        )

    def _row(self, number: int, a: Activity, warnings: Sequence[Warning]) -> RowShown:
        dates = self.schedule[a.id]
        start, finish = (self.words.day(d.date(), self.opened.now)
                         for d in (dates.early_start, dates.early_finish))  # fmt: skip
        numbered = (
            (n, hexagon(n, w.bad)) for n, w in enumerate(warnings, 1) if a.id in w.activity_ids
        )
        return RowShown(
            id=a.id,
            number=number,
            kind=a.kind,
            kind_said=SHORT[a.kind],
            name=a.name,
            called=self.cells.after_words.names.labels[a.id],
            cells={
                column: self._cell(a.id, column, label_of(a.kind, column), text)
                for column, text in self.cells.texts(a).items()
            },
            dates=start if start == finish else f"{start} to {finish}",
            spare=self._spare(a),
            sets_finish=dates.critical,
            done=a.finished is not None,
            beside=self._beside(a),
            notes=tuple(numbered),
        )

    def _spare(self, a: Activity) -> str:
        dates = self.schedule[a.id]
        if a.finished is not None or dates.critical or dates.total_float <= 0:
            return ""
        day, spare = day_of(a.kind), dates.total_float
        return f"{self.words.span(spare - spare % day if spare > day else spare, day)} to spare"

    def _beside(self, a: Activity) -> dict[str, tuple[str, ...]]:
        """What stands under the cells: what it opens up or needs open, where a number is from."""
        said: dict[str, tuple[str, ...]] = {}
        if a.work and a.tag in TAGS:
            said["takes"] = (TAGS[a.tag],)
        for verb, column in (("needs open", "puts_in"), ("opens", "hides")):
            if layers := self.cells.effects_written(a, verb):
                said[column] = (f"{'opens up' if verb == 'opens' else verb} {layers}",)
        return said

    def _cell(self, id: str, column: str, label: str, saved: str, prefix: str = "i") -> Cell:
        mine = self.refused.id == id
        typed = self.refused.typed.get(column, saved) if mine else saved
        wrong = self.refused.wrong.get(column, ()) if mine else ()
        return Cell(f"{prefix}-{id}-{column}", column, label, saved, typed, wrong)

    def _new(self) -> NewRow:
        mine = self.refused.typed if self.refused.id == NEW else {}
        chain = self.snapshot.chain_of(self.opened.detail_id)
        above = self.cells.after_words.names.labels[chain[-1].id] if chain else ""
        start = {"after": above}
        return NewRow(
            cells={c: self._cell(NEW, c, LABELS[c], start.get(c, "")) for c in COLUMNS},
            kind=mine.get("kind", "task"),
            behind=mine.get("behind_id", ""),
        )

    def _sides(self) -> tuple[SideEdited, ...]:
        opened = self.opened
        drawn = {
            side.id: side
            for side in sides_shown(
                self.snapshot, self.schedule, opened.detail_id, self.words, opened.now, press=True
            )
        }
        sides = (s for s in self.snapshot.sides.values() if s.detail_id == opened.detail_id)
        return tuple(self._side(side, drawn.get(side.id)) for side in sides)

    def _side(self, side: Side, drawn: SideShown | None) -> SideEdited:
        layers = [
            x for x in layers_of_detail(self.snapshot, side.detail_id) if x.side_id == side.id
        ]
        new = f"{NEW}-{side.id}"
        return SideEdited(
            id=side.id,
            name=side.name,
            drawn=drawn,
            layers=tuple(
                LayerShown(
                    x.id,
                    self.cells.layers.labels[x.id],
                    {
                        c: self._cell(x.id, c, LAYER_LABELS[c], text, "l")
                        for c, text in layer_cells.texts(self.snapshot, x).items()
                    },
                )
                for x in reversed(layers)
            ),
            new=LayerShown(
                new, "", {c: self._cell(new, c, LAYER_LABELS[c], "", "l") for c in LAYER_LABELS}
            ),
            new_wrong=self.refused.wrong.get("", ()) if self.refused.id == new else (),
        )


def label_of(kind: str, column: str) -> str:
    """What a cell of this kind is called."""
    return OF_ONE_KIND.get((kind, column), LABELS[column])
