"""Who looks at a check and how to reach them, for refusals that must not be a dead end."""

from server.core.world import HoldPoint, Snapshot


def whose(snapshot: Snapshot, hold: HoldPoint) -> tuple[str, str]:
    """The name and phone of whoever says OK to cover: the named person, else the super."""
    person = snapshot.people.get(hold.releases_id or "")
    if person is None:
        person = next((p for p in snapshot.people.values() if p.role == "super"), None)
    return (person.name, person.phone) if person else ("", "")


def check_name(snapshot: Snapshot, hold: HoldPoint) -> str:
    """What a check is called in the chain."""
    return snapshot.activities[hold.activity_id].name


def person_name(snapshot: Snapshot, id: str | None) -> str:
    """A person's name, or nothing."""
    person = snapshot.people.get(id or "")
    return person.name if person else ""
