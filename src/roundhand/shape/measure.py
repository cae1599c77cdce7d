"""The finished measurements of a pattern, derived from its counts and gauges.

Methods: widths are stitches by stitch width, depths are rows by row height (COMPUTATION: no fabric is bent, a round is
as long as its stitches). Worn depth is the length less the radius of a flat crown, round / 2 pi (ours). A ridged band
worked sideways fits a head of 1.20 to 1.30 times its relaxed length (common practice, no source).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction

import msgspec

from roundhand.notation.tree import Copy, Pattern, Step
from roundhand.sizing import GaugeBook, gauge_book
from roundhand.tally import PieceTally, RowTally, Tally, flat

_PI = Fraction(355, 113)  # Good to 8 parts in a hundred million; nothing knitted or hooked is better known.
_FIT = (Fraction(120, 100), Fraction(130, 100))
_OPENING = Fraction(14, 10)  # Millimetres of gathered edge a stitch, common practice 1.1 to 1.7.

# The top of a hat drawn together: the opening that is left is told.
_GATHERED = re.compile(r"\b(?:gather|draw\w*\s+up|pull\s+tight|cinch)", re.IGNORECASE)

Sized = tuple[Fraction | None, ...]


class Measure(msgspec.Struct, frozen=True):
    """One measurement of a piece in millimetres per size, relaxed and, where the text gives a stretch, stretched.

    `what` is in the designer's words. `evidence` says what it rests on besides counts and gauge: empty, `common
    practice` or `ours`.
    """

    what: str
    mm: Sized
    stretched: Sized = ()
    evidence: str = ""


class PieceMeasures(msgspec.Struct, frozen=True):
    """The measurements of one piece, and the height of every row in every size."""

    name: str
    measures: tuple[Measure, ...]
    rows: tuple[tuple[str, Sized], ...]

    def of(self, what: str) -> Measure | None:
        """The measurement with this name, or None."""
        return next((one for one in self.measures if one.what == what), None)


class Measures(msgspec.Struct, frozen=True):
    """All measurements of a pattern: piece by piece, and those of the whole item."""

    pieces: tuple[PieceMeasures, ...]
    whole: PieceMeasures
    unit: str
    lacks: tuple[str, ...] = ()


def measure(tally: Tally, text: str) -> Measures:
    """The measurements of a counted pattern; `text` is its page, looked at for a gathered top.

    `lacks` names the pieces that could not be measured for want of a gauge.

    >>> from roundhand.notation import read
    >>> from roundhand.tally import count
    >>> pattern, _ = read("Cap\\n\\nGAUGE\\n16 sts and 20 rnds = 4 in in sc\\n\\nCAP\\nRnd 1: 8 sc in a magic ring.")
    >>> found = measure(count(pattern)[0], "")
    >>> [(one.what, float(one.mm[0])) for one in found.pieces[0].measures][:2]
    [('round', 50.8), ('width laid flat', 25.4)]
    """
    book = gauge_book(tally.pattern)
    sizes = len(tally.pattern.sizes)
    gathered = any(
        _GATHERED.search(text, line.span.start, line.span.end)
        for part in tally.pattern.parts
        for line in part.lines
        if isinstance(line, Step)
    )
    pieces = []
    sideways: list[bool] = []
    for at, piece in enumerate(tally.pieces):
        after = tally.pieces[at + 1] if at + 1 < len(tally.pieces) else None
        side = _is_sideways(piece, after)
        sideways.append(side)
        pieces.append(_piece(piece, book, sizes, side, gathered))
    whole = _whole(tally, pieces, sideways, book)
    lacks = tuple(
        piece.name for piece, found in zip(tally.pieces, pieces, strict=True) if piece.rows and not found.measures
    )
    return Measures(tuple(pieces), whole, _unit(tally.pattern), lacks)


def _unit(pattern: Pattern) -> str:
    """Inches or centimetres, as the pattern writes its gauge."""
    return next((gauge.over.unit for gauge in pattern.gauges if gauge.over is not None), "cm")


def _is_sideways(piece: PieceTally, after: PieceTally | None) -> bool:
    """Whether a piece is worked sideways: the next is worked along its row ends."""
    if after is None or not after.rows:
        return False
    return any(offer is not None and offer.kind == "ends" for offer in after.rows[0].below)


def _height(row: RowTally, size: int, book: GaugeBook) -> Fraction | None:
    """The height of a row in a size in millimetres: that of the plain stitch it is mostly made of."""
    result = row.results[size]
    return book.height(row.part, result.offer.main) if result is not None and result.offer.main else None


def _per_size(sizes: int, value: Callable[[int], Fraction | None]) -> Sized:
    return tuple(value(size) for size in range(sizes))


def _piece(piece: PieceTally, book: GaugeBook, sizes: int, sideways: bool, gathered: bool) -> PieceMeasures:
    heights = [tuple(_height(row, size, book) for size in range(sizes)) for row in piece.rows]
    rows = tuple((row.label, height) for row, height in zip(piece.rows, heights, strict=True))

    def depth(size: int) -> Fraction | None:
        own = [height[size] for row, height in zip(piece.rows, heights, strict=True) if row.results[size] is not None]
        return (
            sum((one for one in own if one is not None), Fraction(0))
            if own and all(one is not None for one in own)
            else None
        )

    def widest(size: int) -> Fraction | None:
        wide: list[Fraction] = []
        for row in piece.rows:
            result = row.results[size]
            if result is None:
                continue
            width = book.width(row.part, result.offer.main)
            if width is not None:
                wide.append(width * result.count)
        return max(wide, default=None)

    width, height = _per_size(sizes, widest), _per_size(sizes, depth)
    rounds = bool(piece.rows) and sum(row.kind == "round" for row in piece.rows) * 2 > len(piece.rows)
    if not any(value is not None for value in (*width, *height)):
        return PieceMeasures(piece.name, (), rows)
    found: list[Measure] = []
    if sideways:
        factor = book.stretch(piece.name)
        stretched = tuple(value * factor if value is not None else None for value in height) if factor else ()
        found.append(Measure("length round", height, stretched))
        found.append(Measure("depth", width))
        ridged = any(
            run.loop in ("back", "front")
            for row in piece.rows[1:3]
            for result in row.results
            if result
            for run in flat(result.made)
        )
        if ridged:
            found.append(
                Measure("fits a head from", tuple(_times(value, _FIT[0]) for value in height), (), "common practice")
            )
            found.append(
                Measure("fits a head up to", tuple(_times(value, _FIT[1]) for value in height), (), "common practice")
            )
    elif rounds:
        found.append(Measure("round", width))
        found.append(Measure("width laid flat", tuple(_times(value, Fraction(1, 2)) for value in width)))
        found.append(Measure("depth", height))
        if gathered:
            counts = _per_size(sizes, lambda size: _last_count(piece, size))
            found.append(
                Measure(
                    "gathered opening", tuple(_times(value, _OPENING / _PI) for value in counts), (), "common practice"
                )
            )
    else:
        found.append(Measure("width", width))
        found.append(Measure("length", height))
    return PieceMeasures(piece.name, tuple(found), rows)


def _last_count(piece: PieceTally, size: int) -> Fraction | None:
    for row in reversed(piece.rows):
        result = row.results[size]
        if result is not None:
            return Fraction(result.count)
    return None


def _times(value: Fraction | None, factor: Fraction) -> Fraction | None:
    return value * factor if value is not None else None


def _plus(one: Fraction | None, other: Fraction | None) -> Fraction | None:
    return one + other if one is not None and other is not None else None


def _whole(tally: Tally, pieces: list[PieceMeasures], sideways: list[bool], book: GaugeBook) -> PieceMeasures:
    """The item as a whole, where it is a tube of rounds, with or without a sideways band: a hat, a cowl, a cuff."""
    sizes = len(tally.pattern.sizes)
    body_at = next((at for at, found in enumerate(pieces) if found.of("round") is not None), None)
    if body_at is None:
        return PieceMeasures(tally.pattern.title, (), ())
    body = pieces[body_at]
    round_ = body.of("round")
    depth = body.of("depth")
    assert round_ is not None and depth is not None
    length = depth.mm
    for at, side in enumerate(sideways):
        across = pieces[at].of("depth")
        if side and across is not None and at < body_at:
            length = tuple(_plus(one, other) for one, other in zip(length, across.mm, strict=True))
    found = [Measure("round", round_.mm), Measure("length", length)]
    head = next((fact for fact in tally.pattern.facts if "head" in fact.key.lower() and fact.lengths), None)
    if head is not None:
        heads = [head.lengths[size] if len(head.lengths) == sizes else head.lengths[0] for size in range(sizes)]
        found.append(
            Measure(
                "ease",
                tuple(
                    value - size_head.mm if value is not None and size_head is not None else None
                    for value, size_head in zip(round_.mm, heads, strict=True)
                ),
            )
        )
    worn = tuple(
        one - around / (2 * _PI) if one is not None and around is not None else None
        for one, around in zip(length, round_.mm, strict=True)
    )
    found.append(Measure("worn depth", worn, (), "ours"))
    found += _stops(tally, tally.pieces[body_at], book, length)
    return PieceMeasures(tally.pattern.title, tuple(found), ())


def _stops(tally: Tally, piece: PieceTally, book: GaugeBook, length: Sized) -> list[Measure]:
    """Lengths at which the body may stop so that its colours still come out: whole copied blocks more or fewer."""
    copy = next(
        (
            (row.line, node)
            for row in piece.rows
            for node in row.line.nodes
            if isinstance(node, Copy)
            and node.mode in ("more", "unsaid", "once")
            and row.number == 0
            and row.line.label.ranged
        ),
        None,
    )
    if copy is None:
        return []
    line, node = copy
    sizes = len(tally.pattern.sizes)

    def block(size: int) -> Fraction | None:
        first = node.first.at(size) if node.first is not None else None
        last = node.last.at(size) if node.last is not None else None
        if first is None or last is None:
            return None
        own = [
            _height(row, size, book)
            for row in piece.rows
            if row.labels[size] is not None and first <= (row.labels[size] or 0) <= last and row.line is not line
        ]
        return sum((one for one in own if one is not None), Fraction(0)) if own and all(own) else None

    blocks = _per_size(sizes, block)
    copies = [sum(row.labels[size] is not None for row in piece.rows if row.line is line) for size in range(sizes)]
    found = []
    for more in (-2, -1, 1, 2):
        values: list[Fraction | None] = []
        for size in range(sizes):
            step, whole = blocks[size], length[size]
            rows = _block_rows(node, size)
            fits = step is not None and whole is not None and rows and copies[size] + more * rows >= 0
            values.append(whole + more * step if fits and step is not None and whole is not None else None)
        if any(value is not None for value in values):
            word = "repeat" if abs(more) == 1 else "repeats"
            found.append(Measure(f"length with {abs(more)} {word} {'more' if more > 0 else 'fewer'}", tuple(values)))
    return found


def _block_rows(node: Copy, size: int) -> int:
    first = node.first.at(size) if node.first is not None else None
    last = node.last.at(size) if node.last is not None else None
    return last - first + 1 if first is not None and last is not None else 0
