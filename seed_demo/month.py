"""The invented month: what happened at each detail, when. Times are "11-03 07:00", in 2025."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from server.data.patterns import pattern

__all__ = ["DETAILS", "Answered", "Came", "Detail", "Done", "Looked", "pattern"]


@dataclass(frozen=True)
class Answered:
    """A decision answered."""

    key: str
    at: str
    answer: str


@dataclass(frozen=True)
class Done:
    """A task started, and finished unless it is still going on."""

    key: str
    start: str
    finish: str = ""


@dataclass(frozen=True)
class Came:
    """A delivery ordered, promised for a day, arrived and counted."""

    key: str
    ordered: str
    promised: str
    arrived: str
    note: str = ""


@dataclass(frozen=True)
class Looked:
    """A check marked, then OK to cover, rejected or to be looked at again, or not looked at yet.

    `numbers` are those typed, by label or "label part"; the others are as they should be.
    `rework` is when the work of a rejection was done again.
    """

    key: str
    marked: str
    decided: str = ""
    verdict: str = "released"
    reason: str = ""
    numbers: Mapping[str, str] = field(default_factory=dict)
    rework: tuple[str, str] = ("", "")


@dataclass(frozen=True)
class Detail:
    """A detail, the pattern it was copied from, and its month."""

    id: str
    name: str
    sheet: str
    pattern: str
    place: str
    added: str
    month: tuple[Answered | Done | Came | Looked, ...]


FLIGHT = Detail(
    "mainflight",
    "Main flight",
    "D1",
    "self-supporting-stair",
    "flight",
    "11-03 07:10",
    (
        Answered("sizes", "11-03 09:20", "16 risers, ash treads 1 1/4 in, floors 3/4 in oak"),
        Answered("tread-fastening", "11-04 11:05", "From above, adhesive and trim-head screws"),
        Done("layout", "11-03 10:00", "11-03 12:00"),
        Looked("opening-check", "11-03 13:00", "11-03 14:10"),
        Done("other-way", "11-04 07:00", "11-04 11:00"),
        Looked("before-removal", "11-04 11:20", "11-04 13:05"),
        Done("old-stair-out", "11-05 07:00", "11-05 11:10"),
        Answered("stair-design", "11-10 15:10", "Sheet S-4: four hangers each side, kicker 2x6"),
        Done("pattern-stringer", "11-11 07:00", "11-11 11:00"),
        Looked(
            "stringer-check",
            "11-11 11:20",
            "11-11 13:10",
            "rejected",
            "Riser 9 cut to the wrong pencil line, 3/16 high. Cut a new pattern.",
            rework=("11-11 13:30", "11-12 09:15"),
        ),
        Looked("stringer-check", "11-12 09:40", "11-12 10:30"),
        Done("stringers-set", "11-12 12:30", "11-14 11:30"),
        Looked("hanger-check", "11-14 12:40", "11-14 14:05"),
        Done("blocking", "11-17 07:00", "11-17 11:05"),
        Done("wire-in", "11-17 12:30", "11-18 08:10"),
        Looked("electric-rough", "11-18 08:30", "11-20 10:10"),
        Looked("framing-rough", "11-20 10:30", "11-21 09:20"),
        Done("shores-out", "11-21 10:00", "11-21 11:00"),
        Looked("sag-check", "11-24 08:10", "11-24 13:20"),
        Done("batts-in", "11-25 07:00", "11-25 11:30"),
        Looked(
            "batts-check",
            "11-25 12:40",
            "11-25 13:30",
            "look again",
            "Bay 4: wire pressed into the batt. Split it round the wire.",
        ),
        Looked("batts-check", "11-26 08:05", "11-26 09:00"),
        Done("sub-treads-on", "12-02 07:05"),
    ),
)
GUARD = Detail(
    "rolledgard",
    "Rolled guard",
    "D2",
    "rolled-guard",
    "landing",
    "11-03 07:30",
    (
        Answered("section", "11-04 14:30", "Full size on sheet A-7, roll radius 3 1/2 in"),
        Answered("tie-down", "11-11 16:00", "Sheet S-5: 1/2 in bolts through the rim, two a fin"),
        Done("sample-made", "11-05 07:00", "11-05 15:10"),
        Done("guard-outboard", "11-05 12:30", "11-06 08:30"),
        Looked("guard-check", "11-06 08:45", "11-06 09:30"),
        Done("set-out", "11-06 10:00", "11-06 12:00"),
        Done("base-fins", "11-13 07:00", "11-14 10:00"),
        Looked("push-check", "11-17 08:00", "11-17 14:00"),
        Done("ribs-in", "11-18 07:00", "11-18 15:20"),
        Looked("ribs-check", "11-19 07:30", "11-19 09:10"),
        Done("light", "11-19 10:00", "11-20 08:00"),
        Looked("light-check", "11-20 08:30", "11-20 09:40"),
        Looked("rough", "11-20 10:00", "11-24 10:20"),
        Answered("sample-accepted", "11-24 16:20", "Accepted and signed; kept in the site office"),
        Done("skin-on", "11-26 07:00", "12-02 11:00"),
    ),
)
RAIL = Detail(
    "gardenrail",
    "Garden stair rail",
    "D3",
    "wall-rail",
    "garden",
    "11-03 07:50",
    (
        Answered("profile", "11-04 10:15", "1 3/4 in round ash, ends returned, 1 3/4 in clear"),
        Answered("fastening", "11-06 15:00", "Two 5/16 x 4 in structural screws a stand-off"),
        Done("mock-up", "11-07 07:00", "11-07 11:00"),
        Looked("mock-up-check", "11-07 11:30", "11-10 09:00"),
        Done("lines", "11-10 07:00", "11-10 09:00"),
        Done("blocking-in", "11-12 07:00", "11-12 10:10"),
        Done("move-services", "11-13 07:00", "11-13 09:20"),
        Looked("blocking-check", "11-13 10:00", "11-13 11:00"),
        Came("stand-offs-made", "11-10 10:00", "12-01 12:00", "12-01 10:00"),
        Came(
            "stand-offs-shipped",
            "12-01 10:30",
            "12-02 12:00",
            "12-02 10:15",
            "Seven and one spare; no dents.",
        ),
        Done("set-stand-offs", "12-03 07:00", "12-03 10:20"),
        Looked("string-check", "12-03 10:25", "12-03 10:36"),
        Looked(
            "height-check",
            "12-03 10:40",
            numbers={
                "1": "36",
                "2": "36 1/16",
                "3": "36 3/16",
                "4": "36",
                "5": "35 15/16",
                "6": "36 1/16",
                "7": "36",
            },
        ),
    ),
)
DETAILS = (FLIGHT, GUARD, RAIL)
