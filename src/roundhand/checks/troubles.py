"""Rows that do not come out: what is wrong with each in every size, and which of it follows from an earlier row.

One slip gives one remark. In a row the deepest trouble is told and the rest of it goes along: a place that is not
there before stitches that are lacking, these before a repeat that leaves some over, that before a count that differs.
A later row whose trouble stands on the same places as an earlier one follows from it.
"""

from __future__ import annotations

import re
from itertools import pairwise

import msgspec

from roundhand.findings import Span
from roundhand.notation.gathering import gathers
from roundhand.notation.tree import Chain, Leave, Rejoin, RowLine, Step, Work
from roundhand.stitches import dictionary
from roundhand.tally import LeftOver, Missing, Offer, PieceTally, RowTally, StepTally, Tally, Worked


class Trouble(msgspec.Struct, frozen=True):
    """One row in one size that does not come out.

    `name` is the finding's. `worked` and `stated` are its counts, `below` what the row below offers. `follows` is the
    row of an earlier trouble that this one follows from, with that trouble's name, or None.
    """

    name: str
    piece: PieceTally
    row: RowTally
    at: int
    size: int
    result: Worked
    stated: int | None
    below: int
    follows: tuple[str, RowTally] | None = None
    left_over: LeftOver | None = None
    missing: Missing | None = None
    chain: tuple[StepTally, Chain] | None = None


# Places that a maker would look for in vain, and those that are only called by a wrong number or an unlikely name,
# which are told where nothing else is wrong with the row.
_NOT_THERE = frozenset(
    ("row", "named row", "space", "free loop", "skipped", "chain of", "stitch of", "corner", "foundation", "row ends")
)
_UNLIKELY = frozenset(("third loop", "space length", "turning chain", "rows of"))
# Words that leave stitches of the row below on purpose.
_LEAVES = re.compile(r"\b(?:leav\w*|unworked|unused|short[- ]rows?)\b", re.IGNORECASE)


def find_troubles(tally: Tally, text: str, unsure: tuple[Span, ...] = ()) -> tuple[Trouble, ...]:
    """All troubles of a tally, size by size, in working order; `text` is the page that was counted.

    `unsure` are the words that repeat rows which are not there, or not as many as said: what is copied by them is
    worked as well as it can be, and not held against the pattern.
    """
    found: list[Trouble] = []
    leaving = _left_in_steps(tally)
    for piece in tally.pieces:
        above = tuple(found)
        for size in range(len(tally.pattern.sizes)):
            found += _in_size(piece, size, text, unsure, leaving, above)
    return tuple(found)


def _left_in_steps(tally: Tally) -> frozenset[int]:
    """Where the rows begin behind which a line of its own leaves stitches: "Leave rem sts unworked." """
    found = set()
    for part in tally.pattern.parts:
        for line, after in pairwise(part.lines):
            if (
                isinstance(line, RowLine)
                and isinstance(after, Step)
                and any(isinstance(node, Leave | Rejoin) for node in after.nodes)
            ):
                found.add(line.span.start)
    return frozenset(found)


def _copied_unsurely(row: RowTally, unsure: tuple[Span, ...]) -> bool:
    line = row.line.span
    return row.copied and any(line.start <= span.start <= line.end for span in unsure)


def _in_size(
    piece: PieceTally,
    size: int,
    text: str,
    unsure: tuple[Span, ...],
    leaving: frozenset[int],
    above: tuple[Trouble, ...] = (),
) -> list[Trouble]:
    found: list[Trouble] = []
    for at, row in enumerate(piece.rows):
        result = row.results[size]
        if result is None or _copied_unsurely(row, unsure):
            continue
        trouble = _of_row(piece, row, at, size, result, text, leaving)
        if trouble is not None:
            earlier = _cause(trouble, found, piece) or _in_model(trouble, above)
            if earlier is not None:
                root = earlier.follows or (earlier.name, earlier.row)
                trouble = msgspec.structs.replace(trouble, follows=root)
            found.append(trouble)
    return found


def _of_row(
    piece: PieceTally, row: RowTally, at: int, size: int, result: Worked, text: str, leaving: frozenset[int]
) -> Trouble | None:
    if not result.made and gathers(row.line.span.of(text)):
        # "Rnd 9: Weave yarn through rem 8 sts, pull tight": nothing is worked, and nothing is left.
        return None
    offer = row.below[size]
    # Places of further edges that the row goes on along lie below it as well.
    below = offer.total + result.beyond if offer is not None else 0
    stated = row.stated[size]
    differs = stated is not None and stated != result.count

    plain = Trouble("", piece, row, at, size, result, stated, below)
    places = [missing for missing in result.missing if missing.what in _NOT_THERE]
    if places:
        return msgspec.structs.replace(plain, name="place-missing", missing=places[0])
    if offer is not None and offer.open:
        # The row below is as long as its maker finds right; what this one needs tells her how long that is.
        return None
    chain = _chain(piece, row, at, size)
    # Where some of the chain is left over, its length is not what the row is short of.
    if chain is not None and (differs or result.lacking) and not result.left and row.stands_on[size] == "stated":
        return msgspec.structs.replace(plain, name="chain-differs", chain=chain)
    if result.lacking:
        return msgspec.structs.replace(plain, name="too-few-stitches")
    if result.left_over:
        return msgspec.structs.replace(plain, name="repeat-left-over", left_over=result.left_over[0])
    if differs:
        return msgspec.structs.replace(plain, name="count-differs")
    if offer is not None and offer.kind == "row" and _unworked(piece, row, at, size, result, offer, text, leaving):
        return msgspec.structs.replace(plain, name="stitches-unworked")
    if offer is not None and offer.kind == "chain" and _chain_unworked(piece, row, at, size, result, text, leaving):
        return msgspec.structs.replace(plain, name="stitches-unworked")
    unlikely = next((missing for missing in result.missing if missing.what in _UNLIKELY), None)
    if unlikely is not None:
        return msgspec.structs.replace(plain, name="place-missing", missing=unlikely)
    return None


def _unworked(
    piece: PieceTally,
    row: RowTally,
    at: int,
    size: int,
    result: Worked,
    offer: Offer,
    text: str,
    leaving: frozenset[int],
) -> bool:
    """Whether a row ends early and nothing says so, or says another number than it leaves."""
    if result.said_left is not None and result.said_left not in (result.left, result.left + offer.after):
        return True
    if not (result.left or result.jumped) or result.leaves or row.line.span.start in leaving:
        return False
    return not _left_on_purpose(row, text) and not _taken_up_later(piece, at, size)


def _chain_unworked(
    piece: PieceTally, row: RowTally, at: int, size: int, result: Worked, text: str, leaving: frozenset[int]
) -> bool:
    """Whether a first row ends before its foundation chain does, and neither it nor a later row says why.

    A chain that hangs on is a stem, a tie or a strap, and the row after it then goes on from there; so this is told of
    flat rows alone, where the next one is worked back over all that was made.
    """
    if row.kind != "row" or not (result.left or result.jumped) or result.leaves or row.line.span.start in leaving:
        return False
    if _stood_up(row, size, result):
        return False
    after = next((one for one in piece.rows[at + 1 :] if one.results[size] is not None), None)
    below = after.below[size] if after is not None else None
    if after is not None and (below is None or below.kind != "row"):
        return False
    return not _left_on_purpose(row, text) and not _taken_up_later(piece, at, size)


def _stood_up(row: RowTally, size: int, result: Worked) -> bool:
    """Whether the chains left are those that the row stands up on, which older pages do not speak of: `Chain 11, turn.
    1 s. c. in each of 10 ch.`"""
    nodes = row.nodes[size] or ()
    works = [node for node in nodes if isinstance(node, Work)]
    if not works or any(node.into.kind == "from_hook" for node in works) or not works[0].group:
        return False
    stitch = dictionary().get(works[0].group[0].stitch)
    high = stitch.turning_chain if stitch is not None else None
    return high is not None and result.left in (high, high + 1 if high > 1 else high) and not result.jumped


def _chain(piece: PieceTally, row: RowTally, at: int, size: int) -> tuple[StepTally, Chain] | None:
    """The foundation chain that a row is worked from, if it was made in a step of its own."""
    offer = row.below[size]
    if offer is None or offer.kind != "chain":
        return None
    for step in reversed(piece.steps):
        if step.after > at:
            continue
        for node in step.step.nodes:
            if isinstance(node, Chain) and node.amount.at(size) == offer.total:
                return step, node
    return None


def _left_on_purpose(row: RowTally, text: str) -> bool:
    """Whether the text leaves stitches unworked and says so: "leaving the last 4 sts unworked", a short row."""
    return _LEAVES.search(text, row.line.span.start, row.line.span.end) is not None


def _taken_up_later(piece: PieceTally, at: int, size: int) -> bool:
    """Whether what a row left is worked after all, by a row that goes on into it or a yarn joined anew."""
    for row in piece.rows[at + 1 :]:
        if row.rejoined and row.rejoined[size]:
            return True
        result, offer = row.results[size], row.below[size]
        before = piece.rows[at].results[size]
        at += 1
        if result is None or offer is None or before is None:
            return False
        if before.offer.after and not offer.after:
            return True
        if not before.offer.after and not before.offer.before:
            return False
    return False


def _cause(trouble: Trouble, found: list[Trouble], piece: PieceTally) -> Trouble | None:
    """The earlier trouble that this one follows from: the same text again, or the same places not mended since."""
    if trouble.row.copied:
        original = next((earlier for earlier in found if _same_words(earlier, trouble)), None)
        if original is not None:
            return original
    for earlier in reversed(found):
        if _on_lost_spaces(earlier, trouble, piece):
            return earlier
        if earlier.row.line is trouble.row.line and earlier.name == trouble.name:
            return earlier
        if earlier.name == trouble.name == "repeat-left-over" and earlier.below == trouble.below:
            return earlier
        if _same_words(earlier, trouble):
            return earlier
        if not _holds(earlier, trouble, piece):
            break
        if trouble.name in ("count-differs", "repeat-left-over", "too-few-stitches", "stitches-unworked"):
            return earlier
    return None


def _in_model(trouble: Trouble, above: tuple[Trouble, ...]) -> Trouble | None:
    """The trouble of the piece that this one is worked like."""
    if not trouble.row.copied:
        return None
    return next((one for one in above if one.size == trouble.size and _same_words(one, trouble)), None)


def _same_words(earlier: Trouble, trouble: Trouble) -> bool:
    """A copied row goes wrong as its original did."""
    if earlier.name != trouble.name and not trouble.row.copied:
        return False
    mine, theirs = trouble.row.nodes[trouble.size], earlier.row.nodes[earlier.size]
    if not mine or not theirs:
        return False
    return {node.span for node in mine} & {node.span for node in theirs} != set()


def _on_lost_spaces(earlier: Trouble, trouble: Trouble, piece: PieceTally) -> bool:
    """Whether a row is worked into the spaces of one that went wrong: how its spaces lie is then not known, whatever
    its stated count."""
    if not earlier.result.offer.chains:
        return False
    between = piece.rows[earlier.at + 1 : trouble.at]
    return all(row.results[trouble.size] is None for row in between)


def _holds(earlier: Trouble, trouble: Trouble, piece: PieceTally) -> bool:
    """Whether nothing has come right between two troubled rows, so that the later one may stand on the earlier.

    A row that agrees with its stated count has found its feet again, and so has a size that goes on from a stated
    count; what goes wrong after that is a slip of its own. Where the fabric goes on as worked against what is
    written, a later count follows if it is off by as much.
    """
    size = trouble.size
    if earlier.row.stands_on[size] == "stated":
        return False
    for row in piece.rows[earlier.at + 1 : trouble.at]:
        result = row.results[size]
        if result is not None and row.stated[size] is not None and row.stated[size] == result.count:
            return False
    if earlier.name in ("count-differs", "stitches-unworked"):
        off = _off(earlier)
        if off is not None and trouble.name == "too-few-stitches":
            # The stitches that the earlier row is short of are those that are lacking here.
            return 0 < trouble.result.lacking <= off
        if off is not None and trouble.name == "stitches-unworked":
            return trouble.result.left + trouble.result.jumped == -off
        return off == _off(trouble)
    return True


def _off(trouble: Trouble) -> int | None:
    return None if trouble.stated is None else trouble.stated - trouble.result.count
