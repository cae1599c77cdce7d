"""Work round corners: into them, up to them, from one to the next, and the corners that a row leaves for the next."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator

from roundhand.notation.tree import Along, Evenly, Node, Note, Place, Times, Work
from roundhand.tally.edges import around_offer
from roundhand.tally.edging import Edging
from roundhand.tally.ground import MOST_CORNERS
from roundhand.tally.model import Missing
from roundhand.tally.readings import walk

# No edge has more sides than this.
_MOST_SIDES = 200


class Cornering(Edging):
    """Works into corners and along the sides between them."""

    def into_corner(self, node: Work) -> None:
        """`3 sc in corner`, `(sc, ch 2, sc) in next corner sp`: on to the next corner and into it."""
        place = node.into
        times = self.amount(place.count) if place.count is not None else 1
        if times is None:
            self.unknown = True
            return
        if place.kind == "same" or (self.carried == "corner" and not self.stitched):
            # "sl st to corner sp, ch 3, (2 dc, ch 2, 3 dc) in corner sp": where the round was carried to.
            self.make(node, 1, 1)
            if place.kind != "same" and self.next_corner() == self.at:
                self.pass_place()
            return
        for _ in range(times):
            corner = self.next_corner()
            if corner is None:
                if not self.corners():
                    self._no_corner(node, place)
                else:
                    self.missing.append(Missing(place.span, "corner", 1, len(self.corners())))
                return
            if self.offer.layout[corner : corner + 1] == b"o":
                self.go_to(corner)
            else:
                self.jumped += corner - self.at
                self.jump(corner - self.at)
            self.make(node, 1, 1)
            self.pass_place()

    def _no_corner(self, node: Work, place: Place) -> None:
        """A corner where the row below has none: between two edges of a flat piece it takes up no place; on a ring or
        chain there is none; else it is not known where it lies."""
        if self.edges is not None and self.edges.rows and self.edges.flat:
            self.make(node, 1, 1)
        elif self._cornerless():
            self.doubt(place.span, "corner", 1, 0)
        else:
            self.unknown = True

    def _cornerless(self) -> bool:
        """Whether what lies below certainly has no corner: a ring, a chain, or a round of plain stitches."""
        plain = self.offer.kind == "row" and not self.offer.layout and not self.offer.peaks
        return self.offer.kind in ("ring", "chain") or (plain and self.offer.total > 0)

    def sweep(self, node: Work) -> bool:
        """`sc in each st and ch-1 sp to next corner`, `sc in each dc around, (sc, ch 2, sc) in each corner sp`: places
        in their order, each by the phrase that speaks of it. False (and nothing done) for phrases without a corner."""
        if not _is_swept(node.into):
            return False
        works = [node]
        behind: Node | None = None
        for behind in self.following:
            if isinstance(behind, Work) and _is_swept(behind.into):
                works.append(behind)
            elif not isinstance(behind, Note):
                break
        stops = self._stopped_by(works, behind)
        cornered = [work for work in works if work.into.what == "corner"]
        # All round a piece every phrase speaks of one edge.
        until = any(work.into.until for work in works) or (self.offer.kind == "around" and not cornered)
        told_apart = len(set(self.offer.lengths)) > 1 and any(work.into.length is not None for work in works)
        # "Sc in each sc and ch 1 over each ch-1 sp": stitches and spaces as they come.
        over = any(_is_laid_over(work) or work.into.what == "skipped" for work in works[1:])
        if not (until or cornered or told_apart or over or stops is not None):
            return False
        if not self.corners() and (until or cornered):
            self.unknown = self.unknown or not (self.offer.kind == "ends" or self._cornerless())
            if not self.unknown:
                span = cornered[0].into.span if cornered else node.into.span
                self.doubt(span, "corner", 1, 0)
                self.done |= {work.span for work in cornered}
            return self.unknown or node in cornered
        corner = self.next_corner() if until else None
        stop = corner if corner is not None else (len(self.offer.layout) or self.offer.total)
        if stops is not None and not (until or cornered):
            stop = stops
        for work, times in self._places(works, stop):
            if work is None:
                self.go_to(self.at + times)
                continue
            if work.into.what == "skipped":
                self.make(work, self._chains_above(times), max(2, self.depth_of(work)))
            else:
                self.make(work, times // max(self.uses(work), 1), 1)
            for _ in range(times):
                self.pass_place()
        self.done |= {work.span for work in works[1:]}
        return True

    def _chains_above(self, spaces: int) -> int:
        """How many chains the next so many spaces have, each above a stitch that was skipped for it."""
        first = self.offer.layout.count(b"o", 0, self.at)
        lengths = self.offer.lengths[first : first + spaces]
        return sum(lengths) if len(lengths) == spaces else spaces

    def _stopped_by(self, works: list[Work], behind: Node | None) -> int | None:
        """`sc in each st and ch-1 sp across, 3 sc in ch-2 sp`, again and again: where the next space is that the words
        behind go into, and "each" of them ends; None where no space of that length is there, or it is one of
        those that are swept."""
        if works[0].into.to_space and self.offer.layout:
            found = self.next_space(works[0].into.length)
            return found if found >= self.at else None
        if not isinstance(behind, Work) or behind.into.kind != "next" or behind.into.what != "space":
            return None
        length = behind.into.length
        swept = [work.into.length for work in works if work.into.what == "space"]
        if length is None or length in swept or None in swept or length not in self.offer.lengths:
            return None
        found = self.next_space(length)
        number = self.offer.layout.count(b"o", 0, max(found, 0))
        there = found > self.at and number < len(self.offer.lengths) and self.offer.lengths[number] == length
        return found if there else None

    def _places(self, works: list[Work], stop: int) -> Iterator[tuple[Work | None, int]]:
        """The places up to a position, joined where the same phrase speaks of them; None for those none speaks of."""
        corners = set(self.corners())
        layout = self.offer.layout
        space = layout.count(b"o", 0, self.at)
        last: Work | None = None
        times = 0
        for at in range(self.at, stop):
            spaced = layout[at : at + 1] == b"o"
            chains = self.offer.lengths[space] if spaced and space < len(self.offer.lengths) else None
            space += spaced
            work = self._rule(works, at in corners, spaced, chains)
            if work is last:
                times += 1
                continue
            if times:
                yield last, times
            last, times = work, 1
        if times:
            yield last, times

    def _rule(self, works: list[Work], corner: bool, spaced: bool, chains: int | None) -> Work | None:
        for work in works:
            if work.into.what == "corner" and corner:
                return work
        for work in works:
            place = work.into
            if spaced and place.what == "skipped":
                # "Dc in each skipped st 2 rows below": it lies under the chains, the stitch stands in front of them.
                return work
            if spaced and place.what == "space":
                if place.length is None or chains is None or place.length == chains:
                    return work
            elif not spaced and place.what in ("stitch", "chain", "other_side", "foundation"):
                return work
        return None

    def corners_in(self, node: Times) -> bool:
        return _speaks_of_corners(node.body) or any(isinstance(inner, Along) for inner in node.body)

    def face_first(self, nodes: tuple[Node, ...]) -> None:
        """All round a piece the work begins where its words do: in a corner, along row ends, or behind a corner."""
        if self.offer.kind != "around" or not self.offer.corners:
            return
        rated = next((node for node in walk(nodes) if isinstance(node, Evenly) and node.rates), None)
        rates = self.rates_of(rated) if rated is not None else ()
        if rates and self.edges is not None:
            # The sides are as long as the rate makes them.
            self.offer = around_offer(self.edges, rates)
        first = _first_place(nodes)
        if first == "corner":
            return
        ends_first = first in ("row_ends", "edge")
        self.start_at(self.offer.corners[1] + 1 if ends_first and len(self.offer.corners) > 1 else 1)

    def round_corners(self, node: Times) -> bool:
        """`*sc in each st to next corner, 3 sc in corner; rep from * around`: once for every corner there is. False
        (and nothing done) for a repeat without corners."""
        if not self.corners() or not _speaks_of_corners(node.body):
            return False
        times, kept = 0, self._corners_behind()
        while self._corners_ahead() > kept and times < _MOST_SIDES and not self.unknown:
            at, made = self.at, len(self.made)
            self.once(node)
            self.gather(node, made)
            times += 1
            if self.at == at:
                break
        first = node.body[0]
        if not kept and self.remaining() and isinstance(first, Work) and first.into.until:
            # The last side is cut where the round ends.
            self.following = ()
            self.sweep(first)
        self.ran[node.span.start] = times
        self.repeats = self.repeats or times
        return True

    def _corners_ahead(self) -> int:
        corners = self.corners()
        return len(corners) - bisect_left(corners, self.at)

    def _corners_behind(self) -> int:
        """How many corners the words behind a repeat work into themselves: `rep from * around, 3 sc in last corner`."""
        behind = 0
        for node in self.following:
            if isinstance(node, Times):
                break
            if isinstance(node, Work) and node.into.what == "corner" and node.into.kind in ("next", "last"):
                behind += (self.amount(node.into.count) if node.into.count is not None else 1) or 0
        return behind

    def corners_made(self) -> tuple[int, ...]:
        """The corners that this row offers the next one: those it made, those of a round below that it repeats stitch
        by stitch, or its few places with three stitches in one."""
        if self.made_corners:
            return self._all_corners()
        if self.offer.corners and not self.spaces and not self.offer.layout and self.count == self.offer.total:
            return self.offer.corners
        return tuple(self.peaks) if 3 <= len(self.peaks) <= MOST_CORNERS and not self.spaces else ()

    def _all_corners(self) -> tuple[int, ...]:
        """The corners that the words name, and those like them that they call otherwise, as `(2 dc, ch 2, 3 dc) in same
        sp` at the beginning."""
        named = self.made_corners
        if not self.spaces:
            return tuple(sorted({*named, *self.same_peaks}))[:_MOST_SIDES]
        longest = max(self.lengths, default=0)
        found = [at for at, place in enumerate(self.layout) if place == ord("o")]
        like = [at for at, chains in zip(found, self.lengths, strict=False) if chains == longest]
        # A stitch that opens a corner, `join with sc in corner sp, (ch 2, sc) in same sp`, lies beside its space.
        spaced = set(named) & set(found) or set(named)
        return tuple(like if spaced <= set(like) and len(like) <= MOST_CORNERS else named[:_MOST_SIDES])


def _speaks_of_corners(body: tuple[Node, ...]) -> bool:
    """Whether a body works into corners, up to them, or along sides."""
    return any(
        (isinstance(node, Work) and (node.into.what == "corner" or node.into.until))
        or (isinstance(node, Evenly) and node.along in ("side", "sides", "edge"))
        for node in body
    )


def _first_place(nodes: tuple[Node, ...]) -> str:
    """Where the first stitches of a row go: `corner`, `row_ends`, an edge as `Evenly` names it, or `stitch`."""
    for node in nodes:
        if isinstance(node, Work):
            place = node.into
            if place.kind == "row_ends" or place.what == "row_end":
                return "row_ends"
            return "corner" if place.what == "corner" else "stitch"
        if isinstance(node, Times):
            return _first_place(node.body)
        if isinstance(node, Evenly):
            return node.along
    return ""


def _is_swept(place: Place) -> bool:
    """Whether a phrase speaks of every place of a kind that the row below has, in one of its rows and no group."""
    plain = place.group is None and place.row is None and not place.free
    plain = plain and (place.below is None or place.what == "skipped")
    each = place.kind == "each" or (place.kind == "next" and place.what == "skipped" and place.count is None)
    return each and place.rest is None and place.what != "row_end" and plain


def _is_laid_over(work: Work) -> bool:
    """Whether a phrase lays chains over spaces: nothing of it goes into them."""
    return work.into.what == "space" and all(item.stitch == "chain" for item in work.group)
