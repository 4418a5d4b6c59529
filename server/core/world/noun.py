"""What all nouns share: an id and a version. Rows are flat, so a change is a list of them."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Noun:
    """One thing the program remembers.

    Fields are flat: text, numbers, `Fraction`, naive local `datetime`, `date`, or tuples of those,
    so that a row, a log entry and an undo are all the same data. `version` counts the changes to
    this row; the store and the rules never set it by hand (see `changes.base.change`).
    """

    id: str
    version: int = 1


@dataclass(frozen=True, kw_only=True)
class OfProject(Noun):
    """A noun that belongs to one project."""

    project_id: str
