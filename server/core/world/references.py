"""What a row points to, by the names of its fields."""

from collections.abc import Iterator, Mapping
from dataclasses import fields

from server.core.world.noun import Noun

POINTS_TO: Mapping[str, str] = {
    **dict.fromkeys(("company_id",), "companies"),
    **dict.fromkeys(("calendar_id", "based_on_id"), "calendars"),
    **dict.fromkeys(("crew_id", "with_crew_ids", "marks_crew_id"), "crews"),
    **dict.fromkeys(
        (
            "person_id",
            "releases_id",
            "by_id",
            "marked_by_id",
            "decided_by_id",
            "opened_by_id",
            "asked_by_id",
            "answered_by_id",
            "heard_by_id",
        ),
        "people",
    ),
    **dict.fromkeys(("project_id",), "projects"),
    **dict.fromkeys(("floor_id", "lower_id", "upper_id"), "floors"),
    **dict.fromkeys(("place_id", "open_to"), "places"),
    **dict.fromkeys(("opens_way_id", "closes_way_id", "way_in_id"), "ways"),
    **dict.fromkeys(("detail_id", "detail_ids"), "details"),
    **dict.fromkeys(("side_id",), "sides"),
    **dict.fromkeys(("layer_id", "layer_ids", "within_id", "measured_from_id"), "layers"),
    **dict.fromkeys(
        ("activity_id", "activity_ids", "before_id", "after_id", "sample_id"), "activities"
    ),
    **dict.fromkeys(("hold_id",), "holds"),
    **dict.fromkeys(("ask_id",), "asks"),
    **dict.fromkeys(("figure_id",), "kept_figures"),
    **dict.fromkeys(("attempt_id", "rework_of_id"), "attempts"),
    **dict.fromkeys(("booking_id",), "bookings"),
    **dict.fromkeys(("sheet_id", "replaced_id"), "sheets"),
    **dict.fromkeys(("temporary_id",), "temporary"),
}
"""Every field of a noun that holds the id of another (or several), and the table it points into."""


def references(noun: Noun) -> Iterator[tuple[str, str]]:
    """The rows that a noun points to: (table, id), in the order of its fields."""
    for field in fields(noun):
        table = POINTS_TO.get(field.name)
        if table is None:
            continue
        value: str | tuple[str, ...] | None = getattr(noun, field.name)
        for id in (value,) if isinstance(value, str) else value or ():
            yield table, id
