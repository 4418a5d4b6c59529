"""What every answer carries so that a browser loads nothing from elsewhere, and the origin rule."""

from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

PAGE_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'; "
    "manifest-src 'self'"
)
HEADERS = {
    "Content-Security-Policy": PAGE_POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), geolocation=(), microphone=()",
}
TOO_MUCH = "That is more than we can take at once."
CHANGING = frozenset({"POST", "PUT", "PATCH", "DELETE"})


class Policy:
    """Adds the policy headers; an answer that sets one of them keeps its own."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
            await send(message)

        await self.app(scope, receive, with_headers)


class SameOrigin:
    """Lets a changing request through only from our own pages, and any only to our own host."""

    def __init__(self, app: ASGIApp, base_url: str) -> None:
        self.app = app
        self.base_url = base_url
        self.host = urlsplit(base_url).netloc.lower()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http":
            headers = Headers(scope=scope)
            if headers.get("host", "").lower() != self.host:
                await _said(421, "This server is known by another address.", scope, receive, send)
                return
            if scope["method"] in CHANGING and not self._ours(headers):
                sentence = "This did not come from one of our own pages."
                await _said(403, sentence, scope, receive, send)
                return
        await self.app(scope, receive, send)

    def _ours(self, headers: Headers) -> bool:
        site = headers.get("sec-fetch-site")
        if site is not None:
            return site == "same-origin"
        return headers.get("origin", "").lower() == self.base_url.lower()


class BodyLimit:
    """Refuses a body that is larger than allowed, before and while it is read.

    Only below `photos_at` may a form bring photos.
    """

    def __init__(self, app: ASGIApp, most: int, most_photos: int, photos_at: str) -> None:
        self.app = app
        self.most = most
        self.most_photos = most_photos
        self.photos_at = photos_at

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http" or scope["method"] not in CHANGING:
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        multipart = headers.get("content-type", "").startswith("multipart/form-data")
        photos = multipart and scope["path"].startswith(self.photos_at)
        most = self.most_photos if photos else self.most
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > most:
            await _said(413, TOO_MUCH, scope, receive, send)
            return
        seen = 0

        async def counted() -> Message:
            nonlocal seen
            message = await receive()
            seen += len(message.get("body", b""))
            if seen > most:
                raise TooLarge
            return message

        try:
            await self.app(scope, counted, send)
        except TooLarge:
            await _said(413, TOO_MUCH, scope, receive, send)


class TooLarge(Exception):
    """The body grew beyond the limit while it was read."""


async def _said(status: int, sentence: str, scope: Scope, receive: Receive, send: Send) -> None:
    await PlainTextResponse(sentence, status_code=status)(scope, receive, send)
