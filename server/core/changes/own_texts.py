"""What the company keeps as the text of a file under a name: its own patterns, its own limits."""

from dataclasses import replace
from typing import TypeVar

from server.core.changes.inputs import BadInput, name_of, not_taken, there
from server.core.world import OwnLimits, OwnPattern, Snapshot

T = TypeVar("T", OwnPattern, OwnLimits)


def own_text(
    snapshot: Snapshot,
    noun: type[T],
    id: str,
    name: str,
    text: str,
    *,
    most: int,
    largest: int,
    too_many: str,
) -> T:
    """The text under its name, new or in place of the one with this id.

    At most `most` of them stand, each of at most `largest` bytes; `too_many` is the message id of
    one too many. Raises `BadInput`, and `Gone` where the one with this id is ended.
    """
    kept = snapshot.table(noun)
    known = there(snapshot, noun, id, "id") if id in kept else None
    standing = [one for one in kept.values() if one.ended is None]
    if known is None and len(standing) >= most:
        raise BadInput(too_many, most=most)
    if len(text.encode("utf-8", "surrogatepass")) > largest:
        raise BadInput("patterns.too_large", field="text", most=largest // 1024)
    if not id or not text.strip():
        raise BadInput("input.no_name", field="text")
    return replace(
        known or noun(id=id, company_id=snapshot.company.id, name="", text=""),
        name=not_taken(name_of(name), (one.name for one in standing if one.id != id)),
        text=text,
    )
