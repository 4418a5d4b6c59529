"""What the core says, in words: a message id and typed values become a sentence, per language."""

from server.words.catalogue import DoubledId, languages
from server.words.template import BadTemplate
from server.words.words import FALLBACK, Words, say, words

__all__ = ["FALLBACK", "BadTemplate", "DoubledId", "Words", "languages", "say", "words"]
