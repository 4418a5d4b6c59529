"""The example in the documentation runs."""

import doctest
import importlib

# The package offers the function under the module's own name.
compute = importlib.import_module("server.core.schedule.compute")


def test_the_example_of_compute_gives_what_it_prints() -> None:
    result = doctest.testmod(compute)
    assert result.attempted > 0
    assert result.failed == 0
