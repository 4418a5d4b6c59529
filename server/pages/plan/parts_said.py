"""Parts of a layer said in plain words: 1-3, 5; all but 6; the top two; the bottom bay; odd."""

import re
from collections.abc import Iterator

from server.pages.kit.forms import BadField

MOST_PART = 200
NUMBERS = dict(
    zip(
        ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"),
        range(1, 11),
        strict=True,
    )
)
_SPAN = re.compile(r"(\d{1,3})(?: ?(?:-|–|to) ?(\d{1,3}))?")
_END = re.compile(r"(bottom|first|lowest|top|last|highest)(?: (\d{1,3}|[a-z]+))?")
FROM_BOTTOM = frozenset({"bottom", "first", "lowest"})


def parts_of(typed: str, field: str, of: int, part: str) -> tuple[int, ...]:
    """The numbers that somebody said, in order; empty where nothing or all is said.

    `of` is how many parts there are (0: not known), `part` what one is called. No. 1 is the bottom,
    at the bearing end. Raises `BadField`.

    >>> parts_of("all but the bottom bay", "parts", 6, "bay"), parts_of("Top two", "parts", 6, "")
    ((2, 3, 4, 5, 6), (5, 6))
    >>> parts_of("1-3, 5", "parts", 0, ""), parts_of("even", "parts", 6, "")
    ((1, 2, 3, 5), (2, 4, 6))
    """
    plain = " ".join(typed.lower().split())
    if plain in ("", "all"):
        return ()
    but = re.fullmatch(r"all (?:but|except|save) (.+)", plain)
    if but is not None and not of:
        raise BadField("plan_form.parts_uncounted", field=field)
    said = but[1] if but else plain
    found = {
        number
        for piece in re.split(r"[,;]| and ", said)
        for number in _piece(piece.strip(), typed, field, of, part)
    }
    if of and max(found, default=0) > of:
        raise BadField("plan_form.parts_beyond", field=field, parts=of)
    numbers = {*range(1, of + 1)} - found if but else found
    if not numbers:
        raise BadField("plan_form.parts_none", field=field)
    return tuple(sorted(numbers))


def _piece(piece: str, typed: str, field: str, of: int, part: str) -> Iterator[int]:
    """The numbers of one piece between commas."""
    words = [word for word in piece.split() if word not in _left_out(part)]
    plain = " ".join(words)
    if (span := _SPAN.fullmatch(plain)) is not None:
        first, last = int(span[1]), int(span[2] or span[1])
        if 1 <= first <= last <= MOST_PART:
            yield from range(first, last + 1)
            return
    end = _END.fullmatch(plain)
    many = _count(end[2]) if end else None
    if plain in ("odd", "even") or many is not None:
        if not of:
            raise BadField("plan_form.parts_uncounted", field=field)
        if end is None:
            yield from range(1 if plain == "odd" else 2, of + 1, 2)
            return
        assert many is not None
        if many > of:
            raise BadField("plan_form.parts_beyond", field=field, parts=of)
        yield from range(1, many + 1) if end[1] in FROM_BOTTOM else range(of - many + 1, of + 1)
        return
    raise BadField("plan_form.parts", field=field, typed=typed[:40])


def _count(said: str | None) -> int | None:
    """How many, as a number or a word; one where nothing is said, None for anything else."""
    if said is None:
        return 1
    if said.isdecimal():
        return int(said) or None
    return NUMBERS.get(said)


def _left_out(part: str) -> frozenset[str]:
    """Words that say nothing more: the article, "No." and what a part is called."""
    name = part.lower().split()
    called = {form for word in name for form in (word, f"{word}s", f"{word}es", f"{word}.")}
    return frozenset({"the", "no.", "no", "nos.", "number", "numbers", "part", "parts", *called})
