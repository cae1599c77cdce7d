"""From a decoded text to a pattern. Reading never raises: what makes no sense becomes a gap and a finding."""

from __future__ import annotations

import re
from fractions import Fraction

import msgspec

from roundhand.findings import Finding, Source, Span
from roundhand.notation.book import read_book
from roundhand.notation.carrying import carry_notes
from roundhand.notation.clauses import read_clauses
from roundhand.notation.closing_stitch import with_joining_stitch
from roundhand.notation.count_notes import count_notes, count_notes_in_rows
from roundhand.notation.cursor import Cursor, list_length
from roundhand.notation.depths import depth_note
from roundhand.notation.folding import joins_loops, with_joined_loops
from roundhand.notation.head import is_yarn_key, read_fact, read_gauge, read_hook, read_yarns
from roundhand.notation.labels import read_label
from roundhand.notation.language import foreign_words, language_of, older_findings, other_of
from roundhand.notation.limits import LIMITS, beyond
from roundhand.notation.lines import Line
from roundhand.notation.making import Made, made_again, made_list, made_times, with_more
from roundhand.notation.named_groups import opened
from roundhand.notation.page import cut_page, find_sizes
from roundhand.notation.pasted import typed
from roundhand.notation.rule_rows import read_rule, same_manner
from roundhand.notation.scheduled import read_scheduled
from roundhand.notation.sized_rows import other_sizes, ways, with_counts
from roundhand.notation.sizes import read_size_names, size_phrase, sizes_unknown
from roundhand.notation.successive import one_by_one
from roundhand.notation.tokens import Lexicon, Token, understand
from roundhand.notation.tree import (
    Copy,
    Definition,
    Evenly,
    Fact,
    Gauge,
    Label,
    Node,
    Part,
    Pattern,
    Plain,
    Rejoin,
    RowLine,
    Stated,
    Step,
    Times,
    Work,
    YarnLine,
)
from roundhand.notation.turning_notes import turns_rounds
from roundhand.terms import Vocabulary, vocabulary

# No key of the head needs more letters.
_LONGEST = 4_000
# Digits in such a row are no number that anyone means.
_ABSURD = re.compile(r"\d{41,}")
_FLAT = re.compile(r"\b(?:turn|turning|across)\b", re.IGNORECASE)
_ROUND = re.compile(r"\b(?:rnds?|rounds?|around|join|ring|spiral|mr)\b", re.IGNORECASE)
_SHAPES = re.compile(r"(?:inc|dec)(?:reas|\b)|at\s+the\s+same\s+time\b", re.IGNORECASE)


def read(text: str) -> tuple[Pattern, list[Finding]]:
    """A pattern with its findings from a decoded text.

    >>> pattern, findings = read("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: inc in each st around. (12)")
    >>> pattern.title, pattern.sizes, len(pattern.parts[0].lines), findings
    ('Cap', ('One size',), 2, [])
    """
    return _Reader(text).pattern()


def read_closely(text: str) -> tuple[Pattern, list[Finding], Lexicon]:
    """A pattern as `read` gives it, with the meanings that its words have in it."""
    reader = _Reader(text)
    pattern, findings = reader.pattern()
    return pattern, findings, reader.lexicon


class _Reader:
    """One reading of one text. Everything that is found out stands here until the pattern is put together."""

    def __init__(self, text: str) -> None:
        # Every place in the text as typed is the same place on the page.
        self.text = typed(text)
        self.source = Source(self.text)
        self.findings: list[Finding] = []
        self.names: tuple[str, ...] = ("One size",)
        self.sizes_span: Span | None = None
        self.definitions: dict[str, Definition] = {}
        self.defined: tuple[Definition, ...] = ()
        self.asides: tuple[Span, ...] = ()
        # The sizes that phrases in front of the last rows have named.
        self.sizes_told: set[int] = set()
        self.no_work: frozenset[int] = frozenset()
        self.foreign: dict[str, Span] = {}
        self.last_of: dict[str, int] = {}
        self.tokens_left = LIMITS["tokens"]
        self.rows_left = LIMITS["rows"]

    def pattern(self) -> tuple[Pattern, list[Finding]]:
        """Reads the text once for its head and once for its rows."""
        text = self.text
        self._sizes()
        lines = cut_page(self.source, self.names)
        terms = language_of(text, lines)
        self.language, self.language_said = terms.name, terms.said
        self.words = vocabulary(terms.name, terms.instead)
        self.facts, self.yarns, self.gauges, self.hook = self._head(lines)
        self.lexicon = self._lexicon()
        self._definitions(lines)
        self.lexicon = msgspec.structs.replace(self.lexicon, sections=_sections(lines))
        notes = count_notes(text, lines)
        parts = self._parts(lines)
        self.findings += older_findings(text, terms, lines)
        self.findings += foreign_words(text, self.language, self.language_said, self.foreign)
        title = next((line.name for line in lines if line.kind == "title"), "")
        notes += count_notes_in_rows(text, parts)
        pattern = Pattern(
            title,
            self.names,
            self.language,
            self.language_said,
            tuple(self.facts),
            tuple(self.yarns),
            tuple(self.gauges),
            self.hook,
            self.definitions,
            tuple(notes),
            tuple(parts),
            self.sizes_span,
            depth_note(text, lines),
            self.defined,
            carry_notes(text, lines, parts),
            turns_rounds(text, lines),
            tuple(dict.fromkeys(span.of(text).lower() for span in terms.shown)),
        )
        return pattern, self.findings

    # The head.

    def _sizes(self) -> None:
        found = find_sizes(self.source)
        if found is None:
            return
        names = read_size_names(found[0])
        self.sizes_span = found[1]
        if len(names) > LIMITS["sizes"]:
            self._limit(f"{len(names)} sizes are named; the first {LIMITS['sizes']} are worked", found[1])
            names = names[: LIMITS["sizes"]]
        self.names = names or self.names

    def _limit(self, headline: str, span: Span) -> None:
        if all(found.headline != headline for found in self.findings if found.name == "limit-reached"):
            self.findings.append(beyond(headline, span))

    def _head(self, lines: list[Line]) -> tuple[list[Fact], list[YarnLine], list[Gauge], Fraction | None]:
        facts: list[Fact] = []
        yarns: list[YarnLine] = []
        gauges: list[Gauge] = []
        hook: Fraction | None = None
        for line in lines:
            if line.kind == "row" or (line.kind in ("step", "title", "heading")):
                continue
            value = _ABSURD.sub(
                lambda found: "-" * len(found[0]), self.text[line.start : min(line.end, line.start + _LONGEST)]
            )
            key = line.name if line.kind == "key" else ""
            lower = key.lower()
            if line.kind == "key":
                facts.append(self._fact(key, value, line.start))
            if (
                (line.section in ("head", "materials", "sizes") and line.kind == "key" and is_yarn_key(key))
                or (
                    line.section == "materials"
                    and not lower.startswith(("hook", "notion", "yarn needed", "amount", "swatch"))
                )
                or lower.startswith(("material", "supplies"))
            ):
                yarns += read_yarns(key, value, Span(line.whole.start, line.end), len(self.names))
            if line.section == "gauge" or lower.startswith(("gauge", "tension")):
                of = "" if lower.startswith(("gauge", "tension")) else key
                gauge = read_gauge(of, value, line.start)
                if gauge is not None:
                    gauges.append(gauge)
                if lower.startswith("tension") and self.language == "US" and self.language_said:
                    self.foreign.setdefault("tension", Span(line.whole.start, line.whole.start + len("tension")))
            if "hook" in lower or (line.section == "materials" and "hook" in value.lower()):
                hook = hook or read_hook(value)
        seen: set[str] = set()
        unique = []
        for yarn in yarns:
            if yarn.label not in seen or not yarn.label:
                seen.add(yarn.label)
                unique.append(yarn)
        return facts, unique, gauges, hook

    def _fact(self, key: str, value: str, start: int) -> Fact:
        fact = read_fact(key, value, start, len(self.names))
        count = len(fact.numbers)
        if count not in (0, 1, len(self.names)) and not self._is_free(key):
            found = re.compile(r"\d[^()\[\]]*[(\[][^)\]]*[)\]]").search(value)
            where = Span(start + found.start(), start + found.end()) if found is not None else fact.span
            self.findings.append(list_length(self.names, tuple(range(len(self.names))), count, where))
            fact = msgspec.structs.replace(
                fact,
                numbers=(fact.numbers + (None,) * len(self.names))[: len(self.names)],
                lengths=(fact.lengths + (None,) * len(self.names))[: len(self.names)] if fact.lengths else (),
            )
        return fact

    @staticmethod
    def _is_free(key: str) -> bool:
        """Keys whose numbers are no list of sizes: a hook, a gauge, a swatch, a put-up."""
        return (
            key.lower().startswith(
                (
                    "hook",
                    "gauge",
                    "tension",
                    "swatch",
                    "notion",
                    "size",
                    "material",
                    "suppl",
                    "editor",
                    "copyright",
                    "version",
                )
            )
            or len(key) <= 2
        )

    def _lexicon(self) -> Lexicon:
        labels = {yarn.label: yarn.label for yarn in self.yarns if yarn.label}
        words = {
            yarn.colour.lower(): yarn.label
            for yarn in self.yarns
            if yarn.label and yarn.colour and " " not in yarn.colour and len(yarn.colour) > 2
        }
        own = self.words
        words = {word: label for word, label in words.items() if not _is_trade_word(word, own)}
        other = vocabulary(other_of(self.language))
        return Lexicon(own, other, {}, labels, words)

    # Stitches that the pattern defines.

    def _definitions(self, lines: list[Line]) -> None:
        book = read_book(self.text, lines, self.lexicon, self.names)
        self.lexicon = book.lexicon
        self.definitions = dict(book.definitions)
        self.defined = book.defined
        self.asides = book.asides
        self.no_work = book.own_lines

    # Sections, rows and steps.

    def _parts(self, lines: list[Line]) -> list[Part]:
        title = next((line.name for line in lines if line.kind == "title"), "")
        parts: list[Part] = []
        name, span = title, Span(0, 0)
        make: Made = (1,)
        body: list[RowLine | Step] = []
        everyone = tuple(range(len(self.names)))
        active = everyone
        kind = "round"

        def close() -> None:
            if body:
                parts.append(Part(_tidy(name) or "Pattern", span, tuple(body), make))

        for position, line in enumerate(lines):
            if position in self.no_work:
                continue
            if position == 0 or line.kind == "heading":
                kind = self._bare_kind(lines[position + 1 :])
            if line.kind == "heading":
                close()
                body = []
                active = everyone
                span = line.whole
                make, name = made_times(line.name, len(self.names)) if line.section == "work" else ((1,), title)
                if line.section == "work":
                    self._list_made(line)
            elif line.kind == "sizes":
                active = size_phrase(line.phrase, self.names) or everyone
            elif line.kind == "row":
                rows, kind = self._rows(line, active, kind)
                body += [_in_joined_loops(row, body[-1] if body else None) for row in rows]
            elif line.kind == "step" or (line.kind == "prose" and line.section == "work"):
                again = made_again(self.text[line.start : line.end], len(self.names))
                if again is not None:
                    self._list_made(line)
                    if line.name:
                        # "Sleeve: Make 2." heads a part.
                        close()
                        body, span, name, make = [], line.whole, line.name, (1,)
                    make = with_more(make, again[0]) if again[1] else again[0]
                    continue
                step = self._step(line, active)
                if step is None:
                    continue
                if line.name and any(isinstance(node, Copy) and (node.part or node.side) for node in step.nodes):
                    # "Right front: work as for left front, reversing shaping": a piece told on one line.
                    close()
                    body, span = [], line.whole
                    make, name = made_times(line.name, len(self.names))
                body += one_by_one(step)
        close()
        return parts

    def _list_made(self, line: Line) -> None:
        """Tells a list of how many are made that has neither one value nor one for each size."""
        listed = made_list(self.text[line.whole.start : line.end]) if len(self.names) > 1 else None
        if listed is not None and listed[0] not in (1, len(self.names)):
            span = Span(line.whole.start + listed[1], line.whole.start + listed[2])
            self.findings.append(list_length(self.names, tuple(range(len(self.names))), listed[0], span))

    def _bare_kind(self, lines: list[Line]) -> str:
        """Whether a bare label, `5:`, means a row or a round in the part that follows, by how its rows end."""
        flat = False
        for line in lines:
            if line.kind == "heading":
                break
            if line.kind in ("row", "step"):
                if _ROUND.search(self.text, line.start, line.end):
                    return "round"
                flat = flat or _FLAT.search(self.text, line.start, line.end) is not None
        return "row" if flat else "round"

    def _tokens(self, start: int, end: int) -> list[Token]:
        if end - start > LIMITS["row characters"]:
            self._limit(
                f"a row of {end - start:,} characters is read up to {LIMITS['row characters']:,}",
                Span(start, start + 40),
            )
            end = start + LIMITS["row characters"]
        tokens = understand(self.text, start, end, self.lexicon) if self.tokens_left >= 0 else []
        aside = [span for span in self.asides if start <= span.start < end]
        if aside:
            tokens = [token for token in tokens if not any(span.start <= token.start < span.end for span in aside)]
        if len(tokens) > self.tokens_left >= 0:
            self._limit(f"the text is read up to {LIMITS['tokens']:,} words", Span(start, end))
            tokens, self.tokens_left = tokens[: self.tokens_left], -1
        self.tokens_left -= len(tokens)
        for token in tokens:
            if token.foreign:
                self.foreign.setdefault(token.value + " " + token.text.lower(), token.span)
        return tokens

    def _rows(self, line: Line, active: tuple[int, ...], kind: str) -> tuple[list[RowLine], str]:
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
        cursor = Cursor(self.text, self._tokens(line.start, line.end), self.lexicon, self.names, sizes)
        emphasis = line.start > 0 and self.text[line.start - 1] in "*_"
        label = read_label(cursor, kind, emphasis)
        if label is None:
            return [], kind
        self._remember(label)
        hands = self._hands(cursor, line.end)
        rows = [self._worked(line, label, hand) for hand in hands]
        return with_counts(rows, len(self.names)), label.kind or kind

    def _hands(self, cursor: Cursor, end: int) -> list[Cursor]:
        """The words behind a label, once for each group of sizes that go ways of their own."""
        apart = ways(self.text, cursor.token.start, end, self.names) if cursor.token is not None else []
        if not apart:
            return [cursor]
        self.findings += cursor.findings
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

    def _worked(self, line: Line, label: Label, cursor: Cursor) -> RowLine:
        """The row that the words at the cursor tell, for its sizes."""
        ranged = label.ranged or label.next_rows is not None
        nodes, stated = read_scheduled(cursor, ranged, _single(label)) or read_clauses(cursor)
        self.findings += cursor.findings
        found = with_joining_stitch(tuple(nodes), self.text) if label.kind == "round" else tuple(nodes)
        body = opened(found, self.definitions)
        return RowLine(label, body, tuple(stated), Span(line.start, line.end), cursor.active)

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
            cursor = Cursor(self.text, self._tokens(begin, line.end), self.lexicon, self.names, sizes)
            found, stated = read_clauses(cursor)
            self.findings += cursor.findings
            nodes = opened(tuple(found), self.definitions)
        if not any(isinstance(node, Work | Times | Evenly | Copy | Plain) for node in nodes):
            return None, kind
        return RowLine(label, nodes, tuple(stated), Span(line.start, line.end), sizes), kind

    def _step(self, line: Line, active: tuple[int, ...]) -> Step | None:
        sizes = self._sizes_of(line, active)
        tokens = self._tokens(line.start, line.end)
        cursor = Cursor(self.text, tokens, self.lexicon, self.names, sizes)
        cursor.states = False
        if line.kind == "prose":
            return None
        planned = read_scheduled(cursor, False)
        if planned is not None:
            nodes, stated = planned
        elif _SHAPES.match(self.text, line.start, line.end):
            # A sentence about shaping that tells no rows is a note.
            return None
        else:
            nodes, stated = read_clauses(cursor)
        self.findings += cursor.findings
        body = opened(tuple(nodes), self.definitions)
        act = _act(line.name, self.text[line.start : line.end])
        return Step(body, line.whole, sizes, act, tuple(stated))


def _sections(lines: list[Line]) -> tuple[str, ...]:
    """The names by which pieces of the page may be spoken of."""
    names = (line.name for line in lines if line.section == "work" and line.kind in ("heading", "step") and line.name)
    found = (made_times(name)[1].strip(" #*_:") for name in names)
    return tuple(dict.fromkeys(name for name in found if len(name) > 2))


def _in_joined_loops(row: RowLine, before: RowLine | Step | None) -> RowLine:
    """`Join A in any free loop of Rnd 3.` on a line of its own: the row behind it is worked along these loops."""
    joined = next((node for node in before.nodes if joins_loops(node)), None) if isinstance(before, Step) else None
    if not isinstance(joined, Rejoin):
        return row
    return msgspec.structs.replace(row, nodes=with_joined_loops(row.nodes, joined))


def _single(label: Label) -> int | None:
    """The number of a label that speaks of one row, the same in all sizes."""
    if label.ranged or label.first is None or len(label.first.values) != 1:
        return None
    return label.first.values[0]


def _is_trade_word(word: str, words: Vocabulary) -> bool:
    return words.find([word], 0) is not None


def _act(name: str, text: str) -> str:
    """What a step is about: `seam` for a seam, else empty."""
    first = (name or text).lower().split()
    return "seam" if first and first[0].strip(":,.") in ("seam", "sew", "seaming") else ""


def _tidy(name: str) -> str:
    """A heading as a name: capitals become a title's.

    >>> _tidy("LEFT FRONT"), _tidy("Crown (worked flat)")
    ('Left Front', 'Crown (worked flat)')
    """
    name = " ".join(name.split()).strip(" -\u2013:")
    return name.title() if name.isupper() else name
