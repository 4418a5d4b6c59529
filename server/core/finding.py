"""Finding by name: details, work, checks, figures, crews, places, people, drawings of a house.

Text is folded before it is compared: case, accents, fractions and punctuation do not count. Every
typed word has to be found, in the name or in what stands beside it (its detail, its crew, its
place). What can be found is kept with the snapshot, so that looking costs one pass over it.
"""

import re
import unicodedata
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from typing import Literal

from server.core.schedule import Schedule
from server.core.world import Activity, Snapshot

Group = Literal["details", "work", "checks", "figures", "crews", "places", "people", "drawings"]
GROUPS: tuple[Group, ...] = (
    "details", "work", "checks", "figures", "crews", "places", "people", "drawings",
)  # fmt: skip
OF_A_DETAIL: frozenset[Group] = frozenset(("details", "work", "checks", "figures", "drawings"))
"""What is seen by whoever sees its detail; the rest is of the company and of whole houses."""

MOST_WORDS = 8
NEVER = datetime(9999, 12, 31)
EXACT, BEGINS, BESIDE, INSIDE = range(4)
"""How well a thing is found, best first: its whole name; every word begins one of its name; some
begin one of what stands beside it; some stand only inside of words."""

_WORD = re.compile(r"\d+/\d+|[^\W_]+")
_JOINED = re.compile(r"[^\W_]+(?:[-.][^\W_]+)+")


@dataclass(frozen=True, slots=True)
class Entry:
    """Something that can be found. `name` and `beside` are its folded words, spaced all around.

    The id of a check is that of its hold point. `detail_id` is empty for what is of no detail.
    """

    group: Group
    id: str
    detail_id: str
    name: str
    beside: str


@dataclass(frozen=True)
class Hit:
    """One thing found. `when` is its forecast: the start of work to come, the finish of a detail.

    Hits sort best first: exact names, open before done, sooner before later.
    """

    group: Group
    id: str
    how: int
    done: bool
    when: datetime | None
    name: str

    @property
    def rank(self) -> tuple[int, bool, datetime, str]:
        return self.how, self.done, self.when or NEVER, self.name


def words_of(text: str) -> tuple[str, ...]:
    """The folded words of a text. A number with a dash or a point also counts as one word.

    >>> words_of("Réglage 1½ in, A-402"), words_of("The owner's choice")
    (('reglage', '1', '1/2', 'in', 'a', '402', 'a402'), ('the', 'owners', 'choice'))
    """
    return _words_of(text)


@lru_cache(maxsize=20_000)
def _words_of(text: str) -> tuple[str, ...]:
    # A fraction stays apart from the whole number before it, and is written with a slash.
    spaced = "".join(
        f" {c} " if unicodedata.decomposition(c)[:10] == "<fraction>" else c for c in text
    )
    plain = unicodedata.normalize("NFKD", spaced.casefold())
    plain = "".join(c for c in plain if not unicodedata.combining(c))
    plain = plain.replace("⁄", "/").replace("'", "").replace("’", "")
    joined = (re.sub(r"[-.]", "", whole) for whole in _JOINED.findall(plain))
    return (*_WORD.findall(plain), *joined)


def hits(
    snapshot: Snapshot, schedule: Schedule, typed: str, seen: Callable[[Entry], bool]
) -> Mapping[Group, tuple[Hit, ...]]:
    """What is found of what is `seen`, by group, best first; nothing for no word."""
    wanted = _asked(typed)
    found: dict[Group, list[Hit]] = {}
    if wanted:
        exact = f" {' '.join(words_of(typed))} "
        for entry in entries(snapshot):
            how = _how(entry, wanted, exact)
            if how is not None and seen(entry):
                found.setdefault(entry.group, []).append(_hit(snapshot, schedule, entry, how))
    return {
        group: tuple(sorted(found[group], key=lambda hit: hit.rank))
        for group in GROUPS
        if group in found
    }


def entries(snapshot: Snapshot) -> tuple[Entry, ...]:
    """Everything in a house that can be found, worked out once for its tables."""
    kept = snapshot.kept_finding
    if not kept:
        kept.append(tuple(_entries(snapshot)))
    found: tuple[Entry, ...] = kept[0]
    return found


def _asked(typed: str) -> tuple[str, ...]:
    """The words to be found. Of "a-402" only its parts: the whole is one more way to write it."""
    parts = words_of(re.sub(r"[-.]", " ", typed))
    return tuple(dict.fromkeys(parts))[:MOST_WORDS]


def _how(entry: Entry, wanted: tuple[str, ...], exact: str) -> int | None:
    name, beside, worst = entry.name, entry.beside, BEGINS
    for word in wanted:
        if f" {word}" in name:
            continue
        if f" {word}" in beside:
            worst = max(worst, BESIDE)
        elif word in name or word in beside:
            worst = INSIDE
        else:
            return None
    return EXACT if name == exact else worst


def _hit(snapshot: Snapshot, schedule: Schedule, entry: Entry, how: int) -> Hit:
    done, when = False, None
    if entry.group == "details":
        chain = snapshot.chain_of(entry.id)
        done = bool(chain) and all(a.id in schedule.done for a in chain)
        when = max((schedule[a.id].early_finish for a in chain), default=None)
    elif entry.group in ("work", "checks"):
        id = entry.id if entry.group == "work" else snapshot.holds[entry.id].activity_id
        done, when = id in schedule.done, schedule[id].early_start
    elif entry.group == "drawings":
        done = snapshot.sheets[entry.id].replaced_id is not None
    return Hit(entry.group, entry.id, how, done, when, entry.name)


def _entries(snapshot: Snapshot) -> Iterator[Entry]:
    details = [d for d in snapshot.details.values() if d.ended is None]
    layers: dict[str, list[str]] = {}
    for layer in snapshot.layers.values():
        if layer.ended is None:
            layers.setdefault(layer.detail_id, []).append(layer.name)
    for detail in details:
        place = snapshot.places.get(detail.place_id or "")
        beside = (detail.sheet, place.name if place else "", *layers.get(detail.id, ()))
        yield _entry("details", detail.id, detail.id, detail.name, *beside)
    for activity in snapshot.chain:
        yield _activity(snapshot, activity)
    yield from _kept(snapshot)
    yield from _around(snapshot)


def _kept(snapshot: Snapshot) -> Iterator[Entry]:
    """What is kept with a detail: its figures, its drawings."""
    for kept in snapshot.kept_figures.values():
        detail = snapshot.details.get(kept.detail_id)
        if kept.ended is None and detail is not None and detail.ended is None:
            yield _entry("figures", kept.id, detail.id, kept.name, detail.name, kept.figure)
    for sheet in snapshot.sheets.values():
        detail = snapshot.details.get(sheet.detail_id)
        if detail is not None and detail.ended is None:
            beside = (sheet.title, sheet.revision, detail.name)
            yield _entry("drawings", sheet.id, detail.id, sheet.number, *beside)


def _activity(snapshot: Snapshot, activity: Activity) -> Entry:
    """Work with its detail, crews and place; a check with what it looks for and who looks."""
    detail = snapshot.details[activity.detail_id]
    hold = snapshot.hold_of.get(activity.id)
    place = snapshot.places.get(activity.place_id or "")
    crews = [activity.crew_id or "", *activity.with_crew_ids]
    people = [activity.person_id or ""]
    if hold is not None:
        crews.append(hold.marks_crew_id or "")
        people.append(hold.releases_id or "")
    beside = (
        detail.name,
        detail.sheet,
        place.name if place else "",
        hold.what if hold else "",
        *(snapshot.crews[id].name for id in crews if id in snapshot.crews),
        *(snapshot.people[id].name for id in people if id in snapshot.people),
    )
    if hold is not None:
        return _entry("checks", hold.id, detail.id, activity.name, *beside)
    return _entry("work", activity.id, detail.id, activity.name, *beside)


def _around(snapshot: Snapshot) -> Iterator[Entry]:
    for crew in snapshot.crews.values():
        if crew.ended is None:
            yield _entry("crews", crew.id, "", crew.name, crew.trade, crew.foreman)
    for place in snapshot.places.values():
        floor = snapshot.floors.get(place.floor_id)
        yield _entry("places", place.id, "", place.name, floor.name if floor else "")
    for person in snapshot.people.values():
        if person.ended is None:
            own = snapshot.crews.get(person.crew_id or "")
            yield _entry(
                "people", person.id, "", person.name, person.title, own.name if own else ""
            )


def _entry(group: Group, id: str, detail_id: str, name: str, *beside: str) -> Entry:
    near = " ".join(word for text in beside for word in words_of(text))
    return Entry(group, id, detail_id, f" {' '.join(words_of(name))} ", f" {near} ")
