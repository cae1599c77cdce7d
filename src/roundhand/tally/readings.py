"""Phrases with two readings: which there are in a row, what the notes settle, and what is usual.

The order of evidence is DESIGN's: what the notes say, stated counts in every size, later counts, the pattern's own
habit, usage.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import islice, product

from roundhand.findings import Span
from roundhand.notation.tree import (
    Amount,
    Chain,
    CountNote,
    Evenly,
    Join,
    Node,
    Place,
    Ring,
    RowLine,
    Skip,
    Times,
    Work,
)
from roundhand.stitches import dictionary
from roundhand.tally.how_often import (
    DECREASES,
    ONE,
    SO_MANY,
    choice_of_times,
    choices_before_colons,
    choices_of_every,
    is_number_of_decreases,
)
from roundhand.tally.last_places import over_a_gap
from roundhand.tally.lost_stars import choices_of_stars
from roundhand.tally.model import Choice, Offer

_MOST_WAYS = 64
_MOST_CHOICES = 6
# The key of a chain made at the end of the row before, which stands in no words of the row that it opens.
BEFORE = -1

Ways = list[dict[int, str]]


def chain_rules(lines: Iterable[RowLine], notes: Iterable[CountNote]) -> dict[int, bool]:
    """What the text says of turning chains: by number of chains (0: all of them), whether they count."""
    rules: dict[int, bool] = {}
    for note in notes:
        rules.setdefault(note.chains, note.counts)
    for line in lines:
        for node in line.nodes:
            if isinstance(node, Chain) and node.counts is not None and node.throughout:
                number = node.amount.values[0] or 0
                rules.setdefault(number, node.counts)
    return rules


def choices_of(nodes: tuple[Node, ...], rules: Mapping[int, bool]) -> tuple[Choice, ...]:
    """The choices of a row that its own words hold, each with its usual reading first."""
    found: list[Choice] = []
    ring = next((at for at, node in enumerate(nodes) if isinstance(node, Ring)), -1)
    # A chain joined in a ring climbs to no row; the one behind the ring does.
    leading = next((node for node in nodes[ring + 1 :] if isinstance(node, Work | Times | Chain | Evenly)), None)
    foundation = any(
        isinstance(node, Work)
        and node.into.kind == "from_hook"
        and any(item.stitch != "slip_stitch" for item in node.group)
        for node in nodes
    )
    if isinstance(leading, Chain) and leading.counts is None and not foundation:
        number = leading.amount.values[0] or 0
        if number >= 2 and number not in rules and 0 not in rules:
            found.append(_turning_chain(number, leading.span, leading.span.start, nodes))
    often = (choice_of_times(node) for node in walk(nodes) if isinstance(node, Times))
    found += [choice for choice in often if choice is not None]
    found += choices_before_colons(nodes)
    found += choices_of_stars(nodes)
    found += choices_of_every(nodes)
    hook = _skipped_chain(nodes)
    if hook is not None:
        found.append(hook)
    return tuple(found[:_MOST_CHOICES])


def choices_on(
    nodes: tuple[Node, ...], offers: Iterable[Offer], rules: Mapping[int, bool], counted: bool
) -> tuple[Choice, ...]:
    """The choices that arise from what lies below: a chain made before the turn, chains under "each stitch".

    `counted` is true where the row states a count; only then is a reading that goes against usage worth trying."""
    found: list[Choice] = []
    below = tuple(offers)
    chain = next((offer for offer in below if offer.turning >= 2 and offer.turning_counts is None), None)
    first = next((node for node in nodes if isinstance(node, Work | Times | Chain | Evenly | Skip)), None)
    said = chain is not None and (chain.turning in rules or 0 in rules)
    # A chain that the row is worked back along widens it and climbs nowhere.
    said = said or (isinstance(first, Work) and first.into.kind == "from_hook")
    if chain is not None and not said and first is not None and not isinstance(first, Chain):
        found.append(_turning_chain(chain.turning, first.span, BEFORE, nodes))
    if any(offer.chains for offer in below):
        each = next((node for node in walk(nodes) if isinstance(node, Work) and _each_stitch(node.into)), None)
        if each is not None:
            # A row that goes into spaces by other words, or names the stitch, means no chains by "each stitch".
            clear = counted or bool(each.into.called) or _into_spaces(nodes)
            at = each.into.span.start
            found.append(Choice("each stitch", each.into.span, ("stitches", "with chains"), at, clear))
    slips = _slips(nodes)
    if slips is not None:
        found.append(Choice("slip stitches", slips.span, ("counted", "not counted"), SLIPS, True))
    joined = [node for node in walk(nodes) if is_number_of_decreases(node)]
    if joined:
        found.append(Choice("number of decreases", _span(joined[0]), (SO_MANY, ONE), DECREASES, True))
    bare = [node for node in walk(nodes) if isinstance(node, Work) and is_bare_number(node)]
    if bare:
        found.append(Choice("bare number", bare[0].span, ("one in each", "all in one"), BARE, True))
    return tuple(found)


# The key of all bare numbers of a row, `2 sc`, which are read alike.
BARE = -1_000
# The key of all slip stitches of a row: some count them, to others they only lead on.
SLIPS = -1_003


def _slips(nodes: tuple[Node, ...]) -> Work | None:
    """The first slip stitches of a row that has other stitches as well; None where it is all of them, or none is."""
    works = [node for node in nodes if isinstance(node, Work | Times)]
    slips = [node for node in works if isinstance(node, Work) and is_slip(node)]
    return slips[0] if slips and len(slips) < len(works) else None


def is_slip(node: Work) -> bool:
    """Whether a phrase is slip stitches into stitches, one in each."""
    return len(node.group) == 1 and node.group[0].stitch == "slip_stitch" and node.into.what == "stitch"


def is_bare_number(node: Work) -> bool:
    """`2 sc`, `3 dc` with no place said: a stitch in each of the next, or in house shorthand all in one."""
    count = node.into.count
    return node.into.bare and count is not None and all(value in (2, 3, 4, 5) for value in count.values)


def _each_stitch(place: Place) -> bool:
    if place.post or place.free or place.group is not None or place.until:
        return False
    return place.kind == "each" and place.what == "stitch" and place.rest is None and not place.also


def _into_spaces(nodes: tuple[Node, ...]) -> bool:
    """Whether any words of a row lead into chains, their spaces or corners, or pass them over."""
    named = ("space", "chain", "corner", "loop", "other_side", "foundation", "row_end")
    for node in walk(nodes):
        if isinstance(node, Work) and (node.into.what in named or node.into.until or node.into.also):
            return True
        if isinstance(node, Skip) and node.what in named:
            return True
    return any(isinstance(node, Times) and node.until for node in walk(nodes))


def _span(node: Node) -> Span:
    return node.span


def _turning_chain(number: int, span: Span, key: int, nodes: tuple[Node, ...]) -> Choice:
    """A chain at the start of a row of which the text says nothing. What it is joined to, and where the first stitch
    goes, are signs; by common practice three chains and more count, and two are as often one as the other."""
    target = next((node.target for node in nodes if isinstance(node, Join)), "")
    first = next((node for node in nodes if isinstance(node, Work | Times | Evenly | Skip)), None)
    skips = isinstance(first, Skip) and first.first
    same = isinstance(first, Work) and first.into.kind == "first"
    if first is not None and number >= 3 and over_a_gap(first, number):
        return Choice("turning chain", span, _order(False), key, True)
    if target == "chain" or skips:
        return Choice("turning chain", span, _order(True), key, True)
    if target == "stitch" or (number == 2 and same):
        return Choice("turning chain", span, _order(False), key, True)
    return Choice("turning chain", span, _order(number >= 3), key, number >= 3)


def _opening(nodes: tuple[Node, ...]) -> tuple[Span, int, str] | None:
    """The words that skip chains at the start of a foundation, `dc in 4th ch from hook`, `skip 3 ch, dc in next ch`,
    how many they skip, and the stitch that comes first; None where no row begins so."""
    passed: Skip | None = None
    for node in walk(nodes):
        if isinstance(node, Skip) and node.what == "chain":
            passed = passed or node
        elif isinstance(node, Work):
            if not node.group:
                return None
            if node.into.kind == "from_hook":
                nth = (node.into.count.values[0] if node.into.count is not None else 1) or 1
                return node.span, nth - 1, node.group[0].stitch
            if passed is None:
                return None
            return passed.span, passed.amount.values[0] or 0, node.group[0].stitch
        elif passed is not None and (isinstance(node, Evenly) or _makes_chains(node)):
            # A chain made in the row itself is the foundation; one behind skipped chains is another matter.
            return None
    return None


def _makes_chains(node: Node) -> bool:
    return isinstance(node, Chain) and node.amount.values != (0,)


def _skipped_chain(nodes: tuple[Node, ...]) -> Choice | None:
    """Chains skipped at the start of a foundation: three before a double usually stand for one."""
    opening = _opening(nodes)
    stitch = dictionary().get(opening[2]) if opening is not None else None
    if opening is None or stitch is None or stitch.turning_chain is None:
        return None
    span, skipped, _ = opening
    if skipped < 2 or skipped < stitch.turning_chain:
        return None
    if any(isinstance(other, Chain) and other.counts is not None and other.amount.values == (0,) for other in nodes):
        return None
    usual = stitch.turning_chain_counts
    return Choice("skipped chain", span, _order(bool(usual)), span.start, usual is not None)


def said_of_hook(nodes: tuple[Node, ...]) -> dict[int, str]:
    """What an aside says of chains skipped at the start: `(3 skipped ch count as dc)`."""
    said = next(
        (
            node.counts
            for node in nodes
            if isinstance(node, Chain) and node.amount.values == (0,) and node.counts is not None
        ),
        None,
    )
    opening = _opening(nodes) if said is not None else None
    return {opening[0].start: "counts" if said else "does not count"} if opening is not None else {}


def _order(counted: bool) -> tuple[str, ...]:
    return ("counts", "does not count") if counted else ("does not count", "counts")


def walk(nodes: tuple[Node, ...]) -> Iterator[Node]:
    """All nodes, those inside repeats as well."""
    for node in nodes:
        yield node
        if isinstance(node, Times):
            yield from walk(node.body)


def combinations(choices: tuple[Choice, ...], habits: Mapping[str, str]) -> Ways:
    """All ways to read a row, the pattern's habit first, then usage; at most 64."""
    ordered = []
    for choice in choices:
        habit = habits.get(choice.kind)
        readings = choice.readings
        if habit in readings:
            readings = (habit, *(reading for reading in readings if reading != habit))
        ordered.append([(choice.key, reading) for reading in readings])
    ways = [dict(way) for way in islice(product(*ordered), _MOST_WAYS)]
    # The fewest departures from the habit first.
    base = ways[0]
    return sorted(ways, key=lambda way: sum(way[key] != base[key] for key in base))


def has_lists(nodes: tuple[Node, ...]) -> bool:
    """Whether any number in the nodes differs by size."""
    return any(len(amount.values) > 1 for node in walk(nodes) for amount in amounts_of(node))


def amounts_of(node: Node) -> Iterator[Amount]:
    """The numbers that a node holds itself, without those of nodes inside it."""
    if isinstance(node, Work):
        yield from (item.amount for item in node.group)
        yield from (one for one in (node.into.count, node.into.rest, node.into.below) if one is not None)
    elif isinstance(node, Times):
        yield from (one for one in (node.amount, node.rest) if one is not None)
    elif isinstance(node, Chain | Skip | Evenly):
        yield from () if node.amount is None else (node.amount,)
