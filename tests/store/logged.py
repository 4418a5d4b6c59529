"""The log of a whole company, as no page asks for it."""

from collections.abc import Sequence
from typing import Any

from sqlalchemy import Row, select

from server.core.world import Difference
from server.store import Store, log
from server.store.tables import LOG


def company_entries(store: Store, company_id: str) -> Sequence[Row[Any]]:
    """The changes in a company and all its projects, newest first."""
    chosen = select(LOG).where(LOG.c.company_id == company_id)
    with store.reading() as connection:
        return connection.execute(chosen.order_by(LOG.c.company_revision.desc())).all()


def rows_of(store: Store, id: str) -> tuple[Difference, ...]:
    """The rows that one change touched, before and after."""
    with store.reading() as connection:
        return log.rows_of(connection, id)
