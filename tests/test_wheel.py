"""What `pip install` brings is all there is: every screen works from the wheel, elsewhere."""

import hashlib
import subprocess
import sys
import sysconfig
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest
from bs4 import BeautifulSoup

from server._build_hook import HTMX_SHA256
from tests.servers import DemoServer, RunningServer

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


@pytest.fixture(scope="module")
def demo(python: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[DemoServer]:
    """`stairhold demo` of the installed wheel, in an empty folder."""
    with DemoServer.playing(tmp_path_factory.mktemp("elsewhere"), python) as server:
        yield server


def screens_seen(client: httpx.Client, start: str) -> set[str]:
    """The first words of all addresses reached from here by links, pictures and styles.

    Of addresses that differ only in their ids, some are tried. Raises if one does not answer.
    """
    ahead, tried = [start], Counter[tuple[str, int]]()
    seen = set()
    while ahead:
        address = httpx.URL(ahead.pop())
        segments = address.path.split("/")[1:]
        tried[segments[0], len(segments)] += 1
        if str(address) in seen or tried[segments[0], len(segments)] > 12:
            continue
        answer = client.get(address, follow_redirects=True)
        assert answer.status_code == 200, f"{address}: {answer.status_code}"
        seen.add(str(address))
        if answer.headers["content-type"].startswith("text/html"):
            page = BeautifulSoup(answer.text, "html.parser")
            found = [str(tag.get("href") or tag.get("src")) for tag in page.select("[href],[src]")]
            ahead += [link for link in found if link.startswith("/")]
    return {httpx.URL(address).path.split("/")[1] for address in seen}


def test_the_super_reaches_every_screen_of_the_installed_demo(demo: DemoServer) -> None:
    with httpx.Client(base_url=demo.base_url, headers={"Origin": demo.base_url}) as browser:
        signed = browser.post("/sign-in", data=demo.sign_in)
        assert signed.headers["location"] == "/"
        assert screens_seen(browser, "/") >= {
            "", "d", "h", "p", "house", "people", "photo", "static",
        }  # fmt: skip


@pytest.mark.parametrize(("who", "screens"), [("crew", {"me", "d", "h"}), ("rep", {"v", "d"})])
def test_whoever_has_a_link_reaches_their_screens_of_the_installed_demo(
    demo: DemoServer, who: str, screens: set[str]
) -> None:
    with httpx.Client(base_url=demo.base_url, headers={"Origin": demo.base_url}) as phone:
        link = demo.links[who]
        assert phone.get(link).status_code == 200
        came_in = phone.post(link)
        assert came_in.status_code == 303
        assert screens_seen(phone, came_in.headers["location"]) >= screens
