"""What every screen uses: `Web`, `Viewing`, `render`, `kept`, `press`, `Form`."""

from server.pages.kit.forms import Form, Refusals
from server.pages.kit.ids import row_id
from server.pages.kit.kept import kept
from server.pages.kit.press import press, see
from server.pages.kit.render import is_partial, render
from server.pages.kit.viewing import SuperViewing, Viewing
from server.pages.kit.web import Web, web_of

__all__ = [
    "Form",
    "Refusals",
    "SuperViewing",
    "Viewing",
    "Web",
    "is_partial",
    "kept",
    "press",
    "render",
    "row_id",
    "see",
    "web_of",
]
