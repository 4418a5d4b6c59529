"""The tests of people stand at the same wall as those of pages."""

from tests.pages.conftest import wall as wall
