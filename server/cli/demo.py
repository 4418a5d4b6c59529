"""`stairhold demo`: a house in mid-work, played in once, then served on this machine only."""

import json
import shutil
from dataclasses import asdict
from pathlib import Path
from typing import Annotated
from urllib.parse import urlsplit

import typer

from server.cli.problems import Problem, one_sentence, settings_from, writable
from server.cli.serve import listen, run
from server.settings import Settings

ACCOUNTS = "demo.json"
"""Who can sign in, kept beside the database: its passwords and links are made at random."""


def demo(
    folder: Annotated[Path, typer.Option(help="Folder of the demo.")] = Path("stairhold-demo"),
    port: Annotated[int, typer.Option(help="Port to listen on.")] = 8000,
    fresh: Annotated[bool, typer.Option("--fresh", help="Forget what was changed.")] = False,
) -> None:
    """Play in the demo, if it is not there yet, and serve it."""
    settings = _settings(folder, port)
    with listen(settings, "make demo PORT=") as listening:
        with one_sentence(settings, "--folder"):
            writable(settings.data_dir.parent)
            if fresh or not settings.data_dir.exists():
                _play(settings)
            else:
                _bring_up_to_date(settings)
            accounts = json.loads((settings.data_dir / ACCOUNTS).read_text())
        run(settings, listening, _welcome(settings, accounts))


def _settings(folder: Path, port: int) -> Settings:
    # All of it said here, so that no setting of a real server leads the demo to its data.
    folder = folder.expanduser().absolute()
    return settings_from(
        lambda: Settings(
            data_dir=folder,
            database_url=f"sqlite:///{folder}/stairhold.db",
            host="127.0.0.1",
            port=port,
            base_url=f"http://127.0.0.1:{port}",
            trusted_proxies=(),
        )
    )


def _play(settings: Settings) -> None:
    """Plays the demo into a folder beside, which takes its name only when it is whole."""
    from seed_demo.play import play
    from server.store import open_store
    from server.store.migrate import upgrade

    folder = settings.data_dir
    if folder.exists() and not (folder / ACCOUNTS).exists():
        raise Problem(f"{folder} holds something that is not the demo; it is left as it is")
    print("Playing in the demo ...", flush=True)
    beside = folder.with_name(folder.name + ".new")
    shutil.rmtree(beside, ignore_errors=True)
    new = _settings(beside, settings.port)
    upgrade(new)
    store = open_store(new)
    try:
        accounts = asdict(play(store, new.data_dir))
    finally:
        store.close()
    kept = beside / ACCOUNTS
    kept.touch(mode=0o600)
    kept.write_text(json.dumps(accounts, indent=1))
    shutil.rmtree(folder, ignore_errors=True)
    beside.rename(folder)


def _bring_up_to_date(settings: Settings) -> None:
    from server.store.migrate import upgrade

    if not (settings.data_dir / ACCOUNTS).exists():
        raise Problem(f"{settings.data_dir} holds something that is not the demo")
    upgrade(settings)


def _welcome(settings: Settings, accounts: dict[str, str]) -> str:
    # The links were made on another port, perhaps.
    crew, rep = (
        settings.base_url + urlsplit(accounts[link]).path for link in ("crew_link", "rep_link")
    )
    return f"""
Stairhold's demo is up: {settings.base_url}  (Ctrl-C stops it)

  The super       {settings.base_url}/sign-in
                  name {accounts["login"]}, password {accounts["password"]}
  A crew's lead   {crew}
  An owner's rep  {rep}

Open each in a browser window of its own (or a private one): they are different people.
What you change is kept. To start over: make demo-fresh
"""
