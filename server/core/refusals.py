"""The base of all refusals. Each refusal lives beside the rule that raises it.

A refusal is one reason: a message id, its typed values, and the form field it belongs to.
`server.words` turns it into a sentence; `server.pages` turns it into a status code.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from typing import Union

Value = Union[
    str, int, float, Fraction, datetime, date, time, timedelta, "Message", tuple["Value", ...], None
]


@dataclass(frozen=True)
class Message:
    """Something to be said: an id that `words` knows, and the typed values that go into it."""

    id: str
    values: Mapping[str, Value] = field(default_factory=dict)


def message(id: str, /, **values: Value) -> Message:
    """A `Message` with its values given by name."""
    return Message(id, values)


class Refusal(Exception):
    """A change or an input that is not taken, and why.

    `id` is the message id, `values` what goes into the sentence, `field` the name of the form
    field (or of the dataclass field) the reason belongs to, or None when it belongs to the whole.
    """

    id: str
    field: str | None

    def __init__(self, id: str, /, *, field: str | None = None, **values: Value) -> None:
        self.id = id
        self.field = field
        self.values: Mapping[str, Value] = values
        super().__init__(f"{id} {dict(values)}" + (f" [{field}]" if field else ""))

    @property
    def message(self) -> Message:
        """What `words` is asked to say."""
        return Message(self.id, self.values)
