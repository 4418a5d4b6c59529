"""The only clock: UTC for the server, wall-clock time for a project."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from server.core.world import Company, Project


def utc_now() -> datetime:
    """Now in UTC, without a zone, as the store keeps its own times."""
    return datetime.now(UTC).replace(tzinfo=None)


def wall_clock(time_zone: str) -> datetime:
    """Now as clocks show it in a time zone ("America/Chicago"), without a zone, in seconds."""
    return datetime.now(ZoneInfo(time_zone)).replace(tzinfo=None, microsecond=0, fold=0)


def now_in(company: Company, project: Project | None) -> datetime:
    """Now for a project; a company's frozen clock wins. Without a project, UTC."""
    if company.frozen_at is not None:
        return company.frozen_at
    return wall_clock(project.time_zone if project else "UTC")
