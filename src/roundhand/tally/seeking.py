"""Places that have to be sought: loops a row left free, stitches of a group, gaps, chains by their number.

What is not there is noted beside the row, and the row is worked on as if it were.
"""

from __future__ import annotations

from roundhand.findings import Span
from roundhand.notation.depths import deepened
from roundhand.notation.tree import Amount, Chain, Group, Join, Node, Place, Work
from roundhand.stitches import dictionary
from roundhand.tally.endings import Endings
from roundhand.tally.model import Missing, distinct
from roundhand.tally.past import (
    at_depth,
    behind_space,
    chains_of,
    floors,
    free_loop,
    group_of,
    holds_group,
    labelled,
    loops_of,
    named_group,
    passes,
    skips,
)
from roundhand.tally.readings import walk

# How many chains a stitch that closes a round may stand for, "ch 1, dc in first st to join".
_JOINING = 5


class Seeking(Endings):
    """Finds the places that a row's words name. `doubts` are those that are not there."""

    whole: tuple[Node, ...] = ()
    # Where the hand stands behind a group that it worked into, and how many stitches that has.
    behind_group = (0, 0)

    def begin(self, nodes: tuple[Node, ...]) -> None:
        """What the whole row stands on: the row below, or the loops that a row further down left free."""
        self.whole = nodes
        if self.past is None or not (lower := self._lower(nodes)):
            return
        depth = self._free_depth(lower)
        if depth < 2:
            return
        offer = at_depth(self.past, depth)
        if offer is None:
            return
        chain = lower.row is not None and self.amount(lower.row) == 0
        self.free = lower.loop if chain else self._free_in(lower, depth)
        self.stands = depth
        self.offer = offer

    def _lower(self, nodes: tuple[Node, ...]) -> Place | None:
        """The first place, where every stitch of the row goes into loops left free, or along a row that is named."""
        places = [
            node.into
            for node in walk(nodes)
            if isinstance(node, Work) and node.into.kind not in ("same", "first", "made", "last", "ring", "from_hook")
        ]
        free = [place for place in places if place.free and place.below is None]
        along = [place for place in places if place.row is not None and place.loop and place.below is None]
        found = free or along
        return found[0] if found and len(found) == len(places) else None

    # How deep.

    def depth_of(self, node: Work) -> int:
        """How many rows lower the stitches are worked, 1 for the row below; missing rows are noted."""
        place = node.into
        if self.stands > 1:
            return 1
        if place.row is not None or (place.free and place.below is None):
            deep = max(1, self._free_depth(place))
            if place.free and deep > 1:
                self._free_in(place, deep)
            return deep
        deep = self._said_depth(node)
        if deep > 1 and deep > self.depth:
            self.missing.append(Missing(node.span, "row", deep, self.depth))
        if place.what == "skipped" and not self.skipped:
            return self._skipped_depth(place, deep)
        return max(deep, 1)

    def _said_depth(self, node: Work) -> int:
        place = node.into
        if place.below is None:
            deep = 0
            for item in node.group:
                found = self.definitions.get(item.alias) or self.definitions.get(item.stitch)
                if found is not None and found.deep is not None:
                    deep = max(deep, self._deepened(found.deep, found.from_next))
            return deep
        return self._deepened(place.below, place.from_next)

    def _deepened(self, below: Amount, from_next: bool) -> int:
        deep = self.amount(below) or 0
        if not deep or below.what == "counted":
            return deep
        return deepened(deep, self.readings.get(below.span.start, ""), from_next)

    def _free_depth(self, place: Place) -> int:
        """The depth of the row that is named, or of the nearest that has the loops free; 0 where there is none."""
        if place.row is not None:
            label = self.amount(place.row)
            if label is None or self.past is None:
                return 1
            found = labelled(self.past, label)
            if found is not None:
                return found[0]
            top = self.past.label or 0
            self.doubt(place.row.span, "named row", label, top)
            return 0
        wanted = place.loop if place.loop in ("front", "back") else ""
        for depth, _ in floors(self.past):
            loops = loops_of(self.past, depth)
            if depth > 1 and loops.taken and free_loop(loops, wanted):
                return depth
        if self.past is not None:
            self.doubt(place.span, "free loop", 1, 0, wanted)
        return 0

    def _free_in(self, place: Place, depth: int) -> str:
        """Which loop of that row is free; noted where none is."""
        wanted = place.loop if place.loop in ("front", "back") else ""
        loops = loops_of(self.past, depth)
        found = free_loop(loops, wanted)
        if not found:
            by = loops.taken.get(wanted) or loops.taken.get("both") or next(iter(loops.taken.values()), ("", 0))
            span = place.row.span if place.row is not None else place.span
            self.doubt(span, "free loop", 1, 0, f"{wanted}|{by[0]}")
        return found or wanted

    def _skipped_depth(self, place: Place, said: int) -> int:
        """How deep the stitches lie that a row went past: as said, else those of the nearest row that did."""
        if self.past is None:
            if self.offer.kind == "row" and self.offer.total:
                self.doubt(place.span, "skipped", 1, 0)
            return max(said, 1)
        passing = [depth + 1 for depth, floor in floors(self.past) if skips(floor)]
        if not passing and not self.offer.after:
            self.doubt(place.span, "skipped", 1, 0)
        if said > 1:
            return said
        return passing[0] if passing and passing[0] <= self.depth else 1

    # Stitches of a group, and gaps.

    def in_group(self, node: Work, place: Place, group: Group) -> None:
        """A stitch of each of so many groups, or the gaps between stitches or groups."""
        size = self.size_of(group)
        nth = group.nth
        if place.kind == "between" and nth < 0 and not group.every and self.behind_group == (self.at, size):
            # "Shell in next shell, dc between shells": the hand stands at the gap already.
            self.make(node, 1, 1)
            self.behind_group = (0, 0)
            return
        inside = place.kind == "between" and nth < 0 and not group.every and self._behind_space()
        if inside and (rest := behind_space(group.name, self.past, self.size, self.definitions)):
            # From the space of a group, as in a corner, the gap lies behind the stitches left of it.
            self.make(node, 1, 1)
            self._pass_quietly(rest)
            return
        where = size if nth < 0 else (size + 1) // 2 if nth == 0 else nth
        if where > size:
            self.doubt(place.span, "stitch of", where, size)
            size = where
        if place.kind == "between" and self._is_space(where):
            self._gap_spaces(node, place, group)
            return
        if place.kind == "within" and nth == 0 and size > 1 and self._is_space(size // 2):
            # The middle of a V-stitch is the space in it.
            self._middle_spaces(node, place, group, size)
            return
        times = self.amount(place.count) if place.count is not None else 1
        rest = 0
        if group.every:
            room = self.remaining()
            rest = 1 if group.flat and place.kind == "between" else 0
            times = max(0, room - (size if rest else 0)) // size
            rest = min(size, room) if rest else room - times * size
        if times is None:
            self.unknown = True
            return
        self.around = (where - 1, size - where)
        self.make(node, times, 1)
        self.around = (0, 0)
        self.pass_by(times * size)
        if group.every and rest and group.flat:
            self.pass_by(rest)
        if place.kind == "within" and not group.every:
            self.behind_group = (self.at, size)

    def _behind_space(self) -> bool:
        """Whether the hand stands behind a chain space that was just worked into, with stitches ahead."""
        layout, at = self.offer.layout, self.at
        return self.on_space and layout[at - 1 : at + 1] == b"os"

    def _middle_spaces(self, node: Work, place: Place, group: Group, size: int) -> None:
        times = self.offer.layout.count(b"o", self.at) if group.every else 1
        if not group.every and place.count is not None:
            times = self.amount(place.count) or 0
        for _ in range(times):
            if not self.to_space(place.span):
                break
            self._pass_quietly(size - size // 2)
        self.make(node, times, 1)
        if not group.every:
            self.behind_group = (self.at, size)

    def pass_rest(self, group: Group) -> None:
        """Behind the space of a group, the stitches of it that follow: "shell in ch-2 sp of next shell"."""
        self._pass_quietly(behind_space(group.name, self.past, self.size, self.definitions))

    def _pass_quietly(self, stitches: int) -> None:
        """Moves past stitches as a skip that is implied; a space ends it."""
        layout = self.offer.layout
        for _ in range(stitches):
            if layout[self.at : self.at + 1] != b"s":
                break
            self.at += 1
            self.gone += 1

    def group_called(self, place: Place) -> Group | None:
        """The groups that a place is called by, "in next shell", where the row below is made of them: the hook goes
        into the middle of each. None for a place that is a single stitch."""
        if not place.named or place.kind not in ("next", "each") or place.rest is not None or place.post:
            return None
        size = named_group(place.named, self.size, self.definitions)
        if size is None or size < 2 or not holds_group(place.named, self.past):
            return None
        return Group(place.span, None, place.named, 0, place.kind == "each")

    def gaps_for(self, place: Place) -> Group | None:
        """The gaps that spaces are meant by, where the row below is groups side by side without chains: "in each sp"
        of a granny round. None where the spaces are of chains."""
        if self.offer.layout or self.past is None or place.length is not None or place.kind not in ("each", "next"):
            return None
        if group_of(self.past, self.size, self.definitions) < 2:
            return None
        return Group(place.span, None, "", -1, place.kind == "each")

    def _is_space(self, stitches: int) -> bool:
        """Whether a chain space lies behind so many stitches from here, "in sp between groups", "in centre of V-st"."""
        layout, at = self.offer.layout, self.at
        for _ in range(stitches):
            at = layout.find(b"s", at) + 1
            if not at:
                return False
        return layout[at : at + 1] == b"o"

    def _gap_spaces(self, node: Work, place: Place, group: Group) -> None:
        times = self.offer.layout.count(b"o", self.at) if group.every else 1
        if not group.every and place.count is not None:
            times = self.amount(place.count) or 0
        for _ in range(times):
            if not self.to_space(place.span):
                break
        self.make(node, times, 1)

    def size_of(self, group: Group) -> int:
        """How many stitches a group of the row below has, as said, as defined, or as the row below was worked."""
        if group.size is not None:
            return max(1, self.amount(group.size) or 1)
        own = group.name in self.definitions
        known = named_group(group.name, self.size, self.definitions) if group.name else None
        below = group_of(self.past, self.size, self.definitions)
        if known is not None and (own or below < 2):
            return max(1, known)
        # What the trade calls a shell has as many stitches as the row below gave it.
        return max(1, below)

    # What a place is called must be there.

    def look_closely(self, node: Work, place: Place, depth: int) -> None:
        """Notes a third loop that the stitches below have not, and chains by a number that none has."""
        if place.loop == "third" and depth == 1 and self.past is not None and self.offer.kind == "row":
            kinds = {run.stitch for run in distinct(self.past.worked.made) if run.counts}
            plain = {kind for kind in kinds if kind in dictionary() and _without_bar(kind)}
            if kinds and plain == kinds:
                self.doubt(place.span, "third loop", 1, 0, next(iter(sorted(kinds))))
        if place.length is not None and place.nth is not None and place.nth > place.length:
            self.doubt(place.span, "chain of", place.nth, place.length)
            return
        if place.what == "space" and place.length is not None and depth == 1 and self.offer.layout:
            self._space_length(place, place.length)
        elif place.what == "turning_chain" and (place.length is not None or place.nth is not None):
            self._turning_length(place)

    def _space_length(self, place: Place, length: int) -> None:
        if self.past is None:
            return
        there = self._chains(self.past.nodes)
        if not there:
            return
        known = set(there)
        # A chain may be told by millions: a length is held against its bounds and not looked up among them.
        start = next((node for node in self.past.nodes if isinstance(node, Chain)), None)
        first = self.amount(start.amount) if start is not None else None
        if first is not None and 1 <= length < first:
            return
        before: Node | None = None
        for node in self.past.nodes:
            if isinstance(node, Join) and isinstance(before, Chain):
                last = self.amount(before.amount) or 0
                if last <= length <= last + _JOINING:
                    return
            before = node
        if self.past.under is not None and passes(self.past):
            known |= self._chains(self.past.under.nodes)
        if length not in known:
            self.doubt(place.span, "space length", length, max(there))

    def _turning_length(self, place: Place) -> None:
        if self.past is None or (self.depth < 2 and any(_from_hook(node) for node in walk(self.past.nodes))):
            # The chains skipped at the start of a foundation have no words of their own.
            return
        there = self._chains(self.whole) | self._chains(self.past.nodes)
        if self.past.under is not None:
            there |= self._chains(self.past.under.nodes)
        if not there or self.offer.turning:
            return
        if place.length is not None and place.length not in there:
            self.doubt(place.span, "turning chain", place.length, max(there))
        elif place.length is None and place.nth is not None and place.nth > max(there):
            self.doubt(place.span, "chain of", place.nth, max(there))

    def _chains(self, nodes: tuple[Node, ...]) -> set[int]:
        return chains_of(nodes, self.size, self.definitions)

    def doubt(self, span: Span, what: str, wanted: int, there: int, told: str = "") -> None:
        """Notes a place that is not there, once for its words."""
        self.doubts.setdefault((span.start, what), Missing(span, what, wanted, there, told))


def _from_hook(node: Node) -> bool:
    return isinstance(node, Work) and node.into.kind == "from_hook"


def _without_bar(stitch: str) -> bool:
    """Whether no bar lies behind the top of a stitch: the yarn over made before the hook goes in is the bar, where it
    comes off with the last loops, as in a half double (common practice)."""
    recipe = dictionary()[stitch].recipe
    return bool(recipe) and (recipe[0].act != "yarn over" or (recipe[-1].act, recipe[-1].loops) == ("pull through", 2))
