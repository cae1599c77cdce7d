"""Two edges that are joined stitch by stitch, or row by row, have not the same number of them.

A seam worked through both layers comes to its end on both at once, or one piece is puckered and the maker thinks that
she has lost stitches. Where the words ease or gather an edge, nothing is said.

Bad:
    Bag

    FRONT
    Ch 13.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12)
    Row 2: Ch 1, sc in each st across, turn. (12)

    BACK
    Ch 12.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (11)
    Row 2: Ch 1, sc in each st across, turn. (11)

    FINISHING
    Hold front and back together and sl st through both layers in each st across.

Good:
    Bag

    FRONT
    Ch 13.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12)
    Row 2: Ch 1, sc in each st across, turn. (12)

    BACK
    Ch 13.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12)
    Row 2: Ch 1, sc in each st across, turn. (12)

    FINISHING
    Hold front and back together and sl st through both layers in each st across.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.finishing import Sentence, last_line, named, rows_in, sentences
from roundhand.checks.pencil import say_list
from roundhand.findings import Finding, Mark
from roundhand.notation.seams import Seam, read_seam
from roundhand.notation.tree import Leave
from roundhand.tally import PieceTally

GROUP = "seams"

_WHAT = {"top": "sts", "chain": "sts", "ends": "rows"}
# By this many rows a sewn edge may be longer without a word; it is held in as it is sewn (common practice).
_HELD_IN = 1
# What is laid on another piece, so that its edge meets no edge.
_LAID_ON = re.compile(
    r"\b(?:pocket|strap|handle|patch|appliqu|flap|ear|tie|button|collar|sleeve|hood|loop|flower|leaf|tab|band|cuff)",
    re.IGNORECASE,
)
# Pieces of which the whole sides meet, where the words say no more than that they are sewn.
_FACING = re.compile(r"\b(?:front|back|half|panel)s?\b", re.IGNORECASE)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every seam whose two edges, or whose stated number of stitches, cannot meet in some size."""
    for sentence in sentences(sheet):
        seam = read_seam(sentence.text, sentence.start, len(sheet.pattern.sizes))
        if seam is None or seam.eased:
            continue
        edges = _edges(seam, sentence, sheet)
        if not edges:
            continue
        finding = _told(seam, edges, sheet) or _unequal(seam, edges, sheet)
        if finding is not None:
            yield finding


# Which edges.


def _edges(seam: Seam, sentence: Sentence, sheet: Sheet) -> list[tuple[PieceTally, str]]:
    """The two edges that are joined; one where the piece is made twice and joined to its like; none where the words do
    not tell."""
    pieces = tuple(piece for piece in sheet.tally.pieces if piece.rows)
    said = named(sentence.text, pieces)
    if not said:
        said = _unnamed(seam, pieces)
    shoulders = "shoulder" in sentence.text.lower()
    kinds = seam.edges or (("top",) if seam.stitchwise or seam.both or seam.told is not None else ())
    if (seam.rowwise or seam.told_rows) and not seam.edges:
        kinds = ("ends",)
    if not kinds or len(said) > 2 or not said:
        return []
    if len(said) == 1:
        if seam.fold and len(kinds) == 2:
            return [(said[0], kinds[0]), (said[0], kinds[1])]
        return [(said[0], kinds[0])] if seam.told is not None else []
    if shoulders and kinds[0] == "top" and not _alike(*said):
        return []
    return [(said[0], kinds[0]), (said[1], kinds[1] if len(kinds) > 1 else kinds[0])]


def _unnamed(seam: Seam, pieces: tuple[PieceTally, ...]) -> list[PieceTally]:
    """The pieces that "both layers" or "side seams" can only mean: the two there are, or the front and the back."""
    if len(pieces) <= 2 and all(max(piece.make) <= 2 for piece in pieces):
        return list(pieces)
    if not seam.both:
        found = [piece for piece in pieces if piece.name.lower() in ("front", "back")]
        return found if len(found) == 2 else []
    return []


def _alike(one: PieceTally, other: PieceTally) -> bool:
    """Whether both pieces are parted at the neck, or neither is, so that their last rows are the same edge."""
    return _parted(one) == _parted(other)


def _face(seam: Seam, one: PieceTally, other: PieceTally) -> bool:
    """Whether the whole of two sides, or of two last rows, meets: of a front and a back without an armhole."""
    if not all(_FACING.search(piece.name) for piece in (one, other)):
        return False
    return seam.edges[:1] == ("top",) or not (_parted(one) or _parted(other))


def _parted(piece: PieceTally) -> bool:
    return any(
        any(row.rejoined) or any(isinstance(node, Leave) for nodes in row.nodes for node in nodes or ())
        for row in piece.rows
    )


def _length(piece: PieceTally, edge: str, size: int) -> int | None:
    """How many stitches, or rows, an edge has in a size."""
    rows = rows_in(piece, size)
    if not rows:
        return None
    if edge == "ends":
        return None if any(row.kind == "round" for row in rows) else len(rows)
    result = rows[0 if edge == "chain" else -1].results[size]
    return result.count if result is not None else None


# What does not come out.


def _told(seam: Seam, edges: list[tuple[PieceTally, str]], sheet: Sheet) -> Finding | None:
    """More stitches are said to be joined than an edge has."""
    if seam.told is None:
        return None
    for piece, edge in edges:
        if (edge == "ends") != seam.told_rows:
            continue
        pairs = [(size, seam.told[size], _length(piece, edge, size)) for size in range(len(sheet.pattern.sizes))]
        wrong = [(size, told, there) for size, told, there in pairs if there is not None and told > there]
        if wrong:
            told = tuple(number for _, number, _ in wrong)
            there = tuple(number for _, _, number in wrong)
            return _finding(
                f"{say_list(told)} {_WHAT[edge]} joined, {piece.name} has {say_list(there)}",
                seam,
                sheet,
                tuple(size for size, _, _ in wrong),
                {"told": told, "counts": there},
                edges,
                f"join {say_list(there)}, or look at the last row of {piece.name}",
            )
    return None


def _unequal(seam: Seam, edges: list[tuple[PieceTally, str]], sheet: Sheet) -> Finding | None:
    """The two edges are not equally long."""
    if len(edges) != 2 or seam.told is not None:
        return None
    (one, here), (other, there) = edges
    rows = here == "ends"
    exact = seam.rowwise if rows else seam.stitchwise or seam.both
    if rows != (there == "ends") or seam.partly:
        return None
    if len(seam.edges) < 2 and (_LAID_ON.search(one.name) or _LAID_ON.search(other.name)):
        return None
    if not exact and not _face(seam, one, other):
        return None
    free = 0 if exact else _HELD_IN
    pairs = [(size, _length(one, here, size), _length(other, there, size)) for size in range(len(sheet.pattern.sizes))]
    wrong = [
        (size, mine, theirs)
        for size, mine, theirs in pairs
        if mine is not None and theirs is not None and abs(mine - theirs) > free
    ]
    if not wrong:
        return None
    mine = tuple(number for _, number, _ in wrong)
    theirs = tuple(number for _, _, number in wrong)
    what = _WHAT[here]
    who = other.name if other is not one else "the edge it meets"
    return _finding(
        f"{one.name} has {say_list(mine)} {what} at the seam, {who} {say_list(theirs)}",
        seam,
        sheet,
        tuple(size for size, _, _ in wrong),
        {"counts": mine, "other": theirs, "what": what},
        edges,
        "make the edges alike, or say where one is eased in",
    )


def _finding(
    headline: str,
    seam: Seam,
    sheet: Sheet,
    sizes: tuple[int, ...],
    facts: dict[str, str | int | tuple[int, ...]],
    edges: list[tuple[PieceTally, str]],
    way: str,
) -> Finding:
    """The remark on the words of the seam, with the last rows of the pieces beside it."""
    marks = {piece.name: Mark(last_line(piece).label.span, f"{piece.name} ends here") for piece, _ in edges}
    return Finding(
        "seam-differs",
        "warning",
        headline,
        seam.told_span if "told" in facts else seam.span,
        tuple(sheet.pattern.sizes[size] for size in sizes),
        because="joined stitch by stitch or row by row, both edges come to their end together",
        help=way,
        facts=facts,
        see=tuple(marks.values()),
    )
