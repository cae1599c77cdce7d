"""A place called by the name of a stitch that the row below has not: `in each dc` on a row of half doubles."""

from __future__ import annotations

from roundhand.checks.footing import Ground, Said
from roundhand.notation.place_kinds import stitch_named
from roundhand.notation.tree import Work
from roundhand.stitches import dictionary
from roundhand.tally import Worked, distinct


def named_otherwise(ground: Ground) -> Said | None:
    """What is told of a stitch that is not there under this name."""
    node, offer = ground.node, ground.offer
    if not isinstance(node, Work) or offer is None or offer.kind != "row" or offer.before or offer.after:
        return None
    place = node.into
    said = stitch_named(place, ground.text, ground.words)
    if not said or place.row is not None or place.below is not None or place.free or place.also:
        return None
    if place.kind not in ("next", "each", "nth", "first", "last") or not ground.before or _own_word(ground):
        return None
    below = ground.before[-1]
    result = below.results[ground.size]
    if result is None or not _whole(result) or any(ground.row.rejoined):
        return None
    made = {run.stitch for run in distinct(result.made) if run.counts}
    if "turning_chain" in made and place.kind != "each":
        # The chain may be what is meant: it stands for a stitch of any name.
        return None
    made -= {"turning_chain"}
    families = {_family(stitch) for stitch in made}
    if not made or "" in families or _family(said) in families or not _family(said):
        return None
    names = sorted(ground.words.short(stitch) for stitch in made)
    kinds = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
    return Said(
        "named stitch",
        "named stitch",
        f"no {ground.words.short(said)} there",
        f"{below.label_in(ground.size)} is worked in {kinds}",
        "name the st that is there, or say st",
        place.span,
        f"no {said}",
    )


def _own_word(ground: Ground) -> bool:
    """Whether the place is called by a word that the pattern gives a meaning of its own."""
    said = ground.node.span.of(ground.text).lower()
    return any(name.lower() in said for one in ground.tally.pattern.definitions.values() for name in one.names)


def _whole(result: Worked) -> bool:
    """Whether a row is worked to its end and understood, so that its stitches are all that lie below the next."""
    offer = result.offer
    return not (
        result.left or result.jumped or result.lacking or result.unread or result.missing or offer.after or offer.before
    )


_EXTENDED = "extended_"


def _family(stitch: str) -> str:
    """What a stitch is called by in the short: a plain stitch. Empty for what may be called in many ways."""
    known = dictionary().get(stitch)
    if known is None or known.parts or known.family.startswith(("tunisian", "chain")):
        return ""
    return known.family.removeprefix(_EXTENDED)
