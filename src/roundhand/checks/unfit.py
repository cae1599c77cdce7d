"""Places that what lies below cannot have: a loop of a chain space, a post of chains, a gap with one side, row ends
before any row, a chain where none was made, the other side of a ring, a stitch that the row below has not.

All of it follows from the words of a row and from the rows and steps before it, so the finished tally is looked at.
Only what holds of all that lies below is told: a maker who is sent to a place that is there must not be held up.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from roundhand.checks.footing import Ground, Said, works
from roundhand.checks.misnamed import named_otherwise
from roundhand.checks.unfit_chains import chain_unmade, loop_of_space, no_other_side, post_of_chain
from roundhand.findings import Finding
from roundhand.notation.place_kinds import kind_of
from roundhand.notation.tree import Evenly, Work
from roundhand.tally import RowTally, Tally
from roundhand.terms import vocabulary


def unfit(tally: Tally, text: str) -> Iterator[Finding]:
    """A remark on every place that cannot be there, once for its words."""
    words = vocabulary(tally.pattern.language)
    told: set[object] = set()
    for piece in tally.pieces:
        for at, row in enumerate(piece.rows):
            size = next((size for size, result in enumerate(row.results) if result is not None), None)
            if row.copied or size is None or row.line.span in told:
                continue
            told.add(row.line.span)
            if any(result is not None and result.missing for result in row.results):
                # The row itself has told of a place that it did not find.
                continue
            for node in works(row.nodes[size] or ()):
                said = _said(Ground(tally, text, words, piece, at, size, node))
                key = (said.once or (said.what, said.span)) if said is not None else ""
                if said is not None and key not in told:
                    told.add(key)
                    yield _finding(said, row, tally)


def _said(ground: Ground) -> Said | None:
    return next((said for rule in _RULES if (said := rule(ground)) is not None), None)


# Edges and gaps.

# Words for what was there before the page began.
_THERE = re.compile(
    r"\b(?:rows?|rnds?|rounds?|edg\w*|borders?|trim\w*|hems?|fabric|towels?|blankets?|pieces?|squares?|swatch\w*)\b",
    re.IGNORECASE,
)


def _no_row_ends(ground: Ground) -> Said | None:
    node = ground.node
    if kind_of(node) != "row end" and not (isinstance(node, Evenly) and node.along == "row_ends"):
        return None
    earlier: list[RowTally] = []
    for piece in ground.tally.pieces:
        earlier += ground.before if piece is ground.piece else piece.rows
        if piece is ground.piece:
            break
    if any(row.kind != "round" for row in earlier):
        return None
    if not earlier and _THERE.search(ground.text, 0, ground.row.line.span.start):
        return None
    there = f"up to {earlier[-1].label} all is worked round, and rounds have no ends" if earlier else ""
    return Said(
        "row end",
        "row end",
        "no row ends there",
        there or "no row is worked before this one",
        "work into the sts, or along rows that go to and fro",
        node.into.span if isinstance(node, Work) else node.span,
        severity="error" if earlier else "warning",
    )


def _no_gap(ground: Ground) -> Said | None:
    node, offer = ground.node, ground.offer
    if not isinstance(node, Work) or node.into.kind != "between" or offer is None:
        return None
    if offer.kind not in ("row", "ring") or offer.total > 1 or offer.layout or offer.before or offer.after:
        return None
    there = (
        f"{ground.before[-1].label_in(ground.size)} has 1 st" if offer.total and ground.before else "no st is there yet"
    )
    return Said(
        "between stitches",
        "gap",
        "no two sts to work between",
        f"{there}, and a gap has a st on either side",
        "work into the st, or make more in the row below",
        node.into.span,
    )


def _no_last_stitch(ground: Ground) -> Said | None:
    """`in side of last sc` where no stitch is made yet."""
    node = ground.node
    if kind_of(node) != "side of the last stitch" or ground.at or ground.piece is not ground.tally.pieces[0]:
        return None
    before = next((one for one in works(ground.row.nodes[ground.size] or ()) if isinstance(one, Work | Evenly)), None)
    if before is not node:
        return None
    return Said(
        "side of the last stitch",
        "last stitch",
        "no st is made before this",
        f"{ground.row.label_in(ground.size)} begins with these words, and nothing is worked before it",
        "work a st first, or into the foundation",
        node.span,
    )


_RULES: tuple[Callable[[Ground], Said | None], ...] = (
    loop_of_space,
    post_of_chain,
    no_other_side,
    _no_row_ends,
    _no_gap,
    _no_last_stitch,
    chain_unmade,
    named_otherwise,
)


def _finding(said: Said, row: RowTally, tally: Tally) -> Finding:
    sizes = tuple(name for name, label in zip(tally.pattern.sizes, row.labels, strict=True) if label is not None)
    return Finding(
        "place-missing",
        said.severity,
        said.headline,
        said.span,
        sizes,
        row=row.label,
        because=said.because,
        help=said.help,
        facts={"place": said.place, "what": said.what, "wanted": 1, "there": 0},
        label="not there",
    )
