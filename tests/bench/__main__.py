"""`python -m tests.bench`: how fast the core is, each figure against something of the same run."""

import os
import platform
import sys
from collections.abc import Iterable, Sequence
from importlib.metadata import version

from tests.bench import change, compute, desk, finding, notes


def main() -> None:
    """Print what it runs on, and the tables."""
    cores = f"{os.cpu_count()} cores, {sys.platform}"
    print(f"Python {platform.python_version()}, networkx {version('networkx')}, {cores}")
    print(f"Times are medians of {compute.RUNS} runs, memory is the peak of one; less is better.\n")
    _print([compute.HEADER], compute.WIDTHS)
    _print(compute.rows(), compute.WIDTHS)
    print(f"\nOne change and its page, medians of {change.RUNS}.\n")
    _print([change.HEADER], change.WIDTHS)
    _print(change.rows(), change.WIDTHS)
    print(f"\nThe plan typed in place, medians of {desk.RUNS}.\n")
    _print([desk.HEADER], desk.WIDTHS)
    _print(desk.rows(), desk.WIDTHS)
    print(f"\nFinding, medians of {finding.RUNS}.\n")
    _print([finding.HEADER], finding.WIDTHS)
    _print(finding.rows(), finding.WIDTHS)
    print(f"\nNotes, medians of {notes.RUNS}.\n")
    _print([notes.HEADER], notes.WIDTHS)
    _print(notes.rows(), notes.WIDTHS)


def _print(rows: Iterable[Sequence[str]], widths: Sequence[int]) -> None:
    for row in rows:
        print(" | ".join(cell.rjust(width) for cell, width in zip(row, widths, strict=True)))
        sys.stdout.flush()


if __name__ == "__main__":
    main()
