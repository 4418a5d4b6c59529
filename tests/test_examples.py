"""The examples in the docstrings of `server` give what they say they give."""

import doctest
import importlib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def modules_with_examples() -> list[str]:
    return sorted(
        ".".join(file.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
        for file in (ROOT / "server").rglob("*.py")
        if ">>>" in file.read_text(encoding="utf-8")
    )


@pytest.mark.parametrize("name", modules_with_examples())
def test_the_examples_in_docstrings_hold(name: str) -> None:
    results = doctest.testmod(importlib.import_module(name))
    assert results.attempted > 0
    assert results.failed == 0
