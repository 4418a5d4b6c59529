"""What a request finds in its application: settings, store, templates, kept pages."""

import hashlib
from collections import OrderedDict
from dataclasses import dataclass, field
from threading import Lock

from jinja2 import Environment
from starlette.requests import HTTPConnection

from server.settings import Settings
from server.store import Store


class KeptBodies:
    """Rendered bodies by their key, the least recently used forgotten first."""

    def __init__(self, most: int = 400) -> None:
        self._most = most
        self._bodies: OrderedDict[tuple[object, ...], str] = OrderedDict()
        self._lock = Lock()

    def get(self, key: tuple[object, ...]) -> str | None:
        """The body kept under this key."""
        with self._lock:
            if key in self._bodies:
                self._bodies.move_to_end(key)
            return self._bodies.get(key)

    def keep(self, key: tuple[object, ...], body: str) -> None:
        """Keeps a body, and forgets the oldest beyond the most."""
        with self._lock:
            self._bodies[key] = body
            if len(self._bodies) > self._most:
                self._bodies.popitem(last=False)


@dataclass(frozen=True)
class Web:
    """One application's things, shared by its requests."""

    settings: Settings
    store: Store
    templates: Environment
    build: str
    bodies: KeptBodies = field(default_factory=KeptBodies)


def web_of(connection: HTTPConnection) -> Web:
    """The `Web` of the application a request came to."""
    web: Web = connection.app.state.web
    return web


def build_of(*texts: bytes) -> str:
    """A short name for these contents."""
    return hashlib.sha256(b"\0".join(texts)).hexdigest()[:12]
