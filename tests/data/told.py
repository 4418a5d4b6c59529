"""A shipped pattern, told apart for tests that ask about one kind of detail."""

from server.core.patterns import PatternActivity, PatternAsk, PatternCheck
from server.data.patterns import pattern
from tests.data.test_patterns import all_before


class Told:
    """A pattern by its keys: its chain, its layers, and what is over before each activity."""

    def __init__(self, id: str) -> None:
        self.pattern = pattern(id)
        self.chain = {a.key: a for a in self.pattern.chain}
        self.layers = {layer.key: layer for layer in self.pattern.layers}
        self.before = all_before(self.pattern)

    def check(self, key: str) -> PatternCheck:
        """The check of a hold point."""
        found = self.chain[key].check
        assert found is not None
        return found

    def asked(self, key: str, label: str) -> PatternAsk:
        """The one ask of a check whose label begins like that."""
        (found,) = [ask for ask in self.check(key).asks if ask.label.startswith(label)]
        return found

    def doing(self, verb: str, layer: str) -> list[PatternActivity]:
        """The tasks that do this to a layer: "puts_in", "covers", "needs_open"."""
        return [a for a in self.pattern.chain if layer in getattr(a, verb)]

    def wet(self) -> set[str]:
        """The wet work that gives water to the air of the house, and the waits behind it."""
        found = {
            a.key
            for a in self.pattern.chain
            if a.wet and not a.off_site and a.stuff not in ("adhesive", "grout")
        }
        waits = {
            a.key
            for a in self.pattern.chain
            if a.kind == "wait" and any(d.before in found for d in a.after)
        }
        return found | waits

    def wood(self) -> set[str]:
        """What brings or fits finish wood."""
        return {a.key for a in self.pattern.chain if a.finish_wood}
