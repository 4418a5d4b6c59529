"""Addresses that ring a phone or open a message with a ready sentence (RFC 3966, RFC 5724)."""

import re
from dataclasses import dataclass
from urllib.parse import quote


@dataclass(frozen=True)
class Reach:
    """How somebody is reached: the number as it is said, and the two addresses."""

    phone: str
    tel: str
    sms: str


def reach(phone: str, sentence: str) -> Reach | None:
    """The addresses for a phone number, with a sentence that only waits to be sent; None without
    a number.

    >>> reach("+1 (555) 0101", "Tomorrow 7 am?").sms
    'sms:+15550101?body=Tomorrow%207%20am%3F'
    """
    digits = re.sub(r"[^\d+]", "", phone)
    if not re.fullmatch(r"\+?\d{3,15}", digits):
        return None
    return Reach(phone, f"tel:{digits}", f"sms:{digits}?body={quote(sentence, safe='')}")


def in_a_sentence(name: str) -> str:
    """A name as it stands inside a sentence: "Hang board" is "hang board", "LED slot" stays."""
    return name[0].lower() + name[1:] if name[1:2].islower() else name
