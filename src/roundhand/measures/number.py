"""Numbers as patterns write them: `17 1/2`, `20½`, `3.75`, `twice`."""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction

_DIGITS = re.compile(
    r"(\d+(?:\.\d+)?)?\s*(?:(?<=\d)[\s-]+)?(?:(\d+)\s*[/\u2044]\s*(\d+)|([\u00bc-\u00be\u2150-\u215e]))?"
)
# A fraction with no whole number before it; a slash more, and it is a list of sizes.
_FRACTION = re.compile(r"(\d{1,2})\s?[/\u2044]\s?(\d{1,2})(?![\d./\u2044]|\s?[/\u2044])")
# Those that rulers and hooks are divided in (common practice).
_PARTS = (2, 3, 4, 5, 6, 8, 10, 12, 16, 32, 64)
_UNITS = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
]
_UNITS += ["sixteen", "seventeen", "eighteen", "nineteen", "twenty"]
_TENS = {
    word: 10 * value
    for value, word in enumerate(
        ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety", "hundred"], start=2
    )
}
_WORDS = {word: value for value, word in enumerate(_UNITS)} | {"once": 1, "twice": 2, "thrice": 3} | _TENS

# More digits than this are no number of stitches, rows or inches.
_LONGEST = 60


def number_word(word: str) -> int | None:
    """The value of a number written as a word, up to a hundred; None for any other word.

    >>> number_word("Twice"), number_word("six"), number_word("sixty-six"), number_word("sc")
    (2, 6, 66, None)
    """
    known = _WORDS.get(word.lower())
    if known is not None or "-" not in word:
        return known
    ten, _, unit = word.lower().partition("-")
    return _TENS[ten] + _UNITS.index(unit) if ten in _TENS and unit in _UNITS[1:10] else None


def opens_number(word: str) -> bool:
    """Whether a word may go on to a greater number, as "sixty" to "sixty-six".

    >>> opens_number("Sixty"), opens_number("six")
    (True, False)
    """
    return word.lower() in _TENS and word.lower() != "hundred"


def read_number(text: str, start: int = 0) -> tuple[Fraction, int] | None:
    """The number that begins at `start`, exactly, and the offset behind it; None where no number stands.

    A run of more than sixty signs is none.

    >>> read_number("17 1/2 in"), read_number("20½"), read_number("3.75 sts")
    ((Fraction(35, 2), 6), (Fraction(41, 2), 3), (Fraction(15, 4), 4))
    >>> read_number("1/2 in"), read_number("7/8/9 sts"), read_number("10/2")
    ((Fraction(1, 2), 3), (Fraction(7, 1), 1), (Fraction(10, 1), 2))
    >>> read_number("in") is None, read_number("9" * 5000) is None
    (True, True)
    """
    part = _FRACTION.match(text, start)
    if part is not None and 0 < int(part[1]) < int(part[2]) and int(part[2]) in _PARTS:
        return Fraction(int(part[1]), int(part[2])), part.end()
    found = _DIGITS.match(text, start)
    if found is None or found.end() == start:
        return None
    whole, over, under, vulgar = found.groups()
    if whole is None and over is None and vulgar is None:
        return None
    if found.end() - start > _LONGEST:
        return None
    end = found.end()
    value = Fraction(whole) if whole else Fraction(0)
    if over is not None and int(under) > 0 and (whole is None or "." not in whole):
        value += Fraction(int(over), int(under))
    elif vulgar is not None:
        value += Fraction(unicodedata.numeric(vulgar)).limit_denominator(100)
    elif over is not None:
        end = found.end(1) if whole else start
    while end > start and (text[end - 1].isspace() or text[end - 1] == "-"):
        end -= 1
    return (value, end) if end > start else None


def say_count(count: int, one: str, many: str | None = None) -> str:
    """A count with its noun in the right number.

    >>> say_count(1, "stitch", "stitches"), say_count(3, "size"), say_count(0, "query", "queries")
    ('1 stitch', '3 sizes', '0 queries')
    """
    return f"{count} {one if count == 1 else many or one + 's'}"


def say_number(value: Fraction) -> str:
    """An exact number as a pattern prints it, with a common fraction where there is a short one.

    >>> say_number(Fraction(35, 2)), say_number(Fraction(7)), say_number(Fraction(1, 4)), say_number(Fraction(-3, 2))
    ('17 1/2', '7', '1/4', '-1 1/2')
    """
    if value < 0:
        return f"-{say_number(-value)}"
    if value.denominator == 1:
        return str(value.numerator)
    if value.denominator in (2, 3, 4, 8):
        whole, rest = divmod(value, 1)
        part = f"{rest.numerator}/{rest.denominator}"
        return f"{whole} {part}" if whole else part
    return f"{float(value):.2f}".rstrip("0").rstrip(".")
