"""Run by hatchling while the package is built: brings in htmx, and packs the data folders.

htmx is not kept in the repository. The django-htmx wheel, a build requirement only, carries the
released file byte for byte; it is copied to `static/vendor/`, which git ignores, after its
checksum is compared.
"""

import hashlib
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

HTMX_SHA256 = "71ea67185bfa8c98c39d31717c6fce5d852370fcdfd129db4543774d3145c0de"  # htmx 2.0.10
HTMX_IN_WHEEL = Path("static", "django_htmx", "htmx-2.min.js")
HTMX_SERVED_FROM = Path("static", "vendor", "htmx.min.js")
PACKED = ("templates", "static", "migrations")


class BuildHook(BuildHookInterface):  # type: ignore[type-arg]
    """Named by `[tool.hatch.build.hooks.custom]`."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Runs before files are gathered; `version` is "standard" or "editable"."""
        if self.target_name != "wheel":
            return
        bring_htmx(Path(self.root))
        if version == "editable":  # `resource()` finds the folders in the checkout itself
            return
        for folder in PACKED:
            build_data["force_include"][folder] = f"server/_files/{folder}"


def bring_htmx(root: Path) -> None:
    """Puts the one htmx file where static files are served from, if it is not there already."""
    target = root / HTMX_SERVED_FROM
    if target.is_file() and _sha256(target.read_bytes()) == HTMX_SHA256:
        return
    content = _htmx_from_wheel()
    if _sha256(content) != HTMX_SHA256:
        raise RuntimeError(f"htmx in the django-htmx wheel is not 2.0.10: {_sha256(content)}")
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_bytes(content)


def _htmx_from_wheel() -> bytes:
    # Found without importing the package, which would want a configured Django.
    spec = find_spec("django_htmx")
    if spec is None or not spec.submodule_search_locations:
        raise RuntimeError("django-htmx is needed to build: see [build-system] in pyproject.toml")
    return (Path(spec.submodule_search_locations[0]) / HTMX_IN_WHEEL).read_bytes()


def _sha256(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
