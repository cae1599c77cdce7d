"""The foundation chain does not give the stitches that the first row states and the next rows go on with.

A maker finds out after the whole chain, and a long one is a long way back.

Bad:
    Sizes: Small (Large)
    With A, ch 12 (15).
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (11 (15) sc)
    Row 2: Ch 1, sc in each st across, turn. (11 (15) sc)

Good:
    Sizes: Small (Large)
    With A, ch 12 (16).
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (11 (15) sc)
    Row 2: Ch 1, sc in each st across, turn. (11 (15) sc)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.mends import Mend, mends
from roundhand.checks.pencil import follows_text, groups, per_size, positions_of, row_label, say_list, sizes_of
from roundhand.checks.troubles import Trouble
from roundhand.findings import Edit, Finding, Mark, Span
from roundhand.notation.tree import Chain, Work

GROUP = "counts"


_NO_BEGINNING = "say in which ch from the hook the row begins, or put the row along the chain before it"
_NOT_SO_LONG = "the chain ends before that; look at the number that is counted from the hook"


def place(trouble: Trouble) -> Span:
    """The number of chains."""
    return trouble.chain[1].amount.span if trouble.chain is not None else trouble.row.line.span


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every chain that is longer or shorter than what is worked into it."""
    for span, members in groups(sheet.troubles, "chain-differs", place):
        first = members[0]
        made = per_size(members, lambda trouble: trouble.result.count)
        stated = per_size(members, lambda trouble: trouble.stated)
        needed = per_size(members, _needed)
        chain = first.chain[1].amount if first.chain is not None else None
        found = mends(sheet, first)
        edits = tuple(mend.edit for mend in found)
        # Where one number of the row mends it in every size, and the chain cannot or only as well, the row is at fault.
        begins = _begins_on_chain(first)
        if not begins:
            found, edits = (), ()
        slip = found[0].token if found and found[0].token.role != "foundation" else None
        beyond = _beyond(first)
        if beyond is not None and slip is None:
            found, edits, begins = (), (), False
        if chain is not None and not found and begins and len(positions_of(members)) == 1:
            edits = (Edit(chain.words_of(positions_of(members)), str(needed[0]), "ask"),)
        label = row_label(first.row, first.size)
        stated_by = first.row.stated_by
        yield Finding(
            "chain-differs",
            "error",
            f"makes {say_list(made)} sts, {say_list(stated)} stated and worked on",
            slip.span if slip is not None else span if begins else beyond or first.row.line.label.span,
            sizes_of(members, sheet.pattern.sizes),
            because=f"{label} makes {say_list(made)} from this chain; the rows after it go on with {say_list(stated)}",
            help=_way_on(found, needed, stated) if begins else _NOT_SO_LONG if beyond is not None else _NO_BEGINNING,
            facts={
                "made": made,
                "stated": stated,
                "chain": per_size(members, lambda trouble: trouble.below),
                "needed": needed,
            },
            edits=edits,
            see=(Mark(stated_by.span, f"{say_list(stated)} stated"),) if stated_by is not None else (),
            label=f"makes {say_list(made)}",
            follows=follows_text(first, sheet.source, place, sheet.troubles),
        )


def _needed(trouble: Trouble) -> int | None:
    if trouble.stated is None:
        return None
    return trouble.below + trouble.stated - trouble.result.count


def _way_on(found: tuple[Mend, ...], needed: tuple[int | None, ...], stated: tuple[int | None, ...]) -> str:
    """The number that would give the count: one of the row where that is the slip, else the chains."""
    if found and found[0].token.role != "foundation":
        return f"{', or '.join(mend.words for mend in found)} would give {say_list(stated)}"
    return f"ch {say_list(needed)} would give {say_list(stated)}"


def _beyond(trouble: Trouble) -> Span | None:
    """The words of a number counted from the hook that the whole chain does not reach."""
    for node in trouble.row.nodes[trouble.size] or ():
        if isinstance(node, Work) and node.into.kind == "from_hook" and node.into.count is not None:
            nth = node.into.count.at(trouble.size)
            return node.into.count.span if nth is not None and nth > trouble.below else None
    return None


def _begins_on_chain(trouble: Trouble) -> bool:
    """Whether a flat row says in which chain it begins; a row that turns up with a chain of its own and goes on into
    "each st" is worked on a row, which may be missing."""
    nodes = trouble.row.nodes[trouble.size] or ()
    if trouble.row.kind != "row" or not nodes or not isinstance(nodes[0], Chain) or nodes[0].amount.values == (0,):
        return True
    return any(
        isinstance(node, Work) and (node.into.kind == "from_hook" or node.into.what == "chain") for node in nodes
    )
