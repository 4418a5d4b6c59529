"""A network as JSON, in the names, defaults and minutes of the core's own dataclasses.

Every mistake is a `BadFile` that names line and field. What the core itself refuses finds its
place here too; its words come from whoever reads, because sentences are not this package's.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from typing import Any, TypeVar

from server.core.schedule import Activity, Calendar, Dependency, Loop, Network, Refused
from server.data.json_lines import Document, Path, read_json, shown
from server.data.network_forms import BothForm, Say, WeekForm, WholeForm, form_of, read_form
from server.data.tables import BadFile

_SHOWN = 6
Noun = TypeVar("Noun", Activity, Dependency)


@dataclass(frozen=True, slots=True)
class Given:
    """A network with the file that it stands in."""

    network: Network
    document: Document
    say: Say

    def bad(self, refused: Refused) -> BadFile:
        """What to raise for what the core refused, with its line and field."""
        path, why = _place(self.network, refused), self.say(refused)
        if isinstance(refused, Loop):
            return self.document.bad(path, f"{why} {_listed((*refused.path, refused.path[0]))}")
        if refused.field is None:
            return self.document.bad(path, why)
        try:
            value = self.document.at(path)
        except LookupError:  # a default
            value = refused.values.get(refused.field)
        is_shown = isinstance(value, str | int) and not isinstance(value, bool)
        return self.document.bad(path, f"{shown(value)}: {why}" if is_shown else why)


def read_network(data: bytes, file: str, say: Say) -> Given:
    """The network in a file. Raises `BadFile`."""
    document = read_json(data, file)
    whole = read_form(WholeForm, document, (), say)
    network = Network(
        calendars=_calendars(document, say),
        activities=_items(Activity, document, "activities", say),
        dependencies=_items(Dependency, document, "dependencies", say),
        start=whole.start,
        status=whole.status,
    )
    return Given(network, document, say)


def _items(noun: type[Noun], document: Document, section: str, say: Say) -> list[Noun]:
    form = form_of(noun)
    items: list[Noun] = []
    for i in range(len(document.value[section])):
        read = read_form(form, document, (section, i), say)
        # Only what stands in the file is handed on, so that the defaults are the core's.
        items.append(noun(**{name: getattr(read, name) for name in read.model_fields_set}))
    return items


def _calendars(document: Document, say: Say) -> dict[str, Calendar]:
    """Each by its name; one that joins two others after them, wherever it stands."""
    calendars: dict[str, Calendar] = {}
    joint: dict[str, list[str]] = {}
    for name, value in document.value["calendars"].items():
        path: Path = ("calendars", name)
        if value == "always":
            calendars[name] = Calendar.always()
        elif isinstance(value, dict) and "both" in value:
            joint[name] = read_form(BothForm, document, path, say).both
        elif isinstance(value, dict):
            calendars[name] = _week(read_form(WeekForm, document, path, say), document, path, say)
        else:
            raise document.bad(path, f'{shown(value)} is no calendar: an object or "always"')
    for name in _in_order(joint, document):
        if name in joint:
            a, b = joint[name]
            try:
                calendars[name] = Calendar.both(calendars[a], calendars[b])
            except Refused as refused:
                raise document.bad(("calendars", name, "both"), say(refused)) from None
    return calendars


def _week(form: WeekForm, document: Document, path: Path, say: Say) -> Calendar:
    try:
        return Calendar.week(form.week, form.closed, form.extra)  # type: ignore[arg-type]
    except Refused as refused:
        raise document.bad((*path, "week"), say(refused)) from None


def _in_order(joint: dict[str, list[str]], document: Document) -> Iterator[str]:
    """The names of joint calendars and what they join, the joined ones first."""
    for name, names in joint.items():
        for i, other in enumerate(names):
            if other not in document.value["calendars"]:
                raise document.bad(("calendars", name, "both", i), f"{shown(other)} is not here")
    try:
        yield from TopologicalSorter(joint).static_order()
    except CycleError as error:
        ring = error.args[1]
        why = f"joins itself: {_listed(ring)}"
        raise document.bad(("calendars", ring[0], "both"), why) from None


def _place(network: Network, refused: Refused) -> Path:
    """The path of what the core refused."""
    values, field = refused.values, refused.field or ""
    if isinstance(refused, Loop):
        closing = {"before": refused.path[-1], "after": refused.path[0]}
        return ("dependencies", _numbers(network.dependencies, closing)[-1])
    if "before" in values:
        return ("dependencies", _numbers(network.dependencies, values)[0], field)
    if "activity" in values:
        numbers = _numbers(network.activities, {"id": values["activity"]})
        return ("activities", numbers[1 if field == "id" else 0], field)
    # A coat that no day left can hold: the core says only how long it takes.
    coats = [i for i, a in enumerate(network.activities) if field == "one_day" and a.one_day]
    return ("activities", coats[0], field) if len(coats) == 1 else ()


def _numbers(items: Sequence[Any], values: Any) -> list[int]:
    """Which of them have these values, as far as they have fields of these names."""
    return [
        i
        for i, item in enumerate(items)
        if all(getattr(item, name, value) == value for name, value in values.items())
    ]


def _listed(names: Sequence[str]) -> str:
    """A ring of names, cut short."""
    said = [shown(name) for name in names]
    if len(said) > _SHOWN:
        said[_SHOWN - 1 : -1] = [f"… ({len(said) - _SHOWN} more)"]
    return ", ".join(said)
