"""The standing cautions that concern a detail: those of every stair, and those of its own work."""

from collections.abc import Iterator

from server.core.refusals import Message, message
from server.core.world import Activity, Snapshot

SCAFFOLDS = frozenset({"scaffold", "deck"})


def cautions_of(snapshot: Snapshot, detail_id: str) -> Iterator[Message]:
    """What stands on the sheet of a detail whatever else does not fit."""
    chain = snapshot.chain_of(detail_id)
    layers = [x for x in snapshot.layers.values() if x.detail_id == detail_id and not x.ended]
    yield message("sheet.caution_design")
    yield message("sheet.caution_falls", scaffold=_stands_on_scaffold(snapshot, chain))
    if any(a.circuit for a in chain) or any(x.powered for x in layers):
        yield message("sheet.caution_electric")
    if any(a.hot for a in chain):
        yield message("sheet.caution_hot")
    if any(a.overhead for a in chain):
        yield message("sheet.caution_overhead")
    if any(a.stuff or a.wet for a in chain):
        yield message("sheet.caution_wet")
    if any(a.dirty for a in chain):
        yield message("sheet.caution_dust")


def _stands_on_scaffold(snapshot: Snapshot, chain: tuple[Activity, ...]) -> bool:
    works = (snapshot.temporary.get(a.temporary_id or "") for a in chain)
    return any(work is not None and work.kind in SCAFFOLDS for work in works)
