"""Finds message ids by reading the code: what is passed to `message`, `Message` and refusals."""

import ast
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

MAKERS = {"message", "Message", "Refusal"}


@dataclass
class Found:
    """Ids passed as literals with where they stand, first parts of built ids, and every text."""

    ids: dict[str, str] = field(default_factory=dict)
    prefixes: dict[str, str] = field(default_factory=dict)
    texts: set[str] = field(default_factory=set)


def found_in(sources: dict[str, str]) -> Found:
    """Reads sources by name. A refusal with its own `__init__` takes no id; its `super()` does."""
    trees = {name: ast.parse(source) for name, source in sources.items()}
    classes = {
        node.name: node
        for tree in trees.values()
        for node in ast.walk(tree)
        if isinstance(node, ast.ClassDef)
    }
    found = Found()
    for name, tree in trees.items():
        for owner, call in _calls(tree, None):
            if call.args and _takes_an_id(call, owner, classes):
                _take(call.args[0], f"{name}:{call.lineno}", found)
        found.texts.update(
            node.value
            for node in ast.walk(tree)
            if isinstance(node, ast.Constant) and isinstance(node.value, str)
        )
    return found


def read_folder(folder: Path) -> dict[str, str]:
    """Every Python file under a folder."""
    return {str(file): file.read_text(encoding="utf-8") for file in folder.rglob("*.py")}


def _calls(
    node: ast.AST, owner: ast.ClassDef | None
) -> Iterator[tuple[ast.ClassDef | None, ast.Call]]:
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.Call):
            yield owner, child
        yield from _calls(child, child if isinstance(child, ast.ClassDef) else owner)


def _takes_an_id(
    call: ast.Call, owner: ast.ClassDef | None, classes: dict[str, ast.ClassDef]
) -> bool:
    called = call.func
    if isinstance(called, ast.Attribute) and called.attr == "__init__":
        is_super = isinstance(called.value, ast.Call) and _name(called.value.func) == "super"
        return is_super and owner is not None and _parent_takes_an_id(owner, classes)
    name = _name(called)
    return name in MAKERS or (name in classes and _class_takes_an_id(classes[name], classes))


def _class_takes_an_id(node: ast.ClassDef, classes: dict[str, ast.ClassDef]) -> bool:
    has_own = any(isinstance(n, ast.FunctionDef) and n.name == "__init__" for n in node.body)
    return not has_own and _parent_takes_an_id(node, classes)


def _parent_takes_an_id(node: ast.ClassDef, classes: dict[str, ast.ClassDef]) -> bool:
    parents = [_name(base) for base in node.bases]
    return any(
        parent == "Refusal"
        or (
            parent in classes
            and classes[parent] is not node
            and _class_takes_an_id(classes[parent], classes)
        )
        for parent in parents
    )


def _name(node: ast.expr) -> str:
    return node.id if isinstance(node, ast.Name) else getattr(node, "attr", "")


def _take(argument: ast.expr, where: str, found: Found) -> None:
    if isinstance(argument, ast.Constant) and isinstance(argument.value, str):
        found.ids[argument.value] = where
    elif isinstance(argument, ast.IfExp):
        _take(argument.body, where, found)
        _take(argument.orelse, where, found)
    elif isinstance(argument, ast.JoinedStr):
        first = argument.values[0] if argument.values else None
        prefix = first.value if isinstance(first, ast.Constant) else ""
        found.prefixes[str(prefix)] = where
