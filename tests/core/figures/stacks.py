"""Stacks and rails that tests build on."""

from dataclasses import replace
from typing import Any

from server.core.figures.stack import Part, Stack
from server.core.figures.standoffs import RailOnWall
from server.core.figures.studs import Studs


def part(nominal: float, tolerance: float, sensitivity: float = 1, **more: Any) -> Part:
    return Part(
        **{
            "name": f"part of {nominal:g}",
            "nominal": nominal,
            "plus": tolerance,
            "minus": tolerance,
            "sensitivity": sensitivity,
            **more,
        }
    )


def in_a_housing(**more: Any) -> Stack:
    """Three parts that go into a housing; the gap left is 0.020."""
    parts = (
        part(4.020, 0.005, name="housing"),
        part(2.000, 0.005, -1, name="block"),
        part(1.500, 0.003, -1, name="ring"),
        part(0.500, 0.002, -1, name="washer"),
    )
    return Stack(**{"parts": parts, **more})


def measured(stack: Stack, index: int, value: float) -> Stack:
    """The same with one part measured."""
    parts = list(stack.parts)
    parts[index] = replace(parts[index], measured=value)
    return replace(stack, parts=tuple(parts))


def a_rail(**more: Any) -> RailOnWall:
    """A round 1 1/2 in rail along 13 treads of 7 1/2 by 10: the slope of a 3-4-5 triangle."""
    facts: dict[str, Any] = {
        "rise": 7.5,
        "tread": 10,
        "treads": 13,
        "rail_height": 36,
        "rail_deep": 1.5,
        "rail_wide": 1.5,
        "clearance": 1.5,
        "board": 0.5,
        "plaster": 0.75,
        "first": 8,
        "last": 8,
        "most": 32,
        "studs": Studs(spacing=16, first=3),
    }
    return RailOnWall(**{**facts, **more})
