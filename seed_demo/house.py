"""The invented firm, house, crews and people of the demo."""

from dataclasses import dataclass
from datetime import date, datetime

from server.core.changes import Command
from server.core.changes.people import Give, KeepCrew, KeepPerson
from server.core.changes.places import AddFloor, KeepCalendar, KeepPlace, KeepWay, StartProject

COMPANY, PROJECT, CALENDAR = "tallowcrek", "quarryroad", "siteweeks2"
SUPER = "super"
NOW = datetime(2025, 12, 3, 10, 52)
FOUNDED = datetime(2025, 10, 30, 8, 0)
ZONE = "America/Chicago"

CREWS = {
    # key of a crew -> name, trade, foreman, phone, language
    "thimble": ("Thimble Hill Framing", "framing", "Orrin Tapscale", "555-0111", "en"),
    "haymow": ("Haymow Insulation", "insulation", "Brisa Llanero", "555-0112", "en"),
    "ninepail": ("Ninepail Plaster", "plaster", "Casimir Wendle", "555-0113", "en"),
    "hobnail": ("Hobnail Millwork", "millwork", "Petra Quillane", "555-0114", "en"),
    "cricket": ("Cricket Post Electric", "electric", "Lonnie Farweather", "555-0115", "en"),
    "orestreet": ("Ore Street Metal", "metal", "Mirela Stannock", "555-0116", "en"),
    "tarnfield": ("Tarnfield Glass", "glass", "Osric Velde", "555-0117", "en"),
}
TRADES = {
    "framing": "thimble",
    "insulation": "haymow",
    "plaster": "ninepail",
    "board": "ninepail",
    "roofing": "orestreet",
    "scaffold": "thimble",
    "glass": "tarnfield",
    "millwork": "hobnail",
    "flooring": "hobnail",
    "electric": "cricket",
    "plumbing": "cricket",
    "metal": "orestreet",
}
ROLES = {"architect": "ines", "engineer": "tobias", "rep": "wilhelmina"}


@dataclass(frozen=True)
class Who:
    """Somebody of the demo: name, role, title, phone, crew."""

    name: str
    role: str
    title: str
    phone: str
    crew: str | None = None


PEOPLE = {
    "super": Who("Dell Harrowgate", "super", "Superintendent", "555-0101"),
    "wilhelmina": Who("Wilhelmina Oakspur", "rep", "Owner's representative", "555-0102"),
    "tobias": Who("Tobias Rennick", "rep", "Engineer", "555-0103"),
    "ines": Who("Ines Calderwick", "rep", "Architect", "555-0104"),
    **{
        key: Who(foreman, "crew", "Foreman", phone, key)
        for key, (_, _, foreman, phone, _) in CREWS.items()
    },
}


def founding() -> list[Command]:
    """What the firm keeps before it starts a house: hours, crews, people."""
    week = tuple(f"{day} {hours}" for day in range(5) for hours in ("07:00 12:00", "12:30 15:30"))
    holidays = (date(2025, 11, 27), date(2025, 11, 28), date(2025, 12, 25), date(2026, 1, 1))
    commands: list[Command] = [
        KeepCalendar(id=CALENDAR, name="Site hours", shifts=week, closed=holidays)
    ]
    for key, (name, trade, foreman, phone, language) in CREWS.items():
        commands.append(
            KeepCrew(
                id=key, name=name, trade=trade, foreman=foreman, phone=phone, language=language
            )
        )
    commands += [
        KeepPerson(
            id=key, name=who.name, role=who.role, title=who.title, crew_id=who.crew, phone=who.phone
        )
        for key, who in PEOPLE.items()
        if key != "super"
    ]
    return commands


def house() -> list[Command]:
    """The house: floors, places where people stand, ways up, and who may look."""
    return [
        StartProject(
            id=PROJECT,
            name="Quarry Road house",
            time_zone=ZONE,
            start=datetime(2025, 11, 3, 7, 0),
            calendar_id=CALENDAR,
            about="New house on the lake road; cold lake climate.",
        ),
        AddFloor(id="floorlower", name="Garden level"),
        AddFloor(id="floormain2", name="Main floor"),
        AddFloor(id="floorupper", name="Upper floor"),
        KeepPlace(id="garden", name="Garden stair", floor_id="floorlower"),
        KeepPlace(id="flight", name="Main flight", floor_id="floormain2"),
        KeepPlace(
            id="landing",
            name="Upper landing",
            floor_id="floorupper",
            room_for=2,
            open_to=("flight",),
        ),
        KeepPlace(id="welltop", name="Top of the well", floor_id="floorupper", open_to=("flight",)),
        KeepWay(
            id="wayrough", name="Rough main stair", lower_id="floormain2", upper_id="floorupper"
        ),
        KeepWay(
            id="wayother",
            name="Scaffold stair outside",
            lower_id="floormain2",
            upper_id="floorupper",
        ),
        KeepWay(
            id="wayladder2",
            name="Ladder at the landing",
            lower_id="floormain2",
            upper_id="floorupper",
            carries=False,
        ),
        KeepWay(id="waynew", name="New main stair", lower_id="floormain2", upper_id="floorupper"),
        KeepWay(id="waygarden", name="Garden stair", lower_id="floorlower", upper_id="floormain2"),
        *(Give(id=f"given{key}", person_id=key) for key in PEOPLE if key != "super"),
    ]


WAYS = {
    "other way up": "wayother",
    "old stair": "wayrough",
    "new stair": "waynew",
    "flight below": "waynew",
}
