"""Stated counts: `(24)`, `[66 sts]`, `= 24`, `- 66 hdc`, `(12 dc, 4 ch-2 sps)`, `24 sts` at the end of a row."""

from __future__ import annotations

from roundhand.notation.compound_counts import read_compound
from roundhand.notation.cursor import Cursor
from roundhand.notation.reach import to_separator
from roundhand.notation.tree import Amount, Stated
from roundhand.stitches import dictionary

_TIMES_AFTER = ("times", "in", "repeat", "around", "across", "over", "each")
_LONGEST_LEAD = 12
_TAKING_IN = frozenset(("including", "incl", "inclusive", "includes", "excluding", "excl"))
# A shorter word that is not known is rather a stitch mistyped than the name of something counted.
_SHORTEST_NOUN = 5
# What the parts of work from corner to corner are called (common practice); in other work they are what they are.
BLOCKS = frozenset(("block", "blocks", "tile", "tiles"))
_LED = frozenset("=-\u2013\u2014\u2212\u2192\u21d2")
# Words that may stand in front of a count in a sentence of its own: "You will now have 24 sts."
_LEAD_NAMES = frozenset(
    (
        "you",
        "there",
        "will",
        "should",
        "are",
        "have",
        "be",
        "now",
        "made",
        "a",
        "stitch",
        "count",
        "sts",
        "makes",
        "=",
        ":",
        "is",
    )
)
_LEAD_WORDS = frozenset(("total", "of", "for", "with", "the", "counts", "stitch"))
_AFTER_NAMES = (
    "made",
    "now",
    "total",
    "each",
    "every",
    "st",
    "sts",
    "altogether",
    "remain",
    "left",
    "stitches",
    "worked",
)


def bracket_count(cursor: Cursor, after_work: bool) -> Stated | None:
    """The count that a bracket at the cursor states, if it holds numbers and names of stitches alone.

    A bracket followed by `times`, `x 3` or `in next st` is a group, not a count; so is one of several stitch names
    before anything was worked.
    """
    start = cursor.position
    close = cursor.closing(start)
    if close is None:
        return None
    after = cursor.tokens[close + 1] if close + 1 < cursor.end else None
    if after is not None and after.kind == "word" and after.value in _TIMES_AFTER:
        return None
    if after is not None and after.kind == "number" and close + 2 < cursor.end:
        following = cursor.tokens[close + 2]
        if following.kind == "word" and following.value in ("times", "more"):
            return None
    cursor.position = start + 1
    counts = read_compound(cursor, close) or bracketed_counts(cursor, close)
    if counts is None or cursor.position != close:
        cursor.position = start
        return None
    counts = _of_sizes(cursor, counts, start)
    named = [unit for _, unit in counts if unit not in ("", "stitch", "space")]
    if named and not after_work:
        cursor.position = start
        return None
    cursor.position = close + 1
    return Stated(counts, cursor.since(start))


def bracketed_counts(cursor: Cursor, close: int, one: bool = False) -> tuple[tuple[Amount, str], ...] | None:
    """Amounts with their units up to the position `close`, or the first `one` of them; None if anything else stands
    there."""
    counts: list[tuple[Amount, str]] = []
    while cursor.position < close:
        _lead(cursor)
        if counts and cursor.at("stitch", "chain") and _one_space(cursor, close, counts):
            continue
        amount = cursor.amount()
        if amount is None or cursor.position > close:
            return None
        unit = _object(cursor, close, read_counted(cursor))
        counts.append((amount, unit))
        _rest(cursor)
        if _takes_in(cursor):
            cursor.position = close
        if one:
            break
        if cursor.position < close and not (cursor.mark(",", ";", "/", "+") or cursor.word("and")):
            return None
        if cursor.position < close:
            cursor.position += 1
            cursor.take_word("and")
    return tuple(counts) or None


def _object(cursor: Cursor, close: int, unit: str) -> str:
    """The unit, or `other` where the words count things that are no stitches by a name of their own: `9 petals`,
    `16 tr groups`. They end the count or stand before the next, so that no group of stitches is taken for one."""
    start = cursor.position
    while cursor.position < close and cursor.at("name") and len(cursor.tokens[cursor.position].text) >= _SHORTEST_NOUN:
        cursor.position += 1
    ended = cursor.position == close or cursor.mark(",", ";", "+") or cursor.word("and")
    # "12 scallops of 9 dc", "12 shells of 9 dc"; a cluster of three is one stitch.
    grouped = cursor.position > start if not unit else bool((known := dictionary().get(unit)) and known.parts)
    if grouped and cursor.word("of") and (made := _made_of(cursor)):
        return made
    if cursor.position > start and ended and unit not in ("chain", "space"):
        words = [token.text.lower() for token in cursor.tokens[start : cursor.position]]
        return "block" if words[-1] in BLOCKS and not unit else "other"
    cursor.position = start
    return unit


def _one_space(cursor: Cursor, close: int, counts: list[tuple[Amount, str]]) -> bool:
    """`ch-4 sp` without a number, at the end of `(20 sc, ch-4 sp)`: one of them; False (and nothing taken) for more."""
    start = cursor.position
    if read_counted(cursor) != "space" or cursor.position != close:
        cursor.position = start
        return False
    span = cursor.since(start)
    counts.append((Amount((1,), span, (span,)), "space"))
    return True


def _thing(cursor: Cursor) -> str:
    """`points`, `petals` behind a number that ends a sentence of its own: things that are no stitches; empty (and
    nothing taken) where the words go on."""
    start = cursor.position
    while cursor.at("name") and len(cursor.low[cursor.position]) >= _SHORTEST_NOUN:
        cursor.position += 1
    if cursor.position > start and (cursor.token is None or cursor.mark(".")):
        return "other"
    cursor.position = start
    return ""


def _made_of(cursor: Cursor) -> str:
    """`of 9 dc` behind the name of something counted, as the kind of group that each of them is; empty (and nothing
    taken) for other words."""
    start = cursor.position
    cursor.position += 1
    cursor.take_word("each")
    amount = cursor.amount()
    token = cursor.token
    number = (amount.values[0] or 0) if amount is not None and len(amount.values) == 1 else 0
    if number > 1 and token is not None and token.kind == "stitch" and token.value != "chain":
        cursor.position += 1
        cursor.take_word("each")
        return f"{number} {token.value}"
    cursor.position = start
    return ""


def _takes_in(cursor: Cursor) -> bool:
    """Whether words follow that say what a count takes in, `24 sts, including ch-3`, `54 hdc counting the tch`."""
    start = cursor.position
    if cursor.mark(",", ";", "-", "\u2013"):
        cursor.position += 1
    token = cursor.token
    if token is not None and (token.value in ("counts", "counts_not") or token.text.lower() in _TAKING_IN):
        return True
    if cursor.word("not") and (after := cursor.ahead()) is not None and after.text.lower() in _TAKING_IN:
        return True
    cursor.position = start
    return False


def _of_sizes(cursor: Cursor, counts: tuple[tuple[Amount, str], ...], start: int) -> tuple[tuple[Amount, str], ...]:
    """Bare numbers, one for each size, are the counts of the sizes: `(54, 60, 66)`, `(54, 60, 66 sts)`.

    Only the last may say what is counted; several kinds of stitches each say their own.
    """
    several = len(counts) > 1 and len(counts) in (len(cursor.names), len(cursor.active))
    if not several or any(unit or len(amount.values) > 1 for amount, unit in counts[:-1]):
        return counts
    last, unit = counts[-1]
    if len(last.values) > 1:
        return counts
    values = [amount.values[0] for amount, _ in counts]
    return ((cursor.settle(values, [amount.span for amount, _ in counts], start), unit),)


def _lead(cursor: Cursor) -> int:
    """Moves over the words in front of a count; how many there were."""
    start = cursor.position
    while (token := cursor.token) is not None and cursor.position - start < _LONGEST_LEAD:
        known = token.text.lower() in _LEAD_NAMES or (token.kind == "word" and token.value in _LEAD_WORDS)
        if not known or token.kind == "number":
            break
        cursor.position += 1
    return cursor.position - start


def _rest(cursor: Cursor) -> None:
    """Moves over the words behind a count that change nothing."""
    while cursor.take_word("total", "around", "remaining", "across") or cursor.take_name(*_AFTER_NAMES):
        cursor.take_word("row", "round")


def read_counted(cursor: Cursor) -> str:
    """What is counted: a stitch id, a defined name, `stitch`, `space`, `side` (stitches of each side between corners),
    or empty for a bare number."""
    unit = _counted(cursor)
    start = cursor.position
    led = cursor.take_name("per", "on", "along", "in", "for", "between")
    if led and (cursor.take_word("each") or cursor.take_name("per")):
        cursor.take_word("of", "the")
    if (led or cursor.take_word("each")) and (cursor.word("edge", "corner")):
        cursor.position += 1
        return "side"
    cursor.position = start
    return unit


def _counted(cursor: Cursor) -> str:
    token = cursor.token
    if token is None:
        return ""
    if token.kind == "number" and (after := _of_chains(cursor)) is not None:
        cursor.position = after
        cursor.take_word("corner")
        return "space" if cursor.take_word("space", "loop") else "chain"
    if token.kind == "stitch" and token.value == "chain":
        cursor.position += 1
        if cursor.mark("-", "\u2013"):
            cursor.position += 1
        if cursor.at("number"):
            cursor.position += 1
        cursor.take_word("corner")
        if cursor.take_word("space", "loop"):
            return "space"
        return "chain"
    if token.kind in ("stitch", "defined"):
        cursor.position += 1
        cursor.take_word("stitch")
        if cursor.take_word("increase", "decrease"):
            return "other"
        return token.value
    if token.kind == "word" and token.value == "corner":
        cursor.position += 1
        if cursor.at("stitch"):
            cursor.position += 1
            if cursor.mark("-", "\u2013"):
                cursor.position += 1
            if cursor.at("number"):
                cursor.position += 1
        return "space" if cursor.take_word("space", "loop") else "other"
    if token.kind == "word" and token.value in ("increase", "decrease", "repeat"):
        cursor.position += 1
        return "other"
    if token.kind == "word" and token.value in ("stitch", "space", "loop"):
        cursor.position += 1
        return "space" if token.value == "loop" else token.value
    return ""


def _of_chains(cursor: Cursor) -> int | None:
    """The position behind `2-ch`, `2ch`, `2 ch` of "10 2-ch sps"; None for anything else."""
    at = cursor.position + 1
    while at < cursor.end and cursor.tokens[at].text in ("-", "\u2013", "\u2010", "\u2011"):
        at += 1
    found = at < cursor.end and cursor.tokens[at].kind == "stitch" and cursor.tokens[at].value == "chain"
    if found and at + 1 < cursor.end and cursor.tokens[at + 1].text in ("-", "\u2013"):
        at += 1
    return at + 1 if found else None


def _further(cursor: Cursor, amount: Amount, unit: str) -> tuple[tuple[Amount, str], ...]:
    """A count with those that go on behind it to the end of the sentence: `40 dc, 20 ch-2 sps`, `39 dc and 36 sps`."""
    counts = [(amount, unit)]
    start = cursor.position
    while unit and (cursor.mark(",", "+") or cursor.word("and")):
        cursor.position += 1
        cursor.take_word("and")
        more = cursor.amount()
        named = read_counted(cursor) if more is not None else ""
        if more is None or not named:
            cursor.position = start
            return tuple(counts[:1])
        _rest(cursor)
        counts.append((more, named))
    if len(counts) > 1 and not (cursor.token is None or cursor.mark(".", ";", ")")):
        cursor.position = start
        return tuple(counts[:1])
    return tuple(counts)


def spoken_count(cursor: Cursor, first: bool) -> Stated | None:
    """A count in a sentence of its own: `You should have 24 sts.`, `Total 24 sts.`, `24 sts.`; None if none is here.

    `first` is true where no stitch has been worked yet, so that `6 sc` alone is an instruction.
    """
    start = cursor.position
    led = _lead(cursor)
    amount = cursor.amount()
    if amount is not None:
        unit = read_counted(cursor)
        _rest(cursor)
        counts = _further(cursor, amount, unit)
        if _takes_in(cursor):
            to_separator(cursor)
        ended = cursor.token is None or cursor.mark(".", ";", ")")
        if ended and start > 0 and (led or (unit and not first)) and unit != "chain":
            if cursor.mark("."):
                cursor.position += 1
            return Stated(counts, cursor.since(start))
    cursor.position = start
    return None


def trailing_count(cursor: Cursor, first: bool) -> Stated | None:
    """A count without brackets that ends a sentence: `= 24`, `- 24 sts`, `; 24 hdc`.

    `first` is true where nothing has been worked yet, so that `6 sc` alone is an instruction.
    """
    start = cursor.position
    before = cursor.ahead(-1)
    begins = before is not None and (before.text in (".", ";", ":") or before.value in ("join", "turn"))
    if before is not None and before.text == ":" and (named := cursor.ahead(-2)) is not None and named.kind == "colour":
        # "[A: 2 sc, B: 2 sc]": the stitches of a yarn.
        begins = False
    led = before is not None and before.kind == "word" and before.value == "total"
    if cursor.mark(*_LED):
        cursor.position += 1
        led = True
    led = bool(_lead(cursor)) or led
    if led and (compound := read_compound(cursor, cursor.end)) is not None:
        return Stated(compound, cursor.since(start))
    amount = cursor.amount()
    if amount is not None:
        unit = read_counted(cursor)
        if not unit and not first and before is not None and before.text in (".", ";"):
            unit = _thing(cursor)
        _rest(cursor)
        counts = _further(cursor, amount, unit) if led or begins else ((amount, unit),)
        if unit and _takes_in(cursor):
            to_separator(cursor)
        ended = cursor.token is None or cursor.mark(".", ";") or (unit == "stitch" and cursor.mark(",", ")"))
        bare = (unit == "" and begins) or (
            unit == "" and before is not None and before.text == "," and cursor.token is None
        )
        counted = unit == "stitch" or led or bare or (begins and unit != "chain")
        if ended and counted and not (first and unit not in ("", "stitch")):
            return Stated(counts, cursor.since(start))
    cursor.position = start
    return None
