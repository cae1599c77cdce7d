"""Text made safe to show: every sign is one that can be seen, or a space.

Control characters, marks that turn the direction of writing, and halves of characters are no words of anybody; on a
page they would at best be invisible, at worst make it read otherwise than it is written.
"""

from __future__ import annotations

import re
import unicodedata

# Stands where a sign cannot be shown: the Unicode replacement character, made for exactly that.
MARK = "\N{REPLACEMENT CHARACTER}"

_ORDINARY = re.compile(r"(?:[!-~]| (?! ))*")
_SPACES = re.compile(r"[^\S\u00a0]+")
# Joiners and soft hyphens belong to words of several scripts and to pictures put together of several signs.
_KEPT_FORMAT = frozenset("\u200c\u200d\u00ad")


def plain(text: str) -> str:
    """The text without what cannot be seen: control and direction marks gone, other white space a space each run.

    Letters with their accents are put together (NFC, Unicode standard annex 15). Private signs, noncharacters and
    halves of characters become a replacement mark. A hard space stays one.

    >>> plain("  Rnd 1:\\t6 sc\\x00 \\u202ein ring\\u202c ")
    ' Rnd 1: 6 sc in ring '
    >>> plain("e\\u0301\\ue000 5\\u00a0mm") == "é\\ufffd 5\\u00a0mm"
    True
    """
    if _ORDINARY.fullmatch(text):
        return text
    return _SPACES.sub(" ", unicodedata.normalize("NFC", "".join(map(_sign, text))))


def _sign(sign: str) -> str:
    kind = unicodedata.category(sign)
    if kind == "Cc":
        return " " if sign.isspace() else ""
    if kind == "Cf":
        return sign if sign in _KEPT_FORMAT else ""
    # Noncharacters are told by number: which other signs are unassigned differs from one Python to the next.
    if kind in ("Cs", "Co") or ord(sign) & 0xFFFE == 0xFFFE or 0xFDD0 <= ord(sign) <= 0xFDEF:
        return MARK
    return sign
