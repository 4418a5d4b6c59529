"""What can be done: command dataclasses by family, and their pure rules (`rules_*`)."""

# Importing a family's rules registers them.
import server.core.changes.marking
import server.core.changes.rules_actuals
import server.core.changes.rules_bookings
import server.core.changes.rules_calendars
import server.core.changes.rules_holds
import server.core.changes.rules_kept_figures
import server.core.changes.rules_own_limits
import server.core.changes.rules_own_patterns
import server.core.changes.rules_people
import server.core.changes.rules_places
import server.core.changes.rules_plan
import server.core.changes.rules_plan_activities
import server.core.changes.rules_plan_copies
import server.core.changes.rules_plan_dependencies
import server.core.changes.rules_plan_layers
import server.core.changes.rules_plan_merge
import server.core.changes.rules_plan_pattern
import server.core.changes.rules_plan_rows
import server.core.changes.rules_plan_sides
import server.core.changes.rules_plan_split
import server.core.changes.rules_pushing
import server.core.changes.rules_site
import server.core.changes.rules_stages
import server.core.changes.rules_supply
import server.core.changes.rules_undoing  # noqa: F401
from server.core.changes.base import (
    Actor,
    ChangedSince,
    Command,
    Gone,
    Outcome,
    change,
    changed,
)

__all__ = ["Actor", "ChangedSince", "Command", "Gone", "Outcome", "change", "changed"]
