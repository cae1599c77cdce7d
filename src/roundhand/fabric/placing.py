"""Where the stitches of one row go: its runs laid beside the words that asked for them.

A run says how many of a stitch were made; the words say how many go into one place and what is skipped between. Both
are walked together, by run lengths, so that a repeat of a thousand groups costs no more than one.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from roundhand.findings import Span
from roundhand.notation.tree import Chain, Definition, Evenly, Item, Node, Skip, Times, Work
from roundhand.sizing import children, decrease_evenly
from roundhand.stitches import dictionary
from roundhand.tally.model import Block, Run, flat

# How a stretch finds its places: the next stitches, the next chain spaces, the place of the stitch before, the first
# place of the row, its last places, the ring, none at all (chains, foundation stitches), or the stitch just made.
NEXT, SPACE, SAME, FIRST, LAST, RING, FREE, OWN = range(8)

# Definitions that stand in one another are opened no deeper than brackets may stand in a pattern.
_DEEPEST = 32


class Stretch(NamedTuple):
    """A number of one stitch made one after the other.

    Every `group` of them share a place of `uses` stitches, and the last of a group moves on; a `group` of 0 moves on
    to no other place. `gap` stitches and `space_gap` chain spaces are skipped before the first of them; a `gap` below
    nothing goes back to stitches that were skipped.
    """

    number: int
    stitch: str
    colour: str
    loop: str
    span: tuple[int, int]
    below: int
    uses: int
    group: int
    target: int = NEXT
    gap: int = 0
    space_gap: int = 0


def stretches(
    nodes: tuple[Node, ...], made: tuple[Run | Block, ...], size: int, definitions: Mapping[str, Definition]
) -> tuple[list[Stretch], int, bool]:
    """The stretches of a row, what is skipped behind the last of them, and whether every run was found in the words.

    Where a run was not found, the stretches are plain ones, each stitch in the places it uses.

    >>> from roundhand.notation import read
    >>> from roundhand.tally import count
    >>> text = "Disc\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: *sc in next st, inc; rep from * around. (9)"
    >>> row = list(count(read(text)[0])[0].rows())[1]
    >>> found, behind, whole = stretches(row.nodes[0], row.results[0].made, 0, {})
    >>> [(one.number, one.group) for one in found[:3]], behind, whole
    ([(1, 1), (2, 2), (1, 1)], 0, True)
    """
    walk = _Walk(size, definitions)
    at = 0
    while at < len(made) and _is_turning_chain(made[at]):
        walk.turning_chain(made[at])
        at += 1
    at = walk.follow(nodes, made, at)
    if at < len(made):
        return [_plain(run) for run in flat(made) if run.stitch != "chain" or run.counts], 0, False
    return walk.found, walk.gap, True


def _is_turning_chain(run: Run | Block) -> bool:
    return isinstance(run, Run) and run.stitch == "turning_chain"


def _plain(run: Run) -> Stretch:
    span = (run.span.start, run.span.end)
    target = FREE if run.uses == 0 else NEXT
    return Stretch(run.count, run.stitch, run.colour, run.loop, span, run.below, max(run.uses, 1), 1, target)


class _Walk:
    """Goes through words and runs side by side. `gap` and `space_gap` are places skipped since the last stitch."""

    def __init__(self, size: int, definitions: Mapping[str, Definition]) -> None:
        self.size = size
        self.definitions = definitions
        self.found: list[Stretch] = []
        self.gap = 0
        self.space_gap = 0
        # Places that the long stitches just made stand over.
        self.behind = 0
        # Stitches skipped last that a crossed stitch may come back to, and places gone past since.
        self.crossed = 0
        self.since = 0
        self.stitched = False
        self.climbed: Span | None = None

    def follow(self, nodes: tuple[Node, ...], runs: tuple[Run | Block, ...], at: int) -> int:
        """Lays the runs from `at` beside the words; gives the position of the first run that they did not make."""
        for node in nodes:
            if isinstance(node, Skip):
                self.skip(node)
            elif isinstance(node, Chain):
                at = self.chain(node, runs, at)
            elif isinstance(node, Work):
                begun = at
                at = self.work(node, runs, at)
                long = [run.count for run in runs[begun:at] if isinstance(run, Run) and run.below > 1]
                self.behind = sum(long) if len(long) == at - begun else 0
            elif isinstance(node, Evenly):
                at = self.evenly(node, runs, at)
            elif isinstance(node, Times):
                at = self.times(node, runs, at)
        return at

    # Words that make no stitch over a place.

    def skip(self, node: Skip) -> None:
        amount = node.amount.at(self.size) or 0
        behind, self.behind = self.behind, 0
        if behind == amount and node.what != "space":
            # "dc in next st 2 rnds below, skip next st": the place behind the long stitch, which it stands over.
            return
        if node.what == "space":
            self.space_gap += amount
            return
        if node.first and self.climbed is not None and len(self.found) == 1:
            # The counted chain stands on the first stitch already.
            amount -= 1
        self.gap += amount
        self.crossed, self.since = amount, 0

    def chain(self, node: Chain, runs: tuple[Run | Block, ...], at: int) -> int:
        # Before the first stitch chains only climb to the height of the row, and so do those that stand for it;
        # behind a stitch they are a space.
        climbing = not self.stitched or node.span == self.climbed
        while at < len(runs):
            run = runs[at]
            if not isinstance(run, Run) or run.span != node.span:
                break
            if run.stitch == "turning_chain":
                self.turning_chain(run)
                climbing = True
            elif not climbing:
                self.chains(run)
            at += 1
        return at

    def chains(self, run: Run) -> None:
        span = (run.span.start, run.span.end)
        self.found.append(Stretch(run.count, "chain", run.colour, "", span, 1, 0, 0, FREE))

    def turning_chain(self, run: Run | Block) -> None:
        """A counted turning chain stands over the first place, where it uses one."""
        assert isinstance(run, Run)
        span = (run.span.start, run.span.end)
        self.stitched = True
        self.climbed = run.span
        if run.uses:
            self.lay(Stretch(1, run.stitch, run.colour, "", span, 1, 1, 1))
        else:
            self.lay(Stretch(1, run.stitch, run.colour, "", span, 1, 1, 0, FREE))

    def lay(self, stretch: Stretch) -> None:
        if stretch.target in (NEXT, SPACE, LAST) and (self.gap or self.space_gap):
            stretch = stretch._replace(gap=stretch.gap + self.gap, space_gap=stretch.space_gap + self.space_gap)
            self.gap = self.space_gap = 0
        self.found.append(stretch)
        self.since += passing(stretch)

    def back(self, run: Run, group: int) -> bool:
        """Lays crossed stitches over the places skipped before and goes on from where the work was; False where so many
        were not skipped."""
        stretch = _stretch(run, group, NEXT)
        moved = passing(stretch)
        if run.below > 1 or not 0 < moved <= self.crossed:
            return False
        away, since = self.crossed + self.since, self.since
        self.gap -= away
        self.lay(stretch)
        self.gap = away - moved
        self.crossed -= moved
        self.since = since
        return True

    # Stitches.

    def work(self, node: Work, runs: tuple[Run | Block, ...], at: int) -> int:
        if at < len(runs) and _is_turning_chain(runs[at]) and runs[at].span == node.into.span:
            self.turning_chain(runs[at])
            at += 1
        if at >= len(runs) or runs[at].span not in {node.span, *(item.span for item in node.group)}:
            return at
        run = runs[at]
        target = self.target(node)
        if node.into.kind in ("nth", "from_hook") and node.into.count is not None:
            stood = _stands_behind_chain(runs, at) if node.into.kind == "nth" else 0
            self.gap += max(0, (node.into.count.at(self.size) or 1) - 1 - stood)
        if isinstance(run, Run):
            if run.stitch == "chain":
                self.chains(run)
            else:
                self.stitched = True
                if node.into.what != "skipped" or not self.back(run, self.group(node, run)):
                    self.grouped(run, self.group(node, run), target)
            return at + 1
        inner = list(flat(run.runs))
        last = max((where for where, one in enumerate(inner) if one.stitch != "chain"), default=-1)
        for _ in range(run.times):
            for where, one in enumerate(inner):
                if one.stitch == "chain":
                    self.chains(one)
                else:
                    self.stitched = True
                    self.gap += one.lead
                    self.lay(_stretch(one, one.count if where == last else 0, target))
                    self.gap += one.trail
        return at + 1

    def grouped(self, run: Run, group: int, target: int) -> None:
        """Lays a run; where each place is one of a group, with the rest of the group passed by."""
        if not run.lead and not run.trail:
            self.lay(_stretch(run, group, target))
            return
        for _ in range(run.count // max(group, 1)):
            self.gap += run.lead
            self.lay(_stretch(run, group, target)._replace(number=group))
            self.gap += run.trail

    def target(self, node: Work) -> int:
        place = node.into
        if any(item.stitch.startswith("foundation_") for item in node.group):
            return FREE
        if place.kind == "made":
            return OWN
        if place.kind == "ring":
            return RING
        if place.kind == "same" and self.stitched:
            return SAME
        if place.what == "space":
            return SPACE
        if place.kind == "first" and self.stitched:
            return FIRST
        return LAST if place.kind == "last" else NEXT

    def group(self, node: Work, run: Run) -> int:
        """How many stitches of a run share a place: the number that the words put there."""
        item = node.group[0]
        if len(node.group) != 1 or item.together:
            return 1
        number = self.number(item)
        return number if number and run.count % number == 0 else 1

    def number(self, item: Item, depth: int = 0) -> int:
        """How many stitches an item puts into a place; groups are opened. Crossed stitches have a place each."""
        number = item.amount.at(self.size) or 0
        known = dictionary().get(item.stitch)
        if known is not None and known.parts:
            return max(1, number * known.makes // max(known.uses, 1))
        found = self.definitions.get(item.alias) if not item.stitch else None
        if found is None or not found.group or depth > _DEEPEST:
            return number
        return number * sum(self.number(inner, depth + 1) for inner in found.group)

    def evenly(self, node: Evenly, runs: tuple[Run | Block, ...], at: int) -> int:
        mine: list[Run] = []
        while at < len(runs):
            run = runs[at]
            if not isinstance(run, Run) or run.span != node.span:
                break
            mine.append(run)
            at += 1
        if not mine:
            return at
        self.stitched = True
        self.lay(_stretch(mine[0], 1, NEXT)) if node.act == "decrease" and len(mine) == 1 else self._spread(node, mine)
        return at

    def _spread(self, node: Evenly, runs: list[Run]) -> None:
        amount = node.amount.at(self.size) if node.amount is not None else None
        first, count = runs[0], sum(run.count for run in runs)
        if node.act == "decrease":
            plain, together = runs[0], runs[-1]
            spacing = decrease_evenly(plain.count + 2 * together.count, together.count)
            for gap in spacing.gaps:
                if gap > 2:
                    self.lay(_stretch(plain, 1, NEXT)._replace(number=gap - 2))
                self.lay(_stretch(together, 1, NEXT)._replace(number=1, uses=2))
        elif node.act == "increase":
            below = count - (amount or 1)
            for number, many in _alike(children(below, count) if below > 0 else (count,)):
                self.lay(_stretch(first, number, NEXT)._replace(number=number * many))
        else:
            # How many places there are is known to whoever lays the row; a group of -1 asks for an even spread.
            self.lay(_stretch(first, -1, NEXT))

    # Repeats.

    def times(self, node: Times, runs: tuple[Run | Block, ...], at: int) -> int:
        own = _spans(node.body)
        most = (node.amount.at(self.size) or 0) + 1 if node.amount is not None and node.mode != "over" else None
        ran = 0
        while at < len(runs) and (most is None or ran < most):
            run = runs[at]
            if isinstance(run, Block) and run.span == node.span:
                self.block(node, run)
                ran += run.times
                at += 1
            elif (run.span.start, run.span.end) in own:
                before = at
                at = self.follow(node.body, runs, at)
                ran += 1
                if at == before:
                    break
            else:
                break
        return at

    def block(self, node: Times, block: Block) -> None:
        """The body worked once, then laid again and again with what it skips at its end."""
        gap, space_gap = self.gap, self.space_gap
        outer, self.found = self.found, []
        self.gap = self.space_gap = 0
        body_nodes = tuple(node.body[at] for at in block.done) if block.last else node.body
        if self.follow(body_nodes, block.runs, 0) < len(block.runs):
            self.found = [_plain(run) for run in flat(block.runs)]
        body = self.found
        self.found = outer
        after, space_after = self.gap, self.space_gap
        if not body:
            self.gap, self.space_gap = gap + after * block.times, space_gap + space_after * block.times
            return
        where = next((at for at, one in enumerate(body) if one.target in (NEXT, SPACE, LAST)), 0)
        self.found += _skipping(body, where, gap, space_gap)
        self.found += _skipping(body, where, after, space_after) * (block.times - 1)


def passing(stretch: Stretch) -> int:
    """The stitches of the row below that a stretch goes past."""
    if stretch.group <= 0 or stretch.target not in (NEXT, LAST):
        return 0
    return stretch.uses * (stretch.number // stretch.group)


def _skipping(body: list[Stretch], where: int, gap: int, space_gap: int) -> list[Stretch]:
    """The stretches of a body with so much more skipped before the first that is worked over a place."""
    if not gap and not space_gap:
        return body
    first = body[where]
    first = first._replace(gap=first.gap + gap, space_gap=first.space_gap + space_gap)
    return [*body[:where], first, *body[where + 1 :]]


def _stretch(run: Run, group: int, target: int) -> Stretch:
    uses = run.uses or 1
    known: Mapping[str, object] = dictionary()
    if run.stitch in known:
        uses = max(uses, dictionary()[run.stitch].uses)
    span = (run.span.start, run.span.end)
    return Stretch(run.count, run.stitch, run.colour, run.loop, span, run.below, uses, group, target)


def _alike(numbers: tuple[int, ...]) -> list[tuple[int, int]]:
    """Equal neighbours together, as (number, how many); places without a stitch stay single."""
    found: list[tuple[int, int]] = []
    for number in numbers:
        if found and found[-1][0] == number:
            found[-1] = (number, found[-1][1] + 1)
        else:
            found.append((number, 1))
    return [one for one in found if one[0]]


def _spans(nodes: tuple[Node, ...]) -> set[tuple[int, int]]:
    """The spans of everything in a body that makes runs."""
    found: set[tuple[int, int]] = set()
    for node in nodes:
        found.add((node.span.start, node.span.end))
        if isinstance(node, Times):
            found |= _spans(node.body)
        elif isinstance(node, Work):
            found |= {(item.span.start, item.span.end) for item in node.group}
            found.add((node.into.span.start, node.into.span.end))
    return found


def _stands_behind_chain(runs: tuple[Run | Block, ...], at: int) -> int:
    """1 where nothing stands before a run but a counted chain, which is the first stitch of the row already."""
    while at and isinstance(before := runs[at - 1], Run):
        if _is_turning_chain(before):
            return before.uses
        if before.stitch != "chain":
            return 0
        at -= 1
    return 0
