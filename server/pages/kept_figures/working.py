"""A kept figure worked out again, and the inputs and limits that are kept of one."""

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import parse_qsl, urlencode

from starlette.datastructures import QueryParams
from starlette.requests import Request

from server.core.changes.kept_figures import StackFacts
from server.core.figures.base import Profile
from server.core.refusals import Refusal
from server.core.world import HoldPoint, KeptFigure, Snapshot
from server.pages.figures.asked import Asked
from server.pages.figures.figure import Figure, worked
from server.pages.figures.known import figure_named
from server.pages.figures.numbers import (
    NUMBERS,
    READ_AGAIN,
    WAITS,
    Asking,
    Numbers,
    planned_minutes,
)
from server.pages.figures.profiles import profiles_of
from server.pages.figures.result import Result
from server.pages.figures.stack_rows import AskedParts
from server.people.viewer import Viewer
from server.words import words

LIMITS = "limits"
UNBUILT = ("rough_", "temporary_")
"""Limits of a stair that is not finished yet: what is packed later is no figure outside."""


@dataclass(frozen=True)
class Worked:
    """A kept figure as it comes out now. No result where its inputs are not taken any more."""

    figure: Figure
    asked: Asked
    result: Result | None


class Working:
    """Works out kept figures for one viewer; the limits are read once."""

    def __init__(self, request: Request, viewer: Viewer) -> None:
        self._request, self._viewer = request, viewer
        self._profiles: Mapping[str, Profile] = profiles_of(request, viewer)

    def of(self, kept: KeptFigure) -> Worked:
        """The figure with its inputs, and the latest readings where it was made from readings."""
        figure = self._figure(kept.figure)
        query = self._query(kept)
        return Worked(figure, *worked(self._viewer, figure, query, self._profiles))

    def from_form(self, name: str, query: QueryParams) -> Worked:
        """A figure as somebody has filled it in."""
        figure = self._figure(name)
        return Worked(figure, *worked(self._viewer, figure, query, self._profiles))

    def numbers(self, kept: KeptFigure, snapshot: Snapshot, hold: HoldPoint) -> Numbers | None:
        """What a check is to ask for; None where the figure has no numbers for one."""
        make = NUMBERS.get(kept.figure)
        if make is None:
            return None
        asks = snapshot.asks_of.get(hold.id, ())
        try:
            return make(self._asked(kept), Asking(hold.id, hold.parts, asks))
        except Refusal:
            return None

    def minutes(self, kept: KeptFigure) -> int | None:
        """How long a wait is by the latest readings; None where the figure plans none."""
        if kept.figure not in WAITS:
            return None
        try:
            return planned_minutes(self._request, self._viewer, self._asked(kept))
        except Refusal:
            return None

    def _figure(self, name: str) -> Figure:
        return figure_named(self._request, self._viewer, name)

    def _asked(self, kept: KeptFigure) -> Asked:
        viewer = self._viewer
        said = words(viewer.language)
        return self._figure(kept.figure).asks(
            self._query(kept), viewer.person.units, said, self._profiles
        )

    def _query(self, kept: KeptFigure) -> QueryParams:
        read_in, again = READ_AGAIN.get(kept.figure, ("", ()))
        fields = parse_qsl(kept.inputs, keep_blank_values=True)
        if dict(fields).get(read_in):
            fields = [(name, value) for name, value in fields if name not in again]
        fields += [("to", self._viewer.person.units), ("detail", kept.detail_id)]
        return QueryParams(fields)


def inputs_of(asked: Asked) -> str:
    """All that a figure was worked out from, starts included, as the query that says the same."""
    fields = [(field.name, field.value) for group in asked.fields for field in group.fields]
    parts = asked.form.typed("parts")
    rows = [("parts", parts)] if parts else []
    return urlencode([("units", asked.units), *rows, *fields])


def stack_of(worked: Worked) -> StackFacts | None:
    """What is kept of a stack of tolerances beside its inputs; None of another figure."""
    return worked.asked.facts if isinstance(worked.asked, AskedParts) else None


def limits_of(worked: Worked) -> tuple[str, tuple[str, ...]]:
    """The name of the profile a figure was held against, and what lies outside of it.

    Nothing where the figure has no profile: its limits are wishes, or what is usual.
    """
    fields = {field.name: field.value for g in worked.asked.fields for field in g.fields}
    profile = worked.asked.profiles.get(fields.get(LIMITS, ""))
    if profile is None or worked.result is None:
        return "", ()
    names = (one.name for one in worked.result.held if not one.within)
    outside = dict.fromkeys(name for name in names if not name.startswith(UNBUILT))
    return profile.name, tuple(outside)
