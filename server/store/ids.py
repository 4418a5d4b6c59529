"""Short random ids, made by whoever makes a command."""

import hashlib
import secrets
from collections.abc import Iterator

ALPHABET = "abcdefghijkmnpqrstuvwxyz23456789"
"""32 signs that are hard to take for one another: no l, o, 0, 1."""
LENGTH = 10


def new_id() -> str:
    """A new id: 10 signs, 50 random bits.

    >>> len(new_id())
    10
    """
    return "".join(secrets.choice(ALPHABET) for _ in range(LENGTH))


def ids_from(person_id: str, key: str) -> Iterator[str]:
    """Ids without end, the same ones whenever the same person sends the same form key.

    So a form that is sent twice makes the same commands twice, and is known again.

    >>> first, again = ids_from("p", "k"), ids_from("p", "k")
    >>> [next(first), next(first)] == [next(again), next(again)]
    True
    """
    number = 0
    while True:
        digest = hashlib.sha256(f"{len(person_id)}:{person_id}:{key}:{number}".encode()).digest()
        yield "".join(ALPHABET[byte % 32] for byte in digest[:LENGTH])
        number += 1
