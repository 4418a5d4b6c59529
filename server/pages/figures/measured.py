"""The figure of risers that were measured: how alike they are."""

from server.core.figures.stairs import Uniformity, uniformity
from server.pages.figures.asked import Asked
from server.pages.figures.figure import Figure
from server.pages.figures.result import Group, Result, Table
from server.pages.figures.saying import cautions, held, held_against, row, shown

START = "7 5/8\n7 11/16\n7 11/16\n7 5/8\n7 11/16\n7 3/4"
METRIC = "194\n195\n195\n194\n195\n197"


def make(asked: Asked) -> Result:
    """The measured risers against each other and against the limits."""
    asked.group("measured.group")
    risers = asked.lengths("measured", "measured.risers", START, METRIC, hint="measured.hint")
    asked.group("figures.limits_group")
    profile = asked.profile()
    asked.check()
    found = uniformity(risers, profile)
    return Result(
        answer=(
            row(asked, "measured.difference", found.difference),
            row(asked, "measured.largest", found.largest),
            row(asked, "measured.smallest", found.smallest),
        ),
        notes=(asked.say("measured.where", largest=found.largest_at, smallest=found.smallest_at),)
        if found.difference > 0
        else (),
        held=held(asked, found.judged),
        held_against=held_against(asked, profile),
        tables=(_each(asked, risers, found),),
        groups=(
            Group(
                asked.say("stairs.values"),
                (
                    row(asked, "measured.mean", found.mean, source="C"),
                    row(asked, "measured.between", found.between, source="C"),
                    row(asked, "measured.total", sum(risers), source="C"),
                ),
            ),
        ),
        cautions=cautions(asked, "figures.caution.code", "figures.caution.temporary"),
    )


def _each(asked: Asked, risers: tuple[float, ...], found: Uniformity) -> Table:
    heads = ("stairs.no", "measured.riser", "measured.off")
    rows = []
    for no, riser in enumerate(risers, 1):
        off = riser - found.mean
        sign = "+" if off > 0 else "−" if off < 0 else ""
        rows.append((str(no), shown(asked, riser), f"{sign}{shown(asked, abs(off))}"))
    ends = frozenset((found.largest_at - 1, found.smallest_at - 1))
    return Table(
        asked.say("measured.each"),
        tuple(asked.say(head) for head in heads),
        tuple(rows),
        asked.say("measured.each_note"),
        marked=ends if found.difference > 0 else frozenset(),
    )


FIGURE = Figure(name="measured", title="measured.title", about="measured.about", make=make)
