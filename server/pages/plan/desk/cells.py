"""The cells of the order of work: what stands in each, and what is typed over it read again."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from server.core.changes.plan import ActivityFacts, AskFacts, CheckFacts
from server.core.refusals import Refusal
from server.core.world import Activity, HoldPoint, Snapshot
from server.pages.kit.forms import BadField
from server.pages.plan.activity_form import day_of, facts_of
from server.pages.plan.context import layers_of_detail
from server.pages.plan.desk.after_words import After, AfterWords, labels_of
from server.pages.plan.desk.naming import Names, pieces
from server.pages.plan.desk.takes import read_takes, takes_written
from server.pages.plan.parts_said import parts_of
from server.pages.plan.writing import parts_written

COLUMNS = ("who", "does", "takes", "after", "puts_in", "hides", "looked_at")
OF_KIND = {
    "task": ("who", "does", "takes", "after", "puts_in", "hides"),
    "wait": ("does", "takes", "after"),
    "hold": ("who", "does", "after", "puts_in", "looked_at"),
    "delivery": ("who", "does", "takes", "after"),
    "decision": ("who", "does", "after"),
}
"""The cells that a row of each kind has. "puts_in" of a check are the layers it looks at."""

COLUMN_OF = {
    "name": "does", "what": "does",
    "crew_id": "who", "with_crew_ids": "who", "person_id": "who", "marks_crew_id": "who",
    "work": "takes", "low": "takes", "high": "takes",
    "before_id": "after", "type": "after", "lag": "after", "lag_on": "after", "most": "after",
    "layer_ids": "puts_in", "needs_open": "puts_in", "covers": "hides", "opens": "hides",
    "releases_id": "looked_at",
}  # fmt: skip
"""The column in which a refused fact stands."""

SUPER, AUTHORITY = "super", "authority"


@dataclass(frozen=True)
class Read:
    """What the cells of a row say: its facts, its check's, and what it comes after."""

    facts: ActivityFacts
    check: CheckFacts | None
    after: tuple[After, ...]


class Cells:
    """The cells of one detail."""

    def __init__(self, snapshot: Snapshot, detail_id: str) -> None:
        self.snapshot = snapshot
        self.detail_id = detail_id

    @cached_property
    def after_words(self) -> AfterWords:
        """The words of "after"."""
        labels = labels_of(self.snapshot, self.detail_id)
        return AfterWords(labels, self.snapshot.chain_of(self.detail_id))

    @cached_property
    def crews(self) -> Names:
        """The crews that still come."""
        return Names({c.id: c.name for c in self.snapshot.crews.values() if c.ended is None})

    @cached_property
    def people(self) -> Names:
        """Who can owe a decision."""
        people = [p for p in self.snapshot.people.values() if p.ended is None]
        names = [p.name for p in people]
        doubled = {name for name in names if names.count(name) > 1}
        return Names(
            {p.id: f"{p.name} ({p.title})" if p.name in doubled else p.name for p in people}
        )

    @cached_property
    def lookers(self) -> Names:
        """Who can say OK to cover."""
        others = {SUPER: "the super", AUTHORITY: "an outside inspector"}
        return Names(others | self.people.labels)

    @cached_property
    def layers(self) -> Names:
        """The layers of the detail; two of one name have their side beside them."""
        layers = layers_of_detail(self.snapshot, self.detail_id)
        names = [layer.name for layer in layers]
        sides = self.snapshot.sides
        return Names(
            {
                x.id: f"{x.name} ({sides[x.side_id].name})" if names.count(x.name) > 1 else x.name
                for x in layers
            }
        )

    def names_for(self, kind: str, column: str) -> Names | None:
        """What can be named in a cell, where it names something."""
        if column == "who":
            return self.people if kind == "decision" else self.crews
        if column in ("puts_in", "hides"):
            return self.layers
        return {"looked_at": self.lookers, "after": self.after_words.names}.get(column)

    # -- written ------------------------------------------------------------------------------

    def texts(self, activity: Activity) -> dict[str, str]:
        """What stands in each cell of a row."""
        facts = facts_of(self.snapshot, activity)
        hold = self.snapshot.hold_of.get(activity.id)
        orders = self.snapshot.before.get(activity.id, ())
        looks_at = dict.fromkeys(hold.layer_ids, ()) if hold else facts.puts_in
        all = {
            "who": self._who_written(facts, hold),
            "does": activity.name,
            "takes": takes_written(facts),
            "after": self.after_words.written(After.of(order) for order in orders),
            "puts_in": self._layers_written(looks_at),
            "hides": self._layers_written(facts.covers),
            "looked_at": self._looker(hold) if hold else "",
        }
        return {column: all[column] for column in OF_KIND[activity.kind]}

    def _who_written(self, facts: ActivityFacts, hold: HoldPoint | None) -> str:
        if facts.kind == "decision":
            return self._person(facts.person_id)
        ids = [hold.marks_crew_id] if hold else [facts.crew_id, *facts.with_crew_ids]
        return " with ".join(self.snapshot.crews[id].name for id in ids if id)

    def _person(self, id: str | None) -> str:
        if not id:
            return ""
        return self.people.labels.get(id, self.snapshot.people[id].name)

    def _looker(self, hold: HoldPoint) -> str:
        if hold.releases_id:
            return self._person(hold.releases_id)
        return self.lookers.labels[AUTHORITY if hold.authority else SUPER]

    def effects_written(self, activity: Activity, verb: str) -> str:
        """The layers to which a row does something."""
        effects = self.snapshot.effects_of.get(activity.id, ())
        return self._layers_written({e.layer_id: e.parts for e in effects if e.verb == verb})

    def _layers_written(self, on: Mapping[str, tuple[int, ...]]) -> str:
        return ", ".join(self._layer_written(id, parts) for id, parts in on.items())

    def _layer_written(self, id: str, parts: tuple[int, ...]) -> str:
        layer = self.snapshot.layers[id]
        name = self.layers.labels.get(id, layer.name)
        return f"{name} ({parts_written(parts, layer.parts)})" if parts else name

    # -- read ---------------------------------------------------------------------------------

    def read(
        self, facts: ActivityFacts, check: CheckFacts | None, typed: Mapping[str, str],
        refuse: "list[Refusal]",
    ) -> Read:  # fmt: skip
        """The facts with what was typed over some of the cells; refusals are kept in `refuse`."""
        after: tuple[After, ...] = ()
        for column, text in typed.items():
            try:
                if column == "after":
                    after = self.after_words.read(text)
                elif check is not None and column in ("who", "puts_in", "looked_at"):
                    check = self._read_check(check, column, text)
                else:
                    facts = self._read_fact(facts, column, text)
                    if check is not None and column == "does" and check.what in ("", facts.name):
                        check = replace(check, what=facts.name)
            except Refusal as refusal:
                refuse.append(refusal)
        return Read(facts, check, after)

    def _read_fact(self, facts: ActivityFacts, column: str, text: str) -> ActivityFacts:
        if column == "does":
            return replace(facts, name=_name(text))
        if column == "takes":
            work, low, high = read_takes(text, day_of(facts.kind))
            return replace(facts, work=work, low=low, high=high)
        if column == "who" and facts.kind == "decision":
            return replace(facts, person_id=self.people.find(text, "who") if text.strip() else None)
        if column == "who":
            crews = tuple(dict.fromkeys(self._crews(text)))
            return replace(facts, crew_id=crews[0] if crews else None, with_crew_ids=crews[1:])
        if column == "puts_in":
            return replace(facts, puts_in=dict(self._on_layers(text, column)))
        return replace(facts, covers=dict(self._on_layers(text, column)))

    def _read_check(self, check: CheckFacts, column: str, text: str) -> CheckFacts:
        if column == "who":
            return replace(check, marks_crew_id=next(iter(self._crews(text)), None))
        if column == "puts_in":
            return replace(check, layer_ids=tuple(id for id, _ in self._on_layers(text, column)))
        who = self.lookers.find(text, "looked_at") if text.strip() else SUPER
        named = None if who in (SUPER, AUTHORITY) else who
        return replace(check, releases_id=named, authority=who == AUTHORITY)

    def _knows_layer(self, typed: str) -> bool:
        return self.layers.knows(typed) or self.layers.knows(re.sub(r"\s*\([^()]*\)$", "", typed))

    def _crews(self, text: str) -> Iterator[str]:
        if (whole := self.crews.exact(text)) is not None:
            yield whole
            return
        for name in re.split(r"\s+with\s+|[,;\n+]", text):
            if name.strip():
                yield self.crews.find(name, "who")

    def _on_layers(self, text: str, column: str) -> Iterator[tuple[str, tuple[int, ...]]]:
        for piece in pieces(text, self._knows_layer):
            known = self.layers.exact(piece)
            if known is not None:
                yield known, ()
                continue
            found = re.fullmatch(r"(.+?)\s*\(([^()]*)\)", piece)
            id = self.layers.find(found[1] if found else piece, column)
            layer = self.snapshot.layers[id]
            yield id, parts_of(found[2], column, layer.parts, layer.part_name) if found else ()


def check_of(snapshot: Snapshot, hold: HoldPoint) -> CheckFacts:
    """The facts of a check as they are."""
    asks = snapshot.asks_of.get(hold.id, ())
    plain = {
        name: getattr(hold, name)
        for name in CheckFacts.__dataclass_fields__
        if name not in ("seen", "asks")
    }
    return CheckFacts(**plain, asks=tuple(AskFacts.of(ask) for ask in asks))


def _name(text: str) -> str:
    name = " ".join(text.split())
    if not name:
        raise BadField("form.needed", field="does")
    return name
