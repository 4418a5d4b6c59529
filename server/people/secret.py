"""Secrets that people carry, of which only hashes are kept."""

import hashlib
import secrets

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

_HASHER = PasswordHasher()
_NOBODY = _HASHER.hash(secrets.token_hex(16))


def new_secret() -> str:
    """A secret of 160 random bits that stands well in an address and in a cookie."""
    return secrets.token_urlsafe(20)


def hash_of(secret: str) -> str:
    """What is kept of a secret: its SHA-256, enough for a secret of full entropy."""
    return hashlib.sha256(secret.encode()).hexdigest()


def hash_password(password: str) -> str:
    """What is kept of a password (argon2id)."""
    return _HASHER.hash(password)


def is_password(kept: str | None, password: str) -> bool:
    """Whether the password is the one kept; as slow for a name that does not exist."""
    try:
        _HASHER.verify(kept or _NOBODY, password)
    except (VerificationError, InvalidHashError):
        return False
    return kept is not None
