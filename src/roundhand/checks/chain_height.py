"""The chain that a row begins with, or the chain that its first stitch goes into, does not suit the stitch's height.

A chain that is too long makes a loop at the edge, one that is too short pulls it in, and a wrong digit there spoils the
edge of every row although all counts agree.

Bad:
    Rnd 1: 6 sc in a magic ring, join with sl st in first sc. (6)
    Rnd 2: Ch 1, inc in each st around, join. (12)
    Rnd 3: Ch 11, sc in each st around, join. (12)

Good:
    Rnd 1: 6 sc in a magic ring, join with sl st in first sc. (6)
    Rnd 2: Ch 1, inc in each st around, join. (12)
    Rnd 3: Ch 1, sc in each st around, join. (12)
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import msgspec

from roundhand.checks.edit import Sheet
from roundhand.checks.pencil import row_label
from roundhand.findings import Edit, Finding, Mark, Span
from roundhand.notation.tree import Chain, Evenly, Join, Node, Note, Ring, Skip, Stated, Times, Turn, Work, Yarn
from roundhand.stitches import dictionary
from roundhand.tally import RowTally, Worked
from roundhand.tally.opening import height, spaces_in
from roundhand.terms import vocabulary

GROUP = "turning"

# So many other rows of the stitch show a page's own way where it is not the usual one.
_HABIT = 3
# Stitches of so many chains; a chain of two or three stands for lower ones in many books.
_TALL = 3
# What a counted chain of a page says that it stands for, "(counts as dc)", with nothing said behind it.
_COUNTS_AS = re.compile(
    r"counts?\s+as\s+(?:an?\s+|the\s+|one\s+|1\s+|first\s+)*([A-Za-z]+(?:\s+[a-z]+)?)", re.IGNORECASE
)
# A space that the same words tell of.
_AND_CHAINS = re.compile(r"\bch(?:ain)?s?\b|\bsp(?:ace)?\b", re.IGNORECASE)
_PLAIN_PLACES = ("next", "each", "first", "same", "ring")


class Opening(msgspec.Struct, frozen=True):
    """How a row begins: the chain with its number and whether it counts, the stitch it stands before or for, and
    whether the row has nothing beside that could make a chain of it a space; `told` where the words say what it
    stands for, `behind_skip` where stitches are passed before the first one."""

    row: RowTally
    size: int
    chain: Chain
    number: int
    counted: bool
    stitch: str
    plain: bool
    told: bool
    behind_skip: bool


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every row whose first chain is not that of its stitch, by usage and by the page's other rows."""
    every = list(_openings(sheet))
    openings = [one for one in every if not one.behind_skip]
    for one in every:
        usual = _usual(one)
        others = [
            other
            for other in openings
            if other is not one and (other.stitch, other.counted, other.plain) == (one.stitch, one.counted, one.plain)
        ]
        lengths = {other.number for other in others}
        habit = lengths.pop() if len(lengths) == 1 else None
        alone = habit is not None and habit != one.number and not one.behind_skip
        if alone and habit is not None and (len(others) >= _HABIT or (habit in usual and one.number not in usual)):
            yield _finding(sheet, one, habit, others)
        elif one.plain and not one.behind_skip and (alike := _lower_in_all(one, openings, usual)):
            yield _finding(sheet, one, usual[0], alike)
        elif usual and one.plain and _far(one, usual) and habit != one.number:
            yield _finding(sheet, one, min(usual, key=lambda number: abs(number - one.number)), [])
    yield from _first_stitches(sheet)


def _lower_in_all(one: Opening, openings: list[Opening], usual: tuple[int, ...]) -> list[Opening]:
    """The other rows of the stitch where all of them begin with its usual chain and this one with a longer one: whether
    the chain counts may then be read the other way for that very reason."""
    alike = [other for other in openings if other is not one and other.plain and other.stitch == one.stitch]
    lower = len(alike) > 1 and usual and one.number > usual[0] and all(other.number == usual[0] for other in alike)
    return alike if lower else []


def _far(one: Opening, usual: tuple[int, ...]) -> bool:
    """Whether a length is beyond what anybody writes; designers differ by a chain either way."""
    # A chain that is told to be a tall stitch, and no more than that, is as high as that stitch.
    more = 0 if one.told and min(usual) >= _TALL else 1
    return one.number > max(usual) + more or (one.counted and one.number < min(usual) - 1)


def _openings(sheet: Sheet) -> Iterator[Opening]:
    """The openings of all rows that come out, each line once."""
    troubled = {id(trouble.row.line) for trouble in sheet.troubles}
    seen: set[int] = set()
    for row in sheet.tally.rows():
        if row.copied or id(row.line) in seen or id(row.line) in troubled:
            continue
        seen.add(id(row.line))
        size = next((at for at, result in enumerate(row.results) if result is not None), None)
        if size is None:
            continue
        result, nodes = row.results[size], row.nodes[size] or ()
        assert result is not None
        found = _opening(sheet, row, size, nodes, result)
        if found is not None:
            yield found


def _opening(sheet: Sheet, row: RowTally, size: int, nodes: tuple[Node, ...], result: Worked) -> Opening | None:
    chain: Chain | None = None
    first: Node | None = None
    for node in nodes:
        if isinstance(node, Yarn | Join | Turn | Stated | Note):
            continue
        if isinstance(node, Work) and chain is None and all(item.stitch == "slip_stitch" for item in node.group):
            continue
        if isinstance(node, Chain) and chain is None and node.amount.values != (0,):
            chain = node
            continue
        if isinstance(node, Skip) and chain is not None:
            continue
        first = node
        break
    if chain is None or isinstance(first, Chain | Ring) or chain.space is not None:
        return None
    skipped = any(isinstance(node, Skip) for node in nodes[: nodes.index(first)]) if first is not None else False
    while isinstance(first, Times) and first.body:
        skipped = skipped or isinstance(first.body[0], Skip)
        first = next((node for node in first.body if not isinstance(node, Skip)), first.body[0])
    number = chain.amount.at(size)
    if number is None or not isinstance(first, Work) or not first.group:
        return None
    counted = bool(result.chain_counted)
    stitch = first.group[0].stitch or result.offer.main
    stands_for = _stands_for(sheet, chain) if counted else ""
    told = bool(stands_for)
    plain = told or (
        not skipped
        and first.into.kind in _PLAIN_PLACES
        and first.into.what in ("stitch", "chain")
        and not any(spaces_in(nodes, size, sheet.pattern.definitions))
    )
    if stitch not in dictionary():
        return None
    return Opening(row, size, chain, number, counted, stands_for or stitch, plain, told, skipped)


def _stands_for(sheet: Sheet, chain: Chain) -> str:
    """The stitch that the words say a counted chain stands for; empty where they do not say."""
    span = chain.counts_span
    found = _COUNTS_AS.search(span.of(sheet.text)) if span is not None else None
    if found is None or chain.space is not None or _AND_CHAINS.search(found.string, found.end()):
        return ""
    words = found[1].split()
    meaning = vocabulary(sheet.pattern.language).find(words, 0)
    return meaning.value if meaning is not None and meaning.kind == "stitch" else ""


def _usual(one: Opening) -> tuple[int, ...]:
    high = height(one.stitch)
    return () if high is None else (high,)


def _finding(sheet: Sheet, one: Opening, wanted: int, others: list[Opening]) -> Finding:
    stitch = vocabulary(sheet.pattern.language).short(one.stitch)
    if others:
        more = "row begins" if len(others) == 1 else "rows begin"
        because = f"{len(others)} other {more} with ch {wanted} before or for {stitch}"
    else:
        because = f"ch {wanted} is as high as {stitch}"
    span = one.chain.amount.spans[0] if len(one.chain.amount.spans) == 1 else one.chain.amount.span
    return Finding(
        "chain-height",
        "warning",
        f"ch {one.number} at the start, ch {wanted} for {stitch} {'in the other rows' if others else 'is usual'}",
        span,
        tuple(sheet.pattern.sizes[size] for size in one.row.line.sizes),
        row=row_label(one.row, one.size),
        because=because,
        help=f"write ch {wanted}, or say what the longer chain is for" if one.number > wanted else f"write ch {wanted}",
        facts={"chain": one.number, "usual": wanted, "stitch": one.stitch, "others": len(others)},
        edits=(Edit(span, str(wanted), "ask"),),
        see=tuple(Mark(other.chain.span, f"ch {other.number}") for other in others[:2]),
    )


def _first_stitches(sheet: Sheet) -> Iterator[Finding]:
    """Rows on a foundation chain whose first stitch goes into a chain that does not suit it, and go on plainly."""
    troubled = {id(trouble.row.line) for trouble in sheet.troubles}
    for row in sheet.tally.rows():
        if row.copied or id(row.line) in troubled:
            continue
        size = next((at for at, result in enumerate(row.results) if result is not None), None)
        nodes = row.nodes[size] or () if size is not None else ()
        first = next((node for node in nodes if isinstance(node, Work | Times)), None)
        if size is None or not isinstance(first, Work) or first.into.kind != "from_hook" or not first.group:
            continue
        said = any(isinstance(node, Chain) and node.amount.values == (0,) for node in nodes)
        high = height(first.group[0].stitch)
        amount = first.into.count
        nth = amount.at(size) if amount is not None else None
        if (
            high is None
            or nth is None
            or amount is None
            or said
            or any(spaces_in(nodes, size, sheet.pattern.definitions))
        ):
            continue
        top = high + 1
        # Designers differ by a chain; a slip stitch may go into the first.
        result = row.results[size]
        counted = result is not None and result.chain_counted and high == 1
        if (nth == 1 and high > 0) or (nth > top + (0 if counted else 1) and _goes_on(nodes)):
            yield _on_first(sheet, row, size, first, amount.span, nth, top)


def _goes_on(nodes: tuple[Node, ...]) -> bool:
    """Whether the row goes on along the chain, chain by chain."""
    return any(isinstance(node, Evenly) or (isinstance(node, Work) and node.into.kind == "each") for node in nodes)


def _on_first(sheet: Sheet, row: RowTally, size: int, work: Work, span: Span, nth: int, usual: int) -> Finding:
    words = vocabulary(sheet.pattern.language)
    stitch = words.short(work.group[0].stitch)
    wanted = f"{usual}{'st' if usual == 1 else 'nd' if usual == 2 else 'rd' if usual == 3 else 'th'}"
    said = span.of(sheet.text)
    return Finding(
        "chain-height",
        "warning",
        f"first {stitch} in the {said} ch, the {wanted} is usual",
        span,
        tuple(sheet.pattern.sizes[at] for at in row.line.sizes),
        row=row_label(row, size),
        because=f"the {nth - 1} ch before it stand beside {stitch}, which is as high as {height(work.group[0].stitch)}",
        help=f"write {wanted}, or say whether the skipped chains count",
        facts={"nth": nth, "usual": usual, "stitch": work.group[0].stitch},
        edits=(Edit(span, wanted, "ask"),),
    )
