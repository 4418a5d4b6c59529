"""Puts the verbs together, and says in one sentence what went wrong."""

import sys

import typer

from server.cli import demo, migrate, people, schedule, serve
from server.cli.problems import Problem

cli = typer.Typer(
    name="stairhold",
    help="Trade sequencing for stair and guard details that are built in place.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
cli.command("serve")(serve.serve)
cli.command("migrate")(migrate.migrate)
cli.command("demo")(demo.demo)
cli.command("schedule")(schedule.schedule)
cli.add_typer(people.cli, name="people")


def main() -> None:
    """The entry point: exit code 0, 1 when it cannot be done, 2 when it was asked wrongly."""
    try:
        cli(prog_name="stairhold")
    except Problem as problem:
        print(f"stairhold: {problem}", file=sys.stderr)
        raise SystemExit(problem.code) from None
