"""The woods that ship with the program, with their coefficients of movement."""

from functools import cache
from pathlib import Path

from server.core.figures.moisture import Species
from server.data.pattern_tables import headed, read_toml

FILE = Path(__file__).parent / "species.toml"
TAGS = ("R", "S", "P", "M", "own")
MOST = 200


def read_species(text: str, file: str) -> tuple[Species, ...]:
    """The woods of a file. Raises `BadFile` with the line of one that lacks a coefficient."""
    head = read_toml(text, file)
    source, tag = head.maybe("source"), head.one_of("tag", TAGS, "own")
    found = []
    for table in headed(head, "species", MOST):
        one = Species(
            id=table.text("id"),
            name=table.text("name"),
            radial=table.take("radial", float),
            tangential=table.take("tangential", float),
            source=table.text("source", source),
            tag=table.one_of("tag", TAGS, tag),
        )
        table.done()
        found.append(one)
    head.done()
    return tuple(sorted(found, key=lambda one: one.name))


@cache
def all_species() -> tuple[Species, ...]:
    """Every wood that ships with the program, by name."""
    return read_species(FILE.read_text("utf-8"), FILE.name)


def species(id: str) -> Species | None:
    """The wood with this id, or None."""
    return next((one for one in all_species() if one.id == id), None)
