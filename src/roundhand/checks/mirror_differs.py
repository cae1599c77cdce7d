"""Two pieces that should be each other's mirror image, and do not end alike.

A left and a right front meet at one neckline and one armhole. If one ends on more stitches or after more rows than the
other, the garment hangs askew, and the maker finds it at the last seam.

Bad:
    Bag

    LEFT STRAP
    Ch 13.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12)
    Row 2: Ch 1, sc2tog, sc in each st across, turn. (11)

    RIGHT STRAP
    Ch 13.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12)
    Row 2: Ch 1, sc in each st across, turn. (12)

Good:
    Bag

    LEFT STRAP
    Ch 13.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12)
    Row 2: Ch 1, sc2tog, sc in each st across, turn. (11)

    RIGHT STRAP
    Work as for left strap, reversing shaping.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.pencil import say_list
from roundhand.findings import Finding, Mark
from roundhand.tally import PieceTally

GROUP = "shaping"

_OTHER = {"left": "right", "first": "second"}
# What may be worked on one of the two alone.
_EXTRAS = re.compile(r"band|border|edging|button|collar|hood|pocket", re.IGNORECASE)
# Motifs that are counted, first and second, are joined to each other and mirror nothing.
_MOTIFS = re.compile(
    r"motif|square|hexagon|octagon|pentagon|triangle|circle|medallion|rosette|flower|granny|block|tile|snowflake|wheel"
    r"|strip|round|mandala|doily",
    re.IGNORECASE,
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every pair of pieces, named as left and right or first and second, that end differently."""
    pieces = {" ".join(piece.name.lower().split()): piece for piece in sheet.tally.pieces}
    for name, piece in pieces.items():
        twin = _twin(name, pieces)
        if twin is None or _EXTRAS.search(name) or _MOTIFS.search(name) or not piece.rows or not twin.rows:
            continue
        pairs = [(size, _end(piece, size), _end(twin, size)) for size in range(len(sheet.pattern.sizes))]
        both = [(size, mine, theirs) for size, mine, theirs in pairs if mine is not None and theirs is not None]
        rows = not any(mine[0] != theirs[0] for _, mine, theirs in both)
        place = 1 if rows else 0
        # A mirrored piece may turn its shaping over one row later, so one row is no difference.
        wrong = [
            (size, mine[place], theirs[place])
            for size, mine, theirs in both
            if abs(mine[place] - theirs[place]) > place
        ]
        if not wrong:
            continue
        said = tuple(mine for _, mine, _ in wrong)
        other = tuple(theirs for _, _, theirs in wrong)
        what = "rows" if rows else "sts"
        yield Finding(
            "mirror-differs",
            "warning",
            f"{twin.name} ends {'after' if rows else 'on'} {say_list(other)} {what}, {piece.name} {say_list(said)}",
            twin.rows[-1].line.label.span,
            tuple(sheet.pattern.sizes[size] for size, _, _ in wrong),
            because="pieces that mirror each other meet on the same stitches and after the same rows",
            help=f"compare the last rows of the two, or work {twin.name} as {piece.name} with its shaping reversed",
            facts={"counts": said, "other": other, "what": what},
            see=(Mark(piece.rows[-1].line.label.span, f"{say_list(said)} {what}"),),
        )


def _twin(name: str, pieces: dict[str, PieceTally]) -> PieceTally | None:
    for word, other in _OTHER.items():
        if re.search(rf"\b{word}\b", name):
            return pieces.get(re.sub(rf"\b{word}\b", other, name))
    return None


def _end(piece: PieceTally, size: int) -> tuple[int, int] | None:
    """The count of the last row and the number of rows in a size; None where the piece is not in it."""
    counts = [row.results[size] for row in piece.rows if row.labels[size] is not None]
    last = counts[-1] if counts else None
    return (last.count, len(counts)) if last is not None else None
