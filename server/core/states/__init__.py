"""The states of activities, checks and layers, read off what happened. Nothing here is stored."""

from server.core.states.before import ahead, behind, holding, open_before, too_soon
from server.core.states.checks import (
    HoldState,
    hold_state,
    is_released,
    left_out,
    live_attempts,
    looked_at,
    open_parts,
    parts_of,
    parts_ok,
    still_to_do,
    to_mark,
)
from server.core.states.layers import LayerState, checks_hidden_by, hidden_parts, layer_state
from server.core.states.tasks import ActivityState, activity_state

__all__ = [
    "ActivityState",
    "HoldState",
    "LayerState",
    "activity_state",
    "ahead",
    "behind",
    "checks_hidden_by",
    "hidden_parts",
    "hold_state",
    "holding",
    "is_released",
    "layer_state",
    "left_out",
    "live_attempts",
    "looked_at",
    "open_before",
    "open_parts",
    "parts_of",
    "parts_ok",
    "still_to_do",
    "to_mark",
    "too_soon",
]
