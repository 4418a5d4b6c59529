"""What a figure's page shows: frozen, in words and printed values, made by the figure's module."""

from dataclasses import dataclass

from markupsafe import Markup

from server.core.refusals import Message
from server.pages.kit.forms import Form

NOTHING = Markup("")


@dataclass(frozen=True)
class Row:
    """One value: what it is, as it is read off, exactly, from what it is measured or known."""

    label: str
    said: str
    exact: str = ""
    source: str = ""


@dataclass(frozen=True)
class Group:
    """Rows under a heading, with a sentence before them."""

    heading: str
    rows: tuple[Row, ...]
    note: str = ""


@dataclass(frozen=True)
class Table:
    """Values in rows and columns; the first cell of a row names it. `marked` rows stand out."""

    heading: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""
    marked: frozenset[int] = frozenset()


@dataclass(frozen=True)
class Held:
    """A value held against a limit: which, the limit in words, how it came out, and the source.

    `name` is the limit's own.
    """

    what: str
    said: str
    exact: str
    limit: str
    verdict: str
    within: bool
    source: str
    name: str = ""


@dataclass(frozen=True)
class Result:
    """A figure worked out. `answer` are the numbers that were asked for, first and large.

    `drawing` is to scale, `drawn` says what it shows; `notes` are sentences about this very result.
    """

    answer: tuple[Row, ...]
    groups: tuple[Group, ...] = ()
    tables: tuple[Table, ...] = ()
    held: tuple[Held, ...] = ()
    held_against: str = ""
    notes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    drawing: Markup = NOTHING
    drawn: str = ""


@dataclass(frozen=True)
class Field:
    """One field of a figure's form. `kind`: "text", "lines" or "choice" (then with `options`)."""

    name: str
    label: str
    value: str
    unit: str = ""
    hint: str = ""
    kind: str = "text"
    mode: str = "text"
    options: tuple[tuple[str, str], ...] = ()
    wrong: Message | None = None

    @property
    def said(self) -> str:
        """The value as it is printed on paper, where there is no form."""
        return dict(self.options).get(self.value, self.value)


@dataclass(frozen=True)
class Fields:
    """Fields under a heading; `folded` ones are seldom changed and open on a press."""

    heading: str
    fields: tuple[Field, ...]
    folded: bool = False


@dataclass(frozen=True)
class Kept:
    """The detail that a figure is filled in for, and the kept one that is changed ("" if new)."""

    detail_id: str
    detail: str
    id: str
    version: int
    called: str
    may_keep: bool


@dataclass(frozen=True)
class FigurePage:
    """The page of a figure. Without a result something typed is wrong, and said beside its field.

    `given` is the form as it stands on paper, `wrong` what is wrong with no single field of it.
    `units` is how lengths are shown ("in" or "mm"), `other_units` what the switch leads to.
    """

    name: str
    heading: str
    about: str
    form: Form
    fields: tuple[Fields, ...]
    units: str
    other_units: str
    result: Result | None
    given: tuple[tuple[str, str], ...] = ()
    wrong: tuple[Message, ...] = ()
    kept: Kept | None = None
