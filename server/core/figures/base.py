"""What all figures share: a limit with its source, a value judged against it, an input refused."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from server.core.refusals import Refusal


class BadFigure(Refusal):
    """An input from which no figure can be made; `field` says which."""


@dataclass(frozen=True, kw_only=True)
class Limit:
    """One number of a limits profile: the least and the most, and where they stand.

    `source` is the document where it is another than the profile's own.
    """

    unit: str
    least: float | None = None
    most: float | None = None
    section: str = ""
    tag: str = ""
    source: str = ""


@dataclass(frozen=True, kw_only=True)
class Demand:
    """What a code asks for beside its numbers, in its profile's words."""

    text: str
    section: str = ""
    tag: str = ""


@dataclass(frozen=True, kw_only=True)
class Profile:
    """A set of limits that somebody picked: a code's figures, or the company's own copy."""

    id: str
    name: str
    edition: str
    limits: Mapping[str, Limit] = field(default_factory=dict)
    demands: tuple[Demand, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Judged:
    """A value held against a limit. `what` names it for the words; `within` is how it came out.

    `source` names the profile or document, `section` the place in it.
    """

    what: str
    value: float
    unit: str
    least: float | None = None
    most: float | None = None
    source: str = ""
    section: str = ""
    tag: str = ""

    @property
    def within(self) -> bool:
        """Whether the value lies within, its ends included; a billionth is nobody's tape."""
        slack = 1e-9 * max(1.0, abs(self.value))
        low = self.least is None or self.value >= self.least - slack
        return low and (self.most is None or self.value <= self.most + slack)


def judged(profile: Profile, name: str, value: float, what: str = "") -> Judged | None:
    """A value against a limit of a profile, or None where the profile says nothing of it."""
    limit = profile.limits.get(name)
    if limit is None:
        return None
    return Judged(
        what=what or name,
        value=value,
        unit=limit.unit,
        least=limit.least,
        most=limit.most,
        source=limit.source or profile.name,
        section=limit.section,
        tag=limit.tag,
    )
