"""The sizing section read: lines of named counts, their targets, rules and solved values. Reading never raises."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Literal

from roundhand.findings import Span
from roundhand.measures import Length, length_unit, number_word, read_number, unit_words
from roundhand.notation.head import number_list
from roundhand.notation.quantities import (
    AtGauge,
    Expression,
    Given,
    Named,
    Quantity,
    Rule,
    Sizing,
    Sum,
    Trouble,
    Values,
    Worked,
    plain_value,
)

_UNITS = "|".join(re.escape(word) for word in unit_words())
_UNIT = re.compile(rf"\s*-?\s*({_UNITS}|%|per\s?cent\b)(?![^\W\d_])", re.IGNORECASE)
# A part of a unit, "1/2 in", which is no count divided by a length.
_PART = re.compile(rf"(\d{{1,4}})[/\u2044](\d{{0,3}}[1-9])(?=\s*-?\s*(?:{_UNITS})(?![^\W\d_]))", re.IGNORECASE)
_COUNTED = re.compile(r"\s*(?:sts?|stitches|rows?|rnds?|rounds?)\b\.?", re.IGNORECASE)
# A line of the section: a name of one word, and behind a colon its target, behind a sign of equality its values.
QUANTITY_LINE = re.compile(r"(?P<name>[^\W\d_][\w-]*)\s*(?P<mark>[:=])\s*(?=\S)")
_NUMBER_HERE = re.compile(r"[\d\u00bc-\u00be\u2150-\u215e]")
_NAME = re.compile(r"[^\W\d_][\w'-]*")
_GAUGE = re.compile(
    rf"at\s+(?P<count>[\d\u00bc-\u00be\u2150-\u215e][\d\s./\u00bc-\u00be\u2150-\u215e]*?)\s*(?:[a-z]+\s+)?"
    rf"(?P<what>sts?|stitches|rows?|rnds?|rounds?)\b\.?\s*(?:=|over|per|to|in)\s*"
    rf"(?P<over>[\d\u00bc-\u00be\u2150-\u215e][\d\s./\u00bc-\u00be\u2150-\u215e]*?)\s*(?P<unit>{_UNITS})?(?![^\W\d_])",
    re.IGNORECASE,
)
_NAMED_GAUGE = re.compile(
    r"at\s+(?:the\s+)?(?P<of>[^\W\d_][\w' -]*?\s+)??(?P<rows>(?:row|round|rnd)s?\s+)?gauge\b"
    r"(?:\s+of\s+(?:the\s+)?(?P<behind>[^\W\d_][\w'-]*))?",
    re.IGNORECASE,
)
_WORDS: dict[str, Literal["+", "-", "*", "/"]] = {
    "plus": "+", "and": "+", "+": "+", "less": "-", "minus": "-", "-": "-", "\u2212": "-", "\u2013": "-",
    "times": "*", "x": "*", "\u00d7": "*", "*": "*", "/": "/", "\u00f7": "/",
}  # fmt: skip
_OPERATION = re.compile(
    r"\s*(?P<word>divided\s+by|plus|and|less|minus|times|x(?=\s*[\d{(])|[+\-\u2212\u2013*\u00d7/\u00f7])", re.IGNORECASE
)
_MULTIPLE = re.compile(
    r"(?:a\s+)?multiples?\s+of\s+(?P<of>[\w-]+)(?:\s*(?P<sign>plus|\+|less|minus|-)\s*(?P<plus>[\w-]+))?", re.IGNORECASE
)
_EVEN = re.compile(r"(?:an?\s+)?(?P<word>even|odd)(?:\s+number)?(?:\s+of\s+\w+)?", re.IGNORECASE)
_SAME = re.compile(r"(?:the\s+)?same\s+(?:in|for)\s+(?:all|every)\s+sizes?", re.IGNORECASE)
_BOUND = re.compile(r"(?P<word>at\s+least|at\s+most|no\s+(?:more|less|fewer)\s+than|within)\s+(?=\S)", re.IGNORECASE)
_DEEPEST = 32
_LONGEST = 2_000


class _Unreadable(Exception):  # noqa: N818 - a stop inside this file, never seen outside
    def __init__(self, trouble: Trouble) -> None:
        super().__init__(trouble.said)
        self.trouble = trouble


def read_sizing(text: str, lines: Iterable[Span], sizes: int) -> Sizing:
    """The quantities of the lines of a sizing section, each from the beginning of its name to its end."""
    found: dict[str, Quantity] = {}
    troubles: list[Trouble] = []
    last = 0
    for line in lines:
        head = QUANTITY_LINE.match(text, line.start, line.end)
        last = max(last, line.end)
        if head is None:
            troubles.append(
                Trouble(
                    "words-unknown",
                    line,
                    "no quantity is named here",
                    "write a name of one word, a colon and what it aims at, as in “body: head less 1 in at 14 sts = "
                    "4 in”",
                )
            )
            continue
        name, at = head["name"].lower(), head.end()
        place = Span(head.start("name"), head.end("name"))
        if line.end - line.start > _LONGEST:
            troubles.append(Trouble("limit-reached", place, f"a line of more than {_LONGEST:,} characters is not read"))
            continue
        before = found.get(name)
        if head["mark"] == "=":
            values, wrong = _values(text, at, line.end, sizes)
            troubles += wrong
            if before is not None and before.values:
                troubles.append(_twice(name, place, "values"))
                continue
            base = before or Quantity(name, place, line)
            found[name] = Quantity(
                name, base.span, base.whole, base.target, base.rules, values, Span(line.start, line.end)
            )
            continue
        if before is not None and before.target is not None:
            troubles.append(_twice(name, place, "targets"))
            continue
        target, rules, wrong = _definition(text, at, line.end, sizes)
        troubles += wrong
        values, values_span = (before.values, before.values_span) if before is not None else ((), None)
        found[name] = Quantity(name, place, line, target, rules, values, values_span)
    return Sizing(tuple(found.values()), tuple(troubles), last)


def _twice(name: str, place: Span, what: str) -> Trouble:
    return Trouble("rules-clash", place, f"“{name}” has two {what}", "leave one of the two lines out")


def _values(text: str, start: int, end: int, sizes: int) -> tuple[tuple[int | None, ...], list[Trouble]]:
    """Solved values, one for all sizes or one for each, a dash for a size without one."""
    cells = re.split(r"[,;()\[\]\s]+", text[start:end].strip(" .()[]"))
    values: list[int | None] = []
    for cell in filter(None, cells):
        if cell in ("-", "\u2013", "\u2014"):
            values.append(None)
        elif cell.isascii() and cell.isdecimal() and len(cell) < 10:
            values.append(int(cell))
        else:
            said = f"“{cell}” is no whole number of stitches or rows"
            return (), [Trouble("quantity-not-whole", Span(start, end), said, "have the sizes solved again")]
    if len(values) == 1:
        return tuple(values * sizes), []
    if len(values) != sizes:
        said = f"{len(values)} values for {sizes} sizes"
        return (), [Trouble("size-list-length", Span(start, end), said, "one value for all sizes, or one for each")]
    return tuple(values), []


def _definition(
    text: str, start: int, end: int, sizes: int
) -> tuple[Expression | None, tuple[Rule, ...], list[Trouble]]:
    troubles: list[Trouble] = []
    target: Expression | None = None
    rules: list[Rule] = []
    for number, (begin, stop) in enumerate(_between_semicolons(text, start, end)):
        if begin >= stop:
            continue
        if number == 0:
            target, wrong = read_terms(text, begin, stop, sizes)
            troubles += wrong
            continue
        rule, wrong = _rule(text, begin, stop, sizes)
        troubles += wrong
        if rule is not None:
            rules.append(rule)
    return target, tuple(rules), troubles


def _between_semicolons(text: str, start: int, end: int) -> list[tuple[int, int]]:
    found = []
    at = start
    for piece in text[start:end].split(";"):
        begin = at + len(piece) - len(piece.lstrip())
        found.append((begin, max(begin, at + len(piece.rstrip(" .\t")))))
        at += len(piece) + 1
    return found


def _rule(text: str, start: int, end: int, sizes: int) -> tuple[Rule | None, list[Trouble]]:
    span = Span(start, end)
    words = text[start:end]
    multiple = _MULTIPLE.fullmatch(words)
    if multiple is not None:
        of, plus = _whole(multiple["of"]), _whole(multiple["plus"] or "0")
        if not of or plus is None:
            said = f"“{words}” is no multiple that a count can be of"
            return None, [Trouble("rules-clash", span, said, "a multiple is of a whole number above nothing")]
        signed = -plus if multiple["sign"] in ("less", "minus", "-") else plus
        return Rule("multiple", span, words, of, signed % of), []
    even = _EVEN.fullmatch(words)
    if even is not None:
        return Rule("multiple", span, words, 2, int(even["word"].lower() == "odd")), []
    if _SAME.fullmatch(words):
        return Rule("same", span, words), []
    bound = _BOUND.match(text, start, end)
    if bound is not None:
        than, wrong = read_terms(text, bound.end(), end, sizes)
        if than is None:
            return None, wrong
        lower = bound["word"].lower()
        if lower == "within":
            return Rule("within", span, words, than=than), wrong
        return Rule("most" if "most" in lower or "more" in lower else "least", span, words, than=than), wrong
    said = f"“{words}” is no rule that is known here"
    help_ = "rules are “multiple of 8 plus 3”, “even”, “odd”, “the same in all sizes”, “at least”, “at most”, “within”"
    return None, [Trouble("words-unknown", span, said, help_)]


def _whole(word: str) -> int | None:
    if word.isascii() and word.isdecimal() and len(word) < 10:
        return int(word)
    return number_word(word)


def read_terms(text: str, start: int, end: int, sizes: int) -> tuple[Expression | None, list[Trouble]]:
    """Arithmetic between two places of a text; None with the trouble where it makes no sense.

    >>> read_terms("8 in at 10 rnds = 4 in", 0, 22, 1)[0].gauge.count
    Fraction(10, 1)
    >>> read_terms("8 in less", 0, 9, 1)[1][0].said
    'something is missing here'
    """
    reader = _Terms(text, start, end, sizes)
    try:
        term = reader.whole()
    except _Unreadable as stop:
        return None, [stop.trouble]
    return term, []


class _Terms:
    """Reads arithmetic by descent: sums of products of terms, with a gauge behind a term or behind all."""

    def __init__(self, text: str, start: int, end: int, sizes: int) -> None:
        self.text, self.at, self.end, self.sizes = text, start, end, sizes
        self.start = start
        self.depth = 0

    def whole(self) -> Expression:
        term = self.sum()
        if self.at < self.end:
            raise self._stop(Span(self.at, self.end), f"“{self.text[self.at : self.end]}” makes no sense here")
        return term

    def _stop(self, span: Span, said: str, what: str = "words-unknown", help_: str = "") -> _Unreadable:
        return _Unreadable(
            Trouble(what, span, said, help_ or "a target is like “head less 1 in at 14 sts = 4 in” or “{body} / 2”")
        )

    def _blank(self) -> None:
        while self.at < self.end and self.text[self.at].isspace():
            self.at += 1

    def _operation(self, signs: str) -> Literal["+", "-", "*", "/"] | None:
        found = _OPERATION.match(self.text, self.at, self.end)
        if found is None:
            return None
        sign = _WORDS.get(found["word"].lower(), "/")
        if sign not in signs:
            return None
        self.at = found.end()
        return sign

    def sum(self) -> Expression:
        """Terms added and taken away; a gauge behind them turns all that stands in front of it."""
        begin = self.at
        left = self.product()
        while True:
            gauge = self.gauge()
            if gauge is not None:
                left = Worked(left, gauge, Span(begin, self.at))
                continue
            sign = self._operation("+-")
            if sign is None:
                return left
            right = self.product()
            # A count behind "less" is turned alone; a length there belongs to what it is taken from.
            if isinstance(right, Named) and self._braced(right):
                gauge = self.gauge()
                if gauge is not None:
                    right = Worked(right, gauge, Span(right.span.start, self.at))
            left = Sum(sign, left, right, Span(begin, self.at))

    def _braced(self, term: Named) -> bool:
        return self.text[term.span.start : term.span.start + 1] == "{"

    def product(self) -> Expression:
        begin = self.at
        left = self.term()
        while (sign := self._operation("*/")) is not None:
            right = self.term()
            left = Sum(sign, left, right, Span(begin, self.at))
        return left

    def term(self) -> Expression:
        self._blank()
        if self.at >= self.end:
            raise self._stop(Span(max(self.start, self.end - 1), self.end), "something is missing here")
        mark = self.text[self.at]
        if mark == "(":
            return self._bracket()
        if mark == "{":
            return self._brace()
        if _NUMBER_HERE.match(mark):
            return self._given()
        return self._name()

    def _bracket(self) -> Expression:
        opened = self.at
        self.depth += 1
        if self.depth > _DEEPEST:
            raise self._stop(Span(opened, opened + 1), f"brackets {_DEEPEST} deep are not read", "limit-reached")
        self.at += 1
        term = self.sum()
        self._blank()
        if self.text[self.at : self.at + 1] != ")" or self.at >= self.end:
            raise self._stop(Span(opened, opened + 1), "this bracket is never closed")
        self.at += 1
        self.depth -= 1
        return term

    def _brace(self) -> Expression:
        close = self.text.find("}", self.at, self.end)
        if close < 0:
            raise self._stop(Span(self.at, self.at + 1), "this bracket is never closed")
        span = Span(self.at, close + 1)
        words = self.text[self.at + 1 : close].strip()
        self.at = close + 1
        if not _NAME.fullmatch(words):
            inner = _Terms(self.text, span.start + 1, close, self.sizes)
            inner.depth = self.depth + 1
            if inner.depth > _DEEPEST:
                raise self._stop(span, f"brackets {_DEEPEST} deep are not read", "limit-reached")
            return inner.whole()
        return Named(words.lower(), span)

    def _given(self) -> Expression:
        begin = self.at
        words = self.text[begin : self.end]
        part = _PART.match(words)
        found = (
            number_list(words, self.sizes) if part is None else ((Fraction(int(part[1]), int(part[2])),), part.end())
        )
        if found is None or read_number(words) is None:
            raise self._stop(Span(begin, self.end), f"“{words}” is no number")
        values, self.at = found[0], begin + found[1]
        if len(values) not in (1, self.sizes):
            # A bracket behind a number that is no list of the sizes: the number alone.
            said = f"{len(values)} values for {self.sizes} sizes"
            raise self._stop(Span(begin, self.at), said, "size-list-length", "one value for all sizes, or one for each")
        unit = _UNIT.match(self.text, self.at, self.end)
        if unit is None:
            counted = _COUNTED.match(self.text, self.at, self.end)
            self.at = counted.end() if counted is not None else self.at
            return Given(values, "", Span(begin, self.at))
        self.at = unit.end()
        name = length_unit(unit[1])
        span = Span(begin, self.at)
        if name is None:
            return Given(values, "%", span)
        return Given(tuple(Length.of(one, name).mm if one is not None else None for one in values), name, span)

    def _name(self) -> Expression:
        begin = self.at
        last = begin
        while (word := _NAME.match(self.text, self.at, self.end)) is not None:
            if word[0].lower() in ("less", "plus", "minus", "times", "and", "divided", "at"):
                break
            last = self.at = word.end()
            self._blank()
        self.at = last
        if last == begin:
            raise self._stop(Span(begin, begin + 1), f"“{self.text[begin]}” makes no sense here")
        return Named(" ".join(self.text[begin:last].lower().split()), Span(begin, last))

    def gauge(self) -> AtGauge | None:
        """A gauge behind `at`, None where none stands here."""
        self._blank()
        if _word_at(self.text, self.at, self.end) != "at":
            return None
        found = _GAUGE.match(self.text, self.at, self.end)
        if found is not None:
            span = Span(self.at, found.end())
            count, over = read_number(found["count"].strip()), read_number(found["over"].strip())
            unit = length_unit(found["unit"]) if found["unit"] else None
            if unit is None:
                raise self._stop(span, "a gauge without a unit", "unit-missing", "say over how many in or cm")
            if count is None or over is None or count[0] <= 0 or over[0] <= 0:
                raise self._stop(span, "a gauge of nothing", "gauge-missing", "give stitches or rows over a length")
            self.at = found.end()
            rows = found["what"].lower().startswith("r")
            return AtGauge(span, count[0], Length.of(over[0], unit), rows=rows)
        named = _NAMED_GAUGE.match(self.text, self.at, self.end)
        if named is None:
            raise self._stop(
                Span(self.at, self.end),
                f"“{self.text[self.at : self.end]}” is no gauge",
                "gauge-missing",
                "give a gauge like “at 14 sts = 4 in”, or name one of the page, “at band gauge”",
            )
        span = Span(self.at, named.end())
        self.at = named.end()
        of = (named["of"] or named["behind"] or "").strip().lower()
        return AtGauge(span, of=of, rows=named["rows"] is not None)


def _word_at(text: str, start: int, end: int) -> str:
    found = _NAME.match(text, start, end)
    return found[0].lower() if found is not None else ""


def as_number(values: Iterable[Fraction | None]) -> tuple[int | None, ...] | None:
    """Whole numbers of what is whole in every size; None where something is not, or lies below nothing."""
    found = []
    for value in values:
        if value is not None and (value.denominator != 1 or value < 0):
            return None
        found.append(int(value) if value is not None else None)
    return tuple(found)


def count_at(text: str, start: int, end: int, counts: Mapping[str, Values]) -> tuple[int | None, ...]:
    """The values of what stands between the brackets of `{body}`, `{body / 2}`; nothing in a size where there is no
    whole number, and nothing at all where the arithmetic makes no sense or a count has no values yet."""
    sizes = max((len(values) for values in counts.values()), default=1)
    term, _ = read_terms(text, start, end, sizes)
    values = plain_value(term, {name: known for name, known in counts.items() if known}, sizes)
    if values is None:
        return (None,) * sizes
    return tuple(int(one) if one is not None and one.denominator == 1 and one >= 0 else None for one in values)
