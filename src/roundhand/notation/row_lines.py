"""Single lines of a page read: rows with their labels, steps without, rules that speak of many rows."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from roundhand.findings import Finding, Span
from roundhand.notation.clauses import read_clauses
from roundhand.notation.closing_stitch import with_joining_stitch
from roundhand.notation.cursor import Cursor
from roundhand.notation.kept import KeptLines, Said, Told, Wording
from roundhand.notation.labels import read_label
from roundhand.notation.language import TRANSLATED
from roundhand.notation.limits import LIMITS, say_once
from roundhand.notation.lines import Line
from roundhand.notation.named_groups import opened
from roundhand.notation.rule_rows import read_rule, same_manner
from roundhand.notation.scheduled import may_hold, read_scheduled
from roundhand.notation.sized_rows import other_sizes, ways, with_counts
from roundhand.notation.sizes import size_phrase, sizes_unknown
from roundhand.notation.tokens import Lexicon, Token, understand
from roundhand.notation.tree import Copy, Definition, Evenly, Label, Node, Plain, RowLine, Stated, Step, Times, Work
from roundhand.notation.untold import untold

_NOTE = re.compile(r"(?:note|tip|hint|remark)s?\b", re.IGNORECASE)
_SHAPES = re.compile(r"(?:(?:then|now|next),?\s+)?(?:inc|dec)(?:reas|\b)|at\s+the\s+same\s+time\b", re.IGNORECASE)


class Lines:
    """Reads the lines of one text. `findings` are shared with whoever reads the page; `foreign` gathers words of other
    terms, `kept` holds lines that have been read before."""

    def __init__(
        self,
        text: str,
        lexicon: Lexicon,
        names: tuple[str, ...],
        definitions: Mapping[str, Definition],
        asides: tuple[Span, ...],
        findings: list[Finding],
        foreign: dict[str, Span],
        kept: KeptLines,
    ) -> None:
        self.text = text
        self.lexicon = kept.begin(lexicon, names)
        self.names = names
        self.definitions = definitions
        self.asides = asides
        self.findings = findings
        self.foreign = foreign
        self.kept = kept
        self.last_of: dict[str, int] = {}
        # The sizes that phrases in front of the last rows have named.
        self.sizes_told: set[int] = set()
        self.words_left = LIMITS["tokens"]
        self.rows_left = LIMITS["rows"]

    def rows(self, line: Line, active: tuple[int, ...], kind: str) -> tuple[list[RowLine], str]:
        """A row, or one for each group of sizes that go ways of their own; and whether rows or rounds are worked."""
        if self.rows_left == 0:
            self._limit(f"more than {LIMITS['rows']:,} lines of rows; the rest is not read", line.whole)
            return [], kind
        self.rows_left -= 1
        sizes = self._sizes_of(line, active)
        rule = read_rule(self.text, line.start, line.end)
        if rule is not None:
            row, kind = self._rule(line, rule, sizes, kind)
            return [row] if row is not None else [], kind
        emphasis = line.start > 0 and self.text[line.start - 1] in "*_"
        told = self._told(line, (kind, sizes, emphasis), lambda: self._row(line, sizes, kind, emphasis))
        if told.label is None:
            return [], kind
        self._remember(told.label)
        span = Span(line.start, line.end)
        rows = [
            RowLine(told.label, opened(said.nodes, self.definitions), said.stated, span, said.sizes)
            for said in told.said
        ]
        return with_counts(rows, len(self.names)), told.label.kind or kind

    def step(self, line: Line, active: tuple[int, ...]) -> Step | None:
        """A line without a label that still does something; None where it is a note."""
        sizes = self._sizes_of(line, active)
        if line.kind == "prose":
            self._words(line.start, line.end)
            missed = untold(self.text, line.start, line.end, ()) if line.section == "work" else None
            self.findings += [missed] if missed is not None else []
            return None
        told = self._told(line, ("step", sizes), lambda: self._instructions(line, sizes))
        if not told.said:
            return None
        said = told.said[0]
        act = _act(line.name, self.text[line.start : line.end])
        return Step(opened(said.nodes, self.definitions), line.whole, sizes, act, said.stated)

    def _told(self, line: Line, beside: tuple[object, ...], read: Callable[[], Told]) -> Told:
        """What a line was read as before, moved here, or is read as now."""
        usual = line.end - line.start <= LIMITS["row characters"] and not self._has_aside(line)
        wording = Wording.of(self.text, line.start, line.end, beside) if usual else None
        told = self.kept.find(wording) if wording is not None else None
        if told is not None and told.words <= self.words_left:
            self.words_left -= told.words
            for word, span in told.foreign:
                self.foreign.setdefault(word, span)
        else:
            told = read()
            if wording is not None and self.words_left >= 0:
                self.kept.keep(wording, told)
        self.findings += told.findings
        return told

    def _has_aside(self, line: Line) -> bool:
        return any(line.start <= span.start < line.end for span in self.asides)

    # The reading itself.

    def _words(self, start: int, end: int) -> list[Token]:
        """The words of a line with their meanings, within the limits."""
        if end - start > LIMITS["row characters"]:
            self._limit(
                f"a row of {end - start:,} characters is read up to {LIMITS['row characters']:,}",
                Span(start, start + 40),
            )
            end = start + LIMITS["row characters"]
        tokens = understand(self.text, start, end, self.lexicon) if self.words_left >= 0 else []
        aside = [span for span in self.asides if start <= span.start < end]
        if aside:
            tokens = [token for token in tokens if not any(span.start <= token.start < span.end for span in aside)]
        if len(tokens) > self.words_left >= 0:
            self._limit(f"the text is read up to {LIMITS['tokens']:,} words", Span(start, end))
            tokens, self.words_left = tokens[: self.words_left], -1
        self.words_left -= len(tokens)
        for word, span in self._foreign(tokens):
            self.foreign.setdefault(word, span)
        return tokens

    def _foreign(self, tokens: list[Token]) -> tuple[tuple[str, Span], ...]:
        """Words of other terms and of translations, each with the stitch that it is, and their places."""
        translated = self.lexicon.words.translated
        found = []
        for token in tokens:
            if token.foreign:
                found.append((f"{token.value} {token.text.lower()}", token.span))
            elif token.kind == "stitch" and (word := " ".join(token.text.lower().split())) in translated:
                found.append((f"{TRANSLATED} {word}", token.span))
        return tuple(found)

    def _limit(self, headline: str, span: Span) -> None:
        say_once(self.findings, headline, span)

    def _row(self, line: Line, sizes: tuple[int, ...], kind: str, emphasis: bool) -> Told:
        """A line with a label, read word by word."""
        tokens = self._words(line.start, line.end)
        foreign = self._foreign(tokens)
        cursor = Cursor(self.text, tokens, self.lexicon, self.names, sizes)
        label = read_label(cursor, kind, emphasis)
        if label is None:
            return Told(None, (), (), len(tokens), foreign)
        numbered = may_hold(cursor)
        findings: list[Finding] = []
        hands = self._hands(cursor, line.end, findings)
        said = tuple(self._said(label, hand, findings) for hand in hands)
        return Told(label, said, tuple(findings), len(tokens), foreign, numbered)

    def _hands(self, cursor: Cursor, end: int, findings: list[Finding]) -> list[Cursor]:
        """The words behind a label, once for each group of sizes that go ways of their own."""
        apart = ways(self.text, cursor.token.start, end, self.names) if cursor.token is not None else []
        if not apart:
            return [cursor]
        findings += cursor.findings
        hands = []
        for own, stretches in apart:
            active = tuple(size for size in own if size in cursor.active)
            kept = [
                one
                for one in cursor.tokens[cursor.position :]
                if any(begin <= one.start < stop for begin, stop in stretches)
            ]
            if active and kept:
                hands.append(Cursor(self.text, kept, self.lexicon, self.names, active))
        return hands

    def _said(self, label: Label, cursor: Cursor, findings: list[Finding]) -> Said:
        """What the words at the cursor tell its sizes."""
        ranged = label.ranged or label.next_rows is not None
        nodes, stated = read_scheduled(cursor, ranged, _single(label)) or read_clauses(cursor)
        findings += cursor.findings
        found = with_joining_stitch(tuple(nodes), self.text) if label.kind == "round" else tuple(nodes)
        return Said(found, tuple(stated), cursor.active)

    def _instructions(self, line: Line, sizes: tuple[int, ...]) -> Told:
        """A line without a label, read word by word."""
        tokens = self._words(line.start, line.end)
        foreign = self._foreign(tokens)
        cursor = Cursor(self.text, tokens, self.lexicon, self.names, sizes)
        cursor.states = False
        # A note speaks of the work, and tells no rows.
        planned = None if _NOTE.match(line.name) else read_scheduled(cursor, False)
        if planned is None and _SHAPES.match(self.text, line.start, line.end):
            # A sentence about shaping that tells no rows is a note.
            missed = None if _NOTE.match(line.name) else untold(self.text, line.start, line.end, ())
            return Told(None, (), (missed,) if missed is not None else (), len(tokens), foreign)
        nodes, stated = planned or read_clauses(cursor)
        said = Said(tuple(nodes), tuple(stated), sizes)
        missed = None if _NOTE.match(line.name) else untold(self.text, line.start, line.end, nodes)
        findings = (*cursor.findings, missed) if missed is not None else tuple(cursor.findings)
        return Told(None, (said,), findings, len(tokens), foreign)

    def _sizes_of(self, line: Line, active: tuple[int, ...]) -> tuple[int, ...]:
        """The sizes that a line is for; a phrase that names none of the pattern's sizes is told."""
        if not line.phrase:
            self.sizes_told.clear()
            return active
        named = size_phrase(line.phrase, self.names) or other_sizes(line.phrase, self.sizes_told, len(self.names))
        self.sizes_told.update(named or ())
        if named is None:
            start = self.text.index(line.phrase, line.whole.start)
            self.findings.append(sizes_unknown(self.names, line.phrase, Span(start, start + len(line.phrase))))
        return named or active

    def _remember(self, label: Label) -> None:
        """The last row of each kind, for rules that say "in the same manner"."""
        number = label.last.values[0] if label.last is not None else None
        if number is not None:
            for every in ("even", "WS") if number % 2 == 0 else ("odd", "RS"):
                self.last_of[every] = number

    def _rule(
        self, line: Line, rule: tuple[Label, int, bool], sizes: tuple[int, ...], kind: str
    ) -> tuple[RowLine | None, str]:
        """A line that speaks of all rows of a kind."""
        label, begin, same = rule
        nodes: tuple[Node, ...] = same_manner(label, self.last_of.get(label.every))
        stated: list[Stated] = []
        if not same:
            cursor = Cursor(self.text, self._words(begin, line.end), self.lexicon, self.names, sizes)
            found, stated = read_clauses(cursor)
            self.findings += cursor.findings
            nodes = opened(tuple(found), self.definitions)
        if not any(isinstance(node, Work | Times | Evenly | Copy | Plain) for node in nodes):
            return None, kind
        return RowLine(label, nodes, tuple(stated), Span(line.start, line.end), sizes), kind


def _single(label: Label) -> int | None:
    """The number of a label that speaks of one row, the same in all sizes."""
    if label.ranged or label.first is None or len(label.first.values) != 1:
        return None
    return label.first.values[0]


def _act(name: str, text: str) -> str:
    """What a step is about: `seam` for a seam, else empty."""
    first = (name or text).lower().split()
    return "seam" if first and first[0].strip(":,.") in ("seam", "sew", "seaming") else ""
