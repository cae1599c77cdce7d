"""Text as other programs leave it, read as if it had been typed: odd spaces, dashes and stars, marks that take no room,
and the numbers and heads of printed pages.

What comes out is exactly as long as what went in, so that every place in it is the same place on the page. Marks inside
a word that take no room go behind it as spaces; everything else is exchanged where it stands.
"""

from __future__ import annotations

import html
import re
import unicodedata
from functools import lru_cache

from roundhand.notation.page_marks import without_page_marks

# Marks that take no room: places to break a word, joiners, marks of byte order. In names of other scripts, and in
# pictures, they mean something and stay.
_NO_ROOM = "\u00ad\u034f\u180e\u200b\u200c\u200d\u2060\ufeff"
_STARS = "\u2217\u204e\u2731\u2732\u2733\u066d\u2605\u2606\u2736\u273b\u273d"
_CROSSES = "\u2715\u2716\u2a2f\u2a09\u0445"
_HYPHENS = "\u2010\u2011"
_LONGER = "\u2012\u2212\u2015"
_SLASHES = "\u2044\u2215"

_ODD = re.compile(r"[^\x00-\x7f\u2013\u2014\u2018-\u201d\u00bc-\u00be\u00d7]|\\[^\s\w]|&[a-z]{2,6}(?:[0-9]{2})?;")
_RUN = re.compile(rf"[!-~{_NO_ROOM}]*[{_NO_ROOM}][!-~{_NO_ROOM}]*(?![^\s!-~])")
_SIGN = re.compile(rf"[{_NO_ROOM}]")
_LEADING = re.compile(rf"^[{_NO_ROOM}]+")
_ESCAPED = re.compile(r"\\(?=[^\s\w])")
_ENTITY = re.compile(r"&(?:nbsp|ensp|emsp|thinsp|[nm]dash|minus|times|frac(?:12|14|34)|[lr][sd]quo|shy|middot|bull);")
_BETWEEN_NUMBERS = re.compile(rf"(?<=\d)[{_LONGER}](?=\d)")
# Stars that an editor has set as the other mark of slanted type.
_UNDERSCORED = re.compile(r"\brep(?:eat)?s?\s+(?:from|between)\s+_", re.IGNORECASE)
_UNDERSCORE = re.compile(r"(?<![\w_])_(?!_)|(?<=[\w.;,)])_(?![\w_])")
_LINE_ENDS = "\n\r\x0b\x0c\x1c\x1d\x1e\x85\u2028\u2029"


@lru_cache(maxsize=2)
def typed(text: str) -> str:
    r"""The text as it would be typed, of the same length.

    >>> typed("Rnd\u00a05: \u2217sc in 2\u00a0sts, inc; rep from \\\u2217 5\u20116 times")
    'Rnd 5: *sc in 2 sts, inc; rep from  * 5-6 times'
    >>> typed("_sc in next st, inc; rep from _ around")
    '*sc in next st, inc; rep from * around'
    >>> typed("a dou\u00adble\u200b. Join")
    'a double.   Join'
    """
    text = without_page_marks(text)
    if "_" in text and _UNDERSCORED.search(text) is not None:
        text = _UNDERSCORE.sub("*", text)
    if _ODD.search(text) is None:
        return text
    text = _RUN.sub(_without_marks, text)
    text = _ENTITY.sub(_entity, _ESCAPED.sub(" ", text))
    text = _BETWEEN_NUMBERS.sub("-", text)
    return "".join(_plain(sign) if sign > "\x7f" else sign for sign in text)


def _without_marks(run: re.Match[str]) -> str:
    """A run of signs without those that take no room, as long as before."""
    word = _LEADING.sub("", run[0])
    room = len(run[0]) - len(word)
    return " " * room + _SIGN.sub("", word).ljust(len(word))


def _entity(found: re.Match[str]) -> str:
    """A sign as the web writes it, `&frac12;`, and spaces for the rest of its name."""
    sign = html.unescape(found[0])
    return sign.ljust(len(found[0])) if len(sign) == 1 else found[0]


@lru_cache(maxsize=1024)
def _plain(sign: str) -> str:
    """The sign that is typed for one that is not on a keyboard; the sign itself where there is none, or where it says
    something of its own, as fractions and raised numbers do."""
    for signs, plain in ((_STARS, "*"), (_CROSSES, "x"), (_HYPHENS, "-"), (_LONGER, "\u2013"), (_SLASHES, "/")):
        if sign in signs:
            return plain
    if sign in _LINE_ENDS or unicodedata.category(sign) == "No":
        return sign
    same = unicodedata.normalize("NFKC", sign)
    return same if len(same) == 1 and " " <= same < "\x7f" else sign
