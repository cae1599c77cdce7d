"""A row in mirror image: what is worked at its beginning comes at its end.

The chain that climbs, the turn and the join keep their ends of the row; the stitches between change their order.
Stitches left at the end become stitches that slip stitches pass over at the beginning, and the other way round.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from roundhand.notation.tree import (
    Amount,
    Chain,
    Evenly,
    Item,
    Leave,
    Node,
    Note,
    Place,
    Rejoin,
    Ring,
    Skip,
    Times,
    Turn,
    Unread,
    Work,
    Yarn,
)
from roundhand.stitches import dictionary

Body = tuple[Node, ...]
_QUIET = (Chain, Turn, Yarn, Ring, Rejoin, Note, Unread)
# Places that mean the same from either end of the row.
_EITHER = ("next", "each", "first", "last", "same")


class _Row(msgspec.Struct):
    """A row taken apart: what opens it, what is passed over first, its units, and what ends it."""

    head: list[Node]
    units: list[list[Node]]
    tail: list[Node]
    passed: list[Skip]
    left: Leave | None


def mirrored(nodes: Body, sizes: int) -> Body | None:
    """The row with its stitches the other way round, in all sizes; None where its words have no mirror image.

    >>> from roundhand.notation import read
    >>> from roundhand.tally import count
    >>> page = "Cap\\n\\nRnd 1: 9 sc in a magic ring.\\nRow 2: {}"
    >>> before = read(page.format("Ch 1, sc2tog, sc in each st across, turn."))[0].parts[0].lines[1].nodes
    >>> after = mirrored(before, 1)
    >>> [type(node).__name__ for node in after], after[1].into.rest.values
    (['Chain', 'Work', 'Work', 'Turn'], (2,))
    """
    row = _apart(nodes)
    if row is None or not row.units:
        return None
    units = [_turned(unit) for unit in row.units]
    if any(unit is None for unit in units):
        return None
    opens = [at for at, unit in enumerate(row.units) if any(_is_open(node) for node in unit)]
    if len(opens) > 1:
        return None
    counted = any(isinstance(node, Chain) and _counts(node) for node in row.head)
    begin: list[Node] = []
    end: list[Node] = []
    for skip in row.passed:
        end.append(Leave(skip.span, skip.amount))
    if row.left is not None:
        begin.append(_passing(row.left))
    kept = [unit for unit in reversed(units) if unit is not None]
    if opens:
        done = _opened(row, kept, opens[0], sizes, begin)
        if not done:
            return None
    if counted and not _shifted(kept, sizes):
        return None
    return (*row.head, *begin, *(node for unit in kept for node in unit), *end, *row.tail)


def _apart(nodes: Body) -> _Row | None:
    """The row taken apart; None where something in it belongs to one end of the row."""
    at = 0
    head: list[Node] = []
    passed: list[Skip] = []
    while at < len(nodes):
        node = nodes[at]
        if isinstance(node, Skip) and node.what == "slipped":
            passed.append(node)
        elif isinstance(node, _QUIET) or _stays(node):
            head.append(node)
        else:
            break
        at += 1
    end = len(nodes)
    while end > at and not isinstance(nodes[end - 1], Work | Times | Skip | Evenly):
        end -= 1
    tail = list(nodes[end:])
    left = next((node for node in tail if isinstance(node, Leave) and not node.only), None)
    tail = [node for node in tail if node is not left]
    units: list[list[Node]] = []
    for node in nodes[at:end]:
        if isinstance(node, Note | Unread):
            continue
        if isinstance(node, Work) and node.into.kind == "same" and units:
            # What goes into the same place stays with the stitch before, and chains between them too.
            while len(units) > 1 and isinstance(units[-1][0], Chain):
                units[-2:] = [units[-2] + units[-1]]
            units[-1].append(node)
        elif isinstance(node, Work | Times | Skip | Evenly | Chain):
            units.append([node])
        else:
            return None
    return _Row(head, units, tail, passed, left)


def _stays(node: Node) -> bool:
    """Whether a phrase stays at the beginning: the first chain, the stitch under the climb, how many are worked on."""
    return _is_hook(node) or (isinstance(node, Leave) and node.only) or (isinstance(node, Skip) and node.first)


def _is_hook(node: Node) -> bool:
    return isinstance(node, Work) and node.into.kind == "from_hook"


def _counts(chain: Chain) -> bool:
    """Whether a climbing chain counts; where the text is silent three and more usually do (common practice)."""
    if chain.counts is not None:
        return chain.counts
    return (chain.amount.values[0] or 0) >= 3


def _turned(unit: list[Node]) -> list[Node] | None:
    """One unit the other way round; None where it has no mirror image."""
    found: list[Node] = []
    for node in unit:
        if isinstance(node, Work):
            if node.into.kind not in _EITHER or node.into.what == "turning_chain":
                return None
            found.append(msgspec.structs.replace(node, group=tuple(reversed(node.group))))
        elif isinstance(node, Times):
            body = _reversed_body(node.body)
            if body is None:
                return None
            found.append(msgspec.structs.replace(node, body=body))
        else:
            found.append(node)
    return found


def _reversed_body(body: Body) -> Body | None:
    row = _apart((Note(body[0].span), *body)) if body else None
    if row is None or row.tail or row.left is not None or row.passed:
        return None
    chains = [node for node in row.head if isinstance(node, Chain)]
    if len(chains) + 1 != len(row.head):
        return None
    units = [_turned(unit) for unit in row.units]
    if any(unit is None for unit in units):
        return None
    return (*(node for unit in reversed(units) for node in unit or ()), *reversed(chains))


def _is_open(node: Node) -> bool:
    """Whether a phrase goes on to the end, or to so many stitches before it."""
    if isinstance(node, Times):
        return node.mode == "rest"
    return isinstance(node, Evenly) or (isinstance(node, Work) and node.into.kind == "each")


def _opened(row: _Row, kept: list[list[Node]], at: int, sizes: int, begin: list[Node]) -> bool:
    """Gives the phrase that goes on to the end the number that now stands behind it; False where it has none."""
    node = next(node for node in row.units[at] if _is_open(node))
    if isinstance(node, Evenly):
        return len(row.units) == 1
    before = _sum([*(inner for unit in row.units[:at] for inner in unit), *row.passed], sizes)
    after = _sum([inner for unit in row.units[at + 1 :] for inner in unit], sizes)
    if before is None or after is None:
        return False
    said = node.rest if isinstance(node, Times) else node.into.rest if isinstance(node, Work) else None
    if said is not None:
        over = [(said.at(size) or 0) - after[size] for size in range(sizes)]
        if any(number < 0 for number in over):
            return False
        if row.left is None and any(over):
            begin.append(Skip(Amount(tuple(over), node.span), node.span, "slipped"))
    rest = Amount(tuple(before), node.span) if any(before) else None
    place = len(row.units) - 1 - at
    unit = kept[place]
    for inner, one in enumerate(unit):
        if isinstance(one, Times) and one.mode == "rest":
            unit[inner] = msgspec.structs.replace(one, rest=rest)
        elif isinstance(one, Work) and one.into.kind == "each":
            unit[inner] = msgspec.structs.replace(one, into=msgspec.structs.replace(one.into, rest=rest))
    return True


def _shifted(kept: list[list[Node]], sizes: int) -> bool:
    """Moves the stitch that the climbing chain stands for: what was one stitch at the end is the chain now, and what
    the chain was is one stitch at the end."""
    first = kept[0][0] if kept[0] else None
    stitch = _plain_stitch(unit for unit in reversed(kept))
    if first is None or len(kept[0]) != 1 or not stitch:
        return True
    span = first.span
    one = Amount((1,), span)
    closing = Work((Item(stitch, one, span),), Place("next", span, one), span)
    if isinstance(first, Work) and first.into.kind == "each":
        rest = [((first.into.rest.at(size) if first.into.rest is not None else 0) or 0) + 1 for size in range(sizes)]
        place = msgspec.structs.replace(first.into, rest=Amount(tuple(rest), span))
        kept[0][0] = msgspec.structs.replace(first, into=place)
    elif _is_plain(first) and isinstance(first, Work):
        numbers = [(first.into.count.at(size) if first.into.count is not None else 1) or 0 for size in range(sizes)]
        if any(number < 1 for number in numbers):
            return True
        place = msgspec.structs.replace(first.into, kind="next", count=Amount(tuple(n - 1 for n in numbers), span))
        kept[0][0] = msgspec.structs.replace(first, into=place)
        for unit in kept[1:]:
            _one_more(unit, sizes)
    else:
        return True
    kept.append([closing])
    return True


def _one_more(unit: list[Node], sizes: int) -> None:
    """Leaves one stitch more behind a phrase that goes on to the end."""
    for at, node in enumerate(unit):
        if isinstance(node, Times) and node.mode == "rest":
            unit[at] = msgspec.structs.replace(node, rest=_plus_one(node.rest, sizes, node))
        elif isinstance(node, Work) and node.into.kind == "each":
            place = msgspec.structs.replace(node.into, rest=_plus_one(node.into.rest, sizes, node))
            unit[at] = msgspec.structs.replace(node, into=place)


def _plus_one(rest: Amount | None, sizes: int, node: Node) -> Amount:
    values = tuple(((rest.at(size) if rest is not None else 0) or 0) + 1 for size in range(sizes))
    return Amount(values, node.span)


def _plain_stitch(units: Iterable[list[Node]]) -> str:
    for unit in units:
        for node in unit:
            if _is_plain(node) and isinstance(node, Work):
                return node.group[0].stitch
    return ""


def _is_plain(node: Node) -> bool:
    """Whether a phrase makes one plain stitch in each of its places."""
    if not isinstance(node, Work) or len(node.group) != 1 or node.into.kind not in ("next", "first", "last", "each"):
        return False
    item = node.group[0]
    known = dictionary().get(item.stitch)
    return item.amount.values == (1,) and not item.together and known is not None and known.uses == known.makes == 1


def _passing(leave: Leave) -> Skip:
    """Slip stitches over what was left at the end; so many as the row does not need where no number is said."""
    if leave.amount is not None:
        return Skip(leave.amount, leave.span, "slipped")
    return Skip(Amount((0,), leave.span), leave.span, "all_but")


def _sum(nodes: Iterable[Node], sizes: int) -> list[int] | None:
    """The places that some phrases use, in every size; None where it cannot be told beforehand."""
    total = [0] * sizes
    for node in nodes:
        for size in range(sizes):
            uses = _uses(node, size)
            if uses is None:
                return None
            total[size] += uses
    return total


def _uses(node: Node, size: int) -> int | None:
    if isinstance(node, Work):
        place = node.into
        if place.kind == "same" or place.what == "space":
            return 0
        number = place.count.at(size) if place.count is not None else 1
        return (number or 0) * _each(node)
    if isinstance(node, Skip):
        return (node.amount.at(size) or 0) if node.what in ("stitch", "slipped") else None
    if isinstance(node, Times):
        if node.mode not in ("fixed", "more") or node.amount is None:
            return None
        inner = [_uses(one, size) for one in node.body]
        if any(one is None for one in inner):
            return None
        return sum(one or 0 for one in inner) * ((node.amount.at(size) or 0) + (node.mode == "more"))
    return 0 if isinstance(node, Chain) else None


def _each(node: Work) -> int:
    """The places that one run of a group uses."""
    if len(node.group) != 1:
        return 1
    item = node.group[0]
    known = dictionary().get(item.stitch)
    return item.together or (known.uses if known is not None else 1)
