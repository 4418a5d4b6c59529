"""One change in a project of 2,000 activities, from the press to the page, against `compute` alone.

A press is what a browser without JavaScript does: the form of an activity sent to the application,
then the page of the detail that it leads to. Everything counts: two requests with their session,
the change checked, on disk and in the log, the schedule, the warnings with their mends tried, the
page made anew. `compute` is the core alone, on the network of that same project. The first change
of a day also keeps the finishes of the evening before; it is made before anything is measured.
"""

import asyncio
import gc
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path
from statistics import median
from typing import Any
from unittest.mock import patch

import httpx

from server.core.changes import change
from server.core.changes.actuals import Finish
from server.core.refusals import Refusal
from server.core.schedule import compute
from server.core.world import Activity, Snapshot
from server.core.world.clock import status_of
from server.core.world.network import network_of
from server.settings import Settings
from server.store.migrate import upgrade
from tests.bench.big_house import NOW, TIMES, big_house
from tests.pages.at_the_wall import Wall
from tests.worlds import actor

RUNS = 8
HEADER = ("one change", "activities", "ours s", "compute s", "ratio", "goal")
WIDTHS = (22, 10, 8, 10, 6, 6)
GOAL = "3.00"
PARTS = {
    "change and store": "server.store.store.Store.apply",
    "schedule": "server.pages.shared.opened.forecast",
    "warnings": "server.pages.detail.context.find",
    "page": "server.pages.detail.routes.detail_page",
    "template": "server.pages.kit.kept.body_of",
}
"""What is timed inside a press; the rest of it is HTTP, sessions and looking things up."""

Press = tuple[Activity, str, dict[str, str]]
Times = dict[str, float]


def rows() -> Iterator[tuple[str, ...]]:
    """The whole press, and what its parts take, each against `compute`."""
    with tempfile.TemporaryDirectory() as folder, served(Path(folder)) as wall:
        browser, presses = Browser(wall), _presses(wall.snapshot())
        for press in presses[:2]:
            _press(browser, press)
        whole, parts = list[tuple[float, float]](), list[Times]()
        for number, press in enumerate(presses[2 : 2 + 2 * RUNS]):
            # in turn, so that both come upon the same details and the same kinds of press
            if number % 4 in (0, 3):
                whole.append(_whole(wall, browser, press))
            else:
                parts.append(_parts(browser, press))
        size = f"{len(wall.snapshot().chain):,}"
    ours, alone = (median(times) for times in zip(*whole, strict=True))
    yield "from press to page", size, f"{ours:.4f}", f"{alone:.4f}", f"{ours / alone:.2f}", GOAL
    for name in (*PARTS, "the rest"):
        seconds = median(times[name] for times in parts)
        yield f"of it, {name}", "", f"{seconds:.4f}", "", f"{seconds / alone:.2f}", ""


def served(folder: Path, times: int = TIMES, details: int | None = None) -> Any:
    """The house in a database of its own, and the application on it."""
    upgrade(Settings(data_dir=folder))
    return Wall.served(folder, big_house(times, details))


ON_THE_DESK = {"HX-Request": "true", "HX-Target": "desk"}


class Browser:
    """The super's, on one event loop, as the application has it on a server."""

    def __init__(self, wall: Wall) -> None:
        self._loop = asyncio.new_event_loop()
        self._client = httpx.AsyncClient(
            transport=httpx.ASGITransport(wall.client.app),
            base_url=wall.settings.base_url,
            cookies=wall.browser("Rufus Orme").client.cookies,
            headers={"Sec-Fetch-Site": "same-origin"},
        )

    def get(self, path: str) -> httpx.Response:
        return self._loop.run_until_complete(self._client.get(path))

    def find(self, typed: str) -> None:
        """What is found for what is typed, as htmx asks for it."""
        asked = self._client.get("/find", params={"q": typed}, headers={"HX-Request": "true"})
        assert self._loop.run_until_complete(asked).status_code == 200

    def type(self, path: str, typed: dict[str, str]) -> None:
        """A cell of the desk, as its script sends it."""
        sent = self._client.post(path, data=typed, headers=ON_THE_DESK)
        answer = self._loop.run_until_complete(sent)
        assert answer.status_code == 200, answer.text

    def desk(self, detail_id: str, tag: str = "") -> str:
        """The desk of a detail, or the word that it is still the one with this tag; its tag."""
        known = {"If-None-Match": tag} if tag else {}
        asked = self._client.get(f"/d/{detail_id}/plan/desk", headers={**ON_THE_DESK, **known})
        answer = self._loop.run_until_complete(asked)
        assert answer.status_code == (304 if tag else 200)
        return answer.headers["etag"]

    def post(self, path: str, typed: dict[str, str]) -> httpx.Response:
        return self._loop.run_until_complete(self._client.post(path, data=typed))


def _presses(snapshot: Snapshot) -> list[Press]:
    """For every task under way how much remains, then that it is done."""
    begun = [a for a in snapshot.chain if a.kind == "task" and a.started and not a.finished]
    left = {"remaining_remaining": "2 h"}
    return [
        press
        for task in begun
        if _may_be_done(snapshot, task)
        for press in ((task, "remaining", left), (task, "finish", {}))
    ]


def _may_be_done(snapshot: Snapshot, activity: Activity) -> bool:
    try:
        change(snapshot, actor(snapshot), Finish(activity_id=activity.id, when=NOW), NOW)
    except Refusal:
        return False
    return True


def _press(browser: Browser, press: Press) -> None:
    """One press, and the page that it leads to."""
    activity, verb, typed = press
    detail = f"/d/{activity.detail_id}"
    sent = browser.post(
        f"{detail}/a/{activity.id}/{verb}", {"key": f"{activity.id}{verb}", **typed}
    )
    assert sent.headers["Location"] == detail, sent.text
    assert browser.get(detail).status_code == 200


def _whole(wall: Wall, browser: Browser, press: Press) -> tuple[float, float]:
    """The seconds of a press, and of `compute` on what it has left."""
    ours = seconds(lambda: _press(browser, press))
    network = network_of(wall.snapshot(), status_of(NOW))
    return ours, seconds(lambda: compute(network).critical_path)


def _parts(browser: Browser, press: Press) -> Times:
    """What each part of a press takes by itself, without the parts timed within it."""
    taken: Counter[str] = Counter()
    within: list[str] = []

    def watched(name: str, function: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **kwargs: Any) -> Any:
            within.append(name)
            start = time.perf_counter()
            try:
                return function(*args, **kwargs)
            finally:
                seconds = time.perf_counter() - start
                within.pop()
                taken[name] += seconds
                if within:
                    taken[within[-1]] -= seconds

        return call

    with ExitStack() as stack:
        for name, place in PARTS.items():
            patching = patch(place)
            original = patching.get_original()[0]
            stack.enter_context(patch(place, watched(name, original)))
        whole = seconds(lambda: _press(browser, press))
    return {**taken, "the rest": whole - sum(taken.values())}


def seconds(job: Callable[[], object]) -> float:
    """How long it takes, once what lies about is cleared away."""
    gc.collect()
    start = time.perf_counter()
    job()
    return time.perf_counter() - start
