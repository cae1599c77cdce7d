"""Chains told as a sum: `ch 83 + 1 for turning`, `83 chain + 1`: those of the row and those that it turns with."""

from __future__ import annotations

from roundhand.findings import Finding
from roundhand.notation.cursor import Cursor
from roundhand.notation.reach import pass_purpose
from roundhand.notation.tree import Amount

# More than one climbs with is a part of the stitches, which the words would name.
_MOST = 12


def with_more_chains(cursor: Cursor, number: Amount, start: int) -> Amount:
    """The number of chains with those added behind it; what they are for is passed over. `start` is the token that the
    phrase begins with."""
    at = cursor.position
    more = _added(cursor)
    if more is None:
        cursor.position = at
        pass_purpose(cursor)
        return number
    words = cursor.position
    pass_purpose(cursor)
    purpose = " ".join(token.text.lower() for token in cursor.tokens[words : cursor.position])
    span = cursor.since(start)
    sizes = max(len(number.values), len(more.values))
    values = []
    for size in range(sizes):
        one, two = number.at(size), more.at(size)
        values.append(one + two if one is not None and two is not None else None)
    if any(token.value == "increase" for token in cursor.tokens[words : cursor.position]):
        cursor.findings.append(
            Finding(
                "reading-chosen",
                "advice",
                f"read so: {more.values[0]} more chain to turn with",
                span,
                because=f"\u201c{purpose}\u201d in a translated pattern is the height of the next row; a chain "
                "increases nothing",
                help="\u201cplus 1 ch to turn\u201d leaves no doubt",
                facts={"kind": "chain and more", "reading": "turning chain", "evidence": "usage"},
                label="read as the chain to turn with",
            )
        )
    return Amount(tuple(values), span, (span,) * sizes if sizes == 1 else ())


def _added(cursor: Cursor) -> Amount | None:
    """`+ 1`, `plus 2 chains`; None where stitches follow, as in `ch 2 + 3 dc`. What is taken is for the caller to put
    back."""
    comma = cursor.mark(",")
    if comma:
        cursor.position += 1
    start = cursor.position
    if not (cursor.mark("+") or cursor.take_name("plus")):
        return None
    if cursor.position == start:
        cursor.position += 1
    more = cursor.amount()
    if more is None or any(value is None or not 0 < value <= _MOST for value in more.values):
        return None
    cursor.take_name("extra", "more")
    cursor.take_word("more")
    turning = cursor.take_word("turning_chain", "turn")
    if cursor.at("stitch", "chain"):
        cursor.position += 1
    if comma and not turning and not cursor.word("for"):
        return None
    if (
        turning
        or cursor.token is None
        or cursor.mark(".", ",", ";", ")", "]", "(")
        or cursor.word("for", "and", "turn")
    ):
        return more
    return more if cursor.tokens[cursor.position - 1].value == "chain" else None
