"""Places of chains that cannot be there: a loop of a chain space, a post of chains, a chain where none was made, the
other side of a ring."""

from __future__ import annotations

import re

from roundhand.checks.footing import Ground, Said, works
from roundhand.notation.place_kinds import kind_of
from roundhand.notation.tree import Chain, Work
from roundhand.stitches import dictionary
from roundhand.tally import RowTally, Tally, distinct

_LOOP = re.compile(
    r"\b(?:back|front|third|3rd|camel)\s+(?:loops?|lps?)\b|[bf]lo?\b|\b[bft]lps?\b|\btbl\b|\bback\s+(?:bumps?|bars?)\b",
    re.IGNORECASE,
)
_ARCH = re.compile(r"sp\b|\bsps\b|\bspaces?\b|\b(?:loops?|lps?|arch(?:es)?)\b", re.IGNORECASE)
_POST = re.compile(r"\bposts?\b", re.IGNORECASE)
_AND = re.compile(r"\band\b|&|,", re.IGNORECASE)


def loop_of_space(ground: Ground) -> Said | None:
    """`in back loop of next ch-2 sp`."""
    node = ground.node
    if not isinstance(node, Work) or node.into.what != "space" or node.into.loop not in ("front", "back", "third"):
        return None
    said = node.span.of(ground.text)
    if _AND.search(said) or not _LOOP.search(said):
        # Loops said for the whole row, or for the stitches beside the spaces.
        return None
    return Said(
        f"{node.into.loop} loop",
        "loop of a space",
        "a chain space has no loops of its own",
        "a space lies under its chains: the hook goes beneath them, not into a loop",
        "leave the loop out, or name the ch whose loop is meant",
        node.into.span,
    )


def post_of_chain(ground: Ground) -> Said | None:
    """`fpdc around next ch-1 sp`, or round a foundation chain or a ring."""
    node, offer = ground.node, ground.offer
    if not isinstance(node, Work) or not _posted(node, ground.text):
        return None
    place = node.into
    if place.row is not None or place.below is not None:
        return None
    space = place.what == "space" and _ARCH.search(place.span.of(ground.text)) is not None
    first = offer is not None and offer.kind in ("chain", "ring")
    if not (space or first or place.kind in ("ring", "from_hook") or place.what == "chain"):
        return None
    side = "back" if any(item.stitch.startswith("back_post_") for item in node.group) else "front"
    below = "a ring" if place.kind == "ring" or (offer is not None and offer.kind == "ring") else "a chain"
    return Said(
        f"{side} post",
        "post of a chain",
        f"{'a chain space' if space else below} has no post",
        "only a stitch of the row below has a post that the hook can go round",
        "work a plain stitch there, or go round the post of a stitch",
        node.span,
        f"post in {ground.row.label}",
    )


def _posted(node: Work, text: str) -> bool:
    if node.into.post or _POST.search(node.into.span.of(text)):
        return True
    return any(item.stitch.startswith(("front_post_", "back_post_")) for item in node.group)


def chain_unmade(ground: Ground) -> Said | None:
    """`sc in next ch` where nothing below has a chain."""
    node, offer = ground.node, ground.offer
    if not isinstance(node, Work) or node.into.what != "chain" or offer is None or offer.kind != "row":
        return None
    place = node.into
    if place.kind == "from_hook" or place.nth is not None or place.row is not None or place.free or place.also:
        return None
    if any(isinstance(other, Chain) for other in works(ground.row.nodes[ground.size] or ())):
        return None
    if (
        not ground.before
        or _begun_on_chain(ground.tally)
        or any(_has_chains(row, ground.size) for row in ground.before)
    ):
        return None
    below = ground.before[-1].label_in(ground.size)
    return Said(
        "chain",
        "chain",
        "no ch there",
        f"no row up to {below} makes a chain",
        "work into the next st, or make the chain in the row below",
        place.span,
        f"no chain in {ground.row.label}",
    )


def _has_chains(row: RowTally, size: int) -> bool:
    result = row.results[size]
    made = distinct(result.made) if result is not None else ()
    return any(run.stitch in ("chain", "turning_chain") or _holds_chains(run.stitch) for run in made) or any(
        isinstance(node, Chain) for node in works(row.nodes[size] or ())
    )


def _holds_chains(stitch: str) -> bool:
    known = dictionary().get(stitch)
    return known is None or any(part.stitch == "chain" for part in known.parts)


def _begun_on_chain(tally: Tally) -> bool:
    """Whether any piece of the page has a foundation to come back to, of chains or of foundation stitches."""
    for piece in tally.pieces:
        if any(offer.kind not in ("none", "ring") for offer in piece.start):
            return True
        if any(isinstance(node, Chain) for step in piece.steps for node in step.step.nodes):
            return True
        for row in piece.rows:
            if any(offer is not None and offer.kind in ("chain", "ends") for offer in row.below):
                return True
            if any("foundation" in run.stitch for result in row.results if result for run in distinct(result.made)):
                return True
    return False


def no_other_side(ground: Ground) -> Said | None:
    """`along the other side of the foundation chain` where nothing was begun on a chain."""
    if kind_of(ground.node) != "other side of the chain" or _begun_on_chain(ground.tally):
        return None
    if any(
        isinstance(node, Chain) and (node.amount.at(0) or 0) > 1 for node in works(ground.row.nodes[ground.size] or ())
    ):
        return None
    return Said(
        "other side of the chain",
        "other side",
        "no foundation chain there",
        f"nothing up to {ground.row.label_in(ground.size)} is begun on a chain",
        "begin on a chain, or name the row whose loops are worked into",
        ground.node.span,
        f"no chain in {ground.row.label}",
        "error",
    )
