"""Values as JSON text and back, with their types: for the log, for answers, and for comparing.

Text, numbers, truth values and None are themselves; a tuple is a list; everything else is an
object with one letter that says what it is. The same value always gives the same text.
"""

import json
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from typing import Any, cast

from server.core.refusals import Message
from server.core.world import TABLES, Difference, Noun

_BY_TABLE: Mapping[str, type[Noun]] = {name: noun for noun, name in TABLES.items()}


def encode(value: object) -> str:
    """The text of a value. Raises TypeError for a type that it does not know.

    >>> encode((Fraction(1, 16), "in"))
    '[{"f":"1/16"},"in"]'
    """
    return json.dumps(_plain(value), separators=(",", ":"))


def decode(text: str) -> Any:
    """The value of a text that `encode` gave."""
    return _typed(json.loads(text))


def encode_differences(found: tuple[Difference, ...]) -> str:
    """The rows that a change touched, each before and after."""
    return json.dumps(
        [[_noun_plain(d.before), _noun_plain(d.after)] for d in found], separators=(",", ":")
    )


def decode_differences(text: str) -> tuple[Difference, ...]:
    """What `encode_differences` was given."""
    return tuple(Difference(_noun(b), _noun(a)) for b, a in json.loads(text))


def _plain(value: object) -> object:
    match value:
        case None | str() | bool() | int() | float():
            return value
        case Fraction():
            return {"f": str(value)}
        case datetime():
            return {"t": value.isoformat()}
        case date():
            return {"d": value.isoformat()}
        case time():
            return {"c": value.isoformat()}
        case timedelta():
            return {"s": [value.days, value.seconds, value.microseconds]}
        case Message():
            return {"m": [value.id, _plain(value.values)]}
        case tuple() | list():
            return [_plain(item) for item in value]
        case set() | frozenset():
            return {"u": sorted((_plain(item) for item in value), key=str)}
        case Mapping():
            pairs = [[_plain(key), _plain(item)] for key, item in value.items()]
            return {"o": sorted(pairs, key=lambda pair: str(pair[0]))}
    if is_dataclass(value):
        named = {f.name: getattr(value, f.name) for f in fields(value)}
        return {"n": [type(value).__name__, _plain(named)]}
    raise TypeError(f"{type(value).__name__} has no text: {value!r}")


def _typed(plain: Any) -> Any:
    if isinstance(plain, list):
        return tuple(_typed(item) for item in plain)
    if not isinstance(plain, dict):
        return plain
    [(kind, inner)] = plain.items()
    match kind:
        case "f":
            return Fraction(inner)
        case "t":
            return datetime.fromisoformat(inner)
        case "d":
            return date.fromisoformat(inner)
        case "c":
            return time.fromisoformat(inner)
        case "s":
            return timedelta(*inner)
        case "m":
            return Message(inner[0], _typed(inner[1]))
        case "o":
            return {_typed(key): _typed(item) for key, item in inner}
    raise ValueError(f"{kind!r} is not read back: it is only written to compare")


def _noun_plain(noun: Noun | None) -> object:
    if noun is None:
        return None
    row = {f.name: _plain(getattr(noun, f.name)) for f in fields(noun)}
    return [TABLES[type(noun)], row]


def _noun(plain: Any) -> Noun | None:
    if plain is None:
        return None
    table, row = plain
    make = cast(Any, _BY_TABLE[table])
    # the log is older than the nouns: a fact that they have no more is not read
    known = {f.name for f in fields(make)}
    return cast(Noun, make(**{n: _typed(value) for n, value in row.items() if n in known}))
