"""What the page of a detail's dates shows."""

from dataclasses import dataclass
from datetime import datetime

from server.pages.kit import Form
from server.pages.shared.opened import Opened


@dataclass(frozen=True)
class PromiseRow:
    """An activity with its forecast and its promised finish."""

    name: str
    forecast: datetime
    promised: datetime | None
    done: bool


@dataclass(frozen=True)
class PromisePage:
    """Forecast dates beside the promised ones, to be agreed."""

    form: Form
    detail_id: str
    detail: str
    round: int
    finish: datetime
    promised: datetime | None
    rows: tuple[PromiseRow, ...]


def promise_page(opened: Opened, form: Form) -> PromisePage:
    """The dates of a detail, forecast and promised."""
    snapshot, schedule = opened.snapshot, opened.schedule
    agreed = [a for a in snapshot.agreed.values() if a.detail_id == opened.detail_id]
    newest = max((a.round for a in agreed), default=0)
    promised = {a.activity_id: a.finish for a in agreed if a.round == newest}
    rows = tuple(
        PromiseRow(
            name=a.name,
            forecast=schedule[a.id].early_finish,
            promised=promised.get(a.id),
            done=a.id in schedule.done,
        )
        for a in snapshot.chain_of(opened.detail_id)
    )
    return PromisePage(
        form=form,
        detail_id=opened.detail_id,
        detail=snapshot.details[opened.detail_id].name,
        round=newest,
        finish=max((row.forecast for row in rows), default=opened.now),
        promised=max(promised.values(), default=None),
        rows=rows,
    )
