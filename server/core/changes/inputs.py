"""What people type into plain forms, checked: names, texts, reasons, numbers, chosen things."""

from collections.abc import Container, Iterable, Iterator
from datetime import datetime
from typing import TypeVar

from server.core.changes.base import Gone
from server.core.refusals import Refusal
from server.core.world import TABLES, Noun, Snapshot

LONGEST_NAME = 120
LONGEST_TEXT = 2000

N = TypeVar("N", bound=Noun)


class BadInput(Refusal):
    """Something typed or chosen in a form that cannot be taken; `field` says which."""


def name_of(text: str, field: str = "name", longest: int = LONGEST_NAME) -> str:
    """A name without space around it or doubled inside; refused when empty or too long."""
    name = " ".join(text.split())
    if not name:
        raise BadInput("input.no_name", field=field)
    if len(name) > longest:
        raise BadInput("input.long_name", field=field, longest=longest)
    return name


def text_of(text: str, field: str, longest: int = LONGEST_TEXT) -> str:
    """A text that may be empty; refused when too long."""
    text = text.strip()
    if len(text) > longest:
        raise BadInput("input.long_text", field=field, longest=longest)
    return text


def reason_of(text: str, field: str = "reason") -> str:
    """A reason, which has to be given."""
    reason = text_of(text, field)
    if not reason:
        raise BadInput("input.no_reason", field=field)
    return reason


def whole(number: int, least: int, most: int, field: str) -> int:
    """A whole number within its limits."""
    if not least <= number <= most:
        raise BadInput("input.number_outside", field=field, least=least, most=most)
    return number


def one_of(text: str, known: Container[str], field: str) -> str:
    """A choice out of those there are."""
    if text not in known:
        raise BadInput("input.not_a_choice", field=field, chosen=text)
    return text


def not_taken(name: str, others: Iterable[str], field: str = "name") -> str:
    """A name that nothing else of its kind has, in whatever case."""
    if name.casefold() in {other.casefold() for other in others}:
        raise BadInput("input.name_taken", field=field, name=name)
    return name


def new_id(snapshot: Snapshot, noun: type[Noun], id: str) -> str:
    """The id of a new row; refused when empty or in use."""
    if not id or id in snapshot.table(noun):
        raise BadInput("input.id_taken", field="id")
    return id


def there(snapshot: Snapshot, noun: type[N], id: str, field: str) -> N:
    """The thing chosen in a field, which has to exist and not be ended."""
    found = snapshot.table(noun).get(id)
    if found is None or getattr(found, "ended", None) is not None:
        raise Gone("change.gone", field=field, what=TABLES[noun])
    return found


def there_or_none(snapshot: Snapshot, noun: type[N], id: str | None, field: str) -> N | None:
    """The same where nothing may be chosen."""
    return there(snapshot, noun, id, field) if id else None


def near(when: datetime, at: datetime, field: str, years: int = 10) -> datetime:
    """A moment within some years of now; another is a slip in the year."""
    if abs(when.year - at.year) > years:
        raise BadInput("input.far_off", field=field, when=when)
    return when


def ids_after(base: str, taken: Container[str] = ()) -> Iterator[str]:
    """Ids for the rows that come with another: its id and a number in base 32, none in use."""
    number = 0
    while True:
        number += 1
        id = base + _base32(number)
        if id not in taken:
            yield id


def _base32(number: int) -> str:
    letters = "abcdefghijklmnopqrstuvwxyz234567"
    text = ""
    while number:
        number, digit = divmod(number, len(letters))
        text = letters[digit] + text
    return text
