"""What is typed of a layer, read into facts; and a layer written into a form."""

from server.core.changes.plan import LayerFacts
from server.core.world import Layer
from server.pages.kit.forms import Form
from server.pages.plan.writing import number_written, read_number


def filled(layer: Layer) -> dict[str, tuple[str, ...]]:
    """The fields of a form that says this layer."""
    values = {
        "name": layer.name,
        "material": layer.material,
        "thickness": number_written(layer.thickness),
        "part_name": layer.part_name,
        "parts": str(layer.parts) if layer.parts else "",
        "within_id": layer.within_id or "",
        "passes_through": "yes" if layer.passes_through else "",
        "must_be_seen": "yes" if layer.must_be_seen else "",
        "finished": "yes" if layer.finished else "",
        "powered": "yes" if layer.powered else "",
    }
    return {name: (value,) for name, value in values.items() if value}


def read_layer(form: Form) -> LayerFacts:
    """The layer typed; what cannot be read is kept as refusals."""
    return LayerFacts(
        name=form.text("name", needed=True, most=120),
        material=form.text("material", needed=True, most=60),
        thickness=read_number(form, "thickness", "in"),
        part_name=form.text("part_name", most=40),
        parts=form.whole("parts", 0, most=200),
        within_id=form.text("within_id", most=40) or None,
        passes_through=form.ticked("passes_through"),
        must_be_seen=form.ticked("must_be_seen"),
        finished=form.ticked("finished"),
        powered=form.ticked("powered"),
    )
