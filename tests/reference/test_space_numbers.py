"""The numbers of places, edges and temporary works against the paragraphs that they come from.

Paragraphs of 29 CFR part 1926, Safety and Health Regulations for Construction. All values here are
from memory: whoever builds by them looks them up.
"""

from fractions import Fraction

from server.core.warnings import space_edges as edges
from server.core.warnings import space_temporary as temporary


def test_an_edge_or_a_hole_counts_from_6_feet_on() -> None:
    """1926.501(b)(1), unprotected sides and edges; (b)(4)(i), holes. From memory."""
    assert edges.FALL_FEET == 6


def test_a_hole_is_2_inches_across() -> None:
    """1926.500(b), hole: a gap of 2 inches or more in its least dimension. From memory."""
    assert edges.HOLE_INCHES == 2


def test_a_top_rail_stands_at_42_inches_3_more_or_less() -> None:
    """1926.502(b)(1), top edge height of guardrails. From memory."""
    assert (edges.TOP_RAIL_INCHES, edges.TOP_RAIL_MORE_OR_LESS) == (42, 3)


def test_a_stair_of_four_risers_or_more_than_30_inches_has_rails() -> None:
    """1926.1052(c)(1), four or more risers, or rising more than 30 inches. From memory."""
    assert temporary.RISERS == 4
    assert Fraction(30) == temporary.RISE_INCHES


def test_a_stair_rail_stands_at_36_inches_at_least() -> None:
    """1926.1052(c)(3)(ii), stairrails since 1991: not less than 36 inches. From memory."""
    assert temporary.STAIR_RAIL_INCHES == 36
