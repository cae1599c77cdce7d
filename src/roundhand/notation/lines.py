"""A line of a pattern, and whether the next line of the page goes on with it, as in a row broken over a narrow page."""

from __future__ import annotations

import re

import msgspec

from roundhand.findings import Span
from roundhand.notation.naming import read_name

# What a line of instructions begins with that has no label.
STEP = re.compile(
    r"(?:with\s+(?!right|wrong|rs\b|ws\b|both sides)|ch(?:ain)?\b|\d+(?:\s*[(\[][\d\s,;:/-]+[)\]])?\s+ch(?:ains?)?\b"
    r"|make\b|commence\b|join\b|cut\b|break\b|fasten\b"
    r"|finish\s+off|turn\b|fold\b"
    r"|weave\b|sew\b|gather\b|seam\b|rejoin\b|re-join\b|attach\b|using\b|in\s+[A-Z]\b|rep(?:eat)?\b|change\b|switch\b"
    r"|do\s+not\b|place\b|magic\b|begin\b|start\b|drop\b|carry\b|work\b|leave\b|leaving\b|pick\s+up\b|sl(?:ip)?\s*st"
    r"|skip\b|sk\b|miss\b|complete\b|continue\b|cont\b|reverse\b|same\s+as\b|as\s+for\b|finish\s+(?:as|to|second|the)\b"
    r"|with\s+(?:rs|ws|right\s+side|wrong\s+side)\s+facing,?\s+(?:re-?join|join|attach|skip|sk\b|miss|count)"
    r"|mark\b|close\b|draw\b|thread\b|hold\b|f(?:sc|hdc|dc)\b|foundation\b|\d+\s+f(?:sc|hdc|dc)\b|slip\s+knot"
    r"|(?:\d+(?:\s*[(\[][\d\s,;:/-]+[)\]])?\s+)?(?:air|lace)\s+(?:loops?|chains?|stitch(?:es)?)\b|cast\s+o(?:n|ff)\b|bind\s+off\b|end\s+off|whip"
    r"|(?:an?\s+)?mirror(?:ed)?\b|in\s+symmetry\b|follow(?:ing)?\s+(?:the\s+)?(?:instructions|directions)\b"
    r"|(?:exactly\s+)?(?:as|like)\s+(?=[^.\n]{1,60}\brevers)"
    r"|(?:inc|dec)(?:reas(?:e|ing))?\s+(?:\d|(?:one|two|a|at|on|each|both|every|evenly|as)\b)|at\s+the\s+same\s+time\b"
    r"|[*\[(]+\s*(?:(?:work|sc|hdc|dc)\s+\d+\s+(?:rows|rnds|rounds)\b|(?:inc|dec)[^\n]{1,60}?\bnext\s+(?:row|rnd|round)\b)"
    r"|keep\s+(?:inc|dec|work)"
    r"|(?:(?:then|now|next),?\s+|(?:for|to\s+shape)\s+(?:the\s+)?[a-z]+\s*[,:]?\s+)(?=(?:bind|cast)\s+off\b|(?:inc|dec)(?:\b|reas))"
    r"|[a-z]{2,5}\s+\d+\s+(?:more\s+)?(?:rnds?|rounds?|rows?)\b)",
    re.IGNORECASE,
)
# The chain or ring that a piece begins with, on a line of its own: "Ch 24", "24ch", "Using A, make 24 chains.". What
# says whether a chain counts is no beginning.
_HOW_MANY = r"\d+(?:\s*[(\[][\d\s,;:/-]+[)\]])?"
FOUNDATION = re.compile(
    r"(?:(?:with|using|in)\s+[^,.;:\n]{1,40}?[,:]?\s+)?(?:(?:make|work|commence(?:\s+with)?|(?:begin|start)\s+with)\s+)?"
    r"(?:an?\s+)?(?:loosely\s+)?(?:(?:loose|foundation|base|starting|beginning)\s+)?"
    rf"(?:ch(?:ain)?s?(?:\s+of)?\s*{_HOW_MANY}(?:\s+(?:ch|chains?|sts?|stitches))?|{_HOW_MANY}\s*(?:loose\s+)?ch(?:ains?|s)?"
    r"|(?:magic|adjustable)\s+(?:ring|circle|loop))(?![^.;\n]*\bcount)(?=\s*(?:[,.;]|$|loosely\b|(?:in|with)\s+[^,.;\n]{1,40}$))",
    re.IGNORECASE | re.MULTILINE,
)
# What names it in front of a colon: "Foundation: 24ch".
FOUNDATION_NAME = re.compile(
    r"(?:foundation|base|starting|beginning|begin|start|set-?\s?up)(?:\s+ch(?:ain)?)?|cast[\s-]?on|ch(?:ain)?"
    r"|(?:foundation|base|set-?\s?up)\s+row",
    re.IGNORECASE,
)
_FOUNDATION_STITCHES = re.compile(r"(?:work\s+)?(?:\d+\s+)?f(?:sc|hdc|dc|htr|tr)\b", re.IGNORECASE)
_ROW = re.compile(r"row\b", re.IGNORECASE)
_NOTHING_ELSE = re.compile(r"[^.;,\n]*(?:[.,;]\s*(?:turn\b)?)?\W*")
# How often a group is worked, broken off from it: "] / 12 times; join"; and words behind which a number must follow.
_HOW_OFTEN = re.compile(r"\d+\s*(?:[(\[][\d\s,;:/-]+[)\]]\s*)?(?:more\s+)?times?\b|x\s*\d", re.IGNORECASE)
_UNFINISHED = re.compile(
    r"(?:\b(?:in|into|next|last|first|of|each|to|from|and|then|skip|sk|miss|over|for|until|rep|repeat|ch|the|around)|[,*+=\u2013\u2014-])$",
    re.IGNORECASE,
)
# Words behind which a row is only named, "inc each end of every / 3rd row", and a row that is begun all the same.
_NAMES_A_ROW = re.compile(
    r"\b(?:every|each|of|in|on|at|to|from|than|as|after|before|until|through|rep|repeat|next|foll|following|last)$",
    re.IGNORECASE,
)
_BEGUN_ROW = re.compile(
    r"[^:\n]{0,24}:|(?:rows?|rnds?|rounds?)\s*\d+(?:\s*[-\u2013]\s*\d+)?\s*(?:[-\u2013\u2014(]|\.\s)", re.IGNORECASE
)
# A count broken off from its row: "- 120 sts", "= 24", "48 (54, 60) sts.".
COUNT_ALONE = re.compile(
    r"(?:[=\u2013\u2014-]\s*\d[\d\s()\[\],;:/-]*(?:[^\W\d_]+(?:\s[^\W\d_]+)?)?|\d[\d\s()\[\],;:/-]*(?:sts?|stitches)(?:\s+total)?)\.?",
    re.IGNORECASE,
)


class Line(msgspec.Struct, frozen=True):
    """A line of the pattern, which may run over several lines of the page.

    `kind`: `title`, `heading`, `key`, `row`, `step`, `sizes` (a size phrase for what follows), `quantity`, `prose`.
    `section` is what kind of section it stands in: `head`, `materials`, `gauge`, `terms`, `special`, `notes`, `sizes`,
    `sizing`, `work`. `start` is where its words begin, behind a bullet; for a key or heading `name` is its name and
    `start` the beginning of its value. `phrase` is the size phrase in front of a row or step, empty if none.
    """

    kind: str
    section: str
    start: int
    end: int
    name: str = ""
    phrase: str = ""
    whole: Span = Span(0, 0)


def begins_with_chain(text: str, start: int, end: int) -> int | None:
    """Where the words begin that say how a piece is begun, behind a name such as `Foundation:`; None where they do not.

    >>> begins_with_chain("Foundation: 24ch", 0, 16), begins_with_chain("Ch 2 counts as a st", 0, 19)
    (12, None)
    """
    colon = text.find(":", start, end)
    named = FOUNDATION_NAME.fullmatch(text, start, colon) if colon > 0 else None
    if named is not None:
        start = colon + 1
        while start < end and text[start].isspace():
            start += 1
    if named is not None and _FOUNDATION_STITCHES.match(text, start, end):
        return start
    found = FOUNDATION.match(text, start, end)
    if found is None or (
        named is not None and _ROW.search(named[0]) and not _NOTHING_ELSE.fullmatch(text, found.end(), end)
    ):
        # A foundation row may hold more than its chain.
        return None
    return start


def goes_on(text: str, line: Line, start: int) -> bool:
    """Whether a line of the page goes on with the one before: it begins in lower case, or that one has not ended."""
    if line.kind not in ("row", "step", "key", "prose"):
        return False
    first = text[start]
    stop = text.find("\n", start)
    if line.section in ("special", "terms") and read_name(text, start, stop if stop >= 0 else len(text)) is not None:
        # In a list of stitches the next begins, whether or not the one before ends in a full stop.
        return False
    if line.section in ("special", "terms") and text[start : stop if stop >= 0 else len(text)].strip().isupper():
        # A heading in capitals right below the list.
        return False
    if line.kind in ("key", "prose") and line.section in ("materials", "sizes", "gauge"):
        # In a list of facts every line is one of its own.
        return False
    if line.kind == "key" and line.section == "head":
        return False
    if first in "*([" and STEP.match(text, start):
        # "[Work 3 rows even, inc 1 st each end of next row] 5 times" tells rows of its own.
        return False
    if first.islower() or first in ",;)*([":
        return line.kind in ("row", "step") or first.islower()
    ended = ends_sentence(text, line.end)
    if line.kind == "row" and text[line.end - 1] == ":":
        # A label alone on its line.
        return True
    if line.kind in ("row", "step") and _HOW_OFTEN.match(text, start):
        return True
    if line.kind == "row":
        if not ended and first.isdigit() and _UNFINISHED.search(text, max(line.start, line.end - 16), line.end):
            return True
        return (
            not ended
            and not STEP.match(text, start)
            and (_continues(text, line.end) or text[start : start + 40].count(" ") > 3)
        )
    if line.kind == "prose" and line.section == "work" and STEP.match(text, start):
        # A head or foot of the printed page has no full stop, and the work goes on behind it.
        return False
    return not ended and _continues(text, line.end)


def names_row(text: str, line: Line, start: int) -> bool:
    """Whether what looks like a label is the row that the line before speaks of: `… every` / `3rd row 4 times.`

    >>> text = "Dec 1 st each end of every\\n3rd row 4 times."
    >>> names_row(text, Line("step", "work", 0, 26), 27)
    True
    """
    if line.kind not in ("row", "step"):
        return False
    stop = text.find("\n", start)
    begun = _BEGUN_ROW.match(text, start, stop if stop >= 0 else len(text))
    return begun is None and _NAMES_A_ROW.search(text, max(line.start, line.end - 16), line.end) is not None


def bracket_open(text: str, line: Line) -> bool:
    """Whether a row or step ends inside a bracket."""
    if line.kind not in ("row", "step"):
        return False
    words = text[line.start : line.end]
    return words.count("(") > words.count(")") or words.count("[") > words.count("]")


def _continues(text: str, end: int) -> bool:
    return text[end - 1] in ",;*" or text[end - 1].islower()


def ends_sentence(text: str, end: int) -> bool:
    return text[end - 1] in ".!?)]:"
