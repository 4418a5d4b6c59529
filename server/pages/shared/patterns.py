"""The patterns a company can choose from: its own, and those that ship with the program."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from server.core.patterns import Pattern
from server.core.refusals import Message, Value, message
from server.core.world import OwnPattern, Snapshot
from server.data.pattern_reading import read_pattern
from server.data.patterns import all_patterns, text_of
from server.data.tables import BadFile


@dataclass(frozen=True)
class Known:
    """A pattern under its id. `own` is the company's row of it, None where it ships.

    What was kept by another version may not be read any more; then `pattern` is None and `wrong`
    says why.
    """

    id: str
    name: str
    own: OwnPattern | None
    pattern: Pattern | None
    wrong: Message | None = None

    @property
    def text(self) -> str:
        """Its file."""
        return self.own.text if self.own else text_of(self.id)


def own_patterns(snapshot: Snapshot) -> tuple[Known, ...]:
    """The company's own patterns, by name."""
    standing = [own for own in snapshot.own_patterns.values() if own.ended is None]
    return tuple(sorted(map(_known, standing), key=lambda known: known.name.casefold()))


def shipped_patterns() -> tuple[Known, ...]:
    """The patterns that ship, by name."""
    return tuple(Known(one.id, one.name, None, one) for one in all_patterns())


def known_pattern(snapshot: Snapshot, id: str) -> Known | None:
    """The pattern with this id that this company can choose, or None."""
    own = snapshot.own_patterns.get(id)
    if own is not None:
        return _known(own) if own.ended is None else None
    return next((known for known in shipped_patterns() if known.id == id), None)


def wrong_file(error: BadFile, text: str) -> Message:
    """What is wrong with a file: its line, as it stands there, and field."""
    said = text.split("\n")[error.line - 1].strip() if error.line <= text.count("\n") + 1 else ""
    where: dict[str, Value] = {"line": error.line, "what": error.field, "why": error.why}
    if not said:
        return message("patterns.wrong_file", **where)
    return message("patterns.wrong_line", **where, said=said[:60] + "…" * (len(said) > 60))


def named_in(text: str, snapshot: Snapshot) -> Iterator[str]:
    """The names and phone numbers of the company's crews and people that stand in a text."""
    said = text.casefold()
    names = [
        name for crew in snapshot.crews.values() for name in (crew.name, crew.foreman, crew.phone)
    ]
    names += [name for one in snapshot.people.values() for name in (one.name, one.phone)]
    yield from (name for name in names if len(name) > 2 and name.casefold() in said)


def _known(own: OwnPattern) -> Known:
    found = _read(own.text)
    if isinstance(found, BadFile):
        return Known(own.id, own.name, own, None, wrong_file(found, own.text))
    return Known(own.id, own.name, own, replace(found, id=own.id))


@lru_cache(maxsize=128)
def _read(text: str) -> Pattern | BadFile:
    try:
        return read_pattern(text, "")
    except BadFile as error:
        return error
