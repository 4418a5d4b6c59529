"""What is typed of "after …": how one comes after another, and the time between."""

from dataclasses import dataclass

from server.core.world import Dependency
from server.pages.kit.forms import CLOCK_DAY, DAY, Form
from server.pages.plan.writing import between_written, read_between, span_written

TYPES = (
    ("FS", "starts after it is done"),
    ("SS", "starts with it, or after its start"),
    ("FF", "is done after it is done"),
    ("SF", "is done after it starts"),
)
RUNS = (
    ("clock", "by the clock, nights and weekends too"),
    ("work", "in working time (1 d is 8 h)"),
)


@dataclass(frozen=True)
class Order:
    """How one thing comes after another; times in minutes."""

    type: str
    lag: int
    lag_on: str
    most: int | None


def read_order(form: Form) -> Order:
    """What was typed; what cannot be read is kept as refusals."""
    lag_on = form.typed("lag_on", "clock")
    return Order(
        type=form.typed("type", "FS"),
        lag=read_between(form, "lag", DAY if lag_on == "work" else CLOCK_DAY),
        lag_on=lag_on,
        most=form.minutes("most", day=CLOCK_DAY),
    )


def filled(dependency: Dependency) -> dict[str, tuple[str, ...]]:
    """The fields of a form that says this order."""
    day = DAY if dependency.lag_on == "work" else CLOCK_DAY
    values = {
        "before_id": dependency.before_id,
        "type": dependency.type,
        "lag": between_written(dependency.lag, day),
        "lag_on": dependency.lag_on,
        "most": span_written(dependency.most, CLOCK_DAY),
    }
    return {name: (value,) for name, value in values.items() if value}
