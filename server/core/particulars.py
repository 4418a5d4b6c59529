"""What can be said of an activity beside its kind, time and layers, and of which kinds."""

STUFFS = ("lime", "cement", "gypsum", "compound", "adhesive", "grout")
"""What wet work is done with, and what a wait lets dry, set or cure."""

ON_TEMPORARY = ("sets", "strikes", "stands on")
"""What a task does with a temporary work."""

GOES_WITH = {
    "finish_wood": ("task", "delivery"),
    "shakes": ("task",),
    "stuff": ("task", "wait"),
    "fire_watch": ("task",),
    "circuit": ("task",),
    "temporary": ("task",),
    "temporary_id": ("task",),
    "way_in_id": ("task", "delivery"),
    "sample_id": ("task", "hold", "delivery"),
    "sheet_id": ("task", "hold", "delivery"),
    "carries_datum": ("task",),
    "review": ("delivery",),
}
"""The kinds of activity that each of these fields is said of; see `world.Activity`."""
