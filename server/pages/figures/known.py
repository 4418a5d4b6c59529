"""Every figure there is, and one of them for a viewer, with what was read in their houses."""

from dataclasses import replace
from functools import partial

from starlette.requests import Request

from server.core.rights import Hidden
from server.pages.figures import (
    drying,
    jigs,
    joint,
    measured,
    stack,
    stairs,
    standoffs,
    winding,
)
from server.pages.figures.at_work import AtWork
from server.pages.figures.figure import Figure
from server.people.viewer import Viewer

FIGURES: tuple[Figure, ...] = (
    stairs.FIGURE,
    measured.FIGURE,
    winding.FIGURE,
    jigs.JIG,
    jigs.EASING,
    standoffs.FIGURE,
    stack.FIGURE,
    joint.FIGURE,
    drying.FIGURE,
)
"""Every figure, in the order of the index, families together."""


def figure_named(request: Request, viewer: Viewer, name: str) -> Figure:
    """The figure under this name in the address; `Hidden` where there is none."""
    if name == joint.FIGURE.name:
        return replace(joint.FIGURE, make=partial(joint.make, at_work=AtWork(request, viewer)))
    if name == drying.FIGURE.name:
        return replace(drying.FIGURE, make=partial(drying.make, at_work=AtWork(request, viewer)))
    if name == stack.FIGURE.name:
        return stack.at_work(request, viewer)
    for figure in FIGURES:
        if figure.name == name:
            return figure
    raise Hidden("rights.hidden")
