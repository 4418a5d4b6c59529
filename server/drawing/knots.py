"""The marks on the rope: whipping, knot, loop, splice and toggle, each by its state.

A mark is drawn around the middle of its strands at 0, 0; `half` is half the width that they take.
What is open is an outline, what is done is filled; the color only repeats it.
"""

from collections.abc import Callable
from typing import Literal

from markupsafe import Markup

from server.drawing.svg import Box, element, joined, number, path, rect

RopeKind = Literal["task", "wait", "hold", "delivery", "decision"]
RopeState = Literal[
    "waiting", "ready", "next", "under way", "done", "marked", "released", "again", "rejected"
]


def draw_knot(kind: RopeKind, state: RopeState, half: float) -> Markup:
    """The mark of an activity of this kind in this state."""
    return _DRAW[kind](state, half)


def _whipping(state: RopeState, half: float) -> Markup:
    """A task: turns of twine when done, begun with a loose end, a sleeve where it can begin."""
    reach = half + 2.5
    if state == "done":
        return _turns(reach, (-8, -4, 0, 4, 8))
    if state == "under way":
        loose = path(f"M{number(reach)} 0c7 1 6 9-1 8", class_="k-line")
        return _turns(reach, (-8, -4, 0)) + loose
    if state == "waiting":
        ticks = f"M{number(-reach)} -6H{number(reach)}M{number(-reach)} 6H{number(reach)}"
        return path(ticks, class_="k-tick")
    return rect(Box(-half - 4, -10, 2 * half + 8, 20), rx=2, class_="k-out")


def _turns(reach: float, heights: tuple[int, ...]) -> Markup:
    ground = rect(Box(-reach, heights[0] - 2, 2 * reach, heights[-1] - heights[0] + 4),
                  class_="k-ground")  # fmt: skip
    d = "".join(f"M{number(-reach)} {y + 1}L{number(reach)} {y - 1}" for y in heights)
    return ground + path(d, class_="k-line")


def _knot(state: RopeState, half: float) -> Markup:
    """A check: tied where it is released, laid ready where it is marked, sprung if rejected."""
    size = f"scale({1 + (half - 3) * 0.05:.2g})"
    if state == "rejected":
        ends = path("M-13-8C-6-14 6-8 8 0S-2 12-7 6-2-9 12-9M13 9L6 3", class_="k-line")
        return element("g", path("M-8-9h16v18h-16z", class_="k-ground"), ends, transform=size)
    body = path("M-10 1c0-10 9-13 14-9s8 9 2 14-16 5-16-5z", class_="k-out")
    laid = path("M-7-4c5-3 11 1 14 8M-8 5c4 3 11 2 15-4", class_="k-cross")
    low = path("M-9.5 3C-4 9 3 8 9 1 8 8 4 11-1 11-6 11-9 8-9.5 3z", class_="k-full")
    inside = {"marked": (laid,), "again": (laid, low), "released": (laid,), "done": (laid,)}
    return element("g", body, *inside.get(state, ()), transform=size)


def _loop(state: RopeState, half: float) -> Markup:
    """A wait: the rope is led out and back, and nothing happens meanwhile."""
    d = f"M{number(half - 1)}-10c18-3 18 23 0 20"
    if state == "waiting":
        return path(d, class_="k-out")
    inner = Markup() if state == "done" else path(d, class_="k-inner")
    return path(d, class_="k-cord") + inner


def _splice(state: RopeState, half: float) -> Markup:
    """A delivery: a strand that comes in from outside and is tucked into the rope."""
    d = f"M-16-12C-12-2-8 0{number(-half)} 2"
    if state == "waiting":
        strand = path(d, class_="k-out")
    elif state == "done":
        strand = path(d, class_="k-cord")
    else:
        strand = path(d, class_="k-cord") + path(d, class_="k-inner")
    tucks = (0, 6, 12) if state == "done" else (0,)
    reach = half + 1
    tucked = "".join(f"M{number(-reach)} {y + 3}L{number(reach)} {y - 2}" for y in tucks)
    return strand + path(tucked, class_="k-line")


def _toggle(state: RopeState, half: float) -> Markup:
    """A decision: a pin through the rope; drawn full once it is decided."""
    reach = half + 11
    body = path(
        f"M{number(-reach)} 0C{number(-reach + 4)}-7 {number(reach - 4)}-7 {number(reach)} 0"
        f"C{number(reach - 4)} 7 {number(-reach + 4)} 7 {number(-reach)} 0z",
        class_="k-out",
    )
    grooves = path("M-3-5v10M3-5v10", class_="k-cross")
    return joined((body, grooves))


_DRAW: dict[RopeKind, Callable[[RopeState, float], Markup]] = {
    "task": _whipping,
    "hold": _knot,
    "wait": _loop,
    "delivery": _splice,
    "decision": _toggle,
}
