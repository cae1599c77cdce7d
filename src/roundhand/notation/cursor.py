"""A position in the tokens of one line, and the small things that every phrase is read with: numbers, lists, times."""

from __future__ import annotations

from collections.abc import Sequence

from roundhand.findings import Finding, Span
from roundhand.measures import say_count
from roundhand.notation.size_lists import read_list, size_words
from roundhand.notation.tokens import Lexicon, Token
from roundhand.notation.tree import Amount

_OPEN = frozenset("([{")
_CLOSE = frozenset(")]}")
_ROWS = frozenset(("row", "round", "row_or_round", "row_end"))
_BEFORE_TIMES = frozenset(("another", "for", "the", "total", "times", "x", "\u00d7"))


def _bracket_ends(words: Sequence[str]) -> dict[int, int]:
    """For every opening bracket the position of the one that closes it; any kind closes any, as hasty typing has it."""
    ends: dict[int, int] = {}
    opened: list[int] = []
    for at, word in enumerate(words):
        if word in _OPEN:
            opened.append(at)
        elif word in _CLOSE and opened:
            ends[opened.pop()] = at
    return ends


class Cursor:
    """Walks the tokens of one line. `names` are the sizes of the pattern, `active` those that this line is for."""

    __slots__ = (
        "_closings", "active", "edges", "end", "findings", "last_row", "lexicon", "lists", "low", "names", "position",
        "said", "states", "text", "tokens",
    )  # fmt: skip

    def __init__(
        self,
        text: str,
        tokens: Sequence[Token],
        lexicon: Lexicon,
        names: tuple[str, ...],
        active: tuple[int, ...],
    ) -> None:
        self.text = text
        self.tokens = tokens
        self.lexicon = lexicon
        self.names = names
        self.active = active
        self.position = 0
        self.end = len(tokens)
        # The words as written, in small letters: most readers ask for one before anything else.
        self.low = [token.text.lower() for token in tokens]
        # All words of the line, as written and by what they mean: a reader that cannot do without one asks first
        # whether it stands in the line at all.
        values = [token.value for token in tokens]
        self.said = frozenset(self.low).union(values)
        # The position of the last word for rows, rounds or row ends, behind which nothing speaks of rows; -1 for none.
        self.last_row = next((at for at in range(len(values) - 1, -1, -1) if values[at] in _ROWS), -1)
        # Whether the line may end in a stated count: rows do, steps do not.
        self.states = True
        self.findings: list[Finding] = []
        # What brackets hold that have been looked into, by the position where they open.
        self.lists: dict[int, tuple[list[int | None], list[Span], int] | None] = {}
        # Whether the line can speak of an edge at all; None while nobody has asked.
        self.edges: bool | None = None
        self._closings: dict[int, int] | None = None

    @property
    def token(self) -> Token | None:
        """The token at the cursor, None at the end."""
        return self.tokens[self.position] if self.position < self.end else None

    def ahead(self, steps: int = 1) -> Token | None:
        """The token some steps on, None past the end."""
        at = self.position + steps
        return self.tokens[at] if 0 <= at < self.end else None

    def leads(self, words: frozenset[str]) -> bool:
        """Whether one of these words stands at the cursor, as written or by what it means: what a reader cannot begin
        without."""
        at = self.position
        return at < self.end and (self.low[at] in words or self.tokens[at].value in words)

    def at(self, kind: str, *values: str) -> bool:
        """Whether the token at the cursor is of this kind, with one of these values if any are given."""
        if self.position >= self.end:
            return False
        token = self.tokens[self.position]
        return token.kind == kind and (not values or token.value in values)

    def word(self, *concepts: str) -> bool:
        """Whether the token at the cursor means one of these concepts."""
        if self.position >= self.end:
            return False
        token = self.tokens[self.position]
        return token.kind == "word" and token.value in concepts

    def mark(self, *marks: str) -> bool:
        """Whether the token at the cursor is one of these marks."""
        if self.position >= self.end:
            return False
        token = self.tokens[self.position]
        return token.kind == "mark" and token.value in marks

    def take(self) -> Token:
        """The token at the cursor; moves on."""
        token = self.tokens[self.position]
        self.position += 1
        return token

    def take_word(self, *concepts: str) -> bool:
        """Moves over one of these concepts if it stands here."""
        if self.position < self.end:
            token = self.tokens[self.position]
            if token.kind == "word" and token.value in concepts:
                self.position += 1
                return True
        return False

    def take_name(self, *names: str) -> bool:
        """Moves over one of these words, whatever it means, if it stands here."""
        at = self.position
        if at < self.end and self.low[at] in names:
            self.position = at + 1
            return True
        return False

    def since(self, position: int) -> Span:
        """The span from the token at `position` to the last token taken."""
        tokens = self.tokens
        first = position if position < len(tokens) else len(tokens) - 1
        last = self.position - 1
        return Span(tokens[first].start, tokens[last if last > first else first].end)

    def closing(self, position: int) -> int | None:
        """The position of the bracket that closes the one at `position`, or None."""
        if self._closings is None:
            self._closings = _bracket_ends(self.low)
        close = self._closings.get(position)
        return close if close is not None and close < self.end else None

    # Numbers and lists of numbers.

    def amount(self) -> Amount | None:
        """A whole number at the cursor, with the values of further sizes if a list follows; None if none is here."""
        start = self.position
        if start >= self.end:
            return None
        token = self.tokens[start]
        if len(self.names) == 1:
            if token.kind != "number" or token.number is None:
                return None
            self.position = start + 1
            span = token.span
            return Amount((token.number,), span, (span,))
        if token.kind != "number" and token.kind != "mark" and self.low[start] not in size_words(self.names):
            return None
        found = read_list(self)
        return self.settle(*found, start) if found is not None else None

    def settle(self, values: list[int | None], spans: list[Span], start: int) -> Amount:
        """The list fitted to the sizes: one value for all, one for each, or one for each size of this block."""
        span = self.since(start)
        count = len(self.names)
        if len(values) == 1 or len(values) == count:
            return Amount(tuple(values), span, tuple(spans))
        if len(values) == len(self.active):
            spread: list[int | None] = [None] * count
            places = [span] * count
            for at, value, place in zip(self.active, values, spans, strict=True):
                spread[at] = value
                places[at] = place
            return Amount(tuple(spread), span, tuple(places))
        self.findings.append(list_length(self.names, self.active, len(values), span))
        return Amount(tuple((values + [None] * count)[:count]), span, tuple((spans + [span] * count)[:count]))

    # How often.

    def times(self) -> tuple[str, Amount, Span] | None:
        """`5 times`, `x 5`, `5 more times`, `twice`: mode (`fixed`, `more`, or `in_all` where that is said), number and
        words; None if none stands here."""
        start = self.position
        if start >= self.end:
            return None
        token = self.tokens[start]
        if token.kind != "number" and token.kind != "mark" and not self._may_lead_to_times(start):
            return None
        before = self.take_word("another")
        led = self._total_of()
        leading = self.word("times") and self.low[self.position] in ("x", "\u00d7")
        if leading:
            self.position += 1
        first = self.position
        amount = self.amount()
        counted_word = any(one.value in ("once", "twice", "thrice") for one in self.tokens[first : self.position])
        if amount is None:
            self.position = start
            return None
        more = self.take_word("more")
        said = self.take_word("times")
        more = self.take_word("more") or more or before
        in_all = self.take_word("total") or led
        if not (said or leading or counted_word or more):
            self.position = start
            return None
        mode = "in_all" if in_all else "more" if more else "fixed"
        return mode, amount, self.since(start)

    def _may_lead_to_times(self, at: int) -> bool:
        """Whether the word at a position can stand in front of how often something is done."""
        word = self.low[at]
        return word in _BEFORE_TIMES or self.tokens[at].value in _BEFORE_TIMES or word in size_words(self.names)

    def _total_of(self) -> bool:
        """Moves over `a total of`, `in all`, in front of a number."""
        start = self.position
        self.take_word("for")
        self.take_word("the")
        if self.take_word("total"):
            self.take_word("of")
            return True
        self.position = start
        return False


def list_length(names: tuple[str, ...], active: tuple[int, ...], values: int, span: Span) -> Finding:
    """The finding on a list that has neither one value nor one for each size."""
    few = values < len(names)
    missing = tuple(names[values:]) if few else ()
    return Finding(
        name="size-list-length",
        severity="error",
        headline=f"{say_count(values, 'value')} for {say_count(len(names), 'size')}",
        span=span,
        sizes=missing or names,
        because=(
            f"the list stops before {missing[0]}, so from here that size cannot be worked"
            if len(missing) == 1
            else f"the pattern has {say_count(len(names), 'size')}: {', '.join(names)}"
        ),
        help=f"one value for all sizes, or {len(names)} values, one for each"
        + (", or a dash where a size has none" if few else ""),
        facts={"values": values, "sizes": len(names)},
    )
