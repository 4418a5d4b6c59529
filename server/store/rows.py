"""The difference between two snapshots, written: one way for every noun."""

from collections.abc import Iterable, Sequence
from dataclasses import fields
from typing import Any

from sqlalchemy import Connection, bindparam, delete, insert, update

from server.core.world import Company, DayFinish, Difference, Noun, Project, Snapshot
from server.store.tables import NOUNS

Row = dict[str, Any]


def write(connection: Connection, found: Iterable[Difference], company_id: str) -> None:
    """Inserts, updates and deletes the rows that differ.

    References are looked at when the transaction commits, so the order does not matter.
    """
    added: dict[type[Noun], list[Row]] = {}
    changed: dict[type[Noun], list[Row]] = {}
    gone: dict[type[Noun], list[Row]] = {}
    for difference in found:
        before, after = difference.before, difference.after
        if after is None:
            assert before is not None
            gone.setdefault(type(before), []).append({"of_id": before.id})
        elif before is None:
            added.setdefault(type(after), []).append(_new_row(after, company_id))
        else:
            changed.setdefault(type(after), []).append(_row(after) | {"of_id": after.id})
    for noun, rows in gone.items():
        table = NOUNS[noun]
        connection.execute(delete(table).where(table.c.id == bindparam("of_id")), rows)
    for noun, rows in changed.items():
        connection.execute(_UPDATES[noun], rows)
    for noun, rows in added.items():
        connection.execute(insert(NOUNS[noun]), rows)


def details_of(found: Iterable[Difference], worlds: Sequence[Snapshot]) -> tuple[str, ...]:
    """The ids of the details that the rows belong to; `worlds` are before and after.

    The finishes of past evenings are kept along with any change, so they say nothing of it.
    """
    ids = set()
    for difference in found:
        for noun in (difference.before, difference.after):
            if noun is None or isinstance(noun, DayFinish):
                continue
            if (id := _detail_of(noun, worlds)) is not None:
                ids.add(id)
    return tuple(sorted(ids))


_OWNERS = {
    "activity_id": "activities",
    "before_id": "activities",
    "hold_id": "holds",
    "attempt_id": "attempts",
    "temporary_id": "temporary",
}


def _detail_of(noun: Noun, worlds: Sequence[Snapshot]) -> str | None:
    if NOUNS[type(noun)].name == "detail":
        return noun.id
    detail_id: str | None = getattr(noun, "detail_id", None)
    if detail_id is not None:
        return detail_id
    owners = [(table, getattr(noun, name, None)) for name, table in _OWNERS.items()]
    owners += [("activities", id) for id in getattr(noun, "activity_ids", ())[:1]]
    for table, id in owners:
        for world in worlds:
            owner = getattr(world, table).get(id) if id is not None else None
            if owner is not None:
                return _detail_of(owner, worlds)
    return None


def _row(noun: Noun) -> Row:
    return {f.name: getattr(noun, f.name) for f in fields(noun)}


def _new_row(noun: Noun, company_id: str) -> Row:
    row = _row(noun)
    if isinstance(noun, (Company, Project)):
        row["revision"] = 0
    if not isinstance(noun, Company):
        row["company_id"] = company_id
    return row


def _update(noun: type[Noun]) -> Any:
    table = NOUNS[noun]
    names = [f.name for f in fields(noun) if f.name not in {"id", "company_id", "project_id"}]
    values: Row = {name: bindparam(name) for name in names}
    return update(table).where(table.c.id == bindparam("of_id")).values(values)


# Built once: it takes longer than to run them.
_UPDATES = {noun: _update(noun) for noun in NOUNS}
