"""How a layer and the checks on it stand, as a drawing and its words say it."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime

from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.states import hold_state, layer_state
from server.core.world import Activity, Detail, HoldPoint, Layer, Side, Snapshot
from server.drawing.layers import LayerState, PartDrawn
from server.drawing.pegs import PegState
from server.pages.shared.coming import coming, tight, when
from server.pages.shared.crews import crews_said
from server.words.words import Words

PEGS: dict[str, PegState] = {
    "not yet": "empty",
    "to check": "empty",
    "marked": "set",
    "released": "driven",
    "look again": "again",
    "rejected": "pulled",
}


@dataclass(frozen=True)
class Standing:
    """What is said of the layers of one detail, seen from `now`."""

    snapshot: Snapshot
    schedule: Schedule
    words: Words
    now: datetime
    next_layers: Collection[str] = ()

    def title(self, detail: Detail, side: Side) -> str:
        """What the drawing is of."""
        return self._say(message("build_up.title", detail=detail.name, side=side.name))

    def state(self, layer: Layer) -> LayerState:
        """The layer as a whole."""
        return layer_state(self.snapshot, layer)

    def parts(self, layer: Layer) -> tuple[PartDrawn, ...]:
        """Each of its parts."""
        numbers = range(1, layer.parts + 1)
        return tuple(PartDrawn(no, layer_state(self.snapshot, layer, no)) for no in numbers)

    def size(self, layer: Layer) -> str:
        """Its thickness, or the numbers of its parts."""
        if layer.thickness:
            return tight(self.words.length(layer.thickness, "in"))
        return f"1–{layer.parts}" if layer.parts > 1 else ""

    def who(self, layer: Layer) -> str:
        """Who puts it in, and when; once it is in, what was found by the last who looked."""
        tasks = self._tasks(layer)
        if not tasks:
            return ""
        waiting = [a for a in tasks if a.finished is None]
        if not waiting:
            last = max(tasks, key=lambda a: a.finished or self.now)
            return self._line(last, self._found(layer, last))
        task = min(waiting, key=lambda a: self.schedule[a.id].early_start)
        if task.started is not None:
            return self._line(task, message("build_up.under_way"))
        said = when(self.words, coming(self.snapshot, self.schedule, task).shown, self.now)
        if layer.id in self.next_layers:
            crew = self._crew(task)
            id = "build_up.next" if crew else "build_up.next_open"
            return self._say(message(id, crew=crew, when=said))
        return self._line(task, said)

    def peg(self, hold: HoldPoint) -> PegState:
        """How its peg is drawn."""
        return PEGS[hold_state(self.snapshot, hold, self.schedule)]

    def check(self, hold: HoldPoint) -> str:
        """A check and its state: "Check: height of the stand-offs, ready to look at"."""
        name = self.snapshot.activities[hold.activity_id].name
        return self._say(
            message(
                "build_up.check", check=name, state=hold_state(self.snapshot, hold, self.schedule)
            )
        )

    def sentence(self, layer: Layer) -> str:
        """The layer in words: what, how thick, within what, its state, who and when."""
        host = self.snapshot.layers.get(layer.within_id or "")
        said = self._say(message("build_up.layer_state", state=self.state(layer)))
        facts = (
            self.size(layer),
            self._say(message("build_up.within", layer=host.name)) if host else "",
            self._say(message("build_up.through")) if layer.passes_through else "",
            self._apart(layer) or said,
            self.who(layer).replace(" · ", ", "),
        )
        return f"{layer.name}: {', '.join(fact for fact in facts if fact)}."

    def _apart(self, layer: Layer) -> str:
        """Which parts stand how, where they stand differently; else nothing."""
        of: dict[LayerState, tuple[int, ...]] = {}
        for part in self.parts(layer):
            of[part.state] = (*of.get(part.state, ()), part.no)
        if len(of) < 2:
            return ""
        name = layer.part_name or self._say(message("build_up.part"))
        return ", ".join(
            self._say(message("build_up.parts", part=name, numbers=numbers, state=state))
            for state, numbers in of.items()
        )

    def _found(self, layer: Layer, task: Activity) -> Message:
        checks = [h for h in self.snapshot.holds.values() if layer.id in h.layer_ids]
        if any(hold_state(self.snapshot, h, self.schedule) == "marked" for h in checks):
            return message("build_up.marked")
        released = [
            attempt.decided_at
            for h in checks
            if hold_state(self.snapshot, h, self.schedule) == "released"
            for attempt in self.snapshot.attempts_of.get(h.id, ())[-1:]
            if attempt.decided_at
        ]
        if released:
            return message("build_up.ok", day=self._day(max(released)))
        return message("build_up.done", day=self._day(task.finished or self.now))

    def _tasks(self, layer: Layer) -> list[Activity]:
        """The tasks that put a layer in."""
        effects = self.snapshot.effects_on.get(layer.id, ())
        tasks = [self.snapshot.activities[e.activity_id] for e in effects if e.verb == "puts in"]
        return [task for task in tasks if task.ended is None]

    def _line(self, task: Activity, said: Message | str) -> str:
        crew = self._crew(task)
        text = said if isinstance(said, str) else self._say(said)
        return f"{crew} · {text}" if crew else text

    def _crew(self, task: Activity) -> str:
        return crews_said(self.snapshot, task, self.words)

    def _day(self, at: datetime) -> str:
        return tight(self.words.day(at.date(), self.now))

    def _say(self, said: Message) -> str:
        return self.words.say(said, now=self.now)
