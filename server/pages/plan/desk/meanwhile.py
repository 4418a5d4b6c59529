"""Who changed a row since it was shown."""

from starlette.requests import Request

from server.pages.kit import web_of
from server.pages.shared.opened import Opened


def who_since(request: Request, opened: Opened, id: str) -> str:
    """Whoever changed a row of the plan, or what it comes after, last, and when."""
    last = web_of(request).store.changed_last(opened.project_id, id)
    return f"{last.person_name}, {opened.words.clock(last.at)}" if last else "–"
