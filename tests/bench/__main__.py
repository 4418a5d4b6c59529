"""`python -m tests.bench`: how fast the core is, each figure against something of the same run."""

import os
import platform
import sys
from importlib.metadata import version

from tests.bench import compute


def main() -> None:
    """Print what it runs on, and one table."""
    cores = f"{os.cpu_count()} cores, {sys.platform}"
    print(f"Python {platform.python_version()}, networkx {version('networkx')}, {cores}")
    print(f"Times are medians of {compute.RUNS} runs, memory is the peak of one; less is better.\n")
    for row in [compute.HEADER, *compute.rows()]:
        print(
            " | ".join(cell.rjust(width) for cell, width in zip(row, compute.WIDTHS, strict=True))
        )
        sys.stdout.flush()


if __name__ == "__main__":
    main()
