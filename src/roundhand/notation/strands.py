"""Several strands worked as one: `2 strands of A held together`, `A and B held together`, `A held double`.

A yarn node names them by their labels with a plus between, `A+A`, `A+B`, in the order of the words. Where no yarn is
named, `2 strands held together`, `yarn held double`, the pluses stand alone: `+` is two of whatever is in hand.
"""

from __future__ import annotations

from roundhand.notation.cursor import Cursor
from roundhand.notation.tree import Yarn

_STRANDS = ("strand", "strands", "thread", "threads", "end", "ends", "length", "lengths")
_TOGETHER = ("together", "tog")
_HELD = ("held", "holding", "hold", "used", "using", "worked", "work", "taken", "run")
_FOLD = {"single": 1, "singly": 1, "double": 2, "doubled": 2, "triple": 3, "tripled": 3, "treble": 3}
_AND = ("and", "&", "+", "with", "plus")
_ONE = ("a", "one", "single")
_BOTH = ("both", "all")
_YARNS = ("yarn", "yarns", "thread", "wool", "cotton", "colour", "color")
# No stitch is worked with more strands than this (ours); what says more is no number of strands.
_MOST = 12


def read_strands(cursor: Cursor) -> str:
    """The strands that the words at the cursor hold together; empty, and nothing taken, where they name no more than a
    yarn."""
    start = cursor.position
    found = _all_of_them(cursor) or _named(cursor) or _nameless(cursor)
    if not found:
        cursor.position = start
    return found


def read_holding(cursor: Cursor) -> Yarn | None:
    """`holding A and B together`, `hold 2 strands of A together`; None, and nothing taken, for holding other things."""
    start = cursor.position
    if not cursor.take_name("hold", "holding", "use", "using"):
        return None
    strands = read_strands(cursor)
    if not strands:
        cursor.position = start
        return None
    return Yarn("with", strands, cursor.since(start))


def read_part(cursor: Cursor) -> int:
    """`one strand of`, `1 strand`, in front of a yarn that is cut or dropped: how many strands; 0 where not said."""
    start = cursor.position
    number, said = _number(cursor)
    if said:
        cursor.take_word("of", "the")
        return number
    cursor.position = start
    return 0


def _all_of_them(cursor: Cursor) -> str:
    """`both strands together`, `both colours held together`: one strand of each yarn that the pattern names."""
    if not cursor.take_name(*_BOTH):
        return ""
    cursor.take_word("the")
    labels = tuple(dict.fromkeys(cursor.lexicon.colours.values()))
    if len(labels) < 2 or not (cursor.take_name(*_STRANDS, "yarns", "colours", "colors")):
        return ""
    return "+".join(labels) if _together(cursor) else ""


def _named(cursor: Cursor) -> str:
    """Strands with their yarns, joined by "and"."""
    strands: list[str] = []
    counted = together = plus = False
    each = 1
    while True:
        before = cursor.position
        number, said = _number(cursor)
        shared = said and cursor.take_name("each")
        cursor.take_word("of")
        cursor.take_word("the")
        cursor.take_word("colour")
        if not cursor.at("colour"):
            cursor.position = before
            break
        each = number if shared else each
        label = cursor.take().value
        fold = _fold(cursor)
        strands += [label] * (fold or (number if said else each))
        counted = counted or said or fold > 0
        if len(strands) > _MOST:
            return ""
        together = _together(cursor) or together
        linked = cursor.position
        if not cursor.take_name(*_AND):
            break
        if not _leads_yarn(cursor):
            cursor.position = linked
            break
        plus = plus or cursor.tokens[linked].text == "+"
    several = len(set(strands)) > 1
    if not strands or (several and not (together or plus or counted)) or not (several or counted):
        return ""
    return "+".join(strands)


def _nameless(cursor: Cursor) -> str:
    """`two strands of yarn held together`, `yarn held double`, which name no yarn: that of the pattern where it has but
    one, else so many pluses."""
    number, said = _number(cursor)
    if said:
        cursor.take_word("of")
        cursor.take_word("the")
        cursor.take_name("same")
        cursor.take_name(*_YARNS)
        held = number > 1 and _together(cursor)
    else:
        cursor.take_word("the")
        held = cursor.take_name(*_YARNS) and (number := _fold(cursor)) > 1
    if not held:
        return ""
    labels = tuple(dict.fromkeys(cursor.lexicon.colours.values()))
    return "+".join([labels[0] if len(labels) == 1 else ""] * number)


def _number(cursor: Cursor) -> tuple[int, bool]:
    """How many strands are said, and whether they are: `2 strands`, `a strand`, `double strand`."""
    start = cursor.position
    cursor.take_word("the")
    token = cursor.token
    number = 1
    if token is not None and token.kind == "number" and token.number is not None:
        number = token.number
        cursor.position += 1
    elif token is not None and token.text.lower() in _FOLD:
        number = _FOLD[token.text.lower()]
        cursor.position += 1
    elif cursor.take_name(*_ONE):
        pass
    if cursor.mark("-"):
        cursor.position += 1
    if 0 < number <= _MOST and cursor.take_name(*_STRANDS):
        return number, True
    cursor.position = start
    return 1, False


def _fold(cursor: Cursor) -> int:
    """`held double`, `doubled`, `used double` behind a yarn: how many strands of it; 0 where not said."""
    start = cursor.position
    cursor.take_name(*_HELD)
    token = cursor.token
    if token is not None and token.text.lower() in _FOLD:
        cursor.position += 1
        cursor.take_name("stranded", "strand", "throughout")
        return _FOLD[token.text.lower()]
    cursor.position = start
    return 0


def _together(cursor: Cursor) -> bool:
    """Moves over `held together`, `together as one`."""
    start = cursor.position
    cursor.take_name(*_HELD)
    if cursor.take_word("together") or cursor.take_name(*_TOGETHER):
        at = cursor.position
        if not (cursor.take_word("as") and cursor.take_name("one", "1")):
            cursor.position = at
        cursor.take_word("throughout")
        return True
    cursor.position = start
    return False


def _leads_yarn(cursor: Cursor) -> bool:
    """Whether a yarn, or strands of one, come next."""
    start = cursor.position
    _number(cursor)
    cursor.take_word("of")
    cursor.take_word("the", "colour")
    found = cursor.at("colour")
    cursor.position = start
    return found
