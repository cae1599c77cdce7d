"""Stitches put aside while a piece is worked, and where a yarn that is joined anew takes them up again."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from roundhand.notation.tree import Leave, Node, Rejoin, Skip, Turn
from roundhand.tally.ground import ending
from roundhand.tally.model import Offer, Worked


class Held(msgspec.Struct, frozen=True):
    """Stitches of a row, by its label in the size, that wait: `left` at its end, or `skipped` under chains.

    `said` is true where the words left them on purpose."""

    what: str
    label: int | None
    offer: Offer
    said: bool


def held_of(result: Worked, below: Offer, nodes: tuple[Node, ...], label: int | None) -> list[Held]:
    """What a row leaves waiting of the row below, `below`."""
    found: list[Held] = []
    if below.kind != "row":
        return found
    if result.left:
        turned = any(isinstance(node, Turn) and node.made for node in nodes)
        offer = ending(below, result.left)
        if result.offer.before > result.left:
            # What an earlier short row left lies beyond it.
            offer = msgspec.structs.replace(offer, after=result.offer.before - result.left)
        found.append(Held("left", label, offer, result.leaves or turned))
    for stitches, chains in result.aside:
        offer = Offer("row", stitches, b"", 0, below.main, after=chains)
        found.append(Held("skipped", label, offer, True))
    return found


def take_up(held: list[Held], rejoin: Rejoin, size: int, passed: int) -> Offer | None:
    """The stitches that a joined yarn takes up, the first `passed` of them left out; None where there are none.

    What is taken is no longer held; what is passed over stays. A yarn joined without a word on why the stitches are
    free takes them up only where they were left on purpose."""
    at = _find(held, rejoin, size, passed)
    if at is None:
        return None
    found = held.pop(at)
    nth = rejoin.nth.at(size) if rejoin.nth is not None else None
    passed += max(0, (nth or 1) - 1)
    if passed:
        gap = msgspec.structs.replace(found.offer, total=min(passed, found.offer.total), layout=b"", after=0)
        held.insert(at, Held("left", found.label, gap, found.said))
    rest = max(0, found.offer.total - passed)
    return ending(found.offer, rest) if passed else found.offer


def _find(held: list[Held], rejoin: Rejoin, size: int, passed: int) -> int | None:
    label = rejoin.row.at(size) if rejoin.row is not None else None
    said = bool(rejoin.what or rejoin.row or rejoin.nth or passed)
    for what in ("skipped", "left") if rejoin.what == "skipped" else ("left", "skipped"):
        for named in (True, False):
            # The row that is named is the one that was left, or the one that left it.
            for at in range(len(held) - 1, -1, -1):
                one = held[at]
                fits = not named or label is None or one.label in (label, label + 1)
                if one.what == what and fits and (said or (one.said and one.what == "left")):
                    return at
    return None


def passed_before(nodes: Iterable[Node], size: int) -> int:
    """Stitches passed over before the yarn is joined: `Skip next 12 sts, rejoin yarn in next st`."""
    passed = 0
    for node in nodes:
        if isinstance(node, Rejoin):
            break
        if isinstance(node, Skip):
            passed += node.amount.at(size) or 0
    return passed


def rejoins(nodes: Iterable[Node]) -> Rejoin | None:
    """The yarn joined anew in a row or step, if there is one."""
    return next((node for node in nodes if isinstance(node, Rejoin) and node.what != "loops"), None)


def shut_out(nodes: Iterable[Node], size: int) -> int | None:
    """On how many stitches a step says that the work goes on: `Work on these 20 sts only.`"""
    only = next((node for node in nodes if isinstance(node, Leave) and node.only), None)
    return only.amount.at(size) if only is not None and only.amount is not None else None
