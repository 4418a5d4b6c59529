"""Settings: what follows from what, and what is refused."""

from pathlib import Path

import pytest
from pydantic import ValidationError

from server.settings import Settings


def test_without_settings_everything_stays_on_this_machine() -> None:
    settings = Settings()
    assert settings.base_url == "http://127.0.0.1:8000"
    assert settings.loopback
    assert settings.database_url == f"sqlite:///{Path.cwd()}/stairhold-data/stairhold.db"


def test_every_setting_has_its_environment_name(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("STAIRHOLD_PORT", "8123")
    monkeypatch.setenv("STAIRHOLD_TRUSTED_PROXIES", "10.0.0.1, 10.0.0.2")
    settings = Settings()
    assert settings.base_url == "http://127.0.0.1:8123"
    assert settings.trusted_proxies == ("10.0.0.1", "10.0.0.2")


def test_cookies_carry_the_host_prefix_only_over_https() -> None:
    assert Settings().cookie_name("session") == "session"
    public = Settings(base_url="https://stairs.example.com/")
    assert public.cookie_name("session") == "__Host-session"
    assert public.base_url == "https://stairs.example.com"


def test_a_server_behind_a_public_address_is_not_only_for_this_machine() -> None:
    assert not Settings(base_url="https://stairs.example.com").loopback


@pytest.mark.parametrize("address", ["http://stairs.example.com", "stairs.example.com", "ftp://x"])
def test_an_address_people_cannot_use_in_private_is_refused(address: str) -> None:
    with pytest.raises(ValidationError):
        Settings(base_url=address)
