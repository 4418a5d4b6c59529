"""The crews that have to hear something: of what was agreed, or of what is only shown."""

from collections.abc import Iterable
from dataclasses import dataclass

from server.core.world import Telling
from server.pages.shared.opened import Opened
from server.pages.shared.reach import Reach, reach
from server.pages.shared.telling import ToSay, telling_said, text_for


@dataclass(frozen=True)
class CrewToTell:
    """A crew, what it has not heard yet, the text that says all of it, and how it is reached."""

    crew: str
    foreman: str
    said: tuple[str, ...]
    text: str
    telling_ids: tuple[str, ...]
    call: Reach | None


def to_tell(opened: Opened) -> tuple[CrewToTell, ...]:
    """What crews have not heard yet, by crew, in the order in which it was agreed."""
    tellings = sorted(opened.snapshot.tellings.values(), key=lambda t: (t.at, t.id))
    return crews_to_tell(opened, (t for t in tellings if t.heard is None))


def crews_to_tell(opened: Opened, tellings: Iterable[ToSay]) -> tuple[CrewToTell, ...]:
    """The same of any things to hear; what is not kept yet has no ids."""
    by_crew: dict[str, list[ToSay]] = {}
    for telling in tellings:
        by_crew.setdefault(telling.crew_id, []).append(telling)
    return tuple(_crew(opened, crew_id, told) for crew_id, told in by_crew.items())


def _crew(opened: Opened, crew_id: str, told: list[ToSay]) -> CrewToTell:
    snapshot = opened.snapshot
    crew = snapshot.crews[crew_id]
    text = text_for(snapshot, told, crew.language, opened.now)
    return CrewToTell(
        crew=crew.name,
        foreman=crew.foreman,
        said=tuple(telling_said(snapshot, t, opened.words, opened.now) for t in told),
        text=text,
        telling_ids=tuple(t.id for t in told if isinstance(t, Telling)),
        call=reach(crew.phone, text),
    )
