"""One sentence with named places for values, as it stands in a words file.

`{name}` says a value by its type. After a colon stands how to say it:

    {n:photo|photos}    a count and its noun ("1 photo", "3 photos"); for a bool, one of the two
    {at:when}           a moment or day seen from now ("today 10:40 am"); also day, clock, dated
    {minutes:span}      clock minutes ("36 h"); {minutes:work} working minutes ("1/2 day")
    {value:@unit}       a number in the unit that the value `unit` names ("36 1/16 in")
    {state:one of hold} the words filed under `hold.` and the value ("hold.released")
    {names:or}          a list joined by "or" instead of "and"

Values are never looked into: a name that contains braces is said as it is.
"""

from dataclasses import dataclass
from string import Formatter

PLAIN_SPECS = frozenset({"", "when", "day", "clock", "dated", "span", "work", "or"})
ONE_OF = "one of "


@dataclass(frozen=True)
class Slot:
    """A place in a template: which value goes there and how it is said."""

    name: str
    spec: str


Template = tuple[str | Slot, ...]


class BadTemplate(ValueError):
    """A words file holds a template that cannot be read."""


def parse(text: str) -> Template:
    """The pieces of a template, in order.

    >>> parse("{who} sent {n:photo|photos}")
    (Slot(name='who', spec=''), ' sent ', Slot(name='n', spec='photo|photos'))
    """
    pieces: list[str | Slot] = []
    try:
        parsed = list(Formatter().parse(text))
    except ValueError as reason:
        raise BadTemplate(f"{text!r}: {reason}") from reason
    for literal, name, spec, conversion in parsed:
        if literal:
            pieces.append(literal)
        if name is None:
            continue
        if not name.isidentifier() or conversion or not _known(spec or ""):
            raise BadTemplate(f"{text!r}: cannot read the place {{{name}:{spec}}}")
        pieces.append(Slot(name, spec or ""))
    return tuple(pieces)


def _known(spec: str) -> bool:
    if "{" in spec:
        return False
    return (
        spec in PLAIN_SPECS
        or spec.count("|") >= 1
        or (spec.startswith("@") and spec[1:].isidentifier())
        or (spec.startswith(ONE_OF) and bool(spec[len(ONE_OF) :].strip()))
    )
