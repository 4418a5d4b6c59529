"""What was read in the houses that the viewer may open, for the figures of joint and drying."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from functools import cached_property

from starlette.requests import Request

from server.core.climate import WEEK, average, newest, place_of, series
from server.core.drying import stuff_of
from server.core.figures.air import Air
from server.core.figures.drying import Read
from server.core.figures.joint import MONTHS
from server.core.figures.stack_at_parts import NO_CHECK, Source
from server.core.refusals import Message, message
from server.core.rights import details_seen
from server.core.stacks import lengths_asked, says_off, source_of
from server.core.world import Activity, Ask, HoldPoint, Place, Reading, Snapshot
from server.pages.kit import web_of
from server.pages.shared.opened import Opened, open_detail, open_project
from server.pages.site.readings_shown import places_seen
from server.people.viewer import Viewer

LATELY = timedelta(days=60)
"""Wet work done longer ago is nobody's wait any more."""
_DAY = timedelta(days=1)


@dataclass(frozen=True)
class RoomRead:
    """What was read in a place, today or yesterday the air, in the last week the wood.

    `months` is the mean air of each month of the last twelve in which it was read, January being 0.
    """

    air: float | None
    humidity: float | None
    wood: float | None
    said: str
    months: Mapping[int, Air]


@dataclass(frozen=True)
class CoatRead:
    """Wet work that was done: of what, the air there now, and what the plaster meter read since."""

    stuff: str
    air: float | None
    humidity: float | None
    readings: tuple[Read, ...]
    said: str


class AtWork:
    """The houses of one viewer; opened only when a figure asks."""

    def __init__(self, request: Request, viewer: Viewer) -> None:
        self._request, self._viewer = request, viewer

    def rooms(self) -> tuple[tuple[str, str], ...]:
        """The places where air or wood was read lately: id, and name with the house's."""
        return tuple(
            (place.id, f"{place.name}, {opened.snapshot.project.name}")
            for place, opened in self._places.values()
            if any(self._read(opened, place.id))
        )

    def room(self, place_id: str) -> RoomRead | None:
        """What was read in a place; None where the viewer sees none of this id."""
        if place_id not in self._places:
            return None
        _, opened = self._places[place_id]
        air, humidity, wood = self._read(opened, place_id)
        return RoomRead(
            air=_value(air),
            humidity=_value(humidity),
            wood=_value(wood),
            said=_said(opened, air, humidity, wood),
            months=dict(_months(opened, place_id)),
        )

    def coats(self) -> tuple[tuple[str, str], ...]:
        """Wet work done lately on what the viewer sees, the newest first: id and name."""
        found = sorted(self._coats.values(), key=lambda pair: str(pair[0].finished), reverse=True)
        return tuple(
            (coat.id, f"{coat.name}, {opened.snapshot.details[coat.detail_id].name}")
            for coat, opened in found
        )

    def coat(self, id: str) -> CoatRead | None:
        """What is known of such work; None where the viewer sees none of this id."""
        if id not in self._coats:
            return None
        coat, opened = self._coats[id]
        place_id = place_of(opened.snapshot, coat)
        assert place_id is not None
        assert coat.finished is not None
        air, humidity, _ = self._read(opened, place_id)
        spots = series(opened.snapshot, place_id, "plaster", coat.finished, opened.now)
        # Where the wall was read at several spots the wettest decides.
        wettest = max(spots, key=lambda spot: spot[-1].value, default=())
        read = tuple(
            Read(day=(one.at - coat.finished) / _DAY, value=float(one.value)) for one in wettest
        )
        return CoatRead(
            stuff=stuff_of(opened.snapshot, coat),
            air=_value(air),
            humidity=_value(humidity),
            readings=read,
            said=_said(opened, air, humidity, *wettest[-1:]),
        )

    def lengths(self, detail_id: str) -> tuple[tuple[str, str], ...]:
        """What the checks of a detail measure in lengths: "check/label", and that in words."""
        opened = open_detail(self._request, self._viewer, detail_id)
        snapshot, words = opened.snapshot, opened.words
        return tuple(
            (f"{hold.id}/{ask.label}", words.say(_measured_by(snapshot, hold, ask)))
            for hold, ask in lengths_asked(snapshot, opened.detail_id)
        )

    def source(self, detail_id: str, hold_id: str, label: str) -> Source | None:
        """What a check has measured, in a detail; nothing if it is in another by now.

        None where there is no such check.
        """
        opened = open_detail(self._request, self._viewer, detail_id)
        hold = opened.snapshot.holds.get(hold_id)
        if hold is None:
            return None
        if opened.snapshot.activities[hold.activity_id].detail_id != opened.detail_id:
            return NO_CHECK
        return source_of(opened.snapshot, hold_id, label)

    @cached_property
    def _opened(self) -> tuple[Opened, ...]:
        viewer = self._viewer
        given_to = None if viewer.actor.role == "super" else viewer.person.id
        projects = web_of(self._request).store.projects(viewer.company_id, given_to=given_to)
        return tuple(
            open_project(self._request, viewer, project.id)
            for project in projects
            if project.ended is None and viewer.may_open(project.id)
        )

    @cached_property
    def _places(self) -> dict[str, tuple[Place, Opened]]:
        return {
            place.id: (place, opened)
            for opened in self._opened
            for place in places_seen(opened, self._viewer)
        }

    @cached_property
    def _coats(self) -> dict[str, tuple[Activity, Opened]]:
        return {
            a.id: (a, opened)
            for opened in self._opened
            for seen in (details_seen(opened.snapshot, self._viewer.actor),)
            for a in opened.snapshot.chain
            if a.detail_id in seen
            if a.kind == "task" and a.wet and a.finished is not None
            if timedelta(0) <= opened.now - a.finished <= LATELY
            if place_of(opened.snapshot, a) in self._places
        }

    def _read(
        self, opened: Opened, place_id: str
    ) -> tuple[Reading | None, Reading | None, Reading | None]:
        """The newest of air, humidity and wood."""
        snapshot, now = opened.snapshot, opened.now
        spots = series(snapshot, place_id, "wood", now - timedelta(days=WEEK), now)
        wood = max((spot[-1] for spot in spots), key=lambda one: one.at, default=None)
        air, humidity = (newest(snapshot, place_id, what, now) for what in ("air", "humidity"))
        return air, humidity, wood


def _measured_by(snapshot: Snapshot, hold: HoldPoint, ask: Ask) -> Message:
    id = _BY[says_off(ask), ask.part is not None]
    return message(id, check=snapshot.activities[hold.activity_id].name, label=ask.label)


_BY = {
    (False, False): "stack.by_check",
    (False, True): "stack.by_each",
    (True, False): "stack.by_off",
    (True, True): "stack.by_each_off",
}


def _months(opened: Opened, place_id: str) -> Iterator[tuple[int, Air]]:
    """Each month in which air and humidity were read on two days at least, with their means."""
    end = datetime.combine(opened.now.date(), time(0)) + _DAY
    for _ in range(MONTHS):
        first = (end - _DAY).replace(day=1)
        air, humidity = (
            average(opened.snapshot, place_id, what, end, (end - first).days)
            for what in ("air", "humidity")
        )
        if air is not None and humidity is not None:
            yield first.month - 1, Air(float(air), float(humidity))
        end = first


def _value(reading: Reading | None) -> float | None:
    return None if reading is None else float(reading.value)


def _said(opened: Opened, *found: Reading | None) -> str:
    """The readings in one sentence, each with when it was taken; "" where there are none."""
    said = tuple(_each(opened, found))
    if not said:
        return ""
    return opened.words.say(message("figures.read_there", readings=said), now=opened.now)


def _each(opened: Opened, found: tuple[Reading | None, ...]) -> Iterator[str]:
    for one in found:
        if one is not None:
            kind = message("readings.kind", what=one.what)
            read = message("figures.read_one", kind=kind, value=one.value, unit=one.unit, at=one.at)
            yield opened.words.say(read, now=opened.now)
