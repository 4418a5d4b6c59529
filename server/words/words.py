"""One language: messages and typed values said as plain text. Whoever prints it escapes it."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, time, timedelta
from enum import Enum
from fractions import Fraction
from functools import lru_cache
from pathlib import Path

from babel import Locale
from babel.numbers import format_decimal

from server.core.refusals import Message, Value, message
from server.words import dates, numbers
from server.words.catalogue import ROOT, Catalogue, load
from server.words.template import ONE_OF, Slot

FALLBACK = "en"
CLOCK_DAY = 24 * 60
WORK_DAY = 8 * 60
# Where plain English is meant, days and numbers are written the American way.
LOCALES = {"en": "en-US", "es": "es-US"}


class Words:
    """The words of one language.

    An id that the language lacks is said in English, whole. An id that English lacks, a value
    that the template names and the message has not, or a value that cannot be said the way the
    template asks: these are mistakes in the program and raise.
    """

    def __init__(self, language: str = FALLBACK, root: Path = ROOT) -> None:
        self.language = language
        self.root = root
        self.catalogue: Catalogue = load(language, root)
        self.locale = Locale.parse(LOCALES.get(language, language), sep="-")

    def say(self, message: Message, *, now: date | None = None) -> str:
        """The sentence for a message. `now` lets days be said as today, or without their year.

        Raises `LookupError` for an unknown id or a missing value, `TypeError` for a value of the
        wrong type.

        >>> from server.core.refusals import message
        >>> Words().say(message("when.tomorrow_at", clock=time(7)))
        'tomorrow 7 am'
        """
        pieces = self.catalogue.templates.get(message.id)
        if pieces is None:
            if self.language == FALLBACK:
                raise LookupError(f"no words for the message id {message.id!r}")
            return words(FALLBACK, self.root).say(message, now=now)
        said: list[str] = []
        for piece in pieces:
            if isinstance(piece, Slot):
                said.append(self._slot(piece, message, now))
            else:
                said.append(piece)
        return "".join(said)

    def knows(self, id: str) -> bool:
        """Whether this language, or English for it, has words for the id."""
        return id in self.catalogue.texts or id in load(FALLBACK, self.root).texts

    def value(self, value: Value, *, now: date | None = None) -> str:
        """A value said by its type alone.

        >>> Words().value(("Ana", "Li", datetime(2026, 12, 4, 7)))
        'Ana, Li and Fri Dec 4, 7 am'
        """
        match value:
            case None:
                return self.say(message("value.none"))
            case bool():
                return self.say(message("value.yes" if value else "value.no"))
            case Enum():
                return str(value.value)
            case str() | int():
                return str(value)
            case float():
                return numbers.decimal(Fraction(value), self.locale)[0]
            case Fraction():
                return self._number(value)
            case Message():
                return self.say(value, now=now)
            case tuple():
                return self.listed([self.value(one, now=now) for one in value])
        return self._time_value(value, now)

    def day(self, day: date, now: date | None = None) -> str:
        """A day, with its year only when that is another than now's and not near."""
        return self.dated(day) if dates.needs_year(day, now) else self._day(day, "pattern.day")

    def dated(self, day: date) -> str:
        """A day with its year, always."""
        return self._day(day, "pattern.day_year")

    def clock(self, at: time | datetime) -> str:
        """A time of day; minutes only when there are some; 12 noon is noon."""
        at = at.time() if isinstance(at, datetime) else at
        if (at.hour, at.minute) == (12, 0):
            return self._text("pattern.noon")
        pattern = "pattern.clock_minutes" if at.minute else "pattern.clock"
        return dates.clock(at, self._text(pattern), self.locale)

    def moment(self, at: datetime, now: date | None = None) -> str:
        """A day and a time of day."""
        return self.say(message("when.at", day=self.day(at, now), clock=self.clock(at)))

    def when(self, at: date, now: date | None) -> str:
        """A day or a moment seen from now: yesterday, today and tomorrow by name.

        >>> Words().when(datetime(2026, 12, 4, 10, 40), datetime(2026, 12, 4, 7))
        'today 10:40 am'
        """
        apart = (dates.day_of(at) - dates.day_of(now)).days if now else None
        near = (
            {-1: "yesterday", 0: "today", 1: "tomorrow"}.get(apart) if apart is not None else None
        )
        if isinstance(at, datetime):
            if near:
                return self.say(message(f"when.{near}_at", clock=self.clock(at)))
            return self.moment(at, now)
        return self.say(message(f"when.{near}")) if near else self.day(at, now)

    def span(self, time: timedelta | int, day: int = CLOCK_DAY) -> str:
        """A stretch of time. An int is minutes; `day` is how many of them make a day.

        >>> Words().span(timedelta(hours=2)), Words().span(240, WORK_DAY), Words().span(3 * 1440)
        ('2 h', '1/2 day', '3 days')
        """
        minutes = round(time.total_seconds() / 60) if isinstance(time, timedelta) else time
        if minutes < 0:
            return "-" + self.span(-minutes, day)
        # Half days are how visits are counted; half of 24 hours is no half day to anybody.
        if day == WORK_DAY and minutes % day == day // 2:
            days = minutes // day
            return self.say(message("span.days_half", n=days) if days else message("span.half_day"))
        if day == CLOCK_DAY and day < minutes < 2 * day:
            day = 2 * CLOCK_DAY
        days, rest = divmod(minutes, day)
        hours, left = divmod(rest, 60)
        parts = [
            self.say(part)
            for part, n in (
                (message("span.days", n=days), days),
                (message("span.hours", n=hours), hours),
                (message("span.minutes", n=left), left),
            )
            if n
        ]
        return " ".join(parts) or self.say(message("span.days", n=0))

    def length(self, value: Fraction, unit: str) -> str:
        """A measured number with its unit; "about" when the shown digits are not all of it.

        >>> Words().length(Fraction(577, 16), "in"), Words().length(Fraction(17, 2), "%")
        ('36 1/16 in', '8.5%')
        """
        return self._number(value, unit)

    def listed(self, items: Sequence[str], joint: str = "and") -> str:
        """Several things in one row: "a, b and c"."""
        if len(items) < 2:
            return items[0] if items else self.say(message("value.none"))
        first = self._text("list.comma").join(items[:-1])
        return self.say(message(f"list.{joint}", first=first, last=items[-1]))

    def count(self, n: int, forms: str) -> str:
        """A number and the form of its noun that the language puts after it.

        >>> Words().count(1, "photo|photos"), Words().count(3, "photo|photos")
        ('1 photo', '3 photos')
        """
        one, *others = forms.split("|")
        chosen = one if self.locale.plural_form(abs(n)) == "one" else others[-1]
        return f"{format_decimal(n, locale=self.locale)} {chosen}"

    def _slot(self, slot: Slot, whole: Message, now: date | None) -> str:
        values: Mapping[str, Value] = whole.values
        if slot.name not in values:
            raise LookupError(f"the message {whole.id!r} lacks the value {slot.name!r}")
        value, spec = values[slot.name], slot.spec
        if not spec:
            return self.value(value, now=now)
        if "|" in spec and isinstance(value, bool):
            return spec.split("|")[0 if value else 1]
        if "|" in spec and isinstance(value, int):
            return self.count(value, spec)
        if spec.startswith("@") and isinstance(value, (Fraction, int)):
            return self.length(Fraction(value), str(values[spec[1:]]))
        if spec.startswith(ONE_OF) and isinstance(value, str):
            plain = value.value if isinstance(value, Enum) else value
            return self.say(message(f"{spec[len(ONE_OF) :].strip()}.{plain}"), now=now)
        if spec == "or" and isinstance(value, tuple):
            return self.listed([self.value(one, now=now) for one in value], "or")
        return self._time(value, spec, whole, now)

    def _time_value(self, value: date | time | timedelta, now: date | None) -> str:
        match value:
            case datetime():
                return self.moment(value, now)
            case date():
                return self.day(value, now)
            case time():
                return self.clock(value)
            case timedelta():
                return self.span(value)
        raise TypeError(f"cannot say a value of type {type(value).__name__}")

    def _time(self, value: Value, spec: str, whole: Message, now: date | None) -> str:
        if spec == "when" and isinstance(value, date):
            return self.when(value, now)
        if spec == "day" and isinstance(value, date):
            return self.day(value, now)
        if spec == "dated" and isinstance(value, date):
            return self.dated(value)
        if spec == "clock" and isinstance(value, (time, datetime)):
            return self.clock(value)
        if spec in ("span", "work") and isinstance(value, (int, timedelta)):
            return self.span(value, CLOCK_DAY if spec == "span" else WORK_DAY)
        raise TypeError(f"the message {whole.id!r} cannot say {value!r} as {spec!r}")

    def _number(self, value: Fraction, unit: str | None = None) -> str:
        # Only a tape and bare counts are read in fractions; scales and meters show decimals.
        tape = numbers.mixed(value) if unit in (None, "in", "ft") else None
        text, exact = (tape, True) if tape else numbers.decimal(value, self.locale)
        said = self.say(message(f"unit.{unit}", n=text)) if unit else text
        return said if exact else self.say(message("value.about", value=said))

    def _day(self, day: date, pattern: str) -> str:
        return dates.day(day, self._text(pattern), self.locale)

    def _text(self, id: str) -> str:
        texts = self.catalogue.texts
        return texts[id] if id in texts else load(FALLBACK, self.root).texts[id]


@lru_cache
def words(language: str = FALLBACK, root: Path = ROOT) -> Words:
    """The words of a language, read once."""
    return Words(language, root)


def say(message: Message, language: str = FALLBACK, *, now: date | None = None) -> str:
    """A message as a sentence in a language. See `Words.say`."""
    return words(language).say(message, now=now)
