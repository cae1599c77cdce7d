"""The edges that a row is worked along, as the words name them: row ends, the other side of the chain, all round.

The trade has many ways to say these few things, so they are known by their build and not by a list: a leading verb or
preposition, words that tell the edge apart, and the edge itself.
"""

from __future__ import annotations

import re

from roundhand.findings import Span
from roundhand.notation.cursor import Cursor

# Words a phrase about an edge may run over before its separator.
_FURTHEST = 200
_CHAIN = r"(?:(?:foundation|starting|beg|beginning|initial|base|original|first)\s+)?(?:chains?|chs?|ch\s?-?\s?\d+)\b"
_ONE_EACH = r"(?:each\s+(?:st(?:itch)?\s+)?(?:of\s+)?)?"
_OTHER_SIDE = re.compile(
    r"(?:(?:now|then|and|continue|continuing|work|working|worked|turn|turning|rotate|rotating|go|going|proceed|by|back"
    r"|to|so\s+as)\s+)*"
    r"(?:(?:along|across|on|in|into|down|over|around|up|through|under)\s+)?(?:the\s+)?"
    r"(?:"
    r"(?:other|opposite|second|under|reverse|bottom|lower)\s+(?:sides?|edge|half)\b(?:\s+of\s+(?:the\s+|your\s+)?"
    + _ONE_EACH
    + _CHAIN
    + r")?"
    r"|(?:free|unused|unworked|remaining|rem|other|opposite|bottom)\s+(?:loops?|lps?)\s+(?:of|in|on|along)\s+(?:the\s+)?"
    + _ONE_EACH
    + _CHAIN
    + r"|(?:free|unused|unworked|remaining|rem|other|opposite|bottom)\s+(?:loops?|lps?)\s+(?:on|of|along)\s+(?:the\s+)?"
    r"(?:other|opposite|bottom)\s+sides?\b(?:\s+of\s+(?:the\s+)?" + _CHAIN + r")?"
    r"|(?:underside|bottom|other\s+side)\s+of\s+(?:the\s+)?" + _ONE_EACH + _CHAIN + r")",
    re.IGNORECASE,
)
# The chain itself named as an edge: the other side of it, unless the row is still being worked into it.
_FOUNDATION = re.compile(
    r"(?:(?:now|then|and|continue|continuing|work|working)\s+)*(?:along|across|over|down|of|on|in|into|up)\s+"
    r"(?:the\s+)?(?:(?:edge|loops?|lps?|chs?|chains?|sts?)\s+of\s+)?(?:the\s+|your\s+)?"
    r"(?:foundation|starting|beg|beginning|initial|base|original)\s+(?:chains?|chs?|edge|row\s+of\s+chains?)\b"
    r"(?:\s+(?:edge|side|loops?))?",
    re.IGNORECASE,
)
_ROTATE = re.compile(
    r"(?:rotate|rotating|(?:turn|turning)\s+(?:(?:the|your|work|piece|it|to)\s+)*"
    r"(?:(?:90|ninety|180|a\s+quarter)\b|(?:sideways|clockwise|counter-?clockwise)\b|side\s+on\b)"
    r"|(?:turn|turning)\s+(?:the\s+|your\s+|to\s+(?:the\s+)?)?corner\b)[^,.;:()\[\]*]*",
    re.IGNORECASE,
)
_ROW_ENDS = re.compile(
    r"\brow[-\s]*ends?\b|\bends?\s+of\s+(?:each\s+|every\s+|the\s+)?rows?\b|\bsides?\s+of\s+(?:each\s+|every\s+|the\s+)?"
    r"(?:rows?|sts?|stitches)\b|\brow\s+sides?\b",
    re.IGNORECASE,
)
_EDGE_WORD = (
    r"(?:edges?|sides?|perimeter|border|outside|band|brim|opening|ribbing|cuff|neckline|armhole|piece|blanket|panel"
    r"|square|rectangle|swatch|work)"
)
_PREFACE = re.compile(
    r"(?:(?:(?:now|then|and|continue|continuing|work|working|evenly)\s+)*(?:along|across|down|up|over|around|on)"
    r"|(?:now\s+)?work(?:ing)?\s+(?:in|into|through))\s+"
    r"(?:(?:the|each|one|first|second|other|opposite|next|remaining|whole|entire|all|four|three|two|\d|left|right|front"
    r"|back|long|longer|short|shorter|neck|lower|upper|top|bottom|outer|outside|inner|side|last|raw|straight|of|both|every)"
    r"[-\s]+)*"
    r"(?:row[-\s]*ends?|ends?\s+of\s+(?:the\s+|each\s+)?rows?|sides?\s+of\s+(?:the\s+|each\s+)?rows?"
    r"|(?:top|upper)\s+and\s+(?:the\s+)?(?:bottom|lower)(?:\s+edges?|\s+sides?)?|edges?|sides?|top|bottom)\b"
    r"(?:\s+(?:of|on)\s+[^,.;:()\[\]*]*)?",
    re.IGNORECASE,
)
_BOTH_ENDS = re.compile(
    r"\b(?:top|upper)\s+and\s+(?:the\s+)?(?:bottom|lower)\b|\bboth\s+(?:short\s+)?ends\b", re.IGNORECASE
)
# Words a preface can begin with; anything else need not be looked at more closely.
_OPENERS = frozenset(
    ("now", "then", "and", "continue", "continuing", "work", "working", "evenly", "along", "across", "down", "up",
     "over", "around", "turn", "turning", "rotate", "rotating", "go", "going", "proceed", "by", "back", "to", "so",
     "on", "in", "into", "through", "under", "the", "other", "opposite", "second", "reverse", "bottom", "lower",
     "free", "unused", "unworked", "remaining", "rem", "underside")
)  # fmt: skip


_BEFORE_SIDE = _OPENERS | {"worked"}
# What may follow an edge that is named: the work along it, or how many stitches go there.
_ON_FROM_HERE = frozenset(
    ("as", "and", "work", "working", "of", "with", "at", "placing", "making", "putting", "using", "spacing")
)


def read_along(cursor: Cursor) -> tuple[str, Span] | None:
    """An edge that the work goes on along, said in front of what is worked: `working along opposite side of chain`,
    `rotate`, `along the left edge`. The edge as `Along` names it, or `rotate`; None (nothing taken) where none stands.
    """
    start = cursor.position
    if start >= cursor.end or cursor.low[start].split(None, 1)[0] not in _OPENERS or not _may_speak_of_edges(cursor):
        return None
    if said := _taken(cursor, _ROTATE):
        edge = edge_named(said)
        return ("rotate" if edge in ("", "edge") else edge), cursor.since(start)
    said = _taken(cursor, _OTHER_SIDE)
    if said and _ends_here(cursor, said):
        return "chain", cursor.since(start)
    cursor.position = start
    said = _taken(cursor, _FOUNDATION)
    if said and not said.lower().startswith(("of", "in ", "into", "on ")) and _leads_on(cursor):
        return "foundation", cursor.since(start)
    cursor.position = start
    said = _taken(cursor, _PREFACE)
    if said and _ends_here(cursor, said):
        edge = edge_named(said) or "edge"
        return "chain" if edge == "bottom" else edge, cursor.since(start)
    cursor.position = start
    return None


def read_other_side(cursor: Cursor) -> bool:
    """Moves over `free loop of foundation ch`, `opposite side of chain`, if the words stand here."""
    start = cursor.position
    if start >= cursor.end or cursor.low[start].split(None, 1)[0] not in _BEFORE_SIDE:
        return False
    if not _may_speak_of_edges(cursor):
        return False
    said = _taken(cursor, _OTHER_SIDE)
    if said and re.search(r"\bch|\bloops?\b|\blps?\b|\bside", said, re.IGNORECASE):
        return True
    cursor.position = start
    return False


def read_foundation(cursor: Cursor) -> bool:
    """Moves over `of the foundation chain`, `along starting ch`, if the words stand here behind a place."""
    return bool(_taken(cursor, _FOUNDATION))


def edge_named(said: str) -> str:
    """The edge that words name, as `Evenly` knows it; empty where they name none.

    >>> edge_named("along the ends of the rows"), edge_named("around entire blanket"), edge_named("along neck edge")
    ('row_ends', 'around', 'edge')
    >>> edge_named("across opposite side of foundation ch"), edge_named("along each side"), edge_named("around")
    ('chain', 'sides', 'around')
    """
    lower = " ".join(said.lower().split())
    if _ROW_ENDS.search(lower):
        return "row_ends"
    if _BOTH_ENDS.search(lower):
        return "top and bottom"
    if _OTHER_SIDE.search(lower) and re.search(r"\bch", lower):
        return "chain"
    if re.search(r"\b(?:each|every|all|both)\s+(?:of\s+)?(?:the\s+)?(?:\w+\s+)?(?:sides?|edges)\b", lower):
        return "around" if re.search(r"\baround\b", lower) else "sides"
    if re.search(r"\b(?:around|round)\b", lower) and not re.search(
        r"\b(?:armhole|neck|neckline|cuff|opening|brim|band|ribbing|sleeve|leg)\b", lower
    ):
        return "around"
    if re.search(r"\bto\s+(?:the\s+)?(?:next\s+|first\s+|last\s+)?corner\b", lower):
        return "side"
    if re.search(r"\b(?:top|upper)(?:\s+(?:edge|side))?\s*$|\b(?:top|upper)\s+(?:edge|of)\b|\blast\s+row\b", lower):
        return "top"
    if re.search(
        r"\bbottom\s*$|\bbottom\s+of\b|\b(?:bottom|lower|foundation|starting|beginning)\s+(?:edge|side|ch|chain)\b",
        lower,
    ):
        return "bottom"
    if re.search(rf"\b{_EDGE_WORD}\b", lower):
        return "edge"
    return ""


# Every build above has one of these in it.
_SIGNS = ("side", "edge", "end", "loop", "lp", "top", "bottom", "turn", "rotat", "half", "lower", "foundation", "start",
          "beg", "initial", "base", "original")  # fmt: skip


def _may_speak_of_edges(cursor: Cursor) -> bool:
    """Whether a line has any word that tells of an edge; most have none."""
    if cursor.edges is None:
        line = cursor.text[cursor.tokens[0].start : cursor.tokens[-1].end].lower()
        cursor.edges = any(sign in line for sign in _SIGNS)
    return cursor.edges


def _taken(cursor: Cursor, build: re.Pattern[str]) -> str:
    """The words at the cursor that have this build; moves over them. Empty where they have not."""
    token = cursor.token
    if token is None:
        return ""
    end = cursor.tokens[cursor.end - 1].end
    found = build.match(cursor.text, token.start, min(end, token.start + _FURTHEST))
    if found is None or found.end() == found.start():
        return ""
    start = cursor.position
    while cursor.position < cursor.end and cursor.tokens[cursor.position].start < found.end():
        cursor.position += 1
    if cursor.tokens[cursor.position - 1].end > found.end() + 2:
        # The build ends inside a token of several words: it is not these words.
        cursor.position = start
        return ""
    return found[0]


def _leads_on(cursor: Cursor) -> bool:
    """Whether an edge named behind a stitch ends here, or how far along it the work goes is said next."""
    return _ends_here(cursor, "") or cursor.word("to", "until", "across", "around", "evenly")


def _ends_here(cursor: Cursor, said: str) -> bool:
    """Whether a preface ends at a separator or leads on to what is worked."""
    token = cursor.token
    if token is None or token.kind == "mark":
        return True
    return token.kind in ("stitch", "number") or token.text.lower() in _ON_FROM_HERE
