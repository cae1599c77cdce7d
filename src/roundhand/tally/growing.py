"""A round made like the one before with more or fewer stitches between its increases, and rows shaped at their ends."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import Amount, Beat, Chain, Evenly, Item, Join, Leave, Node, Place, Skip, Times, Turn, Work
from roundhand.stitches import dictionary

Body = tuple[Node, ...]
# Chains that one turns with; a longer one holds a space as well (common practice).
_TURNING = range(1, 5)


def is_shaped(node: Node) -> bool:
    """Whether a node increases or decreases in one place: `inc`, `2 sc in next st`, `sc2tog`."""
    if not isinstance(node, Work) or node.into.kind not in ("next", "same"):
        return False
    made = sum(item.amount.values[0] or 0 for item in node.group)
    joined = any(item.together or item.stitch.endswith("_together") for item in node.group)
    return (made > 1 and not node.into.bare) or joined


def is_row_shaped(body: Body) -> bool:
    """Whether a row is shaped anywhere: at an edge, evenly, or in each of its groups."""
    for node in body:
        if isinstance(node, Times) and any(is_shaped(one) for one in node.body):
            return True
        if is_shaped(node) or (isinstance(node, Evenly) and node.act in ("increase", "decrease")):
            return True
        if isinstance(node, Work) and node.into.kind in ("first", "last", "each") and _made(node) > 1:
            return True
        joined = isinstance(node, Work) and any(
            item.together or item.stitch.endswith("_together") for item in node.group
        )
        if joined and isinstance(node, Work) and node.into.kind in ("first", "last"):
            return True
    return False


def where_shaped(body: Body) -> str:
    """Where a row is shaped: at both `ends`, at the `start`, or at the `end`."""
    works = [node for node in body if isinstance(node, Work)]
    if not works:
        return "start"
    first, last = is_row_shaped((works[0],)), is_row_shaped((works[-1],))
    return "ends" if first and last else "end" if last else "start"


def _is_plain(node: Node) -> bool:
    """Whether a node makes one stitch in each of so many next stitches."""
    return isinstance(node, Work) and node.into.kind == "next" and not is_shaped(node) and len(node.group) == 1


def between(body: Body) -> int | None:
    """The plain stitches between the increases of a row; None where its words show no such order.

    >>> from roundhand.notation import read
    >>> pattern, _ = read("Cap\\n\\nRnd 1: 6 sc in a magic ring.\\nRnd 2: (Sc in next 2 sts, inc) around.")
    >>> between(pattern.parts[0].lines[1].nodes)
    2
    """
    for node in body:
        if isinstance(node, Times) and any(is_shaped(one) for one in node.body):
            plain = [one for one in node.body if _is_plain(one)]
            return sum(_count(one) for one in plain if isinstance(one, Work))
        if isinstance(node, Work) and node.into.kind == "each" and _made(node) > 1:
            return 0
    return None


def _made(work: Work) -> int:
    return sum(item.amount.values[0] or 0 for item in work.group)


def _count(work: Work) -> int:
    count = work.into.count
    places = (count.values[0] if count is not None else 1) or 0
    return places * _made(work) if not work.into.bare else max(places, _made(work))


def grown(body: Body, by: int) -> Body | None:
    """The row with so many stitches more between its increases; None where that is not to be seen in its words."""
    for at, node in enumerate(body):
        if isinstance(node, Times) and any(is_shaped(one) for one in node.body):
            inner = _grown_group(node.body, by)
            if inner is None:
                return None
            return (*body[:at], _to_end(node, inner), *body[at + 1 :])
        if isinstance(node, Work) and node.into.kind == "each" and _made(node) > 1 and by > 0:
            # "Inc in each st" has none between its increases.
            one = Amount((1,), node.span)
            item = msgspec.structs.replace(node.group[0], amount=one)
            plain = Work((item,), Place("next", node.span, Amount((by,), node.span), None, node.into.loop), node.span)
            shaped = Work(node.group, Place("next", node.span, one, None, node.into.loop), node.span)
            group = Times((plain, shaped), "rest", node.span, node.span)
            return (*body[:at], group, *body[at + 1 :])
    return None


def _to_end(times: Times, inner: Body) -> Times:
    return msgspec.structs.replace(times, body=inner)


def _grown_group(group: Body, by: int) -> Body | None:
    plain = [at for at, one in enumerate(group) if _is_plain(one)]
    if not plain:
        if by < 0:
            return None
        shaped = next(one for one in group if is_shaped(one))
        assert isinstance(shaped, Work)
        one = Amount((1,), shaped.span)
        stitch = shaped.group[0].stitch
        family = dictionary()[stitch].family if stitch in dictionary() else ""
        work = Work(
            (Item(family, one, shaped.span),), Place("next", shaped.span, Amount((by,), shaped.span)), shaped.span
        )
        return (work, *group)
    works = [(at, node) for at, node in enumerate(group) if isinstance(node, Work) and at in plain]
    at, most = max(works, key=_longest)
    number = _count(most) + by
    if number < 0:
        return None
    if number == 0:
        return (*group[:at], *group[at + 1 :])
    one = Amount((1,), most.span)
    items = (msgspec.structs.replace(most.group[0], amount=one),)
    place = msgspec.structs.replace(most.into, count=Amount((number,), most.span), bare=False)
    return (*group[:at], Work(items, place, most.span), *group[at + 1 :])


def _longest(entry: tuple[int, Work]) -> int:
    return _count(entry[1])


def frame_of(body: Body | None) -> tuple[Body, Body]:
    """What a row like this one begins and ends with beside its stitches: its turning chain, whether or not that is a
    stitch, a turn, a join."""
    if body is None:
        return (), ()
    lead: list[Node] = []
    if any(isinstance(node, Work) and node.into.kind == "from_hook" for node in body):
        # Its chain is worked into, and is no turning chain.
        return (), tuple(node for node in body if isinstance(node, Turn | Join))
    for node in body:
        if isinstance(node, Chain) and all(value in _TURNING for value in node.amount.values):
            lead.append(node)
        if isinstance(node, Work | Times | Evenly | Chain):
            break
    trail = [node for node in body if isinstance(node, Turn | Join)]
    return tuple(lead), tuple(trail)


def shaped_row(beats: Sequence[Beat], stitch: str, span: Span) -> Body:
    """The stitches of a row on which these shapings fall; a plain row where there are none.

    What is shaped at one edge alone stands at the beginning, a second such edge at the end. Stitches that are bound off
    are slipped over there, or left.
    """
    nodes: list[Node] = []
    start: list[Work] = []
    end: list[Work] = []
    slipped: list[Node] = []
    left: list[Amount] = []
    for beat in beats:
        name = beat.stitch or stitch
        if beat.act == "bind_off":
            if beat.where != "end":
                slipped.append(Skip(beat.amount, beat.span, "slipped"))
            if beat.where in ("ends", "end"):
                left.append(beat.amount)
            continue
        if beat.where == "spread":
            nodes.append(Evenly(beat.act, beat.amount, name, "row", beat.span))
            continue
        works = _shaping(beat, name)
        if beat.where == "ends":
            start.append(works)
            end.append(works)
        elif beat.where == "end" or start:
            end.append(works)
        else:
            start.append(works)
    if nodes and not start and not end:
        return tuple(nodes)
    one = Amount((1,), span)
    rest = _kept(_uses(end), left)
    plain = Work((Item(stitch, one, span),), Place("each", span, rest=rest), span)
    return (*slipped, *start, plain, *end, *(Leave(amount.span, amount, bound=True) for amount in left))


def _shaping(beat: Beat, stitch: str) -> Work:
    one = Amount((1,), beat.span)
    if beat.act == "increase":
        return Work(
            (Item(stitch, Amount((2,), beat.span), beat.span),), Place("next", beat.span, beat.amount), beat.span
        )
    name = f"{stitch}_2_together" if f"{stitch}_2_together" in dictionary() else ""
    return Work((Item(name, one, beat.span, 0 if name else 2),), Place("next", beat.span, beat.amount), beat.span)


def _uses(works: Sequence[Work]) -> Amount | None:
    """The places that the stitches at the end of a row use, in every size."""
    if not works:
        return None
    sizes = max(len(work.into.count.values) if work.into.count is not None else 1 for work in works)
    values = []
    for size in range(sizes):
        total = 0
        for work in works:
            number = (work.into.count.at(size) if work.into.count is not None else 1) or 0
            joined = any(item.together or item.stitch.endswith("_together") for item in work.group)
            total += number * (2 if joined else 1)
        values.append(total)
    return Amount(tuple(values), works[0].span)


def _kept(used: Amount | None, left: Sequence[Amount]) -> Amount | None:
    """The places kept back at the end of a row: those that its last stitches use, and those that are left."""
    kept = used
    for amount in left:
        if kept is None:
            kept = amount
            continue
        sizes = max(len(kept.values), len(amount.values))
        kept = Amount(tuple((kept.at(size) or 0) + (amount.at(size) or 0) for size in range(sizes)), amount.span)
    return kept


def change(beat: Beat, size: int) -> int:
    """By how many stitches a shaping changes the row in a size."""
    number = beat.amount.at(size) or 0
    places = 2 if beat.where == "ends" else 1
    return number * places * (1 if beat.act == "increase" else -1)
