"""What was found, group by group, over all houses that somebody may open."""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from server.core.finding import GROUPS, OF_A_DETAIL, Entry, Group, Hit, entries, hits
from server.core.refusals import Message, message
from server.core.rights import details_seen
from server.pages.find.saying import Result, result_of
from server.pages.shared.opened import Opened
from server.people.viewer import Viewer
from server.words import words

MOST_TYPED = 200
FIRST = 6
"""How many of a group are shown before "all"."""
ALL = 200
COUNTED: dict[Group, str] = {
    "details": "find.n_details",
    "work": "find.n_work",
    "checks": "find.n_checks",
    "figures": "find.n_figures",
    "crews": "find.n_crews",
    "places": "find.n_places",
    "people": "find.n_people",
    "drawings": "find.n_drawings",
}
OF_THE_COMPANY: frozenset[Group] = frozenset(("crews", "people"))


@dataclass(frozen=True)
class GroupFound:
    """One group: its first results, how many there are, and where all of them are listed."""

    group: Group
    heading: str
    count: int
    results: tuple[Result, ...]
    all_href: str


@dataclass(frozen=True)
class Hint:
    """A detail to begin with, while nothing is typed."""

    name: str
    href: str


@dataclass(frozen=True)
class FindPage:
    """The page. `all` is the group that is listed whole, if one is; `looked` says through what."""

    q: str
    all: str
    groups: tuple[GroupFound, ...]
    found: int
    looked: str
    hints: tuple[Hint, ...]


def find_page(opened: tuple[Opened, ...], viewer: Viewer, typed: str, whole: str) -> FindPage:
    """What this person finds of what was typed; some details to begin with for nothing typed."""
    pairs: dict[Group, list[tuple[Hit, Opened]]] = {}
    through: Counter[Group] = Counter()
    for index, one in enumerate(opened):
        seen = _seen(one, viewer, first=index == 0)
        for group, found in hits(one.snapshot, one.schedule, typed, seen).items():
            pairs.setdefault(group, []).extend((hit, one) for hit in found)
        if not pairs:
            through.update(entry.group for entry in entries(one.snapshot) if seen(entry))
    several = len(opened) > 1
    groups = tuple(_groups(pairs, typed, whole, several, viewer))
    return FindPage(
        q=typed,
        all=whole if groups and whole in GROUPS else "",
        groups=groups,
        found=sum(len(found) for found in pairs.values()),
        looked=_looked(opened, viewer, through),
        hints=() if typed.strip() else tuple(_hints(opened, viewer)),
    )


def _seen(opened: Opened, viewer: Viewer, *, first: bool) -> Callable[[Entry], bool]:
    """What this person may find in a house; crews and people only in the first, they are in all."""
    details = details_seen(opened.snapshot, viewer.actor)
    everything = viewer.actor.role == "super"

    def seen(entry: Entry) -> bool:
        if entry.group in OF_A_DETAIL:
            return entry.detail_id in details
        return everything and (first or entry.group not in OF_THE_COMPANY)

    return seen


def _groups(
    pairs: dict[Group, list[tuple[Hit, Opened]]],
    typed: str,
    whole: str,
    several: bool,
    viewer: Viewer,
) -> Iterator[GroupFound]:
    for group in GROUPS:
        found = sorted(pairs.get(group, ()), key=lambda pair: pair[0].rank)
        if not found or (whole in pairs and whole != group):
            continue
        first = ALL if group == whole else FIRST
        yield GroupFound(
            group=group,
            heading=words(viewer.language).say(message("find.group", group=group)),
            count=len(found),
            results=tuple(result_of(one, hit, several) for hit, one in found[:first]),
            all_href=group if len(found) > first and group != whole else "",
        )


def _looked(opened: tuple[Opened, ...], viewer: Viewer, through: Counter[Group]) -> str:
    """Through what was looked: "5 details, 164 pieces of work and 35 checks in Quarry Road"."""
    say = words(viewer.language).say
    counts = tuple(
        say(Message(COUNTED[group], {"n": through[group]})) for group in GROUPS if through[group]
    )
    if not counts:
        return ""
    houses = tuple(one.snapshot.project.name for one in opened)
    return say(message("find.looked", what=counts, houses=houses))


def _hints(opened: tuple[Opened, ...], viewer: Viewer) -> Iterator[Hint]:
    for one in opened:
        seen = details_seen(one.snapshot, viewer.actor)
        standing = (d for d in one.snapshot.details.values() if d.id in seen and d.ended is None)
        for detail in list(standing)[:FIRST]:
            yield Hint(detail.name, f"/d/{detail.id}")
