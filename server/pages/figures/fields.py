"""The fields of a figure's form: named as they are read, each with what is wrong with it."""

from starlette.datastructures import QueryParams

from server.core.refusals import Message, Refusal, Value
from server.pages.figures.result import Field, Fields
from server.pages.kit.forms import Form
from server.words import Words

LONGEST = 60


class FieldsOf:
    """The fields that a figure has asked for so far, what was typed into them, and refusals."""

    def __init__(self, query: QueryParams, words: Words) -> None:
        self.form = Form({name: tuple(query.getlist(name)) for name in query})
        self.words = words
        self._groups: list[tuple[str, bool, list[Field]]] = []

    def group(self, heading: str, *, folded: bool = False) -> None:
        """The fields that follow stand under this heading (a message id)."""
        self._groups.append((self.say(heading), folded, []))

    @property
    def fields(self) -> tuple[Fields, ...]:
        """The fields that were asked for, each with what is wrong with it."""
        return tuple(
            Fields(
                heading,
                tuple(self._judged(field) for field in fields),
                folded and not any(self.form.wrong(field.name) for field in fields),
            )
            for heading, folded, fields in self._groups
        )

    def say(self, id: str, /, **values: Value) -> str:
        """A message in the reader's language."""
        return self.words.say(Message(id, values))

    def refuse(self, refusal: Refusal) -> None:
        """Keeps a refusal beside its field."""
        self.form.refuse(refusal)

    def check(self) -> None:
        """Raises all that was refused so far."""
        self.form.check()

    def _typed(self, name: str, start: str) -> str:
        return self.form.typed(name, start).strip()[:LONGEST]

    def _add(
        self, name: str, label: str, value: str, unit: str, hint: str, *, kind: str = "text",
        mode: str = "text", options: tuple[tuple[str, str], ...] = (),
    ) -> None:  # fmt: skip
        if not self._groups:
            self._groups.append(("", False, []))
        field = Field(
            name=name, label=self.say(label), value=value, unit=unit, kind=kind, mode=mode,
            hint=self.say(hint) if hint else "", options=options,
        )  # fmt: skip
        self._groups[-1][2].append(field)

    def _judged(self, field: Field) -> Field:
        said = self.form.wrong(field.name)
        return Field(**{**vars(field), "wrong": said})
