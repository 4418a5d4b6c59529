"""The template environment: escaping always, nothing undefined, words and static addresses."""

from datetime import datetime
from functools import lru_cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context

from server.core.refusals import Message
from server.drawing.hatches import hatch_defs
from server.pages.kit.web import build_of
from server.resource import resource
from server.words import Words, words


def environment(build: str) -> Environment:
    """An environment over the shipped templates.

    In a template `t("id", name=value)` says a message, `say(message)` one that the core made,
    `when(moment)`, `day(day)`, `clock(moment)`, `span(minutes)`, `work(minutes)` and
    `length(value, unit)` say values; all in the reader's language, seen from the page's `now`.
    """
    env = Environment(
        loader=FileSystemLoader(resource("templates")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    env.globals.update(
        t=_t,
        say=_say,
        when=_when,
        day=_day,
        clock=_clock,
        span=_span,
        work=_work,
        length=_length,
        hatch_defs=hatch_defs,
        static=lambda path: f"/static/{build}/{path}",
        HTMX_CONFIG=HTMX_CONFIG,
    )
    return env


HTMX_CONFIG = (
    '{"allowEval":false,"allowScriptTags":false,"includeIndicatorStyles":false,'
    '"historyCacheSize":0,"refreshOnHistoryMiss":true,"historyRestoreAsHxRequest":false,'
    '"responseHandling":[{"code":"204","swap":false},{"code":"304","swap":false},{"code":"[23]..","swap":true},'
    '{"code":"422","swap":true},{"code":"[45]..","swap":false,"error":true}]}'
)


@lru_cache(maxsize=1)
def shipped_build() -> str:
    """A name for the shipped files and code: another build, other kept pages and static files."""
    files = [
        path
        for root in (resource("static"), resource("templates"), Path(__file__).parents[2])
        for path in sorted(root.rglob("*"))
        if path.is_file() and path.suffix in {".css", ".js", ".html", ".py", ".toml", ".svg"}
    ]
    return build_of(*(path.read_bytes() for path in files))


def _words(context: Context) -> Words:
    return words(context["language"])


def _now(context: Context) -> datetime | None:
    now: datetime | None = context["now"]
    return now


@pass_context
def _t(context: Context, id: str, /, **values: Any) -> str:
    return _words(context).say(Message(id, values), now=_now(context))


@pass_context
def _say(context: Context, message: Message) -> str:
    return _words(context).say(message, now=_now(context))


@pass_context
def _when(context: Context, at: datetime) -> str:
    return _words(context).when(at, _now(context))


@pass_context
def _day(context: Context, at: datetime) -> str:
    return _words(context).day(at, _now(context))


@pass_context
def _clock(context: Context, at: datetime) -> str:
    return _words(context).clock(at)


@pass_context
def _span(context: Context, minutes: int) -> str:
    return _words(context).span(minutes)


@pass_context
def _work(context: Context, minutes: int) -> str:
    return _words(context).span(minutes, 480)


@pass_context
def _length(context: Context, value: Any, unit: str) -> str:
    return _words(context).length(value, unit)
