"""`stairhold schedule`: the dates of a network in a file, on standard output."""

import json
import re
from dataclasses import asdict, fields
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from server.cli.command import cli
from server.cli.problems import Problem
from server.core.schedule import Activity, Dependency, Network, Schedule, compute
from tests.reference.random_networks import CLOSED, EXTRA, WEEKDAYS, a_random_network

WEEKS = {name: {str(day): its for day, its in week.items()} for name, week in WEEKDAYS.items()}
CLOSED_DAYS = [day.isoformat() for day in sorted(CLOSED)]
EXTRA_DAYS = {day.isoformat(): shifts for day, shifts in EXTRA.items()}
CALENDARS: dict[str, Any] = {
    "site": {"week": WEEKS["site"], "closed": CLOSED_DAYS, "extra": EXTRA_DAYS},
    "short": {"week": WEEKS["short"], "closed": CLOSED_DAYS},
    "night": {"week": WEEKS["night"]},
    "clock": "always",
}
SMALL: dict[str, Any] = {
    "start": "2025-12-04T07:00",
    "calendars": {"site": CALENDARS["site"]},
    "activities": [{"id": "frame", "work": 60}, {"id": "board", "work": 60}],
    "dependencies": [{"before": "frame", "after": "board"}],
}


def as_json(network: Network) -> str:
    """The network written down, with everything that is not a default."""
    written = {
        "start": network.start,
        "status": network.status,
        "calendars": CALENDARS,
        "activities": [differing(a) for a in network.activities],
        "dependencies": [differing(d) for d in network.dependencies],
    }
    return json.dumps(written, default=lambda value: value.isoformat(), indent=2)


def differing(noun: Activity | Dependency) -> dict[str, Any]:
    defaults = {field.name: field.default for field in fields(noun)}
    values = {name: v for name, v in asdict(noun).items() if v != defaults[name]}
    return {name: value for name, value in values.items() if value != {}}


def expected(network: Network, schedule: Schedule) -> dict[str, Any]:
    """What the command has to answer, with the core asked directly."""
    return {
        "start": network.start,
        "status": schedule.status,
        "finish": schedule.finish,
        "critical_path": list(schedule.critical_path),
        "too_long": [ends(d) for d in schedule.too_long],
        "activities": [
            {
                "id": a.id,
                "early_start": schedule[a.id].early_start,
                "early_finish": schedule[a.id].early_finish,
                "late_start": schedule[a.id].late_start,
                "late_finish": schedule[a.id].late_finish,
                "total_float": schedule[a.id].total_float,
                "free_float": schedule[a.id].free_float,
                "critical": schedule[a.id].critical,
                "ready": schedule[a.id].ready,
                "driver": driver(schedule, a.id),
            }
            for a in network.activities
        ],
    }


def driver(schedule: Schedule, id: str) -> dict[str, str]:
    its = schedule[id].driver
    assert its is not None
    return {"kind": its.kind} | (ends(its.dependency) if its.dependency else {})


def ends(dependency: Dependency) -> dict[str, str]:
    return {"before": dependency.before, "after": dependency.after, "type": dependency.type}


def with_moments(answer: dict[str, Any]) -> dict[str, Any]:
    """The answer with its texts that are dates as datetimes."""
    for its in (answer, *answer["activities"]):
        for name, value in its.items():
            if name.endswith(("start", "finish", "status")):
                its[name] = datetime.strptime(value, "%Y-%m-%dT%H:%M")  # noqa: DTZ007
    return answer


def run(*words: str, given: str | bytes | None = None) -> dict[str, Any]:
    """What the command prints. Raises its `Problem`."""
    result = CliRunner().invoke(cli, ["schedule", *words], input=given)
    if isinstance(result.exception, Problem):
        raise result.exception
    assert result.exit_code == 0, result.output
    answer = json.loads(result.output)
    assert isinstance(answer, dict)
    return answer


def problem(*words: str, given: str | bytes | None = None) -> str:
    with pytest.raises(Problem) as raised:
        run(*words, given=given)
    assert raised.value.code == 2
    return str(raised.value)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "network.json"


@pytest.mark.parametrize("seed", range(60))
def test_the_command_answers_what_the_core_computes(seed: int, file: Path) -> None:
    network = a_random_network(seed)
    file.write_text(as_json(network))
    assert with_moments(run(str(file))) == expected(network, compute(network))


def test_some_of_the_networks_have_a_most_that_cannot_be_kept_and_some_a_status() -> None:
    networks = [a_random_network(seed) for seed in range(60)]
    assert any(compute(network).too_long for network in networks)
    assert any(network.status for network in networks)


def test_joint_hours_count_only_what_both_work() -> None:
    calendars = CALENDARS | {"joint": {"both": ["site", "short"]}}
    activities = [{"id": "lift", "work": 60, "calendar": "joint"}]
    answer = run("-", given=json.dumps(SMALL | {
        "calendars": calendars, "activities": activities, "dependencies": [],
    }))  # fmt: skip
    # Friday is nobody's day on the short week; on Saturday it begins at nine, the site at six.
    assert answer["activities"][0]["early_start"] == "2025-12-06T09:00"
    assert answer["finish"] == "2025-12-06T10:00"


def test_paths_are_given_for_what_they_are_asked_for() -> None:
    answer = run("-", "--to", "board", "--to", "frame", given=json.dumps(SMALL))
    assert answer["paths"] == {"board": ["frame", "board"], "frame": ["frame"]}


def test_no_paths_are_given_unasked() -> None:
    assert "paths" not in run("-", given=json.dumps(SMALL))


def test_a_path_to_nobody_is_refused() -> None:
    said = problem("-", "--to", "plaster", given=json.dumps(SMALL))
    assert said == 'standard input has no activity "plaster" for --to'


def test_nothing_to_do_is_finished_at_its_start() -> None:
    answer = run("-", given=json.dumps(SMALL | {"activities": [], "dependencies": []}))
    assert answer["finish"] == "2025-12-04T07:00"
    assert answer["activities"] == []


def test_a_wrong_field_is_named_with_file_line_and_field(file: Path) -> None:
    file.write_text(json.dumps(SMALL, indent=1).replace('"work": 60', '"work": true', 1))
    line = 1 + file.read_text().split("true")[0].count("\n")
    assert problem(str(file)) == f"{file}, line {line}, activities[0].work: true is no whole number"


def test_what_the_core_refuses_is_said_in_words_with_its_line(file: Path) -> None:
    file.write_text(json.dumps(SMALL, indent=1).replace('"work": 60', '"work": -60', 1))
    line = 1 + file.read_text().split("-60")[0].count("\n")
    said = problem(str(file))
    assert said.startswith(f"{file}, line {line}, activities[0].work: -60: ")
    assert "Write 0 or more" in said


def test_wrong_hours_are_said_in_words(file: Path) -> None:
    calendars = {"site": {"week": {"0": [["7 am", "noon"]]}}}
    said = problem("-", given=json.dumps(SMALL | {"calendars": calendars}))
    assert said.startswith("standard input, line 1, calendars.site.week.0[0]: ")
    assert "7 am" in said


def test_a_ring_is_said_with_its_members() -> None:
    ring = [*SMALL["dependencies"], {"before": "board", "after": "frame"}]
    said = problem("-", given=json.dumps(SMALL | {"dependencies": ring}))
    assert said.startswith("standard input, line 1, dependencies[1]: ")
    assert said.endswith('"frame", "board", "frame"')


def test_what_is_not_utf_8_is_named_with_its_line() -> None:
    assert problem("-", given=b'{\n"\xfc": 1}') == "standard input, line 2, byte 2: is not UTF-8"


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    missing = tmp_path / "none.json"
    assert problem(str(missing)) == f"cannot read {missing}: No such file or directory"


def test_a_folder_is_no_network(tmp_path: Path) -> None:
    assert problem(str(tmp_path)) == f"cannot read {tmp_path}: Is a directory"


def test_the_example_for_developers_answers_what_it_says() -> None:
    text = (Path(__file__).resolve().parents[2] / "DEVELOPERS.md").read_text("utf-8")
    _, _, section = text.partition("## A network as JSON\n")
    given, said = re.findall(r'^    \{"start".*?(?=\n\n)', section, re.DOTALL | re.MULTILINE)[:2]
    answer = run("-", "--to", "cure", given=given)
    assert answer.pop("activities")[1:] == json.loads(said)["activities"]
    assert answer == {name: v for name, v in json.loads(said).items() if name != "activities"}
