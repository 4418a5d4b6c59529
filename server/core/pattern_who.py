"""Who does, owes and releases the work of a detail, and by which ways, as words of a pattern."""

from dataclasses import dataclass, field

from server.core.pattern_words import word_of
from server.core.patterns import NO_ROLES
from server.core.world import Activity, HoldPoint, Snapshot


@dataclass
class Words:
    """A word for each thing that is asked for; `ids` leads from a word to the first it was for."""

    ids: dict[str, str] = field(default_factory=dict)
    words: dict[str, str] = field(default_factory=dict)

    def of(self, id: str, text: str, otherwise: str, *, shared: bool = False) -> str:
        """The word of a thing: its text, told apart from others unless they share one."""
        if id not in self.words:
            taken = () if shared else (*self.ids, *NO_ROLES)
            self.words[id] = word_of(text, taken, otherwise)
            self.ids.setdefault(self.words[id], id)
        return self.words[id]


class Who:
    """The words of one detail. `apart`: crews and people by their names, each for itself."""

    def __init__(self, snapshot: Snapshot, apart: bool) -> None:
        self.snapshot = snapshot
        self.apart = apart
        self.crews, self.people, self.ways, self.calendars = Words(), Words(), Words(), Words()

    def of_activity(self, a: Activity) -> tuple[str, tuple[str, ...]]:
        """Who does it and who is there too; a wait has nobody, and no trade comes twice."""
        if a.kind == "wait":
            return "", ()
        who = self.crew(a.crew_id)
        along = dict.fromkeys(self.crew(id) for id in a.with_crew_ids)
        return who, tuple(word for word in along if word not in ("", who))

    def crew(self, id: str | None) -> str:
        """The trade of a crew, or apart its name."""
        if id is None:
            return ""
        crew = self.snapshot.crews[id]
        if self.apart:
            return self.crews.of(id, crew.name, crew.trade)
        return self.crews.of(id, crew.trade, "crew", shared=True)

    def owes(self, id: str | None) -> str:
        """The title of a person, or apart their name."""
        if id is None:
            return ""
        person = self.snapshot.people[id]
        if self.apart:
            return self.people.of(id, person.name, person.role)
        otherwise = {"rep": "owner's rep", "crew": "foreman"}.get(person.role, "office")
        return self.people.of(id, person.title.lower(), otherwise)

    def releases(self, hold: HoldPoint) -> str:
        """Who says OK to cover at a check."""
        if hold.authority or hold.releases_id is None:
            return "authority" if hold.authority else "super"
        if self.snapshot.people[hold.releases_id].role == "super" and not self.apart:
            return "super"
        return self.owes(hold.releases_id)

    def way(self, id: str | None) -> str:
        """The name of a way up."""
        return self.ways.of(id, self.snapshot.ways[id].name, "way") if id else ""

    def hours(self, id: str | None) -> str:
        """The name of a calendar."""
        return self.calendars.of(id, self.snapshot.calendars[id].name, "hours") if id else ""
