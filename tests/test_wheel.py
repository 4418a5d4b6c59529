"""What `pip install` brings is all there is: every screen works from the wheel, elsewhere."""

import hashlib
import subprocess
import sys
import sysconfig
from pathlib import Path

import httpx
import pytest
from bs4 import BeautifulSoup

from server._build_hook import HTMX_SHA256
from tests.servers import RunningServer

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    subprocess.run(build, cwd=ROOT, check=True, capture_output=True)
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def python(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The Python of a new virtualenv that has the wheel and not the checkout.

    The libraries are lent from outside, so that nothing is fetched.
    """
    folder = tmp_path_factory.mktemp("empty") / "venv"
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", str(folder)], check=True)
    python = folder / "bin" / "python"
    install = [sys.executable, "-m", "pip", "--python", str(python), "install"]
    install += ["--quiet", "--no-deps", "--no-index", str(wheel)]
    subprocess.run(install, check=True, capture_output=True)
    (installed,) = folder.glob("lib/python*/site-packages")
    (installed / "lent.pth").write_text(sysconfig.get_path("purelib") + "\n")
    return python


def says(python: Path, code: str, folder: Path) -> str:
    done = subprocess.run(
        [python, "-c", code], cwd=folder, env={}, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


def test_the_installed_server_is_not_the_checkout(python: Path, tmp_path: Path) -> None:
    file = says(python, "import server; print(server.__file__)", tmp_path)
    assert Path(file).is_relative_to(python.parent.parent)


@pytest.mark.parametrize(
    "parts", [("templates",), ("static", "vendor", "htmx.min.js"), ("migrations", "env.py")]
)
def test_the_wheel_brings_its_files(python: Path, tmp_path: Path, parts: tuple[str, ...]) -> None:
    code = f"from server.resource import resource; print(resource(*{parts!r}))"
    file = Path(says(python, code, tmp_path))
    assert file.is_relative_to(python.parent.parent)
    assert "_files" in file.parts


def test_every_data_file_of_the_checkout_is_in_the_wheel(python: Path, tmp_path: Path) -> None:
    """Patterns, sentences, templates, the demo: all that git keeps beside the Python."""
    installed = Path(says(python, "import server; print(server.__file__)", tmp_path)).parent
    kept = subprocess.run(
        ["git", "ls-files", "server", "templates", "static", "migrations", "seed_demo"],
        cwd=ROOT, check=True, capture_output=True, text=True,
    ).stdout.splitlines()  # fmt: skip
    missing = []
    for name in set(kept) - {"server/_build_hook.py"}:
        inside = installed.parent if name.startswith(("server/", "seed_demo/")) else (
            installed / "_files"
        )  # fmt: skip
        if (ROOT / name).exists() and not (inside / name).exists():
            missing.append(name)
    assert missing == []


def test_no_test_and_no_build_file_is_in_the_wheel(python: Path, tmp_path: Path) -> None:
    installed = Path(says(python, "import server; print(server.__file__)", tmp_path)).parent
    assert not (installed / "_build_hook.py").exists()
    assert not (installed.parent / "tests").exists()


def test_the_installed_server_serves_its_first_page_and_htmx(python: Path, tmp_path: Path) -> None:
    with RunningServer.started(tmp_path / "data", python=python) as server:
        page = httpx.get(server.base_url + "/", follow_redirects=True)
        assert page.status_code == 200
        (htmx,) = BeautifulSoup(page.text, "html.parser").select("script[src*=htmx]")
        script = httpx.get(server.base_url + str(htmx["src"]))
        assert hashlib.sha256(script.content).hexdigest() == HTMX_SHA256
