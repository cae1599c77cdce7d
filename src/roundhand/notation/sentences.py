"""Sentences to the maker rather than the hook: found by how they open, and kept as notes."""

from __future__ import annotations

from collections.abc import Sequence

from roundhand.notation.cursor import Cursor
from roundhand.notation.edges import read_along
from roundhand.notation.tokens import Token
from roundhand.notation.tree import Note

# Words that open a sentence for the maker rather than the hook.
_OPENERS = ("marker", "weave", "gather", "note", "seam")
_COUNTS = frozenset(("counts", "counts_not"))
_NAMES = frozenset(
    ("mark", "note", "notes", "block", "stuff", "steam", "wash", "tip", "you", "it", "if", "be", "see", "remember",
     "for", "fold", "try", "wear", "enjoy", "check", "place", "hide", "continue", "push", "hold", "pin", "lay",
     "thread", "these", "this", "when", "always", "count", "piece", "hat", "cap", "band", "body", "there", "make",
     "keep", "move", "insert", "close", "pull", "end", "tighten", "from")
)  # fmt: skip
# Of these, the ones that may as well open an instruction: no note where a stitch to work follows.
_MAY_WORK = frozenset(
    ("for", "continue", "count", "you", "place", "it", "this", "make", "keep", "there", "close", "when", "if", "these",
     "end", "insert", "move", "hold", "fold", "from", "pull")
)  # fmt: skip
_TURNED_THINGS = ("the", "your", "it", "work", "piece", "band", "right", "hat", "inside")


def is_prose(cursor: Cursor, start: int) -> bool:
    """Whether the words from `start` read like a sentence to a person: most of them unknown to the trade."""
    words = [token for token in cursor.tokens[start : cursor.position] if token.kind != "mark"]
    unknown = sum(token.kind == "name" for token in words)
    return len(words) > 3 and unknown * 2 > len(words)


def opening_note(cursor: Cursor) -> Note | None:
    """A whole sentence that opens like a word to the maker and holds no stitch to work."""
    token = cursor.token
    if token is None or not _opens(cursor, token):
        return None
    lower = token.text.lower()
    if lower in _MAY_WORK and any(_may_work(other) for other in rest_of_sentence(cursor)):
        return None
    start = cursor.position
    depth = 0
    while cursor.position < cursor.end:
        said = cursor.take()
        if said.text in ("(", "[", "{"):
            depth += 1
        elif said.text in (")", "]", "}"):
            depth -= 1
        elif said.text == "." and depth <= 0:
            break
    return Note(cursor.since(start))


def _opens(cursor: Cursor, token: Token) -> bool:
    lower = token.text.lower()
    if (token.kind == "stitch" and token.value == "chain") or lower in ("turning", "beginning", "starting"):
        return _is_counting_sentence(cursor)
    if token.kind == "word" and token.value == "turn":
        after = cursor.ahead()
        turned = after is not None and after.kind in ("word", "name") and after.text.lower() in _TURNED_THINGS
        return turned and not _turns_to_edge(cursor)
    if token.kind == "word" and token.value == "skip":
        return any(other.text.lower() == "behind" for other in rest_of_sentence(cursor))
    if token.kind == "word" and token.value == "work":
        return any(
            other.kind == "name" and other.text.lower() in ("spiral", "spirals") for other in rest_of_sentence(cursor)
        ) and not any(_may_work(other) for other in rest_of_sentence(cursor))
    return (token.kind == "word" and token.value in _OPENERS) or lower in _NAMES


def _turns_to_edge(cursor: Cursor) -> bool:
    """`Turn work 90 degrees, sc in each row end`: the work goes on along another edge."""
    start = cursor.position
    along = read_along(cursor)
    cursor.position = start
    return along is not None


def _is_counting_sentence(cursor: Cursor) -> bool:
    """`The ch 2 does not count as a stitch`: a sentence of its own about chains, without a list of instructions."""
    if cursor.said.isdisjoint(_COUNTS):
        return False
    rest = rest_of_sentence(cursor)
    says = any(other.kind == "word" and other.value in ("counts", "counts_not") for other in rest)
    return says and not any(other.text in ("(", "[", ",") for other in rest)


def _may_work(token: Token) -> bool:
    return token.kind in ("stitch", "defined", "colour") or (
        token.kind == "word" and token.value in ("increase", "decrease", "repeat", "skip", "row", "round")
    )


def rest_of_sentence(cursor: Cursor) -> Sequence[Token]:
    """The tokens from the cursor to the next full stop."""
    try:
        stop = cursor.low.index(".", cursor.position, cursor.end)
    except ValueError:
        stop = cursor.end
    return cursor.tokens[cursor.position : stop]
