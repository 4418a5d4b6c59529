"""The trades a company begins with."""

import tomllib
from functools import cache
from pathlib import Path

FILE = Path(__file__).parent / "trades.toml"


@cache
def trades() -> tuple[str, ...]:
    """Their names, in the order in which they usually come to a stair.

    >>> trades()[0]
    'framing'
    """
    read = tomllib.loads(FILE.read_text("utf-8"))
    return tuple(trade["name"] for trade in read["trade"])
