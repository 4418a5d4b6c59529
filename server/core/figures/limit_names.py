"""The limits that figures know: what each is of, so that a profile cannot give one in pounds."""

from collections.abc import Mapping

UNITS_OF: Mapping[str, tuple[str, ...]] = {
    "length": ("in", "mm"),
    "angle": ("°",),
    "count": ("count",),
    "force": ("lb",),
    "load": ("psf",),
}

LIMITS: Mapping[str, str] = {
    # the flight
    "riser": "length",
    "riser_variation": "length",
    "tread": "length",
    "tread_variation": "length",
    "twice_riser_and_tread": "length",
    "pitch": "angle",
    "winder_walkline": "length",
    "winder_narrow": "length",
    "walkline_from": "length",
    "nosing": "length",
    "nosing_not_from": "length",
    "headroom": "length",
    "clear_width": "length",
    "clear_width_one_rail": "length",
    "clear_width_two_rails": "length",
    "rise_between_landings": "length",
    # rails and guards
    "handrail_height": "length",
    "handrail_clearance": "length",
    "handrail_projection": "length",
    "handrail_from": "count",
    "rail_diameter": "length",
    "rail_perimeter": "length",
    "rail_across": "length",
    "guard_from": "length",
    "guard_drop_within": "length",
    "guard_height": "length",
    "guard_height_stairs": "length",
    "guard_opening": "length",
    "guard_opening_triangle": "length",
    "guard_opening_stairs": "length",
    # loads
    "load_stairs": "load",
    "load_tread": "force",
    "load_rail": "force",
    "load_infill": "force",
    # while the house is being built
    "temporary_way_from": "length",
    "temporary_riser_variation": "length",
    "temporary_pitch": "angle",
    "temporary_landing_every": "length",
    "temporary_landing": "length",
    "temporary_rail_from": "count",
    "temporary_rail_from_height": "length",
    "temporary_rail": "length",
    "temporary_handrail": "length",
    "temporary_handrail_on_top": "length",
    "temporary_edge_from": "length",
    "temporary_guardrail": "length",
    "temporary_guardrail_load": "force",
}
"""Every name of a limit and what it is of."""
