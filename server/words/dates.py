"""Days and clock times in a language's own short form.

Names of days and months come from CLDR; the compact patterns stand in the words files, in CLDR's
pattern letters, because CLDR's own short forms are not what people write on a wall.
"""

from datetime import date, datetime, time, timedelta

from babel import Locale
from babel.dates import format_date, format_time

# A day this near is clear without its year, even across New Year.
NEAR = timedelta(days=90)


def needs_year(day: date, now: date | None) -> bool:
    """Whether a day must be said with its year: another year than now's, and not near.

    >>> needs_year(date(2027, 1, 8), date(2026, 12, 4)), needs_year(date(2025, 6, 2), None)
    (False, False)
    >>> needs_year(date(2025, 6, 2), date(2026, 12, 4))
    True
    >>> needs_year(datetime(2026, 1, 8, 7, 0), date(2025, 12, 3))
    False
    """
    if now is None:
        return False
    today = day_of(now)
    return day.year != today.year and abs(day_of(day) - today) > NEAR


def day_of(moment: date) -> date:
    """The day of a moment; a day is its own."""
    return moment.date() if isinstance(moment, datetime) else moment


def day(day: date, pattern: str, locale: Locale) -> str:
    """A day by a CLDR pattern.

    >>> day(date(2026, 12, 4), "EEE MMM d", Locale("en", "US"))
    'Fri Dec 4'
    """
    return format_date(day_of(day), format=pattern, locale=locale)


def clock(at: time, pattern: str, locale: Locale) -> str:
    """A time of day by a CLDR pattern, in small letters.

    >>> clock(time(7), "h a", Locale("en", "US"))
    '7 am'
    """
    return format_time(at.replace(tzinfo=None), format=pattern, locale=locale).lower()
