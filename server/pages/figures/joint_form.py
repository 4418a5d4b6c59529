"""The form of a joint through the year, and the readings that stand in for what is not typed."""

from dataclasses import dataclass

from server.core.figures.air import Air
from server.core.figures.base import BadFigure
from server.core.figures.joint import Insert, JointAsked
from server.core.figures.moisture import Species
from server.data.rooms import Rooms, all_rooms, rooms
from server.data.species import all_species, species
from server.pages.figures.asked import Asked
from server.pages.figures.at_work import AtWork, RoomRead
from server.pages.figures.maybe import (
    air_of,
    coefficient,
    maybe_number,
    maybe_temperature,
    months,
)

OTHER = "other"
GRAINS = (("flat", "joint.grain.flat"), ("quarter", "joint.grain.quarter"),
          ("along", "joint.grain.along"))  # fmt: skip
PRESSED = (10.0, 50.0)
"""% that an insert is pressed between, where its maker does not say: common practice."""
HELDS = (("far", "joint.held.far"), ("middle", "joint.held.middle"))


@dataclass(frozen=True)
class Given:
    """What was asked for, and what was read in the place chosen."""

    asked: JointAsked
    read: RoomRead | None


def given_by(asked: Asked, at_work: AtWork | None) -> Given:
    """What the form says; what is not typed is as it was read in the place chosen."""
    asked.group("joint.group.joint")
    width = asked.length("width", "joint.width", "5 1/2", "140", hint="joint.width_hint")
    grain = asked.choice("grain", "joint.grain_at", GRAINS, "flat")
    names = ((one.id, one.name) for one in all_species())
    wood = asked.chosen(
        "species", "joint.species", (*names, (OTHER, asked.say("joint.other"))), "white ash"
    )
    held_at = asked.choice("held", "joint.held_at", HELDS, "far")
    least = asked.length("least", "joint.least", "1/16", "1.5", zero=True)
    most = asked.length("most", "joint.most", "3/16", "5")
    fitted = asked.maybe_length("fitted", "joint.fitted", hint="joint.fitted_hint", zero=True)
    now = _read_today(asked, at_work)
    asked.group("joint.group.other", folded=True)
    found = _species(asked, wood, grain)
    asked.group("joint.group.insert", folded=True)
    insert = _insert(asked)
    usual = _rooms(asked)
    return Given(
        JointAsked(
            width_in=width, species=found, grain=grain, held=held_at,  # type: ignore[arg-type]
            least_in=least, most_in=most, fitted_in=fitted, room=now.room, wood=now.wood,
            wood_fahrenheit=now.warm, carrier=now.carrier, insert=insert,
            months=months(asked, usual.months),
        ),
        now.there,
    )  # fmt: skip


@dataclass(frozen=True)
class _Today:
    """The air of the room, the meter in the wood, how warm that is, and in what carries it."""

    room: Air | None
    wood: float | None
    warm: float | None
    carrier: float | None
    there: RoomRead | None


def _read_today(asked: Asked, at_work: AtWork | None) -> _Today:
    """What is typed goes before what was read in the place chosen."""
    asked.group("joint.group.today")
    read = None
    if at_work is not None and (there := at_work.rooms()):
        none = ("", asked.say("figures.no_room"))
        read = at_work.room(asked.chosen("place", "figures.place", (none, *there), ""))
    air = maybe_temperature(asked, "air", "joint.air", hint="figures.read_hint" if read else "")
    humidity = maybe_number(asked, "humidity", "joint.humidity", "%")
    wood = maybe_number(asked, "wood", "joint.wood", "%", hint="joint.wood_hint")
    warm = maybe_temperature(asked, "wood_fahrenheit", "joint.warm", hint="joint.warm_hint")
    carrier = maybe_number(asked, "carrier", "joint.carrier", "%", hint="joint.carrier_hint")
    if read is not None:
        air = read.air if air is None else air
        humidity = read.humidity if humidity is None else humidity
        wood = read.wood if wood is None else wood
    if (air is None) != (humidity is None):
        field = "air" if air is None else "humidity"
        asked.refuse(BadFigure("joint.air_and_humidity", field=field))
    both = None if air is None or humidity is None else Air(air, humidity)
    room = air_of(asked, both, "air", "humidity") if both else None
    return _Today(room, wood, warm, carrier, read)


def _species(asked: Asked, wood: str, grain: str) -> Species:
    """The wood chosen, or another by its own coefficients: without those it moves as nobody knows.

    Along the grain no wood needs any.
    """
    radial = coefficient(asked, "radial", "joint.radial", hint="joint.coefficient_hint")
    tangential = coefficient(asked, "tangential", "joint.tangential")
    known = species(wood)
    if known is not None:
        return known
    one = {"quarter": radial, "flat": tangential}.get(grain, 0.002)
    if one is None:
        field = "radial" if grain == "quarter" else "tangential"
        asked.refuse(BadFigure("joint.no_coefficient", field=field))
        one = 0.002
    return Species(
        id=OTHER, name=asked.say("joint.other"), radial=radial or one, tangential=tangential or one
    )


def _insert(asked: Asked) -> Insert | None:
    thick = asked.maybe_length("insert", "joint.insert", hint="joint.insert_hint")
    least = maybe_number(asked, "insert_least", "joint.insert_least", "%", hint="joint.least_hint")
    most = maybe_number(asked, "insert_most", "joint.insert_most", "%", hint="joint.most_hint")
    if thick is None:
        return None
    low, high = PRESSED
    return Insert(
        thick_in=thick, least=low if least is None else least, most=high if most is None else most
    )


def _rooms(asked: Asked) -> Rooms:
    asked.group("joint.group.rooms")
    options = tuple((one.id, one.name) for one in all_rooms())
    chosen = rooms(asked.chosen("rooms", "joint.rooms", options, options[0][0]))
    asked.group("joint.group.months", folded=True)
    return chosen or all_rooms()[0]
