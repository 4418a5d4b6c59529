"""Limits profiles: those that ship, and the reading of any; a mistake names its line and field."""

from functools import cache
from pathlib import Path

from server.core.figures.base import Demand, Limit, Profile
from server.core.figures.limit_names import LIMITS, UNITS_OF
from server.data.pattern_tables import headed, read_toml
from server.data.tables import Table

FOLDER = Path(__file__).parent / "limits"
TAGS = ("R", "S", "C", "P", "M", "own")
OWN = "own"
MOST_LIMITS, MOST_DEMANDS = 120, 60
LONGEST_DEMAND = 400


@cache
def all_profiles() -> tuple[Profile, ...]:
    """Every profile that ships with the program; the first is offered first."""
    files = sorted(FOLDER.glob("*.toml"), reverse=True)
    return tuple(read_profile(file.read_text("utf-8"), file.name) for file in files)


@cache
def text_of(id: str) -> str:
    """The file of the profile with this id, as it ships; `LookupError` if there is none."""
    for file in sorted(FOLDER.glob("*.toml")):
        text = file.read_text("utf-8")
        if read_profile(text, file.name).id == id:
            return text
    raise LookupError(f"no limits {id!r}")


def read_profile(text: str, file: str) -> Profile:
    """A profile from its text. Raises `BadFile` for what is wrong in it."""
    head = read_toml(text, file)
    limits: dict[str, Limit] = {}
    for table in headed(head, "limit", MOST_LIMITS):
        name = table.one_of("name", tuple(LIMITS))
        if name in limits:
            raise table.bad("name", f"{name!r} stands here twice")
        limits[name] = _limit(table, LIMITS[name])
    demands = tuple(_demand(table) for table in headed(head, "demand", MOST_DEMANDS))
    profile = Profile(
        id=head.text("id"),
        name=head.text("name"),
        edition=head.text("edition"),
        limits=limits,
        demands=demands,
    )
    head.done()
    if not limits:
        raise head.bad("limit", "there is none")
    return profile


def _limit(table: Table, kind: str) -> Limit:
    unit = table.one_of("unit", UNITS_OF[kind], UNITS_OF[kind][0])
    least, most = table.length("least"), table.length("most")
    if least is None and most is None:
        raise table.bad("most", "is missing: give the least, the most, or both")
    for name, value in (("least", least), ("most", most)):
        if value is not None and value < 0:
            raise table.bad(name, "is below 0")
    if least is not None and most is not None and least > most:
        raise table.bad("least", "is more than the most")
    limit = Limit(
        unit=unit,
        least=None if least is None else float(least),
        most=None if most is None else float(most),
        section=table.maybe("section"),
        tag=_tag(table),
        source=table.maybe("source"),
    )
    table.done()
    return limit


def _demand(table: Table) -> Demand:
    demand = Demand(
        text=table.text("text", most=LONGEST_DEMAND),
        section=table.maybe("section"),
        tag=_tag(table),
    )
    table.done()
    return demand


def _tag(table: Table) -> str:
    tag = table.one_of("tag", TAGS, OWN)
    return "" if tag == OWN else tag
