"""The square code that leads a phone from the wall to the page of the detail."""

from urllib.parse import urlsplit

import segno
from markupsafe import Markup

QUIET = 4
"""Empty modules around a code, as ISO/IEC 18004 asks."""


def address_of(base_url: str, detail_id: str) -> str:
    """Where the page of a detail is: scheme, host and path of the configured address.

    Whatever else stands in that address (a name, a password, a query) is for no wall.
    """
    parts = urlsplit(base_url)
    host = parts.netloc.rpartition("@")[2]
    return f"{parts.scheme}://{host}{parts.path.rstrip('/')}/d/{detail_id}"


def code_svg(address: str) -> Markup:
    """The QR code (ISO/IEC 18004) of an address, drawn; a tenth of it may be torn or smeared."""
    code = segno.make_qr(address, error="m")
    return Markup(code.svg_inline(border=QUIET, omitsize=True, svgclass="code", lineclass=None))
