"""What `make` says before there is a Python to say it."""

import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    for name in ("Makefile", "pyproject.toml", "requirements.lock"):
        shutil.copy(ROOT / name, tmp_path)
    return tmp_path


def make(checkout: Path, python: str) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        ["make", "demo", f"PYTHON={python}"],
        cwd=checkout, capture_output=True, text=True, check=False,
    )  # fmt: skip


def test_an_old_python_is_named_with_how_to_choose_another(checkout: Path) -> None:
    old = checkout / "old-python"
    real = shutil.which("python3")
    # A Python that says it is 3.9, and would do everything else.
    old.write_text(
        f'#!/bin/sh\n[ "$1" = -c ] && exec {real} -c "import sys; sys.version_info = (3, 9, 2); '
        'exec(sys.argv[1])" "$2"\nexec ' + f'{real} "$@"\n'
    )
    old.chmod(0o755)
    done = make(checkout, "./old-python")
    assert "needs Python 3.11 or newer and this is 3.9" in done.stderr
    assert done.returncode != 0
    assert not (checkout / ".venv").exists()


def test_a_python_that_is_not_there_is_named(checkout: Path) -> None:
    done = make(checkout, "no-such-python")
    assert "no-such-python is not on this machine" in done.stdout
    assert not (checkout / ".venv").exists()
