"""What a row really has to work into: the row below alone, or with its chains, or on into what was left before.

A short row leaves places that lie beyond the end of the row that comes back to them. They are places of a later row
only where it says so, or where its numbers reach that far.
"""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from roundhand.notation.tree import Chain, Evenly, Node, Note, Place, Skip, Times, Turn, Work, Yarn
from roundhand.tally.model import Choice, Offer
from roundhand.tally.readings import walk

# The keys of readings that hold for a whole row, whatever its words.
LEFT = -1_001
CHAINS = -1_002
WITH_LEFT = "with those left"
WITH_CHAINS = "with chains"


def entered(offer: Offer, nodes: tuple[Node, ...], readings: Mapping[int, str]) -> Offer:
    """The places that a row works into, read in one way.

    >>> offer = Offer("row", 15, after=5)
    >>> entered(offer, (), {}).total, entered(offer, (), {LEFT: WITH_LEFT}).total
    (15, 20)
    """
    if offer.kind != "row":
        return offer
    widened = widening(offer, nodes)
    if widened:
        layout = b"s" * widened + offer.layout if offer.layout else b""
        corners = tuple(at + widened for at in offer.corners)
        offer = msgspec.structs.replace(
            offer, total=offer.total + widened, layout=layout, corners=corners, turning=0, chained=widened
        )
    if not (offer.after or offer.chains):
        return offer
    if offer.chains and (readings.get(CHAINS) == WITH_CHAINS or says_chains(nodes)):
        offer = msgspec.structs.replace(
            offer, total=offer.total + offer.chains, layout=b"", chains=0, lengths=b"", corners=(), runs=_runs(offer)
        )
    if offer.after and (readings.get(LEFT) == WITH_LEFT or says_left(nodes)):
        layout = offer.layout + b"s" * offer.after if offer.layout else b""
        offer = msgspec.structs.replace(offer, total=offer.total + offer.after, layout=layout, after=0)
    return offer


def _runs(offer: Offer) -> tuple[tuple[int, int], ...]:
    """Where the chains of a row lie among its places when each of them is one."""
    if len(offer.lengths) != offer.layout.count(b"o"):
        return ()
    found: list[tuple[int, int]] = []
    at = 0
    for place in offer.layout:
        long = offer.lengths[len(found)] if place == ord("o") else 1
        if place == ord("o"):
            found.append((at, at + long))
        at += long
    return tuple(found)


def widening(offer: Offer, nodes: tuple[Node, ...]) -> int:
    """The chains that widen a row at its beginning, made at the end of the row below or as its first words, where the
    row is worked back along them: `ch 20, turn`, then `sc in 2nd ch from hook and in each ch and st across`."""
    if offer.chained:
        return 0
    chains = offer.turning
    for node in nodes:
        if isinstance(node, Chain):
            chains = (node.amount.values[0] or 0) if len(node.amount.values) == 1 else 0
        elif isinstance(node, Work):
            return chains if chains >= 2 and _from_hook(node) else 0
        elif not isinstance(node, Note | Yarn | Turn):
            return 0
    return 0


def _from_hook(node: Work) -> bool:
    """Whether stitches go into a chain counted from the hook; a slip stitch there closes a picot."""
    return node.into.kind == "from_hook" and any(item.stitch != "slip_stitch" for item in node.group)


def says_left(nodes: tuple[Node, ...]) -> bool:
    """Whether the words go on into what was left: `including unworked sts`, `in next 3 unworked sts of Row 1`."""
    return any(
        isinstance(node, Work) and (node.into.also == "left" or node.into.what == "skipped") for node in walk(nodes)
    )


def says_chains(nodes: tuple[Node, ...]) -> bool:
    """Whether the words work into single chains of the row below: `in each st and in each ch`, `in next 6 ch`.

    A row that names spaces takes each run of chains as one of them."""
    places = [node.into for node in walk(nodes) if isinstance(node, Work)]
    if names_space(nodes):
        return False
    return any(place.also == "chain" or (place.what == "chain" and place.kind in ("next", "each")) for place in places)


def choices_entering(nodes: tuple[Node, ...], offers: tuple[Offer, ...], counted: bool) -> tuple[Choice, ...]:
    """The choices of what a row works into; `counted` is true where the row states a count."""
    found = (_of_left(nodes, offers), _of_chains(nodes, offers) if counted else None)
    return tuple(choice for choice in found if choice is not None)


def _of_left(nodes: tuple[Node, ...], offers: tuple[Offer, ...]) -> Choice | None:
    """Whether a row goes on into what was left before; None where nothing was, or the words settle it.

    It is plain where the row works a fixed number: then the places tell. Where the rest was put aside, to be taken up
    by a yarn joined anew, "across" ends where the stitches in hand do."""
    beyond = [offer for offer in offers if offer.after]
    if not beyond or says_left(nodes):
        return None
    first = next((node for node in nodes if isinstance(node, Work | Times | Evenly | Skip)), None)
    if first is None:
        return None
    clear = all(offer.put_aside for offer in beyond) or not any(_is_open(node) for node in walk(nodes))
    return Choice("left stitches", first.span, ("own", WITH_LEFT), LEFT, clear)


def _of_chains(nodes: tuple[Node, ...], offers: tuple[Offer, ...]) -> Choice | None:
    """Whether the chains of the row below are stitches of a row that says nothing of them, as after an underarm."""
    if not any(offer.chains for offer in offers) or says_chains(nodes):
        return None
    places = [node.into for node in walk(nodes) if isinstance(node, Work)]
    lace = names_space(nodes) or any(isinstance(node, Skip) for node in walk(nodes))
    if not places or lace or any(map(_is_each_stitch, places)):
        return None
    return Choice("each stitch", nodes[0].span.to(nodes[-1].span), ("stitches", WITH_CHAINS), CHAINS, True)


def names_space(nodes: tuple[Node, ...]) -> bool:
    """Whether a row works into a chain space, or passes one over."""
    return any(
        (isinstance(node, Work) and (node.into.what in ("space", "corner") or node.into.until))
        or (isinstance(node, Skip) and node.what == "space")
        for node in walk(nodes)
    )


def _is_each_stitch(place: Place) -> bool:
    return place.kind == "each" and place.what == "stitch" and place.rest is None


def _is_open(node: Node) -> bool:
    """Whether a phrase goes on to the end, wherever that is."""
    if isinstance(node, Times):
        return node.mode == "rest"
    return isinstance(node, Evenly) or (isinstance(node, Work) and node.into.kind in ("each", "last"))
