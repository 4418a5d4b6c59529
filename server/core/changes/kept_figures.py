"""Commands about figures that are kept with a detail and tied to its checks and waits."""

from dataclasses import dataclass
from fractions import Fraction

from server.core.changes.base import Command
from server.core.changes.plan import AskFacts


@dataclass(frozen=True, kw_only=True)
class StackPartFacts:
    """What is said of one part of a stack; see `world.StackPart`."""

    name: str
    counts: Fraction
    nominal: Fraction
    plus: Fraction
    minus: Fraction
    measured: Fraction | None = None
    hold_id: str | None = None
    label: str = ""


@dataclass(frozen=True, kw_only=True)
class StackFacts:
    """What is said of a stack: its parts, and the gap that is wanted, in inches."""

    parts: tuple[StackPartFacts, ...]
    least: Fraction | None = None
    most: Fraction | None = None
    units: str = "in"


@dataclass(frozen=True, kw_only=True)
class KeepFigure(Command):
    """A figure kept with a detail, new or with other inputs; see `world.KeptFigure`.

    Whoever gives it has worked the figure out from `inputs`, and read the `stack` from them if it
    is one. A check that took its numbers keeps them until they are taken again.
    """

    id: str
    detail_id: str
    figure: str
    name: str
    inputs: str
    limits: str = ""
    outside: tuple[str, ...] = ()
    stack: StackFacts | None = None


@dataclass(frozen=True, kw_only=True)
class TieFigure(Command):
    """A check asks from now on for the numbers of a figure.

    `asks` is all that it asks for then, `datum` what they are measured from ("": as before),
    `inputs` what the figure was worked out from when these numbers were shown.
    """

    figure_id: str
    hold_id: str
    inputs: str
    asks: tuple[AskFacts, ...]
    datum: str = ""


@dataclass(frozen=True, kw_only=True)
class TieToWait(Command):
    """A wait is planned by a figure. How long it takes changes only when that is agreed to."""

    figure_id: str
    activity_id: str


@dataclass(frozen=True, kw_only=True)
class UntieFigure(Command):
    """Nothing hangs on the figure any more; a check keeps its numbers, a wait its length."""

    figure_id: str


@dataclass(frozen=True, kw_only=True)
class EndFigure(Command):
    """A figure that is not kept any more."""

    figure_id: str
