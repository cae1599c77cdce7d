"""The multiple that is said for another width is not that of the rows, or of the chain that the pattern begins with.

Whoever takes the pattern at its word and makes it wider finds in the first row that nothing comes out.

Bad:
    Multiple: 4 sts + 2
    SCARF
    Ch 33.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (32)
    Row 2: Ch 1, *sc in next 3 sts, dc in next st; rep from * across, turn. (32)
    Row 3: Ch 1, sc in each st across, turn. (32)

Good:
    Multiple: 4 sts + 1
    SCARF
    Ch 33.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (32)
    Row 2: Ch 1, *sc in next 3 sts, dc in next st; rep from * across, turn. (32)
    Row 3: Ch 1, sc in each st across, turn. (32)
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.measures import number_word
from roundhand.notation.tree import Chain, Times
from roundhand.tally import PieceTally

GROUP = "gauge"

_WORD = r"(?:\d{1,3}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)"
_UNIT = r"(?:\s*(?:sts?|stitches|ch|chs|chains))?"
_PLUS = r"\s*(?:\+|,?\s*(?:and\s+)?plus|,?\s*(?:and\s+)?add)\s*"
# The number of a sum is that of the chain only where it is said to be; then the chains of the turn may be added last.
_SAID = re.compile(
    rf"\b(?:multiples?\s*(?:of|:)?|in\s+multiples\s+of)\s*(?P<by>{_WORD}){_UNIT}"
    rf"(?:{_PLUS}(?P<plus>{_WORD})(?!\s*[x\u00d7*]){_UNIT})?"
    rf"(?:{_PLUS}(?P<turn>{_WORD}){_UNIT}(?P<turn_words>\s+(?:for|to)\s+(?:the\s+)?\w+(?:\s+\w+)?)?)?",
    re.IGNORECASE,
)
_RANGE_OR_REST = re.compile(
    r"\s*(?:-|\u2013|/|or\b|\(|rows?\b|rnds?\b|rounds?\b|colou?rs?\b|inch|in\b|cm\b)", re.IGNORECASE
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every multiple that the chain does not have, or that the open repeats of the rows do not."""
    # A rule of the sizing section is kept by the counts that are worked out from it, and says nothing of the rows.
    rules = [one.whole for one in sheet.pattern.sizing.quantities]
    said = [
        found
        for found in _SAID.finditer(sheet.text)
        if not _RANGE_OR_REST.match(sheet.text, found.end())
        and not any(rule.start <= found.start() < rule.end for rule in rules)
    ]
    chained = [(piece, chains) for piece in sheet.tally.pieces if (chains := _chain(piece, len(sheet.pattern.sizes)))]
    # With several multiples or chains nobody can tell which belongs to which.
    if len(said) != 1 or len(chained) != 1:
        return
    (found,), ((piece, chains),) = said, chained
    by, plus, turn = (_number(found[name]) for name in ("by", "plus", "turn"))
    if by < 2:
        return
    wrong = [size for size, number in enumerate(chains) if number and not _fits(number, by, plus, turn, piece, size)]
    if wrong:
        yield _of_chain(sheet, found, by, chains, wrong, piece)
        return
    repeats = sorted({uses for uses in _repeats(piece) if uses > 1 and by % uses})
    if repeats:
        yield _of_rows(sheet, found, by, repeats[0], piece)


def _fits(number: int, by: int, plus: int, turn: int, piece: PieceTally, size: int) -> bool:
    """Whether a chain is such a multiple, with the turning chains in it or not, or the first row is.

    Where no chains for the turn are said apart, the multiple may be that of the stitches of the rows.
    """
    rests = {(number - plus) % by, (number - plus - turn) % by}
    for row in piece.rows[:3]:
        result = row.results[size]
        if result is not None:
            rests.add((result.count - plus) % by)
    return 0 in rests


def _number(word: str | None) -> int:
    if not word:
        return 0
    return int(word) if word.isdigit() else number_word(word.lower()) or 0


def _chain(piece: PieceTally, sizes: int) -> tuple[int | None, ...]:
    """The chain that a piece begins with, in every size; empty where it begins with something else."""
    for step in piece.steps:
        if step.after > 0:
            break
        for node in step.step.nodes:
            if isinstance(node, Chain):
                return tuple(node.amount.at(size) for size in range(sizes))
    return ()


def _repeats(piece: PieceTally) -> Iterator[int]:
    """The places that each open repeat takes where the row below has no spaces."""
    for row in piece.rows:
        result, below = row.results[0], row.below[0]
        if result is None or below is None or below.layout or below.kind not in ("row", "chain"):
            continue
        for segment in result.segments:
            if isinstance(segment.node, Times) and segment.node.mode == "rest" and segment.each_uses:
                yield segment.each_uses


def _of_chain(
    sheet: Sheet, found: re.Match[str], by: int, chains: tuple[int | None, ...], wrong: list[int], piece: PieceTally
) -> Finding:
    size = wrong[0]
    chain = chains[size] or 0
    count = next((row.worked[size] for row in piece.rows if row.worked[size]), None)
    rest = chain % by
    return Finding(
        "multiple-differs",
        "warning",
        f"the chain of {chain} is no {found[0].strip()}",
        Span(found.start(), found.start() + len(found[0].rstrip())),
        tuple(sheet.pattern.sizes[at] for at in wrong),
        because=f"{chain} is {chain // by} times {by} and {rest} more"
        + (f", and the first row has {count} sts" if count is not None else ""),
        help=f"a multiple of {by} + {rest} would give this chain; or mend the chain",
        facts={"chain": chain, "multiple": by, "rest": rest},
        label=f"{chain} = {chain // by} x {by} + {rest}",
    )


def _of_rows(sheet: Sheet, found: re.Match[str], by: int, uses: int, piece: PieceTally) -> Finding:
    return Finding(
        "multiple-differs",
        "warning",
        f"a multiple of {by} is said, and a repeat takes {uses}",
        Span(found.start("by"), found.end("by")),
        sheet.pattern.sizes,
        because=f"{by} sts more do not hold a whole number of groups of {uses}, so another width will not come out",
        help=f"say the multiple of {uses}, or the smallest that all the repeats of the rows go into",
        facts={"multiple": by, "repeat": uses},
        label=f"the repeat takes {uses}",
    )
