"""Seams as the words tell them: which edges are joined, stitch by stitch or eased, and over how many stitches."""

from __future__ import annotations

import re

import msgspec

from roundhand.findings import Span
from roundhand.notation.listed import LISTED, listed

_SEAMS = re.compile(
    r"\bwhip[\s-]?st(?:itch)?(?:es|ing)?\b|\bsew(?:ing|n)?\b|\bseam(?:s|ing|ed)?\b|\bmattress\s+st(?:itch)?\b"
    r"|\b(?:both|two)\s+(?:the\s+)?(?:layers|thicknesses|pieces|edges|squares|panels)\b"
    r"|\b(?:edges|pieces|layers|panels|sts?|stitches)\s+together\b(?!\s+as)|\btogether\s+(?:along|across|down|at)\b"
    r"|\bjoin\s+(?:the\s+)?(?:two\s+|short\s+|long\s+|side\s+|shoulder\s+)?(?:edges|pieces|sides|seams?|shoulders?)\b",
    re.IGNORECASE,
)
# Sewing that joins no two edges.
_NO_SEAM = re.compile(
    r"\bfor\s+(?:sewing|seaming)\b|\bsew(?:ing)?\s+(?:on\s+)?(?:the\s+)?(?:buttons?|eyes?|label|beads?|zip|lining|tails?)\b"
    r"|\bsewing\s+(?:needle|thread)\b",
    re.IGNORECASE,
)
_EDGES = (
    (
        "ends",
        re.compile(r"\brow[\s-]?ends?\b|\bends?\s+of\s+(?:the\s+)?rows?\b|\bside\s+(?:seams?|edges?)\b", re.IGNORECASE),
    ),
    (
        "chain",
        re.compile(
            r"\b(?:foundation|starting|beginning|beg|initial)\s+(?:ch(?:ain)?s?|edge|row)\b|\bbottom\s+edges?\b"
            r"|\bfirst\s+row\b|\bcast-?on\b",
            re.IGNORECASE,
        ),
    ),
    ("top", re.compile(r"\blast\s+(?:row|rnd|round)s?\b|\btop\s+edges?\b|\bshoulders?\b", re.IGNORECASE)),
)
_STITCHWISE = re.compile(
    r"\b(?:in|through)\s+each\s+(?:st|stitch)\b|\bst(?:itch)?\s+(?:to|by|for)\s+st(?:itch)?\b"
    r"|\bmatching\s+(?:the\s+)?(?:sts?|stitch(?:es)?)\b|\bcorresponding\s+(?:sts?|stitch(?:es)?)\b",
    re.IGNORECASE,
)
_ROWWISE = re.compile(
    r"\brow\s+(?:to|by|for)\s+row\b|\bmatching\s+(?:the\s+)?rows?(?:\s+ends)?\b|\beach\s+row[\s-]?end\b", re.IGNORECASE
)
_EASE = re.compile(r"\beas(?:e|ing)\b|\bgather|\bpleat|\bstretch|\bevenly\b|\bto\s+fit\b", re.IGNORECASE)
_PARTLY = re.compile(
    r"\bleav(?:e|ing)\b|\bopen(?:ing)?\b|\barmholes?\b|\bup\s+to\b|\buntil\b|\bslits?\b|\bvents?\b|\bsleeves?\b"
    r"|\bfor\s+(?:about\s+)?\d+(?:[ .\u00bc-\u00be/\d]*)\s*(?:in|cm|inches|\")",
    re.IGNORECASE,
)
_BOTH = re.compile(
    r"\b(?:both|two)\s+(?:the\s+)?(?:pieces|layers|thicknesses|panels)\b|\b(?:pieces|panels|layers)\s+together\b",
    re.IGNORECASE,
)
_FOLD = re.compile(r"\bfold(?:ed|ing)?\b", re.IGNORECASE)
_UNIT = r"\s*(?P<unit>sts?\b|stitch(?:es)?\b|sc\b|hdc\b|dc\b|tr\b|row\s+ends\b|rows?\b)"
_FOR = re.compile(
    rf"\b(?:(?P<all>all|the)|for|over|along|across|next|first|last|sc|hdc|sl\s+st|join|sew|seam|whipstitch)"
    rf"\s+(?:in\s+|the\s+|all\s+|next\s+|first\s+|last\s+)*(?P<n>{LISTED}){_UNIT}",
    re.IGNORECASE,
)


class Seam(msgspec.Struct, frozen=True):
    """Two edges joined.

    `edges` are `top`, `chain` (where the work began) or `ends` (row ends), in the order of the words; `stitchwise` and
    `rowwise` are true where every stitch or row of one edge meets one of the other, `eased` where one is held in,
    `partly` where some of it stays open. `both` means two pieces or layers that are not named, `fold` one piece folded.
    `told` is how many stitches (or rows, `told_rows`) are joined in every size.
    """

    span: Span
    edges: tuple[str, ...]
    stitchwise: bool
    rowwise: bool
    eased: bool
    partly: bool
    both: bool
    fold: bool
    told: tuple[int, ...] | None
    told_rows: bool
    told_span: Span


def is_seam(text: str) -> bool:
    """Whether words tell of edges that are joined.

    >>> is_seam("Whip stitch the row ends together."), is_seam("Sew on the buttons."), is_seam("Sc in each st across.")
    (True, False, False)
    """
    return _SEAMS.search(_NO_SEAM.sub(" ", text)) is not None


def read_seam(text: str, start: int, sizes: int) -> Seam | None:
    """The seam that a sentence tells of, its words beginning at `start` of the page; None where it tells of none.

    >>> found = read_seam("Sc 24 (26) sts together through both layers.", 0, 2)
    >>> found.told, found.both, found.edges
    ((24, 26), True, ())
    >>> read_seam("Sew side seams, matching rows.", 0, 1).edges
    ('ends',)
    """
    if not is_seam(text):
        return None
    found = sorted((hit.start(), edge) for edge, build in _EDGES for hit in build.finditer(text))
    number = _FOR.search(text)
    span = Span(start, start + len(text))
    return Seam(
        span,
        tuple(dict.fromkeys(edge for _, edge in found)),
        _STITCHWISE.search(text) is not None,
        _ROWWISE.search(text) is not None,
        _EASE.search(text) is not None,
        _PARTLY.search(text) is not None,
        _BOTH.search(text) is not None,
        _FOLD.search(text) is not None,
        listed(number["n"], sizes) if number is not None else None,
        number is not None and number["unit"].lower().startswith("row"),
        Span(start + number.start("n"), start + number.end()) if number is not None else span,
    )
