"""What a person can ask of roundhand: the public Python interface, over texts, files and folders of patterns.

>>> from roundhand import workshop
>>> reading = workshop.understand("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: inc in each st around. (12)")
>>> workshop.understood(reading).sentence()
'One size, 2 rounds; all 2 counts agree.'
"""

from roundhand.workshop.answers import check, concerning, counts, encode, summary
from roundhand.workshop.beside import Beside, beside
from roundhand.workshop.folders import is_pattern, patterns_in, shipped_patterns
from roundhand.workshop.measuring import measure, measures
from roundhand.workshop.reading import Reading, open_pattern, size_of, understand
from roundhand.workshop.reckoning import breakdown, reckon, sureness, yarn
from roundhand.workshop.text import Text, decode, read_text
from roundhand.workshop.understood import Understood, understood
from roundhand.workshop.use import UseError, spoken
from roundhand.workshop.why import Why, why

__all__ = [
    "Beside",
    "Reading",
    "Text",
    "Understood",
    "UseError",
    "Why",
    "beside",
    "breakdown",
    "check",
    "concerning",
    "counts",
    "decode",
    "encode",
    "is_pattern",
    "measure",
    "measures",
    "open_pattern",
    "patterns_in",
    "read_text",
    "reckon",
    "shipped_patterns",
    "size_of",
    "spoken",
    "summary",
    "sureness",
    "understand",
    "understood",
    "why",
    "yarn",
]
