"""What the chain core will not compute with, and why.

Every reason has a message id beginning with `schedule.`, the dataclass field it belongs to, and
the activity (or the dependency's two ends, or the day) in its values.
"""

from server.core.refusals import Refusal


class Refused(Refusal):
    """An activity, a dependency or a calendar that no dates can be computed from."""


class Loop(Refused):
    """Activities that wait for one another in a ring.

    `path` names them in order: each comes before the next, and the last before the first.
    """

    def __init__(self, path: tuple[str, ...]) -> None:
        self.path = path
        super().__init__("schedule.loop", field="dependencies", path=path)
