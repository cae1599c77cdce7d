"""Stitches made by run lengths: what a phrase makes, and what the row will offer the next one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import Amount, Chain, Definition, Evenly, Item, Node, Times, Work
from roundhand.stitches import dictionary
from roundhand.tally.ground import Ground
from roundhand.tally.grouping import MOST_GROUPS, joins_first, kind_of
from roundhand.tally.model import Block, Grouped, Offer, Run

# No row is worked beyond this many stitches (DESIGN, limits).
MOST_STITCHES = 5_000_000
# Groups in one place beyond this many are no pattern's, and are counted without their order.
_MOST_GROUPS = 1000
# The chains of a space are kept in one byte.
_LONGEST_SPACE = 255


class Stitching(Ground):
    """Makes stitches, and keeps what they are and where spaces lie between them."""

    def __init__(
        self,
        offer: Offer,
        size: int,
        colour: str,
        definitions: Mapping[str, Definition],
        overrides: Mapping[int, int] | None,
    ) -> None:
        super().__init__(offer)
        self.size = size
        self.colour = colour
        # A change of colour that falls in a stitch still to come, as many stitches on as it says.
        self.change: tuple[int, str] | None = None
        # Where the stitches of the last phrase begin among those made.
        self.phrase: int | None = None
        self.definitions = definitions
        self.overrides = overrides or {}
        self.base = ""
        self.count = 0
        self.made: list[Run | Block] = []
        self.layout = bytearray()
        self.spaces = False
        self.chains = 0
        self.lengths = bytearray()
        # Places made in corners, as the words say, and places with three stitches or more, which may be some.
        self.made_corners: list[int] = []
        self.peaks: list[int] = []
        self.same_peaks: list[int] = []
        self.corner_arm = 0
        self.trailing: Chain | None = None
        # Chains of the space in hand before the stitch that joins it to another motif, and that stitch.
        self.attached_chains = 0
        # Whether the last chain was made inside a repeat.
        self.chain_inside = False
        self.chain_counted = 0
        self.stitched = False
        # Whether slip stitches have carried the start of the row to the place that its chain stands in.
        self.slipped = False
        # Whether the round begins in a chain space or corner, so that it comes back to it past the stitches before.
        self.from_space = False
        self.unknown = False
        self.too_long = False
        # The loop that is free in the row that the whole of this one stands on.
        self.free = ""
        # Stitches of a group passed before and behind the one worked into.
        self.around = (0, 0)
        # The groups made so far, and whether they became too many to keep.
        self.groups: list[Grouped] = []
        self.crowded = False

    def amount(self, amount: Amount | None) -> int | None:
        """The value of an amount in this size."""
        if amount is None:
            return None
        if self.overrides and amount.span.start in self.overrides:
            return self.overrides[amount.span.start]
        value = amount.at(self.size)
        if value is not None:
            return value
        # What a dash leaves out of a row is not worked in that size, and the rest of the row is.
        return 0 if amount.absent(self.size) else None

    def fits(self, stitches: int) -> bool:
        """Whether so many stitches more are within the limit; beyond it the row is given up."""
        if self.count + stitches > MOST_STITCHES:
            self.unknown = self.too_long = True
        return not self.too_long

    def counted_chain(self, span: Span, over: int = 1) -> None:
        """A turning chain that counts stands over the first place and is the first stitch of the row; `over` is 0 where
        the words have gone past that place already."""
        self.lay(b"s", 1)
        self.count += 1
        self.chain_counted = 1
        self.made.append(Run("turning_chain", 1, self.colour, span, counts=True, uses=1))
        if self.offer.kind in ("row", "around") and self.offer.total and not self.slipped:
            self.pass_by(over)

    def settle_chain(self) -> None:
        """A chain with stitches behind it is a space."""
        if self.trailing is not None and (self.stitched or self.chain_inside):
            chains = self.amount(self.trailing.amount) or 0
            self.lay(b"o", 1, bytes((min(chains + self.attached_chains, _LONGEST_SPACE),)))
            self.chains += chains
        self.trailing = None
        self.attached_chains = 0

    @property
    def extent(self) -> int:
        """How many places the row has so far."""
        return len(self.layout) if self.spaces else self.count

    def lay(self, layout: bytes, times: int, lengths: bytes = b"") -> None:
        """Lays stitches and spaces down in order, with the chains of each space. A row without spaces needs no layout:
        it is so many stitches."""
        if not self.spaces:
            if b"o" not in layout:
                return
            self.spaces = True
            self.layout = bytearray(b"s" * self.count)
        if len(self.layout) + len(layout) * times > 2 * MOST_STITCHES:
            self.unknown = self.too_long = True
            return
        self.layout += layout * times
        self.lengths += lengths * times

    def keep_group(self, kind: str, times: int) -> None:
        """Keeps groups that are made next."""
        if len(self.groups) >= MOST_GROUPS:
            self.crowded = True
        elif kind:
            self.groups.append(Grouped(kind, times))

    def _keep_parts(self, node: Work, parts: list[tuple[str, int]], times: int) -> None:
        """Keeps a group by what it is made of. At the start of a row a chain that counts is its first stitch, whether
        it stands before the group, `ch 4, dc in same st`, or in it, `(ch 3, 2 dc) in same sp`."""
        if not self.stitched and node.into.kind == "same" and self.chain_counted:
            parts = [(self.base, 1), *([("chain", self.chains)] if self.chains else []), *parts]
        elif not self.stitched and len(parts) > 1 and parts[0][0] == "chain":
            self.keep_group(kind_of([(self.base, 1), *parts[1:]]), times)
        self.keep_group(kind_of(parts), times)

    def shared(self, node: Node) -> int:
        """Places that the first of a run of stitches is worked into beyond those that it passes: wedges share one."""
        while isinstance(node, Times) and node.body:
            node = node.body[0]
        if self.stitched or not isinstance(node, Work) or len(node.group) != 1:
            return 0
        known = dictionary().get(node.group[0].stitch)
        return known.shares if known is not None else 0

    def uses(self, node: Work) -> int:
        """Places of the row below that one run of the group goes past."""
        if len(node.group) == 1:
            item = node.group[0]
            if item.together:
                return item.together
            if item.stitch:
                return dictionary()[item.stitch].uses if item.stitch in dictionary() else 1
            found = self.definitions.get(item.alias)
            if found is not None and found.stitch is not None:
                return found.stitch.uses
            if found is not None and len(found.group) == 1:
                # "inv dec = invisible decrease": another name for one that is worked over several.
                return found.uses
        return 1

    def make(self, node: Work, times: int, depth: int) -> None:
        """Makes the group of a phrase so many times, `depth` rows below."""
        if times <= 0:
            return
        if self.trailing is not None:
            self.settle_chain()
        if len(node.group) == 1 and node.group[0].stitch not in ("", "chain") and not _parts(node.group[0].stitch):
            self._make_one(node, node.group[0], times, depth)
            return
        runs: list[Run] = []
        stitches = chains = 0
        layout = lengths = b""
        opened = [(item, stitch, number) for item in node.group for stitch, number in self.stitches_of(item)]
        join = joins_first([stitch for _, stitch, _ in opened])
        for at, (item, stitch, number) in enumerate(opened):
            adds = _adds(self._named(item)) and not (join and not at)
            if number <= 0:
                continue
            if stitch == "chain" or not adds:
                runs.append(Run(stitch, number, self.colour, item.span, counts=False))
                if adds:
                    layout += b"o"
                    lengths += bytes((min(number, _LONGEST_SPACE),))
                    chains += number
                continue
            known = dictionary().get(stitch)
            made = number * (known.makes if known is not None else 1)
            uses = known.uses if known is not None else 1
            if not self.fits((stitches + made) * times):
                return
            runs.append(Run(stitch, number, self.colour, node.span, node.into.loop or self.free, depth, uses))
            stitches += made
            layout += b"s" * made
        if self.unknown:
            return
        self._keep_parts(node, [(run.stitch, run.count) for run in (runs[1:] if join else runs)], times)
        self.stitched = True
        self._corner(node, times, layout or b"s" * stitches)
        if self.around != (0, 0):
            runs = _in_group(runs, self.around)
        self.lay(layout, times, lengths)
        self.chains += chains * times
        self.count += stitches * times
        if len(runs) == 1:
            self.made.append(msgspec.structs.replace(runs[0], count=runs[0].count * times))
        elif runs:
            self.made.append(Block(times, tuple(runs), node.span))

    def _make_one(self, node: Work, item: Item, times: int, depth: int) -> None:
        """The most usual phrase: a number of one stitch in each of so many places."""
        number = self.amount(item.amount)
        if number is None:
            self.unknown = True
            return
        if number <= 0:
            return
        known = dictionary().get(item.stitch)
        makes, uses = (known.makes, known.uses) if known is not None else (1, 1)
        stitches = number * makes * times
        if not self.fits(stitches):
            return
        if number > 1 or not self.stitched:
            self._keep_parts(node, [(item.stitch, number)], times)
        self.stitched = True
        if times == 1 and number >= 3:
            self._corner(node, 1, b"s" * (number * makes))
        elif node.into.what == "corner":
            self._corner(node, times, b"s" * (number * makes))
        if self.spaces:
            self.lay(b"s", stitches)
        self.count += stitches
        loop = node.into.loop or self.free
        lead, trail = self.around
        run = Run(item.stitch, number * times, self.colour, node.span, loop, depth, uses, makes > 0, lead, trail)
        self.made.append(run)

    def _corner(self, node: Work, times: int, layout: bytes) -> None:
        """Keeps the middle of what is made in a corner: its space if it has one, else its middle stitch."""
        if not layout:
            return
        space = layout.find(b"o")
        middle = space if space >= 0 else len(layout) // 2
        at = self.extent + middle
        if node.into.what == "corner":
            self.corner_arm = layout.count(b"s", 0, middle)
            self.made_corners += [at + len(layout) * time for time in range(times)]
        elif times == 1 and len(layout) >= 3 and node.into.kind != "ring":
            self.peaks.append(at)
            if node.into.kind == "same":
                self.same_peaks.append(at)

    def stitches_of(self, item: Item, nesting: int = 0) -> list[tuple[str, int]]:
        """The stitches that an item makes in one place, with their numbers."""
        number = self.amount(item.amount)
        if number is None:
            self.unknown = True
            return []
        if item.together:
            name = f"{self.base}_{item.together}_together"
            return [(name if name in dictionary() else self.base, number)]
        if item.stitch:
            return _repeated(_parts(item.stitch), number) or [(item.stitch, number)]
        found = self.definitions.get(item.alias)
        if found is not None:
            if found.stitch is not None:
                return _repeated(_parts(found.stitch.id), number) or [(found.stitch.id, number)]
            inner: list[tuple[str, int]] = []
            for part in found.group if nesting < 8 else ():
                inner += self.stitches_of(part, nesting + 1)
            if inner:
                return _repeated(inner, number)
        return [(self.base, number)]

    def _named(self, item: Item) -> str:
        """The stitch that an item means, by the trade's word or the pattern's; empty for a group of the pattern's."""
        found = self.definitions.get(item.alias) if not item.stitch else None
        return found.stitch.id if found is not None and found.stitch is not None else item.stitch

    def run(self, stitch: str, number: int, span: Span) -> None:
        """Makes a number of one stitch, spread over the row."""
        if number <= 0 or not self.fits(number):
            return
        self.made.append(Run(stitch, number, self.colour, span, "", 1, 1))
        self.lay(b"s", number)
        self.count += number


@lru_cache(maxsize=1024)
def _parts(stitch: str) -> tuple[tuple[str, int], ...]:
    """The stitches that a group of the dictionary is made of, with their numbers; none for a stitch of its own."""
    known = dictionary().get(stitch)
    return tuple((part.stitch, part.count) for part in known.parts) if known is not None else ()


@lru_cache(maxsize=1024)
def _adds(stitch: str) -> bool:
    """Whether a stitch leaves one on top; a picot leaves neither stitch nor space, whatever it is made of."""
    known = dictionary().get(stitch)
    return known is None or known.makes > 0


def _repeated(parts: Sequence[tuple[str, int]], times: int) -> list[tuple[str, int]]:
    """The parts of a group one behind the other, so many times, equal neighbours together."""
    joined: list[tuple[str, int]] = []
    for stitch, number in parts:
        if joined and joined[-1][0] == stitch:
            number += joined.pop()[1]
        joined.append((stitch, number))
    if len(joined) == 1 or times > _MOST_GROUPS:
        return [(stitch, number * times) for stitch, number in joined]
    return joined * times


def _in_group(runs: list[Run], around: tuple[int, int]) -> list[Run]:
    """The first and the last stitch of what goes into one place, with what is passed before and behind it."""
    first = next((at for at, run in enumerate(runs) if run.counts), 0)
    last = next((at for at in range(len(runs) - 1, -1, -1) if runs[at].counts), 0)
    found = list(runs)
    found[first] = msgspec.structs.replace(found[first], lead=around[0])
    found[last] = msgspec.structs.replace(found[last], trail=around[1])
    return found


def main_stitch(nodes: tuple[Node, ...]) -> str:
    """The first plain stitch that the words name: what `inc` and `dec` in this row are made of."""
    for node in nodes:
        if isinstance(node, Work):
            for item in node.group:
                known = dictionary().get(item.stitch)
                if known is not None and known.family not in ("chain", "slip_stitch"):
                    return known.family
        elif isinstance(node, Times):
            found = main_stitch(node.body)
            if found:
                return found
        elif isinstance(node, Evenly) and node.stitch:
            return dictionary()[node.stitch].family
    return ""


def mostly(made: tuple[Run | Block, ...]) -> str:
    """The plain stitch that a row is mostly made of."""
    counts: dict[str, int] = {}

    def add(runs: tuple[Run | Block, ...], times: int) -> None:
        for run in runs:
            if isinstance(run, Block):
                add(run.runs, times * run.times)
            elif run.counts and run.stitch in dictionary():
                family = dictionary()[run.stitch].family
                counts[family] = counts.get(family, 0) + run.count * times

    add(made, 1)
    return max(counts, key=lambda name: counts[name]) if counts else ""


def colours_of(made: tuple[Run | Block, ...]) -> tuple[str, ...]:
    """The colours of the stitches in order of use, each once."""
    seen: dict[str, None] = {}

    def add(runs: tuple[Run | Block, ...]) -> None:
        for run in runs:
            if isinstance(run, Block):
                add(run.runs)
            elif run.counts and run.colour:
                seen.setdefault(run.colour)

    add(made)
    return tuple(seen)
