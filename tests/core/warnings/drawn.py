"""Finding what is only about how the plan is drawn: of one rule, every sentence said."""

from server.core.changes import change
from server.core.warnings import Warning, find
from server.core.world import Snapshot
from server.core.world.network import forecast
from server.words import say
from tests.core.warnings.finding import NOW
from tests.worlds import World, actor


def drawn(rule: str, world: World) -> tuple[Warning, ...]:
    """The warnings of one rule on the page where the plan is drawn; each can be said."""
    return _of(rule, world.snapshot())


def only(rule: str, world: World) -> Warning:
    """The only one."""
    (found,) = drawn(rule, world)
    return found


def left(rule: str, world: World, warning: Warning) -> list[int]:
    """For each of its mends: how many of the rule are left when it is pressed."""
    counts = []
    for mend in warning.mends:
        after = world.snapshot()
        for command in mend.commands:
            after = change(after, actor(after), command, NOW).after
        counts.append(len(_of(rule, after)))
    return counts


def _of(rule: str, snapshot: Snapshot) -> tuple[Warning, ...]:
    found = find(snapshot, forecast(snapshot, NOW), lambda w: w.rule == rule, plan=True)
    for warning in found:
        assert say(warning.title)
        assert say(warning.sentence)
        assert all(say(mend.label) for mend in warning.mends)
    return found
