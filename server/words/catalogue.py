"""The words files: `<language>/<area>.toml`, all files of a language merged into one catalogue.

A message id is the path of its keys joined by dots: `[hold] released = "…"` is `hold.released`.
"""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from server.words.template import BadTemplate, Template, parse

ROOT = Path(__file__).parent


class DoubledId(ValueError):
    """Two words files of a language give the same message id."""


@dataclass(frozen=True)
class Catalogue:
    """Every message of one language: its text as written, and the same taken apart."""

    language: str
    texts: Mapping[str, str]
    templates: Mapping[str, Template]


def languages(root: Path = ROOT) -> tuple[str, ...]:
    """The languages that have words files, English first."""
    found = {folder.name for folder in root.iterdir() if any(folder.glob("*.toml"))}
    return tuple(sorted(found, key=lambda name: (name != "en", name)))


@lru_cache
def load(language: str, root: Path = ROOT) -> Catalogue:
    """All words of a language.

    Raises `LookupError` for a language without files, `DoubledId` if an id is given twice and
    `BadTemplate` if a template cannot be read.
    """
    files = sorted((root / language).glob("*.toml"))
    if not files:
        raise LookupError(f"no words files for the language {language!r}")
    texts: dict[str, str] = {}
    homes: dict[str, Path] = {}
    templates: dict[str, Template] = {}
    for file in files:
        for id, text in _flat(tomllib.loads(file.read_text(encoding="utf-8")), file):
            if id in texts:
                raise DoubledId(f"{id} is in {homes[id].name} and in {file.name}")
            texts[id], homes[id] = text, file
            try:
                templates[id] = parse(text)
            except BadTemplate as reason:
                raise BadTemplate(f"{file}: {id}: {reason}") from reason
    return Catalogue(language, texts, templates)


def _flat(table: Mapping[str, Any], file: Path, above: str = "") -> Iterator[tuple[str, str]]:
    for key, entry in table.items():
        id = above + key
        if isinstance(entry, dict):
            yield from _flat(entry, file, f"{id}.")
        elif isinstance(entry, str):
            yield id, entry
        else:
            raise BadTemplate(f"{file}: {id} is not a text")
