"""A position in the tokens of one line, and the small things that every phrase is read with: numbers, lists, times."""

from __future__ import annotations

from collections.abc import Sequence

from roundhand.findings import Finding, Span
from roundhand.measures import say_count
from roundhand.notation.tokens import Lexicon, Token
from roundhand.notation.tree import Amount

_OPEN = "([{"
_CLOSE = ")]}"
_LIST_MARKS = frozenset(",:;/|")
_HYPHENS = ("-", "\u2013")
# Marks that may stand between the values of a list without brackets.
_BETWEEN = ("/", ":", "|")
_NONE_MARKS = frozenset("-\u2013\u2014\u2212")


def _bracket_ends(tokens: Sequence[Token]) -> dict[int, int]:
    """For every opening bracket the position of the one that closes it; any kind closes any, as hasty typing has it."""
    ends: dict[int, int] = {}
    opened: list[int] = []
    for at, token in enumerate(tokens):
        if token.kind != "mark":
            continue
        if token.text in _OPEN:
            opened.append(at)
        elif token.text in _CLOSE and opened:
            ends[opened.pop()] = at
    return ends


class Cursor:
    """Walks the tokens of one line. `names` are the sizes of the pattern, `active` those that this line is for."""

    __slots__ = (
        "_closings", "active", "end", "findings", "lexicon", "low", "names", "position", "states", "text", "tokens"
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
        # Whether the line may end in a stated count: rows do, steps do not.
        self.states = True
        self.findings: list[Finding] = []
        self._closings: dict[int, int] | None = None

    @property
    def token(self) -> Token | None:
        """The token at the cursor, None at the end."""
        return self.tokens[self.position] if self.position < self.end else None

    def ahead(self, steps: int = 1) -> Token | None:
        """The token some steps on, None past the end."""
        at = self.position + steps
        return self.tokens[at] if 0 <= at < self.end else None

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
            self._closings = _bracket_ends(self.tokens)
        close = self._closings.get(position)
        return close if close is not None and close < self.end else None

    # Numbers and lists of numbers.

    def amount(self) -> Amount | None:
        """A whole number at the cursor, with the values of further sizes if a list follows; None if none is here."""
        start = self.position
        if start >= self.end:
            return None
        token = self.tokens[start]
        if token.kind != "number" or token.number is None:
            if token.kind == "mark" and self._list_of_none():
                self.position += 1
                return self._with_list([None], [token.span], start)
            return None
        self.position += 1
        return self._with_list([token.number], [token.span], start)

    def _list_of_none(self) -> bool:
        """A dash that opens a size list: `- (-, 3, 6) rows`."""
        token, bracket = self.token, self.ahead()
        if token is None or token.text not in _NONE_MARKS or bracket is None or bracket.text not in ("(", "["):
            return False
        return self._items(self.position + 1) is not None

    def _with_list(self, values: list[int | None], spans: list[Span], start: int) -> Amount:
        count = len(self.names)
        if count == 1 or self.position >= self.end or self.tokens[self.position].kind not in ("mark", "number"):
            return self.settle(values, spans, start)
        if count > 1 and self.mark(*_BETWEEN) and self._slashes(values, spans):
            return self.settle(values, spans, start)
        if count > 1 and self.mark(*_HYPHENS) and self._hyphens(values, spans):
            return self.settle(values, spans, start)
        if count > 2 and self._several(values, spans):
            return self.settle(values, spans, start)
        while count > 1 and self.mark("(", "[") and len(values) < max(count, 2):
            found = self._items(self.position)
            if found is None or (len(found[0]) == 1 and self._may_be_count(found[1])):
                break
            values += found[0]
            spans += [token.span for token in self.tokens[self.position + 1 : found[1] : 2]]
            self.position = found[1] + 1
        # The European way of three sizes: 83 (89) 95.
        token = self.token
        if (
            len(values) == 2
            and count == 3
            and token is not None
            and token.kind == "number"
            and self.position > start + 1
        ):
            values.append(token.number)
            spans.append(token.span)
            self.position += 1
        return self.settle(values, spans, start)

    def _several(self, values: list[int | None], spans: list[Span]) -> bool:
        """Values in two or more brackets, `54 (60) (66, 72)`, if there is one for each size."""
        found: list[int | None] = []
        places: list[Span] = []
        at = self.position
        brackets = 0
        while at < self.end and self.tokens[at].text in ("(", "["):
            items = self._items(at)
            if items is None:
                break
            found += items[0]
            places += [token.span for token in self.tokens[at + 1 : items[1] : 2]]
            at = items[1] + 1
            brackets += 1
            if len(found) + 1 >= len(self.names):
                break
        if brackets < 2 or len(found) + 1 != len(self.names):
            return False
        values += found
        spans += places
        self.position = at
        return True

    def _hyphens(self, values: list[int | None], spans: list[Span]) -> bool:
        """Values after hyphens, `60-66-72`, if there is one for each of three sizes or more; two are a range."""
        at = self.position
        found: list[Token] = []
        while at + 1 < self.end and self.tokens[at].text in _HYPHENS and self.tokens[at + 1].kind == "number":
            found.append(self.tokens[at + 1])
            at += 2
        if len(found) < 2 or len(found) + 1 != len(self.names):
            return False
        values += [token.number for token in found]
        spans += [token.span for token in found]
        self.position = at
        return True

    def _slashes(self, values: list[int | None], spans: list[Span]) -> bool:
        """Values after slashes or colons, `60/66/72`, `60:66:72`, if there is one for each size."""
        found: list[int | None] = []
        at = self.position
        between = self.tokens[at].text
        while at + 1 < self.end and self.tokens[at].text == between and self.tokens[at + 1].kind == "number":
            found.append(self.tokens[at + 1].number)
            at += 2
        if len(found) + 1 not in (len(self.names), len(self.active)) and (len(found) < 2 or len(self.names) < 3):
            # Three values and more are a list even where it is too short; two may be a fraction or a range.
            return False
        values += found
        spans += [token.span for token in self.tokens[self.position + 1 : at : 2]]
        self.position = at
        return True

    def _items(self, position: int) -> tuple[list[int | None], int] | None:
        """The values of a bracket that holds numbers and dashes alone, and the position of its end."""
        close = self.closing(position)
        if close is None or close == position + 1:
            return None
        values: list[int | None] = []
        want_value = True
        for token in self.tokens[position + 1 : close]:
            if want_value and token.kind == "number":
                if token.number is None:
                    return None
                values.append(token.number)
            elif want_value and token.text in _NONE_MARKS:
                values.append(None)
            elif want_value or token.text not in _LIST_MARKS:
                return None
            want_value = not want_value
        return (values, close) if values and not want_value else None

    def _may_be_count(self, close: int) -> bool:
        """Whether a bracket with one number is rather the count at the end of a row than a list of sizes.

        With two sizes `ch 12 (16)` is a list; only at the very end of a row, with no other count behind it, is the
        number a count. With more sizes one number makes no list, unless it goes on as `83 (89) 95` or stands in the
        middle of a phrase, where it is a list too short.
        """
        after = self.tokens[close + 1] if close + 1 < self.end else None
        if after is not None and after.text in _CLOSE and (len(self.names) == 2 or len(self.active) == 2):
            # A list inside a bracket, as in the count "(80 (96))".
            return False
        if len(self.names) == 2 or len(self.active) == 2:
            return self.states and all(token.kind == "mark" for token in self.tokens[close + 1 : self.end])
        if after is None:
            return True
        if len(self.names) == 3 and after.kind == "number":
            return False
        return after.kind not in ("word", "stitch", "defined")

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
        token = self.token
        if token is None:
            return None
        before = self.take_word("another")
        led = self._total_of()
        leading = self.word("times") and self.low[self.position] in ("x", "\u00d7")
        if leading:
            self.position += 1
        counted_word = self.token is not None and self.token.value in ("once", "twice", "thrice")
        amount = self.amount()
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
