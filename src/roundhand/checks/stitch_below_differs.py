"""A row calls the stitches it goes into by name, and by their places they are others.

The words were copied from a row that stands on another one. The stitches may well come out in number; the shells stand
on the shells, or the maker counts and finds a stitch where the words have another.

Bad:
    Ch 20.
    Row 1: Sc in 2nd ch from hook, *dc in next ch, sc in next ch; rep from * across, turn. (19)
    Row 2: Ch 1, sc in first sc, *dc in next dc, sc in next sc; rep from * across, turn. (19)
    Row 3: Ch 1, sc in first sc, *dc in next dc, sc in next sc; rep from * across, turn. (19)
    Row 4: Ch 1, sc in next dc, *dc in next sc, sc in next dc; rep from * across, turn. (19)

Good:
    Ch 20.
    Row 1: Sc in 2nd ch from hook, *dc in next ch, sc in next ch; rep from * across, turn. (19)
    Row 2: Ch 1, sc in first sc, *dc in next dc, sc in next sc; rep from * across, turn. (19)
    Row 3: Ch 1, sc in first sc, *dc in next dc, sc in next sc; rep from * across, turn. (19)
    Row 4: Ch 1, sc in first sc, *dc in next dc, sc in next sc; rep from * across, turn. (19)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding
from roundhand.notation.place_kinds import stitch_named
from roundhand.notation.tree import Node, Times, Work
from roundhand.stitches import dictionary
from roundhand.tally import PieceTally, Worked, flat
from roundhand.tally.across import phrases
from roundhand.tally.sides import turned_between
from roundhand.terms import vocabulary
from roundhand.terms.vocabulary import Vocabulary

GROUP = "places"

# A row is looked at only where it names so many places, and no longer row than this is written out.
_FEWEST, _MOST_PLACES = 2, 2000
# What a word may stand for: any stitch.
_ANY = ""


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every row most of whose named places lie under stitches of other names."""
    words = vocabulary(sheet.pattern.language)
    for piece in sheet.tally.pieces:
        reliable = False
        for at in range(1, len(piece.rows)):
            row = piece.rows[at]
            size = next((size for size, result in enumerate(row.results) if result is not None), None)
            named = _named(sheet, piece, at, size, words) if size is not None else []
            if len(named) < _FEWEST:
                continue
            wrong = [one for one in named if not one[3]]
            if not wrong:
                # Somewhere on the page names are used by place, so that a row where they are not is odd.
                reliable = True
            elif reliable and len(wrong) * 2 >= len(named):
                yield _finding(sheet, piece, at, size or 0, wrong[0], len(wrong), len(named), words)
                # What stands on this row goes wrong with it.
                break


_Named = tuple[Work, str, str, bool]


def _named(sheet: Sheet, piece: PieceTally, at: int, size: int, words: Vocabulary) -> list[_Named]:
    """The places of a row that are called by a stitch: the phrase, the name, what lies there, and whether it fits."""
    row, below = piece.rows[at], piece.rows[at - 1]
    names = {id(node): _named_by(node, sheet.text, words) for node in _works(row.nodes[size] or ())}
    if not any(names.values()):
        return []
    result, under = row.results[size], below.results[size]
    offer = row.below[size]
    if result is None or under is None or offer is None or offer.kind != "row" or (row.rejoined and row.rejoined[size]):
        return []
    if (
        result.stands != 1
        or offer.layout
        or offer.before
        or offer.after
        or row.stated[size] not in (None, result.count)
    ):
        return []
    kinds = _kinds(under)
    walked = phrases(result, size)
    if walked is None or len(kinds) != offer.total or sum(uses for _, uses in walked) != len(kinds):
        return []
    said = turned_between(below, row, size)
    if said if said is not None else row.kind == "row":
        kinds = kinds[::-1]
    found: list[_Named] = []
    place = 0
    for node, uses in walked:
        here = kinds[place : place + uses]
        place += uses
        if not isinstance(node, Work) or not here:
            continue
        family = names.get(id(node), _ANY)
        if family and _ANY not in here:
            found.append((node, family, here[0], all(kind == family for kind in here)))
    return found


def _works(nodes: tuple[Node, ...]) -> Iterator[Work]:
    for node in nodes:
        if isinstance(node, Work):
            yield node
        elif isinstance(node, Times):
            yield from _works(node.body)


def _named_by(node: Work, text: str, words: Vocabulary) -> str:
    """What the words call the stitch that they go into; `_ANY` where they name none, or one of another row."""
    place = node.into
    if place.kind not in ("next", "first", "last", "nth") or place.below is not None or place.free:
        return _ANY
    name = stitch_named(place, text, words)
    return _family(name) if name else _ANY


def _kinds(result: Worked) -> list[str]:
    """What the stitches of a row are called, place by place; `_ANY` for what may be called in many ways."""
    kinds: list[str] = []
    for run in flat(result.made):
        if run.counts:
            kinds += [_family(run.stitch)] * run.count
        if len(kinds) > _MOST_PLACES:
            return []
    return kinds


def _family(stitch: str) -> str:
    known = dictionary().get(stitch)
    if stitch == "turning_chain" or known is None or known.parts or known.family.startswith(("tunisian", "chain")):
        return _ANY
    return known.family.removeprefix("extended_")


def _finding(
    sheet: Sheet, piece: PieceTally, at: int, size: int, first: _Named, wrong: int, named: int, words: Vocabulary
) -> Finding:
    node, name, there, _ = first
    row, below = piece.rows[at], piece.rows[at - 1]
    inside = row.line.span.start <= node.into.span.start < row.line.span.end
    said, lies = words.short(name), words.short(there)
    return Finding(
        "stitch-below-differs",
        "warning",
        f"{said} is named where {lies} lies",
        node.into.span if inside else row.line.label.span,
        tuple(one for one, label in zip(sheet.pattern.sizes, row.labels, strict=True) if label is not None),
        row=row.label_in(size),
        because=f"of {named} places that {row.label_in(size)} calls by a stitch, {wrong} lie over another st of "
        f"{below.label_in(size)}",
        help="look whether this row belongs on another one, or name the sts that are there",
        facts={"named": said, "there": lies, "wrong": wrong, "of": named},
        label=f"{lies} there",
    )
