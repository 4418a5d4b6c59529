"""One good network file, to be read and to be spoiled."""

import pytest

from server.core.schedule import Refused, compute
from server.data.networks import Given, read_network
from server.data.tables import BadFile

GOOD = """\
{
  "start": "2025-12-04T07:00",
  "calendars": {
    "joint": {"both": ["site", "clock"]},
    "site": {
      "week": {
        "0": [["07:00", "12:00"], ["12:30", "15:30"]],
        "4": [["07:00", "12:00"], ["12:30", "15:30"]]
      },
      "closed": ["2025-12-25"],
      "extra": {"2025-12-06": [["08:00", "12:00"]]}
    },
    "clock": "always"
  },
  "activities": [
    {"id": "frame", "work": 960, "crews": {"framers": 2}},
    {"id": "cure", "work": 1440, "calendar": "clock", "kind": "wait"},
    {"id": "look", "work": 60, "calendar": "joint", "kind": "hold",
     "notice": 1440,
     "reject": 0.1}
  ],
  "dependencies": [
    {"before": "frame", "after": "cure"},
    {"before": "cure", "after": "look", "type": "SS", "lag": 30,
     "lag_on": "work", "most": 9000}
  ]
}
"""


def by_id(refused: Refused) -> str:
    return f"<{refused.id}>"


def read(text: str | bytes) -> Given:
    data = text if isinstance(text, bytes) else text.encode()
    return read_network(data, "network.json", by_id)


def mistake_in(text: str | bytes) -> str:
    with pytest.raises(BadFile) as bad:
        read(text)
    return str(bad.value)


def changed(old: str, new: str) -> str:
    assert GOOD.count(old) == 1, old
    return GOOD.replace(old, new)


def refused_in(text: str) -> str:
    """What the core refuses once the file is read."""
    given = read(text)
    with pytest.raises(Refused) as refused:
        compute(given.network)
    return str(given.bad(refused.value))
