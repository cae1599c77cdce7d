"""The count written at the end of a row differs from the stitches worked.

Makers count at the end of a row; a wrong total sends them back to undo work that was right.

Bad:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (10)
    Rnd 3: *Sc in next st, inc; rep from * around. (18)

Good:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnd 3: *Sc in next st, inc; rep from * around. (18)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.closed_loops import has_picots, loops_written
from roundhand.checks.counted_kinds import kind_at_fault, whole_at
from roundhand.checks.edit import Sheet
from roundhand.checks.mends import Mend, mends
from roundhand.checks.pencil import (
    below_label,
    follows_text,
    groups,
    positions_of,
    row_label,
    say_list,
    sizes_of,
    unit,
)
from roundhand.checks.troubles import Trouble
from roundhand.findings import Edit, Finding, Mark, Span
from roundhand.notation.tree import Amount, Chain, Node, Skip, Stated, Times, Work
from roundhand.tally import RowTally, Segment, Worked, flat, readings_of
from roundhand.tally.grouping import named_kind
from roundhand.tally.stating import parts_of

GROUP = "counts"

# A longer chain at the start of a row may hold a space as well as stand for a stitch.
_HIGHEST_TURN = 3


def place(trouble: Trouble) -> Span:
    """The stated count of the row."""
    stated = trouble.row.stated_by
    return stated.counts[whole_at(stated)][0].span if stated is not None else trouble.row.line.label.span


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every stated count that is not what the row makes."""
    for _, members in groups(sheet.troubles, "count-differs", place):
        yield _finding(sheet, members)
    yield from _spaces(sheet)
    yield from _groups(sheet)
    yield from _on_the_way(sheet)


def _on_the_way(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every count in the middle of a row, "(8 dc made)", that is not what has been made up to there."""
    seen: set[int] = set()
    names = sheet.pattern.sizes
    for row in sheet.tally.rows():
        if row.copied or id(row.line) in seen:
            continue
        seen.add(id(row.line))
        for stated in [node for node in row.line.nodes if isinstance(node, Stated) and len(node.counts) == 1]:
            amount, kind = stated.counts[0]
            wrong: list[tuple[int, int, int]] = []
            for size, result in enumerate(row.results):
                want = amount.at(size)
                if result is None or want is None or kind in ("space", "chain", "other", "block"):
                    continue
                later = sum(one.makes for one in result.segments if one.span.start >= stated.span.end)
                if want not in (result.count - later, _made_before(result, kind, stated.span)):
                    wrong.append((size, want, result.count - later))
            if wrong:
                sizes = tuple(size for size, _, _ in wrong)
                written, worked = tuple(one[1] for one in wrong), tuple(one[2] for one in wrong)
                yield Finding(
                    "count-differs",
                    "error",
                    f"{say_list(written)} written, {say_list(worked)} worked",
                    amount.words_of(sizes),
                    tuple(names[size] for size in sizes),
                    row=row_label(row, sizes[0]),
                    because="this count stands in the middle of the row and tells the stitches made up to there",
                    help=f"the words before it make {say_list(worked)}; write that, or change what is worked",
                    facts={"written": written, "worked": worked, "counted": "up to there"},
                    label=f"{say_list(written)} written",
                )


def _made_before(result: Worked, kind: str, span: Span) -> int:
    """How many stitches of a kind stand in front of a place in the words; a counted chain is one of those that the row
    is mostly made of."""
    made = sum(run.count for run in flat(result.made) if run.stitch == kind and run.span.end <= span.start)
    return made + (result.chain_counted if kind == result.offer.main else 0)


def _spaces(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every stated number of chain spaces that is not what the row holds, where its stitches agree."""
    told = {(id(trouble.row.line), trouble.size) for trouble in sheet.troubles}
    seen: set[int] = set()
    for row in sheet.tally.rows():
        stated = row.stated_by
        if stated is None or row.copied or id(row.line) in seen:
            continue
        amounts = [amount for amount, kind in stated.counts if kind == "space"]
        if len(amounts) != 1:
            continue
        seen.add(id(row.line))
        bare = any(one is not None and not one.offer.layout.count(b"o") and not one.unread for one in row.results)
        if bare and any(has_picots(nodes) for nodes in row.nodes):
            yield loops_written(sheet, row, amounts[0])
            continue
        wrong: list[tuple[int, int, int]] = []
        for size, result in enumerate(row.results):
            want = amounts[0].at(size)
            if result is None or want is None or (id(row.line), size) in told:
                continue
            # Spaces of one length are one kind, whether the opening chain holds the first of them or not.
            alike = len(set(result.offer.lengths)) == 1 and len(result.offer.lengths) == result.offer.layout.count(b"o")
            if not alike and not _plain_spaces(row.nodes[size]):
                continue
            held = result.offer.layout.count(b"o")
            if held and held != want:
                wrong.append((size, want, held))
        if wrong:
            yield _beside(sheet, row, amounts[0], wrong, " chain spaces", "chain spaces", len(stated.counts) > 1)


def _groups(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every number of groups, "3 shells, 17 sts", that is not what the row holds, where its stitches
    agree."""
    definitions = dict(sheet.pattern.definitions)
    told = {(id(trouble.row.line), trouble.size) for trouble in sheet.troubles}
    seen: set[int] = set()
    for row in sheet.tally.rows():
        stated = row.stated_by
        if (
            stated is None
            or row.copied
            or id(row.line) in seen
            or not any(kind == "stitch" for _, kind in stated.counts)
        ):
            continue
        seen.add(id(row.line))
        wrong: dict[int, list[tuple[int, int, int]]] = {}
        for size, result in enumerate(row.results):
            if result is None or (id(row.line), size) in told:
                continue
            for part in parts_of(stated, result, size, definitions):
                if part.differs and part.most and named_kind(part.kind, size, definitions):
                    wrong.setdefault(part.at, []).append((size, part.said, part.there))
        for at, values in wrong.items():
            amount, kind = stated.counts[at]
            yield _beside(sheet, row, amount, values, "", kind, True)


def _beside(
    sheet: Sheet,
    row: RowTally,
    amount: Amount,
    wrong: list[tuple[int, int, int]],
    words: str,
    counted: str,
    agrees: bool,
) -> Finding:
    """The finding on a number that stands beside the stitches of a count: sizes with what is written and worked."""
    sizes = tuple(size for size, _, _ in wrong)
    written, worked = tuple(one[1] for one in wrong), tuple(one[2] for one in wrong)
    names = sheet.pattern.sizes
    what = words.strip() or "groups"
    return Finding(
        "count-differs",
        "error",
        f"{say_list(written)}{words} written, {say_list(worked)} worked",
        amount.words_of(sizes),
        tuple(names[size] for size in sizes),
        row=row_label(row, sizes[0]),
        because=f"the stitches of this row agree with its count, its {what} do not" if agrees else "",
        help=f"the row as written makes {say_list(worked)}; write that, or change what is worked",
        facts={"written": written, "worked": worked, "counted": counted},
        edits=_count_edit(amount, sizes, worked),
        label=f"{say_list(written)} written",
    )


def _count_edit(amount: Amount, sizes: tuple[int, ...], worked: tuple[int, ...]) -> tuple[Edit, ...]:
    """What is worked written for what is stated, where one number says it."""
    if len(set(worked)) > 1 or (len(amount.values) > 1 and len(sizes) > 1):
        return ()
    return (Edit(amount.words_of(sizes), str(worked[0]), "sure"),)


def _plain_spaces(nodes: tuple[Node, ...] | None) -> bool:
    """Whether all chain spaces of a row are of one kind, made between its stitches and none by its opening chain."""
    lengths: set[tuple[int | None, ...]] = set()
    opening = True
    pending = list(nodes or ())
    while pending:
        node = pending.pop(0)
        if isinstance(node, Times):
            pending = [*node.body, *pending]
            continue
        if isinstance(node, Chain):
            if opening and (node.amount.values[0] or 0) > _HIGHEST_TURN:
                return False
            if not opening:
                lengths.add(node.amount.values)
        if isinstance(node, Work):
            lengths |= {item.amount.values for item in node.group if item.stitch == "chain"}
            # Slip stitches carry the start along; the chain behind them still opens the row.
            opening = opening and all(item.stitch == "slip_stitch" for item in node.group)
        elif isinstance(node, Skip | Chain):
            opening = False
    return len(lengths) == 1


def _finding(sheet: Sheet, members: list[Trouble]) -> Finding:
    first = members[0]
    stated = first.row.stated_by
    assert stated is not None
    told = kind_at_fault(sheet, members, stated)
    written, worked = told.written, told.worked
    amount = stated.counts[told.at][0]
    found = mends(sheet, first)
    edits = [mend.edit for mend in found]
    in_row = [mend for mend in found if mend.token.role != "stated"]
    if in_row and in_row[0] is found[0]:
        help_text = _way_on(first, found)
    else:
        help_text = f"the row as written makes {say_list(worked)}; write that, or change what is worked"
    if not found and (len(members) == 1 or len(set(worked)) == 1):
        span = amount.words_of(positions_of(members))
        if len({member.size for member in members}) == 1 or len(amount.values) == 1:
            edits.append(Edit(span, str(worked[0]), "sure"))
    return Finding(
        "count-differs",
        "error",
        f"{say_list(written)} written, {say_list(worked)} worked",
        amount.words_of(positions_of(members)),
        sizes_of(members, sheet.pattern.sizes),
        row=row_label(first.row, first.size),
        because=_because(first),
        help=help_text,
        facts={
            "written": written,
            "worked": worked,
            "below": first.below,
            "used": first.result.used,
            "left": first.result.left,
            **({"counted": told.kind} if told.kind else {}),
        },
        edits=tuple(edits),
        see=tuple(_marks(first)),
        label=f"{say_list(written)} written",
        follows=follows_text(first, sheet.source, place, sheet.troubles),
    )


def _because(trouble: Trouble) -> str:
    told, readings = _from_below(trouble), readings_of(trouble.row, trouble.size)
    return "; ".join(one for one in (told, readings) if one)


def _from_below(trouble: Trouble) -> str:
    used, below = trouble.result.used, trouble.below
    label = below_label(trouble)
    if trouble.row.below[trouble.size] is None or not below:
        return ""
    if used == below:
        return f"{label} has {unit(trouble, below)} and this row uses all of them"
    return f"{label} has {unit(trouble, below)} and this row works into {used} of them"


def _marks(trouble: Trouble) -> Iterator[Mark]:
    """The groups of the row with what they come to."""
    for segment in trouble.result.segments:
        if isinstance(segment.node, Times) and segment.times > 1:
            yield Mark(segment.span, say_times(segment))


def say_times(segment: Segment) -> str:
    """A group's share of the count: `5 x 4 = 20`."""
    if segment.each_makes * segment.times == segment.makes:
        return f"{segment.times} x {segment.each_makes} = {segment.makes}"
    return f"{segment.makes} in all"


def _way_on(trouble: Trouble, found: tuple[Mend, ...]) -> str:
    """What would bring the row to its count, the best way first."""
    words = ", or ".join(mend.words for mend in found if mend.token.role != "stated")
    made = trouble.stated
    if trouble.below:
        return f"{words} would use all {trouble.below} and make {made}"
    return f"{words} would make {made}"
