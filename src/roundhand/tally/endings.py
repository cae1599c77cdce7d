"""The last run of a repeat where it ends otherwise than the others: `ending last rep with sc in last st`.

How much of the last run is worked in front of the words that end it, the row below tells: the run is cut where nothing
is left over.
"""

from __future__ import annotations

import msgspec

from roundhand.notation.tree import Chain, Node, Skip, Times, Work
from roundhand.tally.last_places import beyond_the_last
from roundhand.tally.model import Block, LeftOver
from roundhand.tally.repeating import Repeating


class Endings(Repeating):
    """Works repeats whose last run ends otherwise."""

    def times(self, node: Times) -> None:
        if node.mode == "rest" and node.ends:
            self._to_ending(node)
            return
        node = self._before_the_chain(node)
        super().times(node)
        self._over_the_join(node)

    def _over_the_join(self, node: Times) -> None:
        """`Ch 5, *skip next dc, dc in next dc, ch 2; rep from * around, join in 3rd ch of ch-5`: the last chain goes
        over the stitches that a further run would skip, to the beginning of the round."""
        over = self.left_over[-1] if self.left_over and self.left_over[-1].node is node else None
        first, last = (node.body[0], node.body[-1]) if node.body else (None, None)
        if over is None or node.rest is not None or self.nesting or not self.closed:
            return
        mesh = isinstance(first, Skip) and isinstance(last, Chain) and first.what == "stitch"
        begun = self.stitched or self.chain_counted
        if mesh and begun and isinstance(first, Skip) and self.amount(first.amount) == over.over:
            self.left_over.pop()
            self.pass_by(over.over)
            self.skipped += over.over

    def _before_the_chain(self, node: Times) -> Times:
        """The repeat with the place of a counted turning chain left as well, where the words go into it beyond the
        stitches that they say are left, and only so the repeat comes out."""
        rest = self.amount(node.rest) if node.mode == "rest" and node.rest is not None else None
        if rest is None or node.rest is None or self.offer.layout or self.offer.kind != "row" or node.until:
            return node
        beyond = beyond_the_last(self.following, rest, self.size)
        group = self.measure(node) if beyond else 0
        room = self.remaining() - rest - self.shared(node) if group > 0 else 0
        # In a row that begins with a counted chain the row below began so as well.
        closes = not room % group and not (self.chain_counted and group == 1) if group > 0 else False
        if self.unknown or group <= 0 or closes or (room - beyond) % group or room < beyond:
            return node
        return msgspec.structs.replace(node, rest=msgspec.structs.replace(node.rest, values=(rest + beyond,), spans=()))

    def _to_ending(self, node: Times) -> None:
        rest = self.amount(node.rest) if node.rest is not None else self.kept_back()[0]
        if rest is None:
            self.unknown = True
            return
        group = self.measure(node)
        if self.unknown or group <= 0:
            return
        cuts = _cuts(node, self.following)
        runs, cut = (
            self._along_spaces(node, rest, cuts) if self.offer.layout else self._counted(node, rest, group, cuts)
        )
        self.ran[node.span.start] = runs + 1
        self.repeats = self.repeats or runs + 1
        if not self.offer.layout and runs:
            self.again(node, runs)
        if cut:
            self._last_run(node, cut)

    def _counted(self, node: Times, rest: int, group: int, cuts: list[tuple[int, ...]]) -> tuple[int, tuple[int, ...]]:
        """How many whole runs there are, and what is worked of the last: so that no stitch is left over."""
        room = self.remaining() - rest - self.shared(node)
        for cut in cuts:
            uses = self.measure(_part(node, cut)) if cut else 0
            if room >= uses and not (room - uses) % group and (cut or node.ends != "omit"):
                whole = (room - uses) // group
                if whole or cut:
                    return whole, cut
        if node.ends == "omit" and room >= group and not room % group:
            # Nothing is put in the place of what is left out, so that the last run is a whole one without it.
            return room // group - 1, cuts[0]
        uses = self.measure(_part(node, cuts[0])) if cuts[0] else 0
        whole, over = divmod(max(room - uses, 0), group)
        self.left_over.append(LeftOver(node, max(room, 0), group, over))
        return whole, cuts[0]

    def _along_spaces(self, node: Times, rest: int, cuts: list[tuple[int, ...]]) -> tuple[int, tuple[int, ...]]:
        """The same where chain spaces make the runs unlike each other: run by run, until one that is cut comes out."""
        runs = 0
        passed = self._passed(node)
        while True:
            for cut in cuts:
                if self._comes_out(node, cut, passed):
                    return runs, cut
            before, made = self.standing(), len(self.made)
            at = self.at
            self.once(node)
            if self.unknown or self.at == at or self.failed_since(before):
                self.stand(before)
                left = self.offer.layout.count(b"s", self.at)
                if left > rest:
                    self.left_over.append(LeftOver(node, self.offer.total, 0, left - rest))
                return runs, cuts[0]
            self.gather(node, made)
            runs += 1

    def _passed(self, node: Times) -> int:
        """How many stitches a whole run goes past without a word, on its way to a space."""
        before, silent = self.standing(), self.gone - self.used
        self.once(node)
        silent = self.gone - self.used - silent
        self.stand(before)
        return silent

    def _comes_out(self, node: Times, cut: tuple[int, ...], passed: int) -> bool:
        """Whether the row ends with this last run, and goes past no more stitches without a word than the others do;
        all that was tried is taken back."""
        before, silent = self.standing(), self.gone - self.used
        jumped, following = self.jumped, self.following
        if cut:
            self.once(_part(node, cut))
        tail = following[: node.tail] if node.ends != "omit" else ()
        for at, one in enumerate(tail):
            self.following = tail[at + 1 :]
            if not self.unknown:
                self.node(one)
        ends = not self.unknown and self.jumped == jumped and not self.failed_since(before)
        ends = ends and not self.remaining() and self.offer.layout.find(b"o", self.at) < 0
        ends = ends and self.gone - self.used - silent <= passed
        self.following, self.jumped = following, jumped
        self.stand(before)
        return ends

    def _last_run(self, node: Times, cut: tuple[int, ...]) -> None:
        start = len(self.made)
        self.once(_part(node, cut))
        made = tuple(self.made[start:])
        if made:
            self.made[start:] = [Block(1, made, node.span, True, cut)]


def _uses_none(node: Node) -> bool:
    """Whether a node uses no place: a chain, or a stitch that goes back to the first of the round."""
    return isinstance(node, Chain) or (isinstance(node, Work) and node.into.kind in ("first", "same"))


def _part(node: Times, cut: tuple[int, ...]) -> Times:
    """The repeat with those nodes of its body alone."""
    return msgspec.structs.replace(node, body=tuple(node.body[at] for at in cut), ends="", tail=0)


def _cuts(node: Times, following: tuple[Node, ...]) -> list[tuple[int, ...]]:
    """What may be worked of the last run, the likeliest first: as much of it as can stand, cut where something of the
    kind stands that takes its place."""
    body = node.body
    if node.ends == "omit":
        return [tuple(at for at in range(len(body)) if at != node.tail)]
    tail = following[: node.tail]
    if tail and isinstance(tail[0], Chain) and all(_uses_none(one) for one in tail):
        # Only the chain of the last run is another one, or one that a stitch into the beginning helps to make.
        chain = next((at for at in range(len(body) - 1, -1, -1) if isinstance(body[at], Chain)), len(body))
        if all(isinstance(one, Skip) for one in body[chain + 1 :]):
            return [tuple(at for at in range(len(body)) if at != chain)]
    kind = type(tail[0]) if tail else None
    ends = sorted(range(len(body)), key=lambda at: (type(body[at]) is not kind, -at))
    whole = [tuple(range(len(body)))]
    parts = [tuple(range(at)) for at in ends]
    return whole + parts if node.ends == "after" else parts + whole
