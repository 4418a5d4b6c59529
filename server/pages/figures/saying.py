"""Values and limits of the core as rows and sentences."""

from collections.abc import Iterable
from fractions import Fraction

from server.core.figures.base import Judged, Profile
from server.pages.figures.asked import Asked
from server.pages.figures.printed import SHOWN, printed
from server.pages.figures.result import Held, Row

SOURCES = {
    "": "",
    "R": "figures.tag.R",
    "S": "figures.tag.S",
    "C": "figures.tag.C",
    "P": "figures.tag.P",
    "M": "figures.tag.M",
}
ALWAYS = "figures.caution.always"


def row(asked: Asked, label: str, value: float, unit: str = "in", source: str = "") -> Row:
    """A value as a row; `label` and `source` are message ids, `source` may be a tag."""
    said = printed(value, unit, asked.units, asked.words)
    source = SOURCES.get(source, source)
    return Row(asked.say(label), said.said, said.exact, asked.say(source) if source else "")


def count_row(asked: Asked, label: str, value: int, source: str = "") -> Row:
    """A whole number as a row."""
    source = SOURCES.get(source, source)
    return Row(asked.say(label), str(value), "", asked.say(source) if source else "")


def shown(asked: Asked, value: float, unit: str = "in") -> str:
    """A value in a cell or a drawing: rounded, with its unit."""
    return printed(value, unit, asked.units, asked.words).said


def held(asked: Asked, judged: Iterable[Judged | None]) -> tuple[Held, ...]:
    """Values held against limits, those without a limit left out; what is beyond stands first."""
    rows = [_held(asked, one) for one in judged if one is not None]
    return tuple(sorted(rows, key=lambda one: one.within))


def held_against(asked: Asked, profile: Profile) -> str:
    """Against which limits, and that the adopted local text is to be checked."""
    return asked.say("figures.held_against", profile=profile.name, edition=profile.edition)


def cautions(asked: Asked, *ids: str) -> tuple[str, ...]:
    """The cautions that stand beside a figure; the one on coordination always."""
    return tuple(asked.say(id) for id in (*ids, ALWAYS))


def _held(asked: Asked, one: Judged) -> Held:
    value = printed(one.value, one.unit, asked.units, asked.words)
    source = ", ".join(part for part in (one.source, one.section) if part)
    tag = SOURCES.get(one.tag, "")
    return Held(
        name=one.what,
        what=asked.say("figures.limit_said", what=one.what),
        said=value.said,
        exact=value.exact,
        limit=_limit(asked, one),
        verdict=_verdict(asked, one),
        within=one.within,
        source=asked.say("figures.source", source=source, tag=asked.say(tag)) if tag else source,
    )


def _limit(asked: Asked, one: Judged) -> str:
    def said(value: float) -> str:
        own = asked.words.length(Fraction(value).limit_denominator(1000), one.unit)
        if SHOWN[asked.units].get(one.unit) not in ("in", "mm"):
            return own
        # A limit keeps its own unit: rounded into another it would be another limit.
        beside = printed(value, one.unit, asked.units, asked.words)
        return f"{own} ({beside.exact or beside.said})"

    if one.least is None:
        return asked.say("figures.most", most=said(one.most or 0.0))
    if one.most is None:
        return asked.say("figures.least", least=said(one.least))
    if one.least == one.most:
        return said(one.least)
    return asked.say("figures.from_to", least=said(one.least), most=said(one.most))


def _verdict(asked: Asked, one: Judged) -> str:
    if one.within:
        return asked.say("figures.within")
    if one.most is not None and one.value > one.most:
        off, id = one.value - one.most, "figures.over"
    else:
        off, id = (one.least or 0.0) - one.value, "figures.under"
    by = printed(off, one.unit, asked.units, asked.words)
    # Less than a sixteenth is still beyond: then only the exact value says it.
    return asked.say(id, off=by.exact if by.said.startswith("0 ") and by.exact else by.said)
