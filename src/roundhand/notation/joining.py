"""Work joined to other work: to another motif as it is made, and an opening drawn together by a thread."""

from __future__ import annotations

import re

from roundhand.notation.cursor import Cursor
from roundhand.notation.pieces import Pieces
from roundhand.notation.reach import to_separator
from roundhand.notation.tree import Amount, Attach, Gather, Note

_MOTIF = re.compile(
    r"(?P<motif>(?:first|second|third|fourth|1st|2nd|3rd|4th|last|previous|prev|adjacent|adjoining|neighbou?ring|other"
    r"|next|completed|finished|preceding|corresponding|joined|same)\s+(?:(?:completed|finished|joined|made)\s+)?"
    r"(?:motif|square|hexagon|granny(?:\s+square)?|block|flower|strip|tile|circle|triangle|medallion|snowflake|rosette"
    r"|octagon|pentagon|piece|panel|wheel)s?\b"
    r"|(?:motif|square|hexagon|block|flower|strip|tile|medallion|rosette|panel)\s+(?:[A-Z]\b|\d+|one|two|three)"
    # A neighbour's place without its name: "sl st in adjacent corner, ch 1".
    r"|(?:adjacent|adjoining|neighbou?ring|opposing)\s+(?:corner|ch-?\s?\d|chain|sp\b|space|loop|lp\b|picot|arch|st\b"
    r"|stitch))",
    re.IGNORECASE,
)
_PLACES = (
    ("corner", r"\bcorner"),
    ("space", r"\bsps?\b|\bspaces?\b|\bloops?\b|\bch-\d|\bpicot"),
    ("stitch", r"\bst\b|\bstitch"),
)
_ONE_JOIN = re.compile(r"\b(?:sl\s?sts?|slst|slip\s+st(?:itch)?|ss|join(?:ing)?)\b", re.IGNORECASE)


def read_attach(cursor: Cursor, pieces: Pieces) -> bool:
    """`sl st in ch-3 corner of first motif`, `join with sl st to adjacent motif`: a stitch that joins the motif in hand
    to another; False (and nothing taken) for any other words."""
    token = cursor.token
    if token is None or not (
        (token.kind == "stitch" and token.value == "slip_stitch")
        or (token.kind == "word" and token.value in ("join", "in", "work"))
    ):
        return False
    start = cursor.position
    said = cursor.text[token.start : to_separator(cursor).end]
    found = _MOTIF.search(said)
    if found is None or not _ONE_JOIN.search(said):
        cursor.position = start
        return False
    where = next((what for what, build in _PLACES if re.search(build, said, re.IGNORECASE)), "")
    if token.value == "join" and not where and not pieces.worked and not re.search(r"\bsl|\bss\b|slip", said):
        cursor.position = start
        return False
    pieces.append(Attach(found["motif"], where, cursor.since(start)))
    return True


def read_replaced(cursor: Cursor) -> Note | None:
    """`replace ch 3 by` in front of what is made for it, `ch 1, sl st in corner sp of first motif, ch 1`: the chains
    that are not made here; None (nothing taken) for anything else."""
    start = cursor.position
    if not cursor.take_name("replace", "replacing"):
        return None
    cursor.take_word("the")
    chains = cursor.at("stitch", "chain")
    while chains and (token := cursor.token) is not None and token.text not in (",", ";", ".", ":"):
        cursor.position += 1
        if token.text.lower() in ("by", "with"):
            return Note(cursor.since(start))
    cursor.position = start
    return None


def read_gathering(cursor: Cursor) -> Gather | Note:
    """`weave tail through last 6 sts and pull`, `gather top`: an opening drawn together; a note for other weaving."""
    start = cursor.position
    first = cursor.take().value
    amount: Amount | None = None
    through = tight = False
    while (token := cursor.token) is not None and not (token.kind == "mark" and token.text in (".", ";", ")", "]")):
        lower = token.text.lower()
        if token.kind == "word" and token.value == "through":
            through = True
        tight = tight or lower in ("pull", "tight", "tightly", "close", "closed", "cinch", "gather", "draw", "shut")
        tight = tight or (token.kind == "word" and token.value == "gather")
        number = cursor.amount() if through and amount is None else None
        if number is not None:
            if cursor.word("stitch") or cursor.at("stitch") or cursor.word("remaining", "last"):
                amount = number
            continue
        cursor.position += 1
    if first == "gather" or (through and (tight or amount is not None)):
        return Gather(cursor.since(start), amount)
    return Note(cursor.since(start))
