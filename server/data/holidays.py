"""Public holidays of countries and their states, worked out by the package `holidays`.

Where a holiday falls on a weekend and another day is kept for it by law, that day is one too. Only
days that are free as a whole: what is half a day is told apart, because nobody but the builder
knows which hours are then worked.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

import holidays
from babel import Locale, UnknownLocaleError
from babel.core import get_global

ENGLISH = "en_US"
BEFORE, AFTER = 1, 6
FROM_START = 5
USUAL = "US"


@dataclass(frozen=True)
class Holiday:
    """A day and its name, in English where the package knows it, else as the country says it."""

    day: date
    name: str


@lru_cache
def countries() -> tuple[tuple[str, str], ...]:
    """The countries known, each as its ISO 3166 code and its English name, by name."""
    names = Locale("en").territories
    codes = holidays.list_supported_countries(include_aliases=False)
    return tuple(sorted(((code, names.get(code, code)) for code in codes), key=lambda c: c[1]))


@lru_cache
def states(country: str) -> tuple[tuple[str, str], ...]:
    """The states or provinces of a country with holidays of their own, as code and name, by name.

    Empty for an unknown country. The name is the code where the package has no other.
    """
    if country not in dict(countries()):
        return ()
    known = holidays.country_holidays(country)
    names: dict[str, str] = {}
    for name, code in getattr(known, "subdivisions_aliases", {}).items():
        if code not in names or len(names[code]) <= 3 < len(name):
            names[code] = name
    found = ((code, names.get(code, code)) for code in known.subdivisions)
    return tuple(sorted(found, key=lambda state: state[1]))


def is_place(country: str, state: str = "") -> bool:
    """Whether there is such a country, and such a state in it if one is named."""
    return country in dict(countries()) and (not state or state in dict(states(country)))


def place_name(place: str) -> str:
    """A place in words.

    >>> place_name("US-MA"), place_name("IE")
    ('Massachusetts, United States', 'Ireland')
    """
    country, _, state = place.partition("-")
    name = dict(countries()).get(country, country)
    return f"{dict(states(country)).get(state, state)}, {name}" if state else name


def holidays_in(country: str, state: str, years: Iterable[int]) -> tuple[Holiday, ...]:
    """The days free by law in these years, with those kept for one on a weekend; in order."""
    return _found(country, state, tuple(years), "public")


def half_days_in(country: str, state: str, years: Iterable[int]) -> tuple[Holiday, ...]:
    """The days that are free by law for a part only."""
    known = holidays.country_holidays(country)
    if "half_day" not in known.supported_categories:
        return ()
    return _found(country, state, tuple(years), "half_day")


def years_around(today: date, starts: Iterable[date]) -> range:
    """The years to keep holidays for: around today, and around the starts of houses."""
    first = min((today.year, *(start.year for start in starts))) - BEFORE
    last = max((today.year + AFTER, *(start.year + FROM_START for start in starts)))
    return range(first, last + 1)


def country_of_zone(time_zone: str) -> str:
    """The country of a time zone; the United States where there is none."""
    country = str(get_global("zone_territories").get(time_zone, USUAL))
    return country if is_place(country) else USUAL


def first_weekday(country: str) -> int:
    """The weekday (0 is Monday) with which a month is written there.

    >>> first_weekday("US"), first_weekday("DE")
    (6, 0)
    """
    try:
        return Locale.parse(f"und_{country}").first_week_day
    except UnknownLocaleError:
        return 0


@lru_cache(maxsize=64)
def _found(country: str, state: str, years: tuple[int, ...], category: str) -> tuple[Holiday, ...]:
    languages = holidays.country_holidays(country).supported_languages
    found = holidays.country_holidays(
        country,
        subdiv=state or None,
        years=years,
        language=ENGLISH if ENGLISH in languages else None,
        categories=category,
    )
    return tuple(Holiday(day, name) for day, name in sorted(found.items()))
