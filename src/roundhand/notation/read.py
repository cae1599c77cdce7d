"""From a decoded text to a pattern. Reading never raises: what makes no sense becomes a gap and a finding."""

from __future__ import annotations

import re
from fractions import Fraction

import msgspec

from roundhand.findings import Finding, Source, Span
from roundhand.notation.book import read_book
from roundhand.notation.carrying import carry_notes
from roundhand.notation.count_notes import count_notes, count_notes_in_rows
from roundhand.notation.cursor import list_length
from roundhand.notation.depths import depth_note
from roundhand.notation.folding import joins_loops, with_joined_loops
from roundhand.notation.head import is_yarn_key, read_fact, read_gauge, read_hook, read_yarns
from roundhand.notation.held_throughout import held_notes
from roundhand.notation.kept import KeptLines
from roundhand.notation.language import foreign_words, language_of, older_findings, other_of, translated_words
from roundhand.notation.limits import LIMITS, say_once
from roundhand.notation.lines import Line
from roundhand.notation.making import Made, made_again, made_list, made_times, with_more
from roundhand.notation.page import cut_page, find_sizes
from roundhand.notation.pasted import typed
from roundhand.notation.quantities import Sizing, counts_of
from roundhand.notation.row_lines import Lines
from roundhand.notation.sizes import read_size_names, size_phrase
from roundhand.notation.sizing_section import read_sizing
from roundhand.notation.successive import one_by_one
from roundhand.notation.tokens import Lexicon
from roundhand.notation.tree import (
    Copy,
    Definition,
    Fact,
    Gauge,
    Part,
    Pattern,
    Rejoin,
    RowLine,
    Step,
    YarnLine,
)
from roundhand.notation.turning_notes import turns_rounds
from roundhand.terms import Vocabulary, vocabulary

# No key of the head needs more letters.
_LONGEST = 4_000
# Digits in such a row are no number that anyone means.
_ABSURD = re.compile(r"\d{41,}")
_QUANTITIES = ("quantity", "prose", "key")
_FLAT = re.compile(r"\b(?:turn|turning|across)\b", re.IGNORECASE)
_ROUND = re.compile(r"\b(?:rnds?|rounds?|around|join|ring|spiral|mr)\b", re.IGNORECASE)


def read(text: str, kept: KeptLines | None = None) -> tuple[Pattern, list[Finding]]:
    """A pattern with its findings from a decoded text.

    `kept` are the lines of the text before, where that is the same page with something changed: those that are the same
    are not read again. The answer is the same with it and without it.

    >>> pattern, findings = read("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: inc in each st around. (12)")
    >>> pattern.title, pattern.sizes, len(pattern.parts[0].lines), findings
    ('Cap', ('One size',), 2, [])
    """
    return _Reader(text, kept).pattern()


def read_closely(text: str) -> tuple[Pattern, list[Finding], Lexicon]:
    """A pattern as `read` gives it, with the meanings that its words have in it."""
    reader = _Reader(text)
    pattern, findings = reader.pattern()
    return pattern, findings, reader.lexicon


class _Reader:
    """One reading of one text. Everything that is found out stands here until the pattern is put together."""

    def __init__(self, text: str, kept: KeptLines | None = None) -> None:
        # Every place in the text as typed is the same place on the page.
        self.text = typed(text)
        self.source = Source(self.text)
        self.findings: list[Finding] = []
        self.names: tuple[str, ...] = ("One size",)
        self.sizes_span: Span | None = None
        self.definitions: dict[str, Definition] = {}
        self.defined: tuple[Definition, ...] = ()
        self.asides: tuple[Span, ...] = ()
        self.no_work: frozenset[int] = frozenset()
        self.foreign: dict[str, Span] = {}
        self.kept = kept if kept is not None else KeptLines()

    def pattern(self) -> tuple[Pattern, list[Finding]]:
        """Reads the text once for its head and once for its rows."""
        text = self.text
        self._sizes()
        lines = cut_page(self.source, self.names)
        terms = language_of(text, lines)
        self.language, self.language_said = terms.name, terms.said
        self.words = vocabulary(terms.name, terms.instead)
        self.facts, self.yarns, self.gauges, self.hook = self._head(lines)
        places = [Span(line.start, line.end) for line in lines if line.section == "sizing" and line.kind in _QUANTITIES]
        self.sizing = read_sizing(text, places, len(self.names)) if places else Sizing()
        self.lexicon = self._lexicon()
        self._definitions(lines)
        self.lexicon = msgspec.structs.replace(self.lexicon, sections=_sections(lines))
        notes = count_notes(text, lines)
        parts = self._parts(lines)
        self.findings += older_findings(text, terms, lines)
        self.findings += translated_words(self.words, self.foreign)
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
            held_notes(text, lines, parts, _yarn_names(self.lexicon)),
            self.sizing,
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
            say_once(self.findings, f"{len(names)} sizes are named; the first {LIMITS['sizes']} are worked", found[1])
            names = names[: LIMITS["sizes"]]
        self.names = names or self.names

    def _head(self, lines: list[Line]) -> tuple[list[Fact], list[YarnLine], list[Gauge], Fraction | None]:
        facts: list[Fact] = []
        yarns: list[YarnLine] = []
        gauges: list[Gauge] = []
        hook: Fraction | None = None
        for line in lines:
            if line.kind in ("row", "step", "title", "heading") or line.section == "sizing":
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
        named = {one.name: () for one in self.sizing.quantities}
        counts = {**named, **counts_of(self.sizing, len(self.names))} if named else {}
        return Lexicon(own, other, {}, labels, words, counts=counts)

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
        reader = Lines(
            self.text,
            self.lexicon,
            self.names,
            self.definitions,
            self.asides,
            self.findings,
            self.foreign,
            self.kept,
        )
        # One that has looked up most words already, if the text before used the same words.
        self.lexicon = reader.lexicon
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
                rows, kind = reader.rows(line, active, kind)
                body += [_in_joined_loops(row, body[-1] if body else None) for row in rows]
            elif line.kind == "step" or (line.kind == "prose" and line.section == "work"):
                again = made_again(self.text[line.start : line.end], len(self.names))
                if again is not None:
                    self._list_made(line)
                    if line.name:
                        # "Sleeve: Make 2." heads a part.
                        close()
                        body, span, name, make = [], line.whole, line.name, (1,)
                    if again[1] and not body and parts:
                        # "SECOND MOTIF. Make another, joining it to the first": the piece above once more.
                        one = parts.pop()
                        parts.append(msgspec.structs.replace(one, make=with_more(one.make, again[0])))
                        continue
                    make = with_more(make, again[0]) if again[1] else again[0]
                    continue
                step = reader.step(line, active)
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


def _yarn_names(lexicon: Lexicon) -> dict[str, str]:
    """The words for each yarn in small letters, its label and its colour, with the label."""
    return {word.lower(): label for word, label in (*lexicon.colours.items(), *lexicon.colour_words.items())}


def _is_trade_word(word: str, words: Vocabulary) -> bool:
    return words.find([word], 0) is not None


def _tidy(name: str) -> str:
    """A heading as a name: capitals become a title's.

    >>> _tidy("LEFT FRONT"), _tidy("Crown (worked flat)")
    ('Left Front', 'Crown (worked flat)')
    """
    name = " ".join(name.split()).strip(" -\u2013:")
    return name.title() if name.isupper() else name
