"""The application: wiring and nothing else."""

import gc
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

import anyio
import anyio.to_thread
from fastapi import FastAPI
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.staticfiles import StaticFiles

from server.outside.photos_sweep import EVERY, sweep_now
from server.pages import (
    calendars,
    check,
    dates,
    detail,
    figures,
    find,
    house,
    kept_figures,
    mine,
    morning,
    owner,
    patterns,
    people,
    photos,
    plan,
    push,
    sheet,
    sign_in,
    site,
    standing,
    visits,
    why,
)
from server.pages.kit import errors
from server.pages.kit.policy import BodyLimit, Policy, SameOrigin
from server.pages.kit.templates import environment, shipped_build
from server.pages.kit.web import Web
from server.resource import resource
from server.settings import Settings
from server.store import Store, open_store

SCREENS = (
    calendars,
    check,
    dates,
    detail,
    figures,
    find,
    house,
    kept_figures,
    mine,
    morning,
    owner,
    patterns,
    people,
    photos,
    plan,
    push,
    sheet,
    sign_in,
    site,
    standing,
    visits,
    why,
)

PHOTOS_AT_ONCE = 4
"""How many photos of the largest size one form may bring."""


class LongKept(StaticFiles):
    """Static files under the build's name: they never change there."""

    def file_response(self, *args: object, **kwargs: object) -> Response:
        response = super().file_response(*args, **kwargs)  # type: ignore[arg-type]
        response.headers["Cache-Control"] = "public, max-age=31536000, immutable"
        return response


async def _sweep_photos(store: Store, settings: Settings) -> None:
    while True:
        await anyio.to_thread.run_sync(sweep_now, store, settings.data_dir)
        await anyio.sleep(EVERY.total_seconds())


def create_app(settings: Settings) -> FastAPI:
    """The application for these settings; its database is migrated already."""
    build = shipped_build()
    store = open_store(settings)

    @asynccontextmanager
    async def lifespan(app: FastAPI) -> AsyncIterator[None]:
        anyio.to_thread.current_default_thread_limiter().total_tokens = settings.threads
        gc.freeze()
        async with anyio.create_task_group() as beside:
            beside.start_soon(_sweep_photos, store, settings)
            yield
            beside.cancel_scope.cancel()
        store.close()

    app = FastAPI(lifespan=lifespan, docs_url=None, redoc_url=None, openapi_url=None)
    app.state.web = Web(settings, store, environment(build), build)
    for screen in SCREENS:
        app.include_router(screen.routes.router)
    app.mount(f"/static/{build}", LongKept(directory=resource("static")), name="static")
    errors.install(app)

    @app.get("/healthz")
    def healthz(request: Request) -> Response:
        store.companies()
        return PlainTextResponse("here\n")

    app.add_middleware(GZipMiddleware, minimum_size=1000)
    app.add_middleware(
        BodyLimit,
        most=settings.body_limit_bytes,
        most_photos=PHOTOS_AT_ONCE * settings.photo_limit_bytes,
        photos_at="/h/",
    )
    app.add_middleware(SameOrigin, base_url=settings.base_url)
    app.add_middleware(Policy)
    return app
