"""The cells of the layers of a side: what stands in each, and what is typed over it read again."""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from server.core.changes.plan import LayerFacts
from server.core.refusals import Refusal
from server.core.world import Layer, Snapshot
from server.drawing.hatches import hatch_of
from server.pages.kit.forms import BadField, Form
from server.pages.plan.desk.naming import Names, folded, pieces
from server.pages.plan.writing import number_written, read_number

COLUMNS = ("name", "material", "thickness", "parts", "also")
COLUMN_OF = {
    "part_name": "parts", "within_id": "also", "passes_through": "also",
    "must_be_seen": "also", "finished": "also", "powered": "also",
}  # fmt: skip
ALSO = {
    "must_be_seen": "must be seen",
    "passes_through": "passes through",
    "finished": "finished face",
    "powered": "tried before it is hidden",
}
MOST_PARTS = 200


def texts(snapshot: Snapshot, layer: Layer) -> dict[str, str]:
    """What stands in each cell of a layer."""
    within = snapshot.layers.get(layer.within_id or "")
    also = [said for name, said in ALSO.items() if getattr(layer, name)]
    also += [f"within {within.name}"] if within else []
    return {
        "name": layer.name,
        "material": layer.material,
        "thickness": number_written(layer.thickness),
        "parts": f"{layer.parts} {layer.part_name}".strip() if layer.parts else "",
        "also": ", ".join(also),
    }


def facts_of(layer: Layer) -> LayerFacts:
    """The facts of a layer as they are."""
    names = (name for name in LayerFacts.__dataclass_fields__ if name != "seen")
    return LayerFacts(**{name: getattr(layer, name) for name in names})


def read(
    facts: LayerFacts, typed: Mapping[str, str], others: Names, refuse: list[Refusal]
) -> LayerFacts:
    """The facts with what was typed over some of the cells; `others` are the side's other layers.

    Refusals are kept in `refuse`. What a layer is called is also what it is of, as long as nothing
    else is said and the name says a material.
    """
    for column, text in typed.items():
        try:
            facts = _READ[column](facts, text, others)
        except Refusal as refusal:
            refuse.append(refusal)
    if not facts.material and facts.name:
        if hatch_of(facts.name) == "plain":
            refuse.append(BadField("form.needed", field="material"))
        facts = replace(facts, material=facts.name[:60])
    return facts


def also_offered(others: Names) -> tuple[str, ...]:
    """What can be said beside."""
    return (*ALSO.values(), *(f"within {name}" for name in others.labels.values()))


def _name(facts: LayerFacts, text: str, others: Names) -> LayerFacts:
    name = " ".join(text.split())
    if not name:
        raise BadField("form.needed", field="name")
    return replace(facts, name=name)


def _material(facts: LayerFacts, text: str, others: Names) -> LayerFacts:
    return replace(facts, material=" ".join(text.split()))


def _thickness(facts: LayerFacts, text: str, others: Names) -> LayerFacts:
    form = Form({"thickness": (text,)})
    thickness = read_number(form, "thickness", "in")
    form.check()
    return replace(facts, thickness=thickness)


def _parts(facts: LayerFacts, text: str, others: Names) -> LayerFacts:
    if not text.strip():
        return replace(facts, parts=0, part_name="")
    found = re.fullmatch(r"\s*(\d{1,3})\s*(.*)", text, re.DOTALL)
    if found is None or int(found[1]) > MOST_PARTS:
        raise BadField("desk.parts", field="parts", typed=text[:40])
    return replace(facts, parts=int(found[1]), part_name=" ".join(found[2].split()))


def _also(facts: LayerFacts, text: str, others: Names) -> LayerFacts:
    said: dict[str, Any] = dict.fromkeys(ALSO, False)
    said["within_id"] = None
    words = Names(ALSO)
    for piece in pieces(text, lambda said: others.knows(said.removeprefix("within "))):
        if within := re.fullmatch(r"within\s+(.+)", folded(piece)):
            said["within_id"] = others.find(within[1], "also")
        else:
            said[words.find(piece, "also")] = True
    return replace(facts, **said)


_READ = {
    "name": _name, "material": _material, "thickness": _thickness, "parts": _parts, "also": _also,
}  # fmt: skip
