"""The warning of numbers outside their tolerance that nobody has decided on."""

from collections.abc import Iterable, Iterator

from server.core.changes.held import releaser_of
from server.core.changes.marking import verdict_of
from server.core.cover import last_look
from server.core.measure import State
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.states import live_attempts
from server.core.warnings.base import Mend, Warning, warns
from server.core.warnings.checks_stacks import stacks_out
from server.core.warnings.making import about
from server.core.world import Ask, Attempt, HoldPoint, Measurement, Snapshot

OUT = "out of tolerance"
OUT_TITLE = message("warning.out_of_tolerance.title")


@warns(OUT, title=OUT_TITLE, bad="lost work", family="check")
def out_of_tolerance(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A mark that waits for a decision has numbers outside their tolerance.

    Within the second band they can be put right now; outside both, the one who says OK is asked. It
    bites when what was measured is covered. A stack of tolerances is told when it is to leave its
    range by what released checks have measured.
    """
    yield from stacks_out(snapshot, schedule, OUT)
    for activity in snapshot.chain:
        hold = snapshot.hold_of.get(activity.id)
        attempts = live_attempts(snapshot, hold) if hold else ()
        if hold is None or not attempts or attempts[-1].state != "marked":
            continue
        attempt = attempts[-1]
        outside = list(_outside(snapshot, attempt))
        if not outside:
            continue
        asked = [one for one in outside if one[2] is State.ASK]
        person, look = releaser_of(snapshot, hold), last_look(snapshot, schedule, hold)
        yield about(
            snapshot,
            OUT,
            message(
                "warning.out_of_tolerance.ask" if asked else "warning.out_of_tolerance.put_right",
                check=activity.name,
                numbers=tuple(_number(hold, ask, m) for ask, m, _ in asked or outside),
                whose=person.name if person else "",
            ),
            (activity,),
            subject=(hold.id,),
            facts=(attempt.id, *(f"{m.ask_id} {m.value}" for _, m, _ in outside)),
            at=look.at if look else None,
            layer_ids=hold.layer_ids,
            hold_id=hold.id,
            who=(None, person.id if person else None),
            mends=[Mend(message("warning.open_check"), goto_hold_id=hold.id)],
        )


def _outside(snapshot: Snapshot, attempt: Attempt) -> Iterator[tuple[Ask, Measurement, State]]:
    """The numbers of an attempt that lie outside the first band, in the order they are asked."""
    measured = snapshot.measurements_of.get(attempt.id, ())
    for one in sorted(measured, key=lambda m: snapshot.asks[m.ask_id].order):
        ask = snapshot.asks[one.ask_id]
        verdict = verdict_of(ask, one.value)
        if verdict is not None and verdict.state is not State.WITHIN:
            yield ask, one, verdict.state


def _number(hold: HoldPoint, ask: Ask, measured: Measurement) -> Message:
    """A number as it was typed, and where."""
    if ask.part is None:
        if ask.unit == "yes":
            return message("warning.out_of_tolerance.no", label=ask.label)
        return message(
            "warning.out_of_tolerance.number",
            label=ask.label,
            value=measured.value,
            unit=ask.unit,
        )
    part = f"{hold.part_name} {ask.part}"
    if ask.unit == "yes":
        return message("warning.out_of_tolerance.part_no", label=ask.label, part=part)
    return message(
        "warning.out_of_tolerance.part",
        label=ask.label,
        part=part,
        value=measured.value,
        unit=ask.unit,
    )
