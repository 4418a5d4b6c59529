"""The patterns that ship with the program."""

from functools import cache
from pathlib import Path

from server.core.patterns import Pattern
from server.data.pattern_reading import read_pattern

FOLDER = Path(__file__).parent / "patterns"


@cache
def all_patterns() -> tuple[Pattern, ...]:
    """Every pattern that ships with the program, by name."""
    files = sorted(FOLDER.glob("*.toml"))
    read = (read_pattern(file.read_text("utf-8"), file.name) for file in files)
    return tuple(sorted(read, key=lambda pattern: pattern.name))


def pattern(id: str) -> Pattern:
    """The pattern with this id; `LookupError` if there is none."""
    for found in all_patterns():
        if found.id == id:
            return found
    raise LookupError(f"no pattern {id!r}")


@cache
def text_of(id: str) -> str:
    """The file of the pattern with this id, as it ships; `LookupError` if there is none."""
    pattern(id)
    files = (file.read_text("utf-8") for file in sorted(FOLDER.glob("*.toml")))
    return next(text for text in files if read_pattern(text, id).id == id)
