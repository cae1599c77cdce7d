"""The smallest edit: one number exchanged so that everything the page says of a row agrees.

Every number of the row is tried, none by name, with the stated count and the foundation chain among them. An edit is
judged by all evidence: the stitches below used up and the stated count reached in every size, and what the next rows
make of it. It is offered alone only where it beats the rest clearly, and with the next best otherwise.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

import msgspec

from roundhand.checks.exchanging import Exchanger, Outcome
from roundhand.checks.troubles import Trouble
from roundhand.findings import Edit, Span
from roundhand.measures import number_word
from roundhand.notation.tree import Amount, Chain, Copy, Stated, Times, Work
from roundhand.tally.opening import height

if TYPE_CHECKING:
    from roundhand.checks.edit import Sheet

_NEAR = 12
_MOST_TOKENS = 40
_WORDS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_NUMBER = re.compile(r"(\d+)(st|nd|rd|th)?", re.IGNORECASE)


class Token(msgspec.Struct, frozen=True):
    """A number of the page that may be the slip: its words, what it says, and the sizes that it speaks for.

    `role` is `number`, `times` (how often), `hook` (the chain counted from the hook), `chain` (chains made in the
    row), `foundation` or `stated`; `at` is the offset at which its amount begins, `usual` the numbers that usage has
    for it, empty where it has none."""

    span: Span
    old: int
    sizes: tuple[int, ...]
    role: str
    at: int = 0
    usual: tuple[int, ...] = ()


class Mend(msgspec.Struct, frozen=True):
    """A number to be exchanged: the token, its new value and how it is written, and how well all evidence agrees:
    statements met less those that were asked, 0 where all agree."""

    token: Token
    new: int
    text: str
    agrees: int

    @property
    def edit(self) -> Edit:
        """The edit that makes it; only another stated count leaves the fabric as it is."""
        return Edit(self.token.span, self.text, "sure" if self.token.role == "stated" else "ask")

    @property
    def words(self) -> str:
        """What is to be written, in words: `6 times`, `4 instead of 5`."""
        if self.token.role == "times":
            return f"{self.new} times"
        if self.token.role == "foundation":
            return f"ch {self.new}"
        return f"{self.text} instead of {_dressed(self.token.old, self.text)}"


def mends(sheet: Sheet, trouble: Trouble) -> tuple[Mend, ...]:
    """The best single exchange that lets the row come out in every size; two where neither is clearly better."""
    found = sorted(_all(sheet, trouble), key=lambda mend: (-mend.agrees, _rank(mend)))
    if not found:
        return ()
    first = found[0]
    others = [mend for mend in found[1:] if mend.token.span != first.token.span]
    if not others or _clearer(first, others[0]):
        return (first,)
    return first, others[0]


def _clearer(one: Mend, other: Mend) -> bool:
    return one.agrees > other.agrees or _rank(one)[0] < _rank(other)[0]


def _rank(mend: Mend) -> tuple[int, int, int, int, Span]:
    """Usage first: an unusual chain counted from the hook is the slip before the chain it is worked into, and chains
    made in a row before nothing. Then what is nearest to the hand: fewest letters, the count before what makes it, the
    smallest step."""
    token = mend.token
    if token.role == "hook":
        order = 0 if token.old not in token.usual and mend.new in token.usual else 2
    else:
        order = 2 if token.role == "chain" else 1
    return order, _letters(token.old, mend.new), token.role != "stated", abs(mend.new - token.old), token.span


def _letters(old: int, new: int) -> int:
    """How far one number is from another for a hasty hand: 0 where it is near, or a digit was lost, doubled or
    exchanged with its neighbour, else how many digits differ."""
    one, other = sorted((str(old), str(new)), key=len)
    if abs(old - new) <= 2 or one == other[::-1] or other in (one + one[-1:], one[:1] + one):
        return 0
    if len(one) != len(other):
        return 0 if len(other) - len(one) == 1 and one in (other[1:], other[:-1]) else 3
    return sum(a != b for a, b in zip(one, other, strict=True))


def _all(sheet: Sheet, trouble: Trouble) -> Iterator[Mend]:
    piece, row, at = trouble.piece, trouble.row, trouble.at
    exchanger = sheet.exchanger
    sizes = [size for size, result in enumerate(row.results) if result is not None]
    if any(exchanger.as_it_is(piece, at, size) is None for size in sizes):
        return
    now = {size: exchanger.outcome(piece, at, size, {}) for size in sizes}
    wrong = [size for size in sizes if not now[size].comes_out]
    for token in _tokens(sheet, trouble):
        # A token that does not speak for all sizes that are wrong cannot be the only slip.
        if not set(wrong) <= set(token.sizes):
            continue
        for new in _values(exchanger, trouble, token):
            outcomes = _outcomes(exchanger, trouble, token, new, [size for size in sizes if size in token.sizes])
            if outcomes is None:
                continue
            rest = [now[size] for size in sizes if size not in token.sizes]
            agrees = sum(one.met - one.asked for one in (*outcomes, *rest))
            yield Mend(token, new, _dressed(new, token.span.of(sheet.text)), agrees)


def _outcomes(exchanger: Exchanger, trouble: Trouble, token: Token, new: int, sizes: list[int]) -> list[Outcome] | None:
    found = []
    for size in sizes:
        numbers = {token.at: new} if token.role not in ("stated", "foundation") else {}
        chain = new if token.role == "foundation" else None
        stated = new if token.role == "stated" else None
        one = exchanger.outcome(trouble.piece, trouble.at, size, numbers, chain, stated)
        if not one.comes_out:
            return None
        found.append(one)
    return found


def _values(exchanger: Exchanger, trouble: Trouble, token: Token) -> list[int]:
    """The values worth a try: those nearby, and the one that the arithmetic asks for."""
    old, size = token.old, trouble.size if trouble.size in token.sizes else token.sizes[0]
    if token.role == "stated":
        result = trouble.row.results[size]
        return [result.count] if result is not None and result.count != old else []
    near = {old + step for step in range(-_NEAR, _NEAR + 1)} | set(token.usual)
    if token.role != "foundation":
        near |= _asked_for(exchanger, trouble, token, size)
    elif trouble.stated is not None:
        near.add(old + trouble.stated - trouble.result.count)
    return sorted((new for new in near if new > 0 and new != old), key=lambda new: abs(new - old))


def _asked_for(exchanger: Exchanger, trouble: Trouble, token: Token, size: int) -> set[int]:
    """The values with which the row would use all places, or reach its count, if it grows evenly with the number."""
    here = exchanger.counted(trouble.piece, trouble.at, size, {})
    low = exchanger.counted(trouble.piece, trouble.at, size, {token.at: 1})
    high = exchanger.counted(trouble.piece, trouble.at, size, {token.at: 2})
    if here is None or low is None or high is None:
        return set()
    stated = trouble.row.stated[size]
    found = set()
    for goal, one, two in ((stated, low[0], high[0]), (trouble.below, low[1], high[1])):
        if goal is not None and two != one and (goal - one) % (two - one) == 0:
            found.add(1 + (goal - one) // (two - one))
    return found


def _tokens(sheet: Sheet, trouble: Trouble) -> Iterator[Token]:
    """Every number of the row, its stated count, and the foundation chain that it is worked into."""
    text, row, size = sheet.text, trouble.row, trouble.size
    everyone = tuple(at for at, result in enumerate(row.results) if result is not None)
    seen: set[Span] = set()
    line = row.line.span
    for amount, role, usual in _amounts(row.nodes[size] or (), "number"):
        if not line.start <= amount.span.start <= line.end:
            continue
        for token in _of_amount(amount, role, text, everyone, usual):
            if token.span not in seen and len(seen) < _MOST_TOKENS:
                seen.add(token.span)
                yield token
    stated = row.stated_by
    if stated is not None and len(stated.counts) == 1:
        yield from _of_amount(stated.counts[0][0], "stated", text, everyone)
    if trouble.chain is not None:
        yield from _of_amount(trouble.chain[1].amount, "foundation", text, everyone)


def _of_amount(
    amount: Amount, role: str, text: str, everyone: tuple[int, ...], usual: tuple[int, ...] = ()
) -> Iterator[Token]:
    """The numbers of an amount: one for all sizes, or one for each."""
    if len(amount.values) == 1:
        span = amount.spans[0] if amount.spans else amount.span
        value = amount.values[0]
        if value is not None and _says(span.of(text), value):
            yield Token(span, value, everyone, role, amount.span.start, usual)
        return
    if len(amount.spans) != len(amount.values):
        return
    for size, (span, one) in enumerate(zip(amount.spans, amount.values, strict=True)):
        if one is not None and size in everyone and _says(span.of(text), one):
            yield Token(span, one, (size,), role, amount.span.start, usual)


def _says(words: str, value: int) -> bool:
    found = _NUMBER.fullmatch(words)
    return int(found[1]) == value if found is not None else number_word(words.lower()) == value


def _amounts(value: object, role: str) -> Iterator[tuple[Amount, str, tuple[int, ...]]]:
    """Every number inside some nodes, what it is, and the values that are usual for it."""
    if isinstance(value, Amount):
        yield value, role, ()
    elif isinstance(value, Stated | Copy):
        return
    elif isinstance(value, Work) and value.into.kind == "from_hook" and value.into.count is not None:
        high = height(value.group[0].stitch) if value.group else None
        yield value.into.count, "hook", () if high is None else tuple({high + 1, max(2, high)})
        yield from _amounts(value.group, role)
    elif isinstance(value, Times):
        if value.amount is not None:
            yield value.amount, "times", ()
        yield from _amounts((value.body, value.rest), role)
    elif isinstance(value, Chain):
        yield value.amount, "chain", ()
    elif isinstance(value, msgspec.Struct):
        for name in value.__struct_fields__:
            yield from _amounts(getattr(value, name), role)
    elif isinstance(value, tuple):
        for one in value:
            yield from _amounts(one, role)


def _dressed(value: int, like: str) -> str:
    """A number written as another one is: in digits, as a place in an order, or as a word."""
    found = _NUMBER.fullmatch(like)
    if found is not None:
        return f"{value}{_end(value) if found[2] else ''}"
    if like.lower() in ("once", "twice"):
        return {1: "once", 2: "twice"}.get(value, f"{value} times")
    return _WORDS[value] if value < len(_WORDS) else str(value)


def _end(number: int) -> str:
    return "th" if 10 <= number % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
