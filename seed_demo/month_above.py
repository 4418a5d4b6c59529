"""The invented month of the landing glass and of the light well above: what happened, when."""

from seed_demo.happened import Answered, Came, Detail, Done, Looked

GLASS = Detail(
    "landinglas",
    "Landing glass",
    "D4",
    "glass-guard",
    "landing",
    "11-03 08:05",
    (
        Answered("section", "11-05 10:20", "Sheet A-9: three panes, bronze cap, 3/4 in joints"),
        Done("floor-line", "11-06 12:30", "11-06 13:30"),
        Answered("fastening", "11-14 15:20", "Sheet S-6: twelve 1/2 in bolts, 8 in apart"),
        Done("edge-beam-in", "11-17 12:30", "11-18 14:10"),
        Looked("recess-check", "11-18 14:20", "11-19 09:30"),
        Done("guard-outboard", "11-19 12:30", "11-20 10:40"),
        Looked("guard-check", "11-20 10:50", "11-20 13:10"),
        Answered("accepted", "11-20 16:30", "Town's letter of Nov 20: laminated, with a cap"),
        Looked(
            "recess-check",
            "11-25 09:10",
            "11-25 10:00",
            opened=("11-24 10:45", "A-9 has a new revision: the shoe sits 1/8 in deeper"),
        ),
        Came(
            "shoe-made",
            "11-25 10:30",
            "12-15 12:00",
            stages=(
                ("measured", "11-25 10:05"),
                ("drawn", "11-25 10:15"),
                ("approved", "11-25 10:20"),
            ),
        ),
    ),
)
WELL = Detail(
    "lightwell2",
    "Light well lining",
    "D5",
    "light-well-lining",
    "welltop",
    "11-03 08:20",
    (
        Answered(
            "drawing", "11-05 09:40", "Sheet A-10: twelve courses, the lean begins at the 4th"
        ),
        Done("flash", "11-07 12:30", "11-10 09:30"),
        Looked("hose-check", "11-10 10:00", "11-10 11:20"),
        Done("sample-made", "11-11 07:00", "11-11 15:10"),
        Answered("pull", "11-12 14:30", "Sheet S-7: 2 1/2 in screws, two in each batten crossing"),
        Answered("sample-accepted", "11-13 11:10", "Accepted; the fold lies to the room side"),
        Done("deck", "11-13 07:00", "11-13 13:40"),
        Looked("deck-check", "11-13 13:50", "11-13 14:30"),
        Done("backing", "11-14 10:30", "11-17 10:00"),
        Looked("backing-check", "11-17 10:10", "11-17 11:10"),
        Done("insulate", "11-18 07:00", "11-18 11:10"),
        Looked("insulation-check", "11-18 11:30", "11-20 10:40", called="11-17 11:20"),
        Done("retarder", "11-20 12:30", "11-20 15:20"),
        Looked("retarder-check", "11-21 07:30", "11-21 08:20"),
        Done("wire-in", "11-21 10:00", "11-24 08:30"),
        Looked("motor-check", "11-24 08:40", "11-24 09:30"),
        Looked("rough", "11-24 09:40", "11-26 10:50", called="11-21 15:10"),
        Came(
            "zinc-made",
            "11-19 11:00",
            "12-11 12:00",
            stages=(
                ("measured", "11-17 11:30"),
                ("drawn", "11-18 15:00"),
                ("approved", "11-19 10:40"),
            ),
        ),
        Done("datum-ring", "12-01 07:00", "12-01 09:40"),
        Looked("ring-check", "12-01 09:50", "12-01 10:40"),
    ),
)
