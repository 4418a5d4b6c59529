"""The next five on the sheet: who does what, when, after what."""

from collections.abc import Iterator
from dataclasses import dataclass

from server.core.next import Going, who_goes_next
from server.core.refusals import message
from server.core.world import Activity
from server.core.world.clock import status_of
from server.pages.detail.looking import Looking
from server.pages.shared.rope import Strand, order_of_work
from server.pages.sheet.checks import looker
from server.pages.sheet.paper import GAP, MARK, NAME, TEXT, height_of, shortened

SHOWN = 5
SEVERAL = 3


@dataclass(frozen=True)
class NextLine:
    """One that goes next: what; who, when and after what; and how high it stands on paper."""

    id: str
    name: str
    said: str
    height: float


def next_lines(looking: Looking, width: float, room: float) -> tuple[tuple[NextLine, ...], int]:
    """The next five, in the order of who goes next, and how many are still to do after them.

    All five stand on the sheet: where the room is short each is shortened.
    """
    going = who_goes_next(
        looking.snapshot, looking.schedule, status_of(looking.now), detail_id=looking.detail.id
    )
    strands = {
        strand.id: strand
        for strand in order_of_work(
            looking.snapshot, looking.schedule, looking.detail.id, looking.words, looking.now
        )
    }
    five, rest = going[:SHOWN], max(0, len(going) - SHOWN)
    for most in ((2, 3), (2, 2), (1, 2)):
        lines = tuple(_line(looking, g, strands[g.activity.id], width - MARK, most) for g in five)
        if sum(line.height for line in lines) + (TEXT.line if rest else 0.0) <= room:
            break
    return lines, rest


def _line(
    looking: Looking, going: Going, strand: Strand, width: float, most: tuple[int, int]
) -> NextLine:
    said = " · ".join(
        part for part in (_who(looking, going, strand), _after(looking, going)) if part
    )
    name = shortened(going.activity.name, width, NAME, most[0])
    said = shortened(said, width, TEXT, most[1])
    high = height_of(name, width, NAME) + height_of(said, width, TEXT)
    return NextLine(going.activity.id, name, said, high + GAP)


def _who(looking: Looking, going: Going, strand: Strand) -> str:
    hold = looking.snapshot.hold_of.get(going.activity.id)
    if hold is None:
        return strand.who
    crew = looking.snapshot.crews.get(hold.marks_crew_id or "")
    who = looker(looking, hold)
    said = message("sheet.then_looks", crew=crew.name, who=who) if crew else None
    return f"{looking.say(said or message('sheet.looks', who=who))} · {strand.who}"


def _after(looking: Looking, going: Going) -> str:
    """What is still open directly before it; of a wait, until when."""
    if going.standing == "under way":
        return ""
    before = tuple(dict.fromkeys(_before(looking, going.activity)))
    if not before:
        return ""
    if len(before) > SEVERAL:
        return looking.say(
            message("sheet.after_more", what=before[:SEVERAL], n=len(before) - SEVERAL)
        )
    return looking.say(message("sheet.after", what=before))


def _before(looking: Looking, activity: Activity) -> Iterator[str]:
    snapshot, schedule = looking.snapshot, looking.schedule
    for dependency in snapshot.before.get(activity.id, ()):
        before = snapshot.activities[dependency.before_id]
        if before.ended is not None or before.id in schedule.done:
            continue
        if before.kind == "wait":
            till = schedule[before.id].early_finish.date()
            yield looking.say(message("sheet.wait", wait=before.name, till=till))
        else:
            yield before.name
