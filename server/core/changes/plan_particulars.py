"""What is said of an activity beside its kind, its time and its layers, checked.

Wet stuff, hot work, circuits, temporary works, long pieces, samples and drawings: each goes with
some kinds of activity and leads to something that is there.
"""

from dataclasses import replace

from server.core.changes.inputs import BadInput, one_of, text_of, there, there_or_none, whole
from server.core.changes.plan import ActivityFacts
from server.core.particulars import GOES_WITH, ON_TEMPORARY, STUFFS
from server.core.world import Activity, Sheet, Snapshot, TemporaryWork, Way

LONGEST_CIRCUIT = 40
LONGEST_REVIEW = 366 * 24 * 60
"""Clock minutes; a review that takes longer is a slip."""


def checked_particulars(snapshot: Snapshot, facts: ActivityFacts) -> ActivityFacts:
    """The facts with a tidy circuit; raises a refusal with the field that is off."""
    for field, kinds in GOES_WITH.items():
        if getattr(facts, field) and facts.kind not in kinds:
            raise BadInput("plan.not_of_this_kind", field=field)
    one_of(facts.stuff, ("", *STUFFS), "stuff")
    whole(facts.review, 0, LONGEST_REVIEW, "review")
    if facts.fire_watch and not facts.hot:
        raise BadInput("plan.watch_without_fire", field="fire_watch")
    _temporary(snapshot, facts)
    there_or_none(snapshot, Way, facts.way_in_id, "way_in_id")
    there_or_none(snapshot, Sheet, facts.sheet_id, "sheet_id")
    sample = there_or_none(snapshot, Activity, facts.sample_id, "sample_id")
    if sample is not None and sample.kind != "decision":
        raise BadInput("plan.no_decision", field="sample_id", activity=sample.name)
    circuit = " ".join(text_of(facts.circuit, "circuit", LONGEST_CIRCUIT).split())
    return replace(facts, circuit=circuit)


def _temporary(snapshot: Snapshot, facts: ActivityFacts) -> None:
    """It does something to a temporary work, and the temporary work is named: both or neither."""
    one_of(facts.temporary, ("", *ON_TEMPORARY), "temporary")
    if facts.temporary and not facts.temporary_id:
        raise BadInput("plan.which_temporary", field="temporary_id")
    if facts.temporary_id and not facts.temporary:
        raise BadInput("plan.what_with_temporary", field="temporary")
    if facts.temporary_id:
        there(snapshot, TemporaryWork, facts.temporary_id, "temporary_id")
