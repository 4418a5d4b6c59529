"""What things are called in a pattern: keys made from names, words for who and what stays open."""

import re
import unicodedata
from collections.abc import Container

LONGEST_KEY = 40
LONGEST_WORD = 60


def key_of(name: str, taken: Container[str], otherwise: str) -> str:
    """A readable key that is not taken: the name in lower case, without accents, with hyphens.

    Letters of other scripts stay. `otherwise` stands in for a name without a letter or digit.

    >>> key_of("Wire & boxes, 2nd floor", (), "layer"), key_of("Größe", ("große",), "layer")
    ('wire-boxes-2nd-floor', 'große-2')
    """
    plain = unicodedata.normalize("NFKD", name)
    plain = "".join(sign for sign in plain if not unicodedata.combining(sign)).lower()
    words = re.findall(r"[^\W_]+", unicodedata.normalize("NFC", plain))
    key = "-".join(words)
    if len(key) > LONGEST_KEY:
        key = key[:LONGEST_KEY].rpartition("-")[0] or key[:LONGEST_KEY]
    return _unique(key or otherwise, taken, "-")


def word_of(text: str, taken: Container[str], otherwise: str) -> str:
    """A word or two that nothing else is called here.

    >>> word_of("owner's  rep", ("owner's rep",), "rep"), word_of("", (), "rep")
    ("owner's rep 2", 'rep')
    """
    word = " ".join(text.split())[:LONGEST_WORD].strip()
    return _unique(word or otherwise, taken, " ")


def lines_of(text: str) -> str:
    """A text with plain line ends and no signs that cannot be printed.

    >>> lines_of("one\\r\\ntwo\\x07")
    'one\\ntwo'
    """
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    return "".join(sign for sign in plain if sign in "\n\t" or unicodedata.category(sign) != "Cc")


def _unique(text: str, taken: Container[str], between: str) -> str:
    found, number = text, 1
    while found in taken:
        number += 1
        found = f"{text}{between}{number}"
    return found
