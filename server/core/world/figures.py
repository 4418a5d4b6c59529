"""Figures that are kept with a detail, and what hangs on their numbers."""

from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from server.core.world.noun import OfProject


@dataclass(frozen=True, kw_only=True)
class KeptFigure(OfProject):
    """A figure that somebody filled in for a detail, to come back to and to tie work to.

    `figure` is its name in the address, `inputs` all that was filled in, as a query. `outside`
    names the limits of the profile `limits` that its numbers lie outside of: whoever keeps it has
    worked them out, since the core reads no forms.

    It may give a check its numbers (`hold_id`; `taken` are the inputs they were taken from) or a
    wait its length (`activity_id`). A stack of tolerances has its `StackPart`s, and the gap they
    leave is wanted from `least` to `most`, in inches; `units` is what it was written in.
    """

    detail_id: str
    figure: str
    name: str
    inputs: str
    limits: str = ""
    outside: tuple[str, ...] = ()
    least: Fraction | None = None
    most: Fraction | None = None
    units: str = "in"
    hold_id: str | None = None
    activity_id: str | None = None
    taken: str = ""
    ended: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class StackPart(OfProject):
    """One part of a stack that is kept; lengths in inches, `counts` as `figures.stack.Part` has it.

    It was `measured`, or a check measures it (`hold_id`) where it asks for `label`.
    """

    figure_id: str
    order: int
    name: str
    counts: Fraction
    nominal: Fraction
    plus: Fraction
    minus: Fraction
    measured: Fraction | None = None
    hold_id: str | None = None
    label: str = ""
