"""`stairhold demo`: played in once, kept afterwards, begun again only when that is asked for."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from typer.testing import CliRunner

from server.cli.command import cli
from server.cli.problems import Problem
from server.people.sign_in import set_password, sign_in
from server.store import Store, open_store
from server.store.accounts import credential
from tests.servers import DemoServer, free_port


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[DemoServer]:
    with DemoServer.playing(tmp_path_factory.mktemp("demo")) as server:
        yield server


def remembered(demo: DemoServer) -> Store:
    return open_store(f"sqlite:///{demo.data_dir}/demo/stairhold.db")


def run_again(demo: DemoServer, *words: str) -> None:
    demo.stop()
    demo.log_file.unlink()
    usual, demo.verb = demo.verb, (*demo.verb, *words)
    demo.start()
    demo.verb = usual


def change_the_password(demo: DemoServer) -> None:
    store = remembered(demo)
    with store.reading() as connection:
        known = credential(connection, demo.sign_in["login"])
    assert known
    set_password(store, known.person_id, known.login, "changed by somebody")
    store.close()


def test_a_second_run_keeps_what_people_changed_and_a_fresh_one_does_not(demo: DemoServer) -> None:
    said, links = demo.sign_in, demo.links
    change_the_password(demo)
    run_again(demo)
    assert (demo.sign_in, demo.links) == (said, links)
    store = remembered(demo)
    assert sign_in(store, said["login"], "changed by somebody", "127.0.0.1")
    store.close()

    run_again(demo, "--fresh")
    assert demo.sign_in["password"] != said["password"]
    assert demo.links["crew"] != links["crew"]
    store = remembered(demo)
    assert sign_in(store, demo.sign_in["login"], demo.sign_in["password"], "127.0.0.1")
    store.close()


def test_passwords_of_the_demo_are_for_this_user_alone(demo: DemoServer) -> None:
    assert (demo.data_dir / "demo" / "demo.json").stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize("words", [(), ("--fresh",)])
def test_a_folder_that_is_not_a_demo_is_left_as_it_is(
    tmp_path: Path, words: tuple[str, ...]
) -> None:
    (tmp_path / "plans.txt").write_text("not to be lost")
    asked = ["demo", "--folder", str(tmp_path), "--port", str(free_port()), *words]
    result = CliRunner().invoke(cli, asked)
    assert isinstance(result.exception, Problem)
    assert "not the demo" in str(result.exception)
    assert (tmp_path / "plans.txt").read_text() == "not to be lost"
