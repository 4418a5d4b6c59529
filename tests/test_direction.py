"""Imports point one way, and the core knows no world outside its arguments."""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent

# core <- data, words, drawing <- store <- people <- pages, outside <- app <- cli.
# `resource` and `settings` know nothing of the rest and serve everything but the core.
RANK = {
    "core": 0,
    "resource": 1,
    "settings": 1,
    "data": 2,
    "words": 2,
    "drawing": 2,
    "store": 3,
    "people": 4,
    "pages": 5,
    "outside": 5,
    "app": 6,
    "cli": 7,
}

# Modules that compute and do nothing else.
PURE = {
    "__future__", "abc", "array", "bisect", "calendar", "collections", "copy", "dataclasses",
    "datetime", "decimal", "enum", "fractions", "functools", "graphlib", "hashlib", "heapq",
    "itertools",
    "math", "numbers", "numpy", "operator", "re", "statistics", "string", "types", "typing",
    "unicodedata", "zoneinfo",
}  # fmt: skip

READS_THE_CLOCK = {"now", "utcnow", "today", "localtime", "gmtime", "perf_counter", "monotonic"}
TOUCHES_THE_WORLD = {"open", "print", "input", "exec", "eval", "__import__", "breakpoint"}


@dataclass(frozen=True)
class Import:
    file: Path
    line: int
    module: str

    def __str__(self) -> str:
        return f"{self.file.relative_to(ROOT)}:{self.line} imports {self.module}"


def part_of(file: Path) -> str:
    """The part of `server` a file belongs to: server/store/apply.py is in "store"."""
    return file.relative_to(ROOT / "server").with_suffix("").parts[0]


def files_of(folder: str) -> list[Path]:
    return sorted((ROOT / folder).rglob("*.py"))


def imports_in(file: Path) -> Iterator[Import]:
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            for name in node.names:
                yield Import(file, node.lineno, name.name)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file}:{node.lineno} imports relative to itself"
            if node.module == "server":
                for name in node.names:
                    yield Import(file, node.lineno, f"server.{name.name}")
            else:
                yield Import(file, node.lineno, str(node.module))


def server_imports() -> list[Import]:
    return [
        found
        for file in files_of("server")
        if file.name not in {"_build_hook.py", "__init__.py"} or file.parent.name != "server"
        for found in imports_in(file)
    ]


def target_of(found: Import) -> str | None:
    parts = found.module.split(".")
    return parts[1] if parts[0] == "server" and len(parts) > 1 else None


def test_every_part_of_the_server_has_its_place_in_the_direction() -> None:
    parts = {
        path.stem
        for path in (ROOT / "server").iterdir()
        if (path.is_dir() and any(path.rglob("*.py"))) or path.suffix == ".py"
    }
    assert parts - {"__init__", "_build_hook"} <= RANK.keys()


def test_no_import_points_against_the_direction() -> None:
    against = [
        str(found)
        for found in server_imports()
        if (target := target_of(found)) and RANK[target] > RANK[part_of(found.file)]
    ]
    assert against == []


def test_parts_of_one_rank_do_not_import_each_other_both_ways() -> None:
    sideways = {
        (part_of(found.file), target)
        for found in server_imports()
        if (target := target_of(found)) and target != part_of(found.file)
        and RANK[target] == RANK[part_of(found.file)]
    }  # fmt: skip
    both_ways = {pair for pair in sideways if pair[::-1] in sideways}
    assert both_ways == set()


def test_only_the_command_line_knows_the_demo() -> None:
    knowing = {part_of(f.file) for f in server_imports() if f.module.split(".")[0] == "seed_demo"}
    assert knowing <= {"cli"}


def test_nothing_in_the_server_imports_the_tests() -> None:
    assert [str(f) for f in server_imports() if f.module.split(".")[0] == "tests"] == []


def test_the_core_imports_only_modules_that_compute() -> None:
    impure = [
        str(found)
        for file in files_of("server/core")
        for found in imports_in(file)
        if found.module.split(".")[0] not in PURE | {"server"}
    ]
    assert impure == []


@pytest.mark.parametrize("file", files_of("server/core"), ids=lambda f: str(f.relative_to(ROOT)))
def test_the_core_reads_no_clock_and_opens_nothing(file: Path) -> None:
    touched = []
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call):
            called = node.func
            if isinstance(called, ast.Attribute) and called.attr in READS_THE_CLOCK:
                touched.append(f"{node.lineno}: {ast.unparse(called)}")
            if isinstance(called, ast.Name) and called.id in TOUCHES_THE_WORLD:
                touched.append(f"{node.lineno}: {called.id}")
    assert touched == []
