"""Every setting, with its default and its environment name (`STAIRHOLD_` and the name here).

Read once, when the process starts; after that a `Settings` is handed down as a value.
"""

from pathlib import Path
from typing import Annotated, Any
from urllib.parse import urlsplit

from pydantic import Field, field_validator
from pydantic_settings import BaseSettings, NoDecode, SettingsConfigDict

LOOPBACK = frozenset({"127.0.0.1", "localhost", "::1"})
MIB = 1024 * 1024


class Settings(BaseSettings):
    """What one server process is told from outside.

    >>> Settings(port=8001).base_url
    'http://127.0.0.1:8001'
    """

    model_config = SettingsConfigDict(env_prefix="STAIRHOLD_", frozen=True)

    data_dir: Path = Field(
        default=Path("stairhold-data"),
        description="Folder for the SQLite database and photos.",
    )
    database_url: str = Field(
        default_factory=lambda given: f"sqlite:///{given['data_dir']}/stairhold.db",
        description="SQLite file or PostgreSQL address (postgresql://user@host/name).",
    )
    host: str = Field(default="127.0.0.1", description="Address the server listens on.")
    port: int = Field(default=8000, ge=1, le=65535, description="Port the server listens on.")
    base_url: str = Field(
        default_factory=lambda given: _address(given),
        description="How people reach the server; used in messages, links and the origin rule.",
    )
    trusted_proxies: Annotated[tuple[str, ...], NoDecode] = Field(
        default=(),
        description="Addresses of proxies whose X-Forwarded-* headers count, with commas between.",
    )
    threads: int = Field(
        default=4, ge=1, le=64, description="Threads for requests in one process; few is faster."
    )
    body_limit_bytes: int = Field(
        default=1 * MIB, ge=1024, description="Largest request that is not a photo."
    )
    photo_limit_bytes: int = Field(default=25 * MIB, ge=1024, description="Largest photo sent.")
    photo_limit_pixels: int = Field(
        default=50_000_000, ge=1, description="Largest photo decoded, width times height."
    )
    photo_memory_bytes: int = Field(
        default=1024 * MIB, ge=64 * MIB, description="Memory of the process that decodes a photo."
    )
    photo_seconds: int = Field(default=20, ge=1, description="Time that process may take.")

    @field_validator("data_dir", mode="after")
    @classmethod
    def _whole_path(cls, value: Path) -> Path:
        return value.expanduser().absolute()

    @field_validator("trusted_proxies", mode="before")
    @classmethod
    def _split(cls, value: object) -> object:
        if isinstance(value, str):
            return tuple(part.strip() for part in value.split(",") if part.strip())
        return value

    @field_validator("base_url", mode="after")
    @classmethod
    def _reachable(cls, value: str) -> str:
        parts = urlsplit(value)
        if parts.scheme not in ("http", "https") or not parts.hostname:
            raise ValueError("must be an address like https://stairs.example.com")
        if parts.scheme == "http" and parts.hostname not in LOOPBACK:
            raise ValueError("plain http is only for this machine (127.0.0.1); use https")
        return value.rstrip("/")

    @property
    def secure(self) -> bool:
        """Whether people come over https, so that cookies can be Secure and `__Host-`."""
        return self.base_url.startswith("https://")

    @property
    def loopback(self) -> bool:
        """Whether only this machine can reach the server."""
        return self.host in LOOPBACK and urlsplit(self.base_url).hostname in LOOPBACK

    def cookie_name(self, name: str) -> str:
        """The full name of a cookie: browsers take `__Host-` only over https."""
        return f"__Host-{name}" if self.secure else name


def _address(given: dict[str, Any]) -> str:
    host = given.get("host", "127.0.0.1")
    if host not in LOOPBACK:
        raise ValueError(f"listening on {host} needs STAIRHOLD_BASE_URL, the address people use")
    return f"http://{f'[{host}]' if ':' in host else host}:{given.get('port', 8000)}"
