"""A row read across: where its increases, decreases and special stitches stand among the plain ones.

Counts say nothing of this: a row with 13 and 26 exchanged comes to the same total. Read across, a row is its features
in order and the plain stitches between them, in the direction in which the first row of its piece was worked, so that
rows can be laid one above the other.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import Chain, Item, Node, Skip, Times, Work
from roundhand.stitches import dictionary
from roundhand.tally.model import PieceTally, RowTally, Worked
from roundhand.tally.sides import turned_between

# A row with more features is all pattern and no plain stitch is missed in it.
MOST_FEATURES = 120


class Feature(msgspec.Struct, frozen=True):
    """What is not one plain stitch on one place: its kind, the places that it uses and the stitches that it makes.

    `kind` is `increase 2` (so many in one), `decrease 2` (so many together), `chain 3`, `skip 1`, a stitch id with its
    place, or the stitches of a group. Posts to the front and to the back are one kind, since they change with the side.
    """

    kind: str
    uses: int
    makes: int
    span: Span

    @property
    def shapes(self) -> bool:
        """Whether it is an increase or a decrease of the plain stitch."""
        return self.kind.startswith(("increase", "decrease"))


class Across(msgspec.Struct, frozen=True):
    """A row read across: `gaps` are the plain stitches before, between and behind its `features`.

    `turned` is true where it is worked against the direction of the first row of its piece; gaps and features are
    turned round then, so that they lie as those of the other rows. `raw` are the gaps in the order of the words."""

    row: RowTally
    at: int
    gaps: tuple[int, ...]
    features: tuple[Feature, ...]
    turned: bool

    @property
    def kinds(self) -> tuple[str, ...]:
        """The kinds of its features in order."""
        return tuple(feature.kind for feature in self.features)

    @property
    def raw(self) -> tuple[int, ...]:
        """The gaps in the order of the words."""
        return self.gaps[::-1] if self.turned else self.gaps

    @property
    def is_even(self) -> bool:
        """Whether it is its own mirror image, in its kinds and in its gaps."""
        return self.gaps == self.gaps[::-1] and self.kinds == self.kinds[::-1]


def across(piece: PieceTally, size: int) -> tuple[Across, ...]:
    """The rows of a piece in a size that can be read across, in working order; others, and copies, are left out.

    >>> from roundhand.notation import read
    >>> from roundhand.tally import count
    >>> text = "Mat\\n\\nCh 10.\\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\\n"
    >>> text += "Row 2: Ch 1, sc in next 3 sts, 2 sc in next st, sc in next 5 sts, turn."
    >>> rows = across(count(read(text)[0])[0].pieces[0], 0)
    >>> [(row.raw, row.kinds) for row in rows]
    [((9,), ()), ((3, 5), ('increase 2',))]
    """
    found: list[Across] = []
    turned = False
    before: RowTally | None = None
    for at, row in enumerate(piece.rows):
        result = row.results[size]
        if result is None:
            continue
        if before is not None:
            said = turned_between(before, row, size)
            turned ^= said if said is not None else row.kind == "row" and before.kind == "row"
        before = row
        read = _read(row, result, size) if not row.copied else None
        if read is not None:
            gaps, features = read
            found.append(
                Across(
                    row,
                    at,
                    tuple(gaps[::-1] if turned else gaps),
                    tuple(features[::-1] if turned else features),
                    turned,
                )
            )
    return tuple(found)


class _UnreadableError(Exception):
    """The words of a row do not say one by one where its stitches stand."""


def _read(row: RowTally, result: Worked, size: int) -> tuple[list[int], list[Feature]] | None:
    if result.lacking or result.left_over or result.missing or result.unread or result.left or result.free:
        return None
    main = result.offer.main
    gaps = [1 if result.chain_counted else 0]
    features: list[Feature] = []
    uses = makes = gaps[0]
    try:
        for feature, count in _parts(result, main, size):
            if feature is None:
                gaps[-1] += count
                uses += count
                makes += count
                continue
            for _ in range(count):
                uses += feature.uses
                makes += feature.makes
                if feature.kind == "same":
                    _into_the_last(feature, gaps, features)
                    continue
                if len(features) >= MOST_FEATURES:
                    return None
                features.append(feature)
                gaps.append(0)
    except _UnreadableError:
        return None
    if makes != result.count or uses != result.used:
        # The words were understood otherwise than they stand here; nothing is built on that.
        return None
    return gaps, features


def _into_the_last(more: Feature, gaps: list[int], features: list[Feature]) -> None:
    """More stitches into the place that was used last, which make an increase of it."""
    if gaps[-1]:
        gaps[-1] -= 1
        features.append(Feature(f"increase {more.makes + 1}", 1, more.makes + 1, more.span))
        gaps.append(0)
    elif features and features[-1].uses:
        last = features[-1]
        features[-1] = msgspec.structs.replace(last, makes=last.makes + more.makes)
    else:
        raise _UnreadableError


def _parts(result: Worked, main: str, size: int) -> Iterator[tuple[Feature | None, int]]:
    """What a row makes in the order of its words: plain stitches as None with their number, or a feature so often."""
    opening = True
    for segment in result.segments:
        node = segment.node
        if isinstance(node, Chain) and opening:
            continue
        if isinstance(node, Work):
            opening = False
            yield from _work(node, main, size, segment.uses)
        elif isinstance(node, Times):
            opening = False
            once = [part for inner in node.body for part in _inside(inner, main, size)]
            for _ in range(min(segment.times, MOST_FEATURES + 1)):
                yield from once
        elif isinstance(node, Chain | Skip):
            yield from _inside(node, main, size)


def _inside(node: Node, main: str, size: int) -> Iterator[tuple[Feature | None, int]]:
    """What a node makes whose places follow from its own words."""
    if isinstance(node, Work):
        place = node.into
        if place.kind not in ("next", "same", "first", "last") or place.rest is not None:
            raise _UnreadableError
        count = place.count.at(size) if place.count is not None and place.kind == "next" else 1
        if count is None:
            raise _UnreadableError
        yield from _work(node, main, size, None if place.kind != "same" else 0, count)
    elif isinstance(node, Chain):
        yield Feature(f"chain {node.amount.at(size)}", 0, 0, node.span), 1
    elif isinstance(node, Skip):
        passed = node.amount.at(size) or 0
        yield Feature(f"skip {passed}", passed, 0, node.span), 1
    elif isinstance(node, Times):
        times = node.amount.at(size) if node.mode == "fixed" and node.amount is not None else None
        if times is None:
            raise _UnreadableError
        for _ in range(min(times, MOST_FEATURES + 1)):
            for inner in node.body:
                yield from _inside(inner, main, size)


def _work(
    node: Work, main: str, size: int, uses: int | None, count: int | None = None
) -> Iterator[tuple[Feature | None, int]]:
    """Stitches in their places; `uses` is what the whole phrase took of the row below, or `count` its places."""
    place = node.into
    if len(node.group) != 1:
        if any(item.amount.at(size) is None for item in node.group):
            raise _UnreadableError
        made = sum((item.amount.at(size) or 0) * _makes(item) for item in node.group)
        kind = "+".join(f"{item.amount.at(size)} {_plain_name(item)}" for item in node.group)
        yield Feature(kind, 1, made, node.span), count if count is not None else uses or 1
        return
    (item,) = node.group
    amount = item.amount.at(size)
    if amount is None:
        raise _UnreadableError
    each = _uses(item)
    if uses == 0:
        yield Feature("same", 0, amount * _makes(item), node.span), 1
        return
    if each > 1:
        # Each stitch takes several places, however often it is worked.
        often = (uses if uses is not None else (count or 1) * each) // each
        if uses is None:
            often = amount * (count or 1)
        yield Feature(_name(node, item, main, 1, each), each, 1, node.span), often
        return
    places = count if count is not None else uses or 0
    if amount == 1 and _is_plain(node, item, main):
        yield None, places
        return
    if place.bare and amount > 1:
        yield (
            (None, amount)
            if _is_plain(node, item, main)
            else (Feature(_name(node, item, main, 1, 1), 1, 1, node.span), amount)
        )
        return
    yield Feature(_name(node, item, main, amount, 1), 1, amount * _makes(item), node.span), places


def _is_plain(node: Work, item: Item, main: str) -> bool:
    place = node.into
    return item.stitch in ("", main) and not place.post and place.below is None and not place.named


def _name(node: Work, item: Item, main: str, amount: int, each: int) -> str:
    place = node.into
    if not place.post and place.below is None and (item.stitch in ("", main) or _family(item.stitch) == main):
        if each > 1:
            return f"decrease {each}"
        if amount > 1:
            return f"increase {amount}"
    name = _plain_name(item)
    depth = f" {place.below.values[0]} below" if place.below is not None else ""
    return f"{amount} {name}{' post' if place.post else ''}{depth}" if amount > 1 else f"{name}{depth}"


def _plain_name(item: Item) -> str:
    return item.stitch.removeprefix("front_").removeprefix("back_") or "plain"


def _family(stitch: str) -> str:
    known = dictionary().get(stitch)
    return known.family if known is not None else stitch


def _uses(item: Item) -> int:
    if not item.stitch:
        return item.together or 1
    known = dictionary().get(item.stitch)
    return known.uses if known is not None else 1


def _makes(item: Item) -> int:
    if item.stitch == "chain":
        return 0
    known = dictionary().get(item.stitch)
    return known.makes if known is not None else 1


def phrases(result: Worked, size: int) -> list[tuple[Node, int]] | None:
    """The phrases of a row as they are worked one after the other, each with the places that it passes.

    None where the words do not tell this one by one.
    """
    found: list[tuple[Node, int]] = []
    try:
        for segment in result.segments:
            node = segment.node
            if not isinstance(node, Times):
                found.append((node, segment.uses))
                continue
            if node.ends:
                return None
            found += [(inner, _passed(inner, size)) for inner in node.body] * min(segment.times, MOST_FEATURES * 4)
    except _UnreadableError:
        return None
    return found


def _passed(node: Node, size: int) -> int:
    """The places that a phrase inside a repeat passes, by its own words."""
    if isinstance(node, Work | Skip | Chain):
        return sum(feature.uses * count if feature is not None else count for feature, count in _inside(node, "", size))
    if isinstance(node, Times):
        raise _UnreadableError
    return 0
