"""Who changed a row since it was shown."""

from starlette.requests import Request

from server.pages.kit import web_of
from server.pages.shared.opened import Opened

LATELY = 40


def who_since(request: Request, opened: Opened, id: str) -> str:
    """Whoever changed a row of the plan, or what it comes after, last, and when."""
    store = web_of(request).store
    for entry in store.log(opened.project_id, detail_id=opened.detail_id, limit=LATELY):
        for row in store.log_rows(entry.id):
            noun = row.after or row.before
            if id in (getattr(noun, name, None) for name in ("id", "after_id", "activity_id")):
                return f"{entry.person_name}, {opened.words.clock(entry.at)}"
    return "–"
