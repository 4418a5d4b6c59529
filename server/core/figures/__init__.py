"""Figures that the chain hangs on: pure, each with every value in between, limits and sources.

Lengths are floats with the unit in the name; a number's tag says where it comes from: "R" read in
the source's own text, "S" restated by a second source, "C" worked out from a confirmed formula,
"P" common practice, "M" from memory, "" the person's own.
"""
