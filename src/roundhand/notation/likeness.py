"""Whether two trees say the same, wherever their words stand."""

from __future__ import annotations

import msgspec

from roundhand.findings import Span


def alike(one: object, other: object) -> bool:
    """Whether two values of the tree are the same but for the places of their words.

    >>> from roundhand.notation import read
    >>> long, _ = read("Cap\\n\\nRnd 1: 6 single crochet in a magic ring")
    >>> short, _ = read("Cap\\n\\nRound 1.  6 sc in a magic ring.")
    >>> alike(long.parts, short.parts)
    True
    """
    if isinstance(one, Span) or isinstance(other, Span):
        return isinstance(one, Span | None) and isinstance(other, Span | None)
    if type(one) is not type(other):
        return False
    if isinstance(one, msgspec.Struct):
        return all(alike(getattr(one, name), getattr(other, name)) for name in one.__struct_fields__ if name != "spans")
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(map(alike, one, other))
    return one == other
