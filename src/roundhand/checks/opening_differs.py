"""The number of stitches that are drawn up differs from the number that is there.

A stitch that the yarn does not go through is not held: the opening runs, or leaves a hole.

Bad:
    Cap

    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)

    Weave yarn through last 10 sts, pull tight.

Good:
    Cap

    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)

    Weave yarn through last 12 sts, pull tight.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from roundhand.checks.edit import Sheet
from roundhand.checks.finishing import Sentence, last_line, named, sentences, sentences_in
from roundhand.checks.pencil import say_list
from roundhand.findings import Finding, Mark
from roundhand.notation.gathering import Gathering, read_gathering
from roundhand.tally import PieceTally, RowTally

GROUP = "seams"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every opening drawn up over another number of stitches than the last row has in some size."""
    for sentence in sentences(sheet):
        found = _gathering(sentence, sheet)
        piece = _piece(sentence, sheet) if found is not None else None
        if found is not None and piece is not None:
            yield from _compared(found, piece, piece.rows, sheet)
    for piece in sheet.tally.pieces:
        for at, row in enumerate(piece.rows):
            if row.line.span == (piece.rows[at + 1].line.span if at + 1 < len(piece.rows) else None):
                continue
            for sentence in sentences_in(sheet.text, row.line.span):
                found = _gathering(sentence, sheet)
                if found is not None and not row.copied:
                    yield from _compared(found, piece, piece.rows[: at + 1], sheet)


def _gathering(sentence: Sentence, sheet: Sheet) -> Gathering | None:
    """The opening that a sentence draws up over a number of stitches."""
    found = read_gathering(sentence.text, sentence.start, len(sheet.pattern.sizes))
    return found if found is not None and found.told is not None else None


def _compared(found: Gathering, piece: PieceTally, rows: Sequence[RowTally], sheet: Sheet) -> Iterator[Finding]:
    """What is told against the last of some rows that makes stitches, in every size."""
    wrong: list[tuple[int, int, int]] = []
    for size, number in enumerate(found.told or ()):
        results = [row.results[size] for row in rows]
        result = next((one for one in reversed(results) if one is not None and one.made), None)
        if result is not None and result.count != number and not result.lacking:
            wrong.append((size, number, result.count))
    if not wrong:
        return
    told = tuple(number for _, number, _ in wrong)
    there = tuple(number for _, _, number in wrong)
    yield Finding(
        "opening-differs",
        "warning",
        f"{say_list(told)} sts drawn up, {say_list(there)} there",
        found.told_span,
        tuple(sheet.pattern.sizes[size] for size, _, _ in wrong),
        because=f"the last row of {piece.name} has {say_list(there)} sts",
        help=f"draw up {say_list(there)}, or look at the last row",
        facts={"told": told, "counts": there},
        see=(Mark(rows[-1].line.label.span, f"{say_list(there)} sts"),),
    )


def _piece(sentence: Sentence, sheet: Sheet) -> PieceTally | None:
    """The piece that is named, or the one whose rows stand above in the same section; the only one there is."""
    pieces = tuple(piece for piece in sheet.tally.pieces if piece.rows)
    said = named(sentence.text, pieces)
    if said:
        return said[0] if len(said) == 1 else None
    if len(pieces) == 1:
        return pieces[0]
    for piece in pieces:
        line = last_line(piece)
        if sentence.heading <= line.span.start < sentence.start:
            after = [other for other in pieces if line.span.start < last_line(other).span.start < sentence.start]
            if not after:
                return piece
    return None
