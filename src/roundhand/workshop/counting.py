"""A text read and counted, without the edit: what is wanted at every keystroke."""

from __future__ import annotations

from roundhand import notation, tally
from roundhand.findings import Source, in_order
from roundhand.workshop.reading import Reading


def counted(text: str) -> Reading:
    """Any text read and counted. Its findings are those of reading and counting alone.

    >>> [row.worked for row in counted("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)").tally.rows()]
    [(6,)]
    """
    pattern, read = notation.read(text)
    found, more = tally.count(pattern)
    return Reading(Source(text), pattern, found, tuple(in_order([*read, *more])))
