"""`stairhold serve`: answers requests until it is told to stop."""

import contextlib
import errno
import socket
from typing import Annotated, Any

import typer
import uvicorn

from server.cli.opening import up_to_date
from server.cli.problems import Problem, one_sentence, settings_from
from server.settings import Settings

GOODBYE_SECONDS = 5


def serve(
    host: Annotated[str | None, typer.Option(help="Address to listen on.")] = None,
    port: Annotated[int | None, typer.Option(help="Port to listen on.")] = None,
) -> None:
    """Start the server."""
    given: dict[str, Any] = {"host": host, "port": port}
    given = {name: value for name, value in given.items() if value is not None}
    settings = settings_from(lambda: Settings(**given))
    with listen(settings, "stairhold serve --port ") as listening:
        run(settings, listening, f"Stairhold is up: {settings.base_url}  (Ctrl-C stops it)")


def listen(settings: Settings, other_port: str) -> socket.socket:
    """The port, taken; `other_port` is what to type right before the number of another one."""
    family = socket.AF_INET6 if ":" in settings.host else socket.AF_INET
    listening = socket.socket(family, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((settings.host, settings.port))
        listening.listen(128)
    except OSError as error:
        listening.close()
        another = f"choose another one: {other_port}{_another(settings.port)}"
        if error.errno == errno.EADDRINUSE:
            raise Problem(f"port {settings.port} is busy; {another}") from None
        if error.errno == errno.EACCES:
            raise Problem(f"port {settings.port} needs more rights; {another}") from None
        raise Problem(f"cannot listen on {settings.host}: {error.strerror}") from None
    return listening


def run(settings: Settings, listening: socket.socket, welcome: str) -> None:
    """Serves on a port that is taken already; says `welcome` once it answers."""
    from server.app import create_app  # all screens: no other command waits for them

    with one_sentence(settings):
        up_to_date(settings)
        app = create_app(settings)
    config = uvicorn.Config(
        app,
        log_level="warning",
        access_log=False,  # it would print personal links whole
        server_header=False,
        proxy_headers=bool(settings.trusted_proxies),
        forwarded_allow_ips=list(settings.trusted_proxies),
        timeout_graceful_shutdown=GOODBYE_SECONDS,
    )
    with contextlib.suppress(KeyboardInterrupt):  # Ctrl-C is how it is told to stop
        _Welcoming(config, welcome).run(sockets=[listening])


class _Welcoming(uvicorn.Server):
    def __init__(self, config: uvicorn.Config, welcome: str) -> None:
        super().__init__(config)
        self._welcome = welcome

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        if self.started:
            print(self._welcome, flush=True)


def _another(port: int) -> int:
    return port + 1 if 1024 <= port < 65535 else 8000
