"""Column types for values that no database has: exact fractions, and tuples as JSON text."""

import json
from datetime import date
from fractions import Fraction
from functools import lru_cache
from typing import Any

from sqlalchemy import Dialect, Text
from sqlalchemy.types import TypeDecorator

_fraction = lru_cache(maxsize=4096)(Fraction)  # the same few limits and readings come again


class FractionText(TypeDecorator[Fraction]):
    """A fraction as "577/16"."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: Fraction | None, dialect: Dialect) -> str | None:
        return None if value is None else str(value)

    def process_result_value(self, value: str | None, dialect: Dialect) -> Fraction | None:
        return None if value is None else _fraction(value)


class _JsonTuple(TypeDecorator[tuple[Any, ...]]):
    impl = Text
    cache_ok = True

    def process_bind_param(self, value: tuple[Any, ...] | None, dialect: Dialect) -> str | None:
        return None if value is None else json.dumps(value)

    def process_result_value(self, value: str | None, dialect: Dialect) -> tuple[Any, ...] | None:
        if value == "[]":  # most of them are empty
            return ()
        return None if value is None else tuple(json.loads(value))


class Texts(_JsonTuple):
    """A tuple of texts, mostly ids."""

    cache_ok = True


class Numbers(_JsonTuple):
    """A tuple of whole numbers, mostly parts."""

    cache_ok = True


class Dates(_JsonTuple):
    """A tuple of days."""

    cache_ok = True

    def process_bind_param(self, value: tuple[Any, ...] | None, dialect: Dialect) -> str | None:
        return None if value is None else json.dumps([day.isoformat() for day in value])

    def process_result_value(self, value: str | None, dialect: Dialect) -> tuple[Any, ...] | None:
        return None if value is None else tuple(date.fromisoformat(d) for d in json.loads(value))
