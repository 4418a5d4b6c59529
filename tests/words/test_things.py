"""Whatever is not there any more can be named."""

import pytest

from server.core.refusals import message
from server.core.world import TABLES
from server.words import say


@pytest.mark.parametrize("table", TABLES.values())
def test_what_is_gone_is_named(table: str) -> None:
    assert say(message("change.gone", what=table))
