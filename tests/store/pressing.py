"""A process of its own that presses on a database: `python -m tests.store.pressing WHAT URL`.

"release": says "ready", waits for a line, gives the one release, says what came of it.
"floors": adds floors without end, and says the name of each one after it was acknowledged.
"""

import itertools
import subprocess
import sys
from pathlib import Path

from server.core.changes import Actor
from server.core.changes.holds import Release
from server.core.changes.places import AddFloor
from server.core.refusals import Refusal
from server.store import Store, open_store
from server.store.ids import new_id
from tests.worlds import PROJECT

RUFUS = Actor(person_id="rufus-orme", name="Rufus Orme", role="super")
HOLD = "string-check"
ROOT = Path(__file__).resolve().parents[2]


class Process:
    """The process, killed when the block ends."""

    def __init__(self, what: str, url: str) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.store.pressing", what, url],
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            bufsize=1,
        )

    def __enter__(self) -> "Process":
        return self

    def __exit__(self, *_exception: object) -> None:
        self.kill()
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe:
                pipe.close()

    def line(self) -> str:
        """The next thing it says; nothing if it has died."""
        assert self._process.stdout is not None
        return self._process.stdout.readline().strip()

    def go(self) -> None:
        """Lets it go on."""
        assert self._process.stdin is not None
        self._process.stdin.write("go\n")

    def kill(self) -> list[str]:
        """Kill -9; what it had said and nobody had read yet."""
        assert self._process.stdout is not None
        self._process.kill()
        rest = self._process.stdout.read().split("\n")[:-1]
        self._process.wait()
        return rest


def say(words: str) -> None:
    sys.stdout.write(f"{words}\n")
    sys.stdout.flush()


def release(store: Store) -> None:
    store.snapshot(PROJECT)  # a page was open before
    say("ready")
    sys.stdin.readline()
    try:
        store.apply(RUFUS, PROJECT, Release(hold_id=HOLD))
        say("released")
    except Refusal as refused:
        say(f"{type(refused).__name__} by {refused.values.get('by')}")


def floors(store: Store) -> None:
    for number in itertools.count():
        name = f"floor {number}"
        store.apply(RUFUS, PROJECT, AddFloor(id=new_id(), name=name), key=new_id())
        say(name)


if __name__ == "__main__":
    {"release": release, "floors": floors}[sys.argv[1]](open_store(sys.argv[2]))
