"""The same houses as the plan's tests."""

from tests.pages.plan.conftest import ada, empty, rail, rufus

__all__ = ["ada", "empty", "rail", "rufus"]
