"""Things called by their names, as people type them: whole, begun, or by a few of their words."""

import difflib
import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from functools import cached_property
from operator import itemgetter

from server.pages.kit.forms import BadField

NEAR = 3


class Names:
    """What can be named in one cell: id -> label, in the order in which they are offered."""

    def __init__(self, labels: Mapping[str, str]) -> None:
        self.labels = dict(labels)

    @cached_property
    def _folded(self) -> dict[str, str]:
        return {id: folded(label) for id, label in self.labels.items()}

    def exact(self, typed: str) -> str | None:
        """The id of what is called just that, if it is only one."""
        return _only(id for id, label in self._folded.items() if label == folded(typed))

    def knows(self, typed: str) -> bool:
        """Whether something is called just that."""
        return self.exact(typed) is not None

    def begins(self, typed: str) -> bool:
        """Whether the name of something begins just so."""
        wanted = folded(typed)
        return bool(wanted) and any(label.startswith(wanted) for label in self._folded.values())

    def likely(self, typed: str) -> tuple[str, ...]:
        """The ids of what may be meant, the likeliest first; all of them where nothing is typed.

        What begins with the typed words comes before what has them as beginnings of its words in
        that order, and that before what has them anywhere.
        """
        wanted = folded(typed)
        ranks = ((_rank(wanted, label), id) for id, label in self._folded.items())
        found = [(rank, id) for rank, id in ranks if rank is not None]
        return tuple(id for _, id in sorted(found, key=itemgetter(0)))

    def find(self, typed: str, field: str) -> str:
        """The id of what is meant.

        Raises `BadField`, naming what is near, if nothing or more than one thing may be meant.
        """
        known = self.exact(typed)
        if known is not None:
            return known
        wanted = folded(typed)
        ranks = {id: _rank(wanted, label) for id, label in self._folded.items()}
        best = min((r for r in ranks.values() if r is not None), default=None)
        meant = [id for id, rank in ranks.items() if rank is not None and rank == best]
        if len(meant) == 1 and wanted:
            return meant[0]
        said = tuple(f"“{self.labels[id]}”" for id in (meant or self._near(wanted))[:NEAR])
        which = "desk.which" if meant else "desk.nothing_near" if not said else "desk.not_known"
        raise BadField(which, field=field, typed=typed[:60], near=said)

    def _near(self, wanted: str) -> list[str]:
        of = {label: id for id, label in self._folded.items()}
        return [of[label] for label in difflib.get_close_matches(wanted, of, n=NEAR, cutoff=0.5)]


def folded(text: str) -> str:
    """Small letters without accents, one space between words and after a comma.

    >>> folded("  Café   TABLE,new ")
    'cafe table, new'
    """
    plain = unicodedata.normalize("NFKD", text.casefold())
    bare = "".join(c for c in plain if not unicodedata.combining(c))
    return " ".join(bare.replace(",", ", ").split()).replace(" ,", ",")


def pieces(text: str, known: Callable[[str], bool]) -> tuple[str, ...]:
    """What is listed in a cell, apart at commas, semicolons and ends of lines outside brackets.

    A comma inside something that is `known` belongs to it: the longest such piece counts.

    >>> pieces("Board, Blocking (1-3, 5)", lambda name: False)
    ('Board', 'Blocking (1-3, 5)')
    >>> pieces("Lath, Board, second layer", lambda name: name == "Board, second layer")
    ('Lath', 'Board, second layer')
    """
    found: list[str] = []
    for line in re.split(r"[;\n](?![^(]*\))", text):
        rest = [piece.strip() for piece in re.split(r",(?![^(]*\))", line) if piece.strip()]
        while rest:
            whole = (n for n in range(len(rest), 1, -1) if known(", ".join(rest[:n])))
            count = next(whole, 1)
            found.append(", ".join(rest[:count]))
            rest = rest[count:]
    return tuple(found)


def _rank(wanted: str, label: str) -> int | None:
    if label.startswith(wanted):
        return 0
    words = re.findall(r"[^\s(]+", label)
    at = 0
    for part in wanted.split():
        while at < len(words) and not words[at].startswith(part):
            at += 1
        at += 1
    if at <= len(words):
        return 1
    return 2 if wanted in label else None


def _only(ids: Iterable[str]) -> str | None:
    found = tuple(ids)
    return found[0] if len(found) == 1 else None
