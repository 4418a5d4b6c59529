"""`stairhold schedule`: the dates of a network that is given as JSON."""

import json
import sys
from datetime import datetime
from pathlib import Path
from typing import Annotated, Any

import typer

from server.cli.problems import Problem
from server.core.schedule import Dates, Dependency, Driver, Refused, Schedule, compute
from server.data.networks import Given, read_network
from server.data.tables import BadFile
from server.words import words

STANDARD_INPUT = "-"


def schedule(
    file: Annotated[
        str, typer.Argument(metavar="FILE", help="A network as JSON; - reads standard input.")
    ],
    to: Annotated[
        list[str] | None,
        typer.Option(
            metavar="ID", help="An activity whose path is wanted too; may be given again."
        ),
    ] = None,
) -> None:
    """Work out the dates of a network and print them as JSON."""
    data = _data(file)
    name = "standard input" if file == STANDARD_INPUT else file
    try:
        given = read_network(data, name, _say)
        answer = _answer(given, name, to or [])
    except BadFile as bad:
        raise Problem(str(bad), code=2) from None
    print(json.dumps(answer, indent=1))


def _data(file: str) -> bytes:
    try:
        return sys.stdin.buffer.read() if file == STANDARD_INPUT else Path(file).read_bytes()
    except (OSError, ValueError) as error:  # ValueError: a name that no file can have
        reason = getattr(error, "strerror", None) or error
        raise Problem(f"cannot read {file}: {reason}", code=2) from None


def _say(refused: Refused) -> str:
    return words("en").say(refused.message)


def _answer(given: Given, name: str, to: list[str]) -> dict[str, Any]:
    try:
        dates = compute(given.network)
    except Refused as refused:
        raise given.bad(refused) from None
    for id in to:
        if id not in dates:
            raise Problem(f"{name} has no activity {json.dumps(id)} for --to", code=2)
    answer: dict[str, Any] = {
        "start": _moment(given.network.start),
        "status": _moment(dates.status),
        "finish": _moment(dates.finish),
        "critical_path": dates.critical_path,
        "too_long": [_ends(dependency) for dependency in dates.too_long],
    }
    if to:
        answer["paths"] = {id: dates.path(id) for id in to}
    return answer | {"activities": _activities(dates)}


def _activities(dates: Schedule) -> list[dict[str, Any]]:
    return [{"id": id, **_dates(its)} for id, its in dates.items()]


def _dates(its: Dates) -> dict[str, Any]:
    return {
        "early_start": _moment(its.early_start),
        "early_finish": _moment(its.early_finish),
        "late_start": _moment(its.late_start),
        "late_finish": _moment(its.late_finish),
        "total_float": its.total_float,
        "free_float": its.free_float,
        "critical": its.critical,
        "ready": its.ready,
        "driver": its.driver and _driver(its.driver),
    }


def _driver(driver: Driver) -> dict[str, str]:
    return {"kind": driver.kind} | (_ends(driver.dependency) if driver.dependency else {})


def _ends(dependency: Dependency) -> dict[str, str]:
    return {"before": dependency.before, "after": dependency.after, "type": dependency.type}


def _moment(moment: datetime) -> str:
    return moment.isoformat(timespec="minutes")
