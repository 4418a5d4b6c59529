"""How a sheet of paper says days: it hangs there tomorrow too, so no day is "tomorrow"."""

from datetime import date, datetime
from functools import lru_cache

from server.words import Words


class OnPaper(Words):
    """The words of a language with every day by its date."""

    def when(self, at: date, now: date | None) -> str:
        """A day or a moment by its date, never as today or tomorrow."""
        return self.moment(at, now) if isinstance(at, datetime) else self.day(at, now)


@lru_cache
def on_paper(language: str) -> OnPaper:
    """The words of a language for paper, read once."""
    return OnPaper(language)
