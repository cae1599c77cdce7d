"""What people call things: one file a language, from the words of a pattern to stitches and turns of phrase.

`dc` is two different stitches on two sides of the ocean, so no other room holds a word: they hold the whole-word ids
of the stitches room and the names of concepts that stand in these files.
"""

from roundhand.terms.files import TermsDataError, WordFile
from roundhand.terms.periods import Period
from roundhand.terms.vocabulary import PIECES, WORDS, Meaning, Vocabulary, languages, older, side, vocabulary

__all__ = [
    "PIECES",
    "WORDS",
    "Meaning",
    "Period",
    "TermsDataError",
    "Vocabulary",
    "WordFile",
    "languages",
    "older",
    "side",
    "vocabulary",
]
