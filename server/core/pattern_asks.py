"""What a check asks for, as a pattern says it: the same of every part once."""

from server.core.patterns import PatternAsk
from server.core.world import Ask


def asks_of(asks: tuple[Ask, ...], parts: int) -> tuple[PatternAsk, ...]:
    """What a check asks; the same of every one of its parts is said once, with `each`."""
    whole = tuple(range(1, parts + 1))
    of_parts: dict[PatternAsk, list[int]] = {}
    for ask in asks:
        if ask.part is not None:
            of_parts.setdefault(_ask(ask), []).append(ask.part)
    found: dict[PatternAsk, None] = {}
    for ask in asks:
        plain = _ask(ask)
        if ask.part is None:
            found[plain] = None
        elif tuple(sorted(of_parts[plain])) == whole:
            found[_ask(ask, each=True)] = None
        else:
            found[_ask(ask, part=ask.part)] = None
    return tuple(found)


def _ask(ask: Ask, *, each: bool = False, part: int | None = None) -> PatternAsk:
    return PatternAsk(
        label=ask.label,
        unit=ask.unit,
        each=each,
        part=part,
        nominal=ask.nominal,
        low=ask.low,
        high=ask.high,
        far_low=ask.far_low,
        far_high=ask.far_high,
        tag=ask.tag,
    )
