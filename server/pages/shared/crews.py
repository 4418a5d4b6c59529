"""Who does something, in words: "Ninepail Plaster with Ore Street Metal"."""

from server.core.refusals import message
from server.core.world import Activity, Snapshot
from server.words.words import Words


def crews_said(snapshot: Snapshot, activity: Activity, words: Words) -> str:
    """The crew of an activity, with those that do it with it; nothing where it has none."""
    first, *others = [snapshot.crews[id].name for id in activity.crew_ids] or [""]
    if not others:
        return first
    return words.say(message("crews.with", crew=first, others=tuple(others)))
