"""Where the files that are not Python lie: templates, static files, migrations.

In the wheel they sit under `server/_files/`; in a checkout (and so in an editable install) they
are folders beside `server/`, where people edit them.
"""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_PACKED = _PACKAGE / "_files"


def resource(*parts: str) -> Path:
    """The path of a file or folder that ships with the program.

    Raises FileNotFoundError when there is no such file: the installation is broken.

    >>> resource("migrations").name
    'migrations'
    """
    root = _PACKED if _PACKED.is_dir() else _PACKAGE.parent
    path = root.joinpath(*parts)
    if not path.exists():
        raise FileNotFoundError(f"{'/'.join(parts)} is missing from this installation ({path})")
    return path
