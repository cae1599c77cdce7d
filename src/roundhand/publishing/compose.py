"""From a pattern read and counted to its leaflet, in the order of the page and in her words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Literal

import msgspec

from roundhand.findings import Source, Span
from roundhand.measures import unit_words
from roundhand.notation.lines import Line
from roundhand.notation.page import cut_page
from roundhand.notation.sizes import size_phrase
from roundhand.notation.tree import Fact, Pattern, RowLine
from roundhand.press import plain
from roundhand.publishing.abbreviations import Speller
from roundhand.publishing.counting import filled_counts, filled_text, labels_per_size, row_numbers
from roundhand.publishing.leaflet import Block, Chart, Colour, Entry, Leaflet, MeasureLine, Section, YarnLineNeed
from roundhand.publishing.words import Cutter, Words
from roundhand.tally import RowTally, Tally

UNTITLED = "A pattern without a title"
UNNAMED = {"work": "Instructions", "notes": "Notes"}

_BULLET = re.compile(r"[\s\u2022\u00b7\u25cf\u25aa>+]*(?:[-\u2013*]\s+)?")
_LABEL_END = re.compile(r"[\s*_]*(?:(?:\([^()]*\)|\[[^\[\]]*\]|RS|WS)[\s*_]*)?(?::(?!/)|\.(?!\d)|\)|[-\u2013\u2014])")
_KEY_LINE = re.compile(r"([^\W\d_][^:\n]{0,58}?)\s*:(?!//)\s*(.*)", re.DOTALL)
_OWN = re.compile(r"([^:=\n]{1,20}?)\s*(?::|=|\s[-\u2013]\s)\s*(.+)")
# A value that is a list of lengths and nothing else, so that a table loses none of its words.
_LENGTHS = re.compile(
    rf"[\d\s/.,;|:()\[\]\u00bc-\u00be\u2150-\u215e\u2013-]+(?:{'|'.join(map(re.escape, unit_words()))})[.\s]*",
    re.IGNORECASE,
)
_WORD = re.compile(r"[^\W\d_]+(?:['\u2019][^\W\d_]+)*")
_LINE_END = re.compile(r"\r\n|\r|\n")

# Where a key of the head or the materials belongs, by how it begins.
_HOMES = (
    (("version", "errata", "erratum", "edition", "corrected", "correction", "updated", "revised"), "version"),
    (("yarn", "colour", "color", "mc", "cc", "main colo", "contrast"), "yarn"),
    (("hook",), "hook"),
    (("notion", "needle", "tools"), "notions"),
    (("material", "supplies", "you will need", "yardage", "amount", "weight"), "material"),
    (("swatch",), "swatch"),
    (("gauge", "tension"), "gauge"),
    (("abbreviation",), "listed"),
    (("special stitch", "stitch guide"), "special"),
    (("note", "about", "introduction"), "intro"),
)
_ROLES = ("yarn", "hook", "notions", "gauge", "swatch")
_UNPRINTED = ("terms", "terminology", "language", "crochet terms")
_SECTIONS = {"materials": "material", "gauge": "gauge", "terms": "listed", "special": "special", "sizes": "size"}
_CARE = ("care", "safety", "caution", "warning")


def leaflet(
    source: Source,
    pattern: Pattern,
    tally: Tally,
    measures: Sequence[MeasureLine] = (),
    needs: Sequence[YarnLineNeed] = (),
    charts: Sequence[Chart] = (),
) -> Leaflet:
    """The leaflet of a pattern, with the measures, yarn and charts that were worked out for it.

    Her words stand as she wrote them but for signs that cannot be seen and white space, which is single. A heading in
    capitals gets small letters, since type does there what capitals do in plain text. The section `Sizing` and the
    editor's words are never printed. Never raises for anything that a text holds.

    >>> from roundhand import notation, tally
    >>> from roundhand.publishing.words import said
    >>> text = "MOON CAP\\n\\nRnd 1: 6 sc in a magic ring.\\nRnd 2: Inc in each st around. (12)"
    >>> pattern, _ = notation.read(text)
    >>> made = leaflet(Source(text), pattern, tally.count(pattern)[0])
    >>> made.title, [(said(row.label), said(row.words)) for row in made.sections[0].blocks]
    ('Moon Cap', [('Rnd 1:', '6 sc in a magic ring.'), ('Rnd 2:', 'Inc in each st around. (12)')])
    >>> made.sections[0].blocks[0].filled[0].counts
    (6,)
    """
    lines = cut_page(source, pattern.sizes)
    composer = _Composer(source.text, pattern, tally, lines)
    for line in lines:
        composer.take(line)
    return composer.made(measures, needs, charts)


def headline(name: str) -> str:
    """A title or heading as type shows it: one in capitals gets small letters.

    >>> headline("KITTIWAKE CAP"), headline("CHILD'S HAT"), headline("SLEEVE (MAKE 2)"), headline("<B>#X</B>")
    ('Kittiwake Cap', "Child's Hat", 'Sleeve (make 2)', '<B>#X</B>')
    """
    name = plain(name).strip(" -\u2013:")
    if not name.isupper() or not re.fullmatch(r"[\w\s'\u2019,.&()/-]+", name):
        return name
    aside = name.find("(") if "(" in name else len(name)
    return _WORD.sub(lambda found: found[0].capitalize(), name[:aside]) + name[aside:].lower()


class _Composer:
    """Sorts the lines of one page into a leaflet."""

    def __init__(self, text: str, pattern: Pattern, tally: Tally, lines: Sequence[Line]) -> None:
        self.text = text
        self.pattern = pattern
        self.everyone = tuple(range(len(pattern.sizes)))
        self.rows: dict[int, list[RowTally]] = {}
        for row in tally.rows():
            self.rows.setdefault(row.line.span.start, []).append(row)
        labelled = (line for part in pattern.parts for line in part.lines)
        self.labelled = {line.span.start: line for line in labelled if isinstance(line, RowLine)}
        self.facts = {fact.span.start: fact for fact in pattern.facts}
        self.cutter = Cutter(Speller(pattern, self._own_abbreviations(lines)), len(pattern.sizes))
        self.entries: dict[str, list[Entry]] = {}
        self.intro: list[Words] = []
        self.stated: list[MeasureLine] = []
        self.sections: list[Section] = []
        self.open: tuple[str, Literal["work", "notes"]] | None = None
        self.blocks: list[Block] = []
        self.held: list[Line] = []
        self.active = self.everyone

    def take(self, line: Line) -> None:
        """Adds a line of the page to where it belongs; the editor's word is for nobody else."""
        if line.kind == "key" and line.name.lower().strip(" *_") == "editor":
            return
        if line.section == "head" and line.kind == "step":
            # Before any heading "With A, ch 7." begins the work if a row follows, and is a word to the maker if not.
            self.held.append(line)
            return
        for held in self.held:
            if line.kind == "row":
                self._block(held, "work")
            else:
                self._introduce(held)
        self.held = []
        if line.kind == "heading":
            self._close()
            if line.section == "work":
                self.open = (line.name, "work")
            elif line.section == "notes":
                self.open = (line.name, "notes")
        elif line.section == "work":
            self._block(line, "work")
        elif line.section == "notes":
            self._block(line, "notes")
        elif line.kind == "key":
            self._key(line)
        elif line.section in _SECTIONS:
            self._enter(_SECTIONS[line.section], "", line.start, line.end)
        elif line.kind != "title" and line.section != "sizing":
            self._introduce(line)

    def made(self, measures: Sequence[MeasureLine], needs: Sequence[YarnLineNeed], charts: Sequence[Chart]) -> Leaflet:
        """All that was taken, as a leaflet."""
        for held in self.held:
            self._introduce(held)
        self._close()
        works = [at for at, section in enumerate(self.sections) if section.kind != "notes"] or [0, -1]
        first, last = works[0], works[-1] + 1
        listed = {entry.key.casefold() for entry in self._of("listed")}
        return Leaflet(
            title=headline(self.pattern.title) or UNTITLED,
            language=self.pattern.language,
            sizes=tuple(plain(name).strip() or str(at) for at, name in enumerate(self.pattern.sizes, 1)),
            version=self._of("version"),
            about=self._of("about"),
            intro=tuple(self.intro),
            stated=tuple(self.stated),
            size_notes=self._of("size"),
            measures=tuple(msgspec.structs.replace(line, what=plain(line.what)) for line in measures),
            materials=self._of("yarn", "material", "hook", "notions"),
            colours=tuple(Colour(plain(yarn.label), plain(yarn.colour)) for yarn in self.pattern.yarns if yarn.label),
            needs=tuple(map(_plain_need, needs)),
            gauge=self._of("gauge", "swatch"),
            listed=self._of("listed"),
            abbreviations=tuple(one for one in self.cutter.met if one.short.casefold() not in listed),
            special=self._of("special"),
            opening=tuple(self.sections[:first]),
            sections=tuple(self.sections[first:last]),
            closing=tuple(self.sections[last:]),
            charts=tuple(map(_plain_chart, charts)),
        )

    # The head and its sections.

    def _key(self, line: Line) -> None:
        fact = self.facts.get(line.start)
        if line.section == "sizing" or self._is_unprinted(line):
            return
        # Within a section a key is its own, but the materials hold several kinds of things and the head all kinds.
        home = _SECTIONS.get(line.section, "")
        named = _home_of(line.name)
        if not home or (home == "material" and named in _ROLES):
            home = named or home
        if home in ("", "size") and fact is not None and self._is_measure(fact):
            lengths = fact.lengths * len(self.everyone) if len(fact.lengths) == 1 else fact.lengths
            self.stated.append(MeasureLine(plain(line.name), lengths))
        elif home == "intro":
            self._introduce(line)
        else:
            self._enter(home or "about", line.name, line.start, line.end)

    def _is_unprinted(self, line: Line) -> bool:
        """The names of the sizes and the terms have places of their own."""
        span = self.pattern.sizes_span
        if span is not None and line.whole.start <= span.start < line.whole.end:
            return True
        name = line.name.lower().strip(" *_")
        return name in _UNPRINTED and len(self.text[line.start : line.end].split()) <= 3

    def _is_measure(self, fact: Fact) -> bool:
        return len(fact.lengths) in (1, len(self.everyone)) and _LENGTHS.fullmatch(fact.text) is not None

    def _introduce(self, line: Line) -> None:
        words = self._cut(line.start, line.end, instruction=False)
        if words:
            self.intro.append(words)

    def _enter(self, home: str, key: str, start: int, end: int) -> None:
        """A line of materials, gauge or the like; what the page has on lines of their own is taken apart again."""
        edges = [start, end]
        if home != "special":
            edges[1:1] = [start + found.start() for found in _LINE_END.finditer(self.text[start:end])]
        for left, right in pairwise(edges):
            begin = self._past_bullet(left, right)
            name = key if left == start else ""
            found = (_OWN if home == "listed" else _KEY_LINE).match(self.text, begin, right) if not name else None
            if found is not None and len(found[1].split()) <= 6:
                name, begin = found[1], found.start(2)
            words = self._cut(begin, right, instruction=home in ("special", "gauge"))
            if words or name:
                role = next((one for one in (_home_of(name), home) if one in _ROLES), "")
                entry = Entry(plain(name).strip(" *_"), words, role)
                self.entries.setdefault(home, []).append(entry)

    def _of(self, *homes: str) -> tuple[Entry, ...]:
        return tuple(entry for home in homes for entry in self.entries.get(home, ()))

    def _own_abbreviations(self, lines: Sequence[Line]) -> dict[str, str]:
        """What the pattern's own list of abbreviations says, short word by short word."""
        own: dict[str, str] = {}
        for line in lines:
            if line.section == "terms" and line.kind in ("key", "prose", "step"):
                for piece in self.text[line.whole.start : line.end].splitlines():
                    found = _OWN.match(piece.strip())
                    if found is not None:
                        own[plain(found[1]).strip(" *_\u2022-")] = plain(found[2]).strip(" .,;")
        return own

    # Sections of work and notes.

    def _close(self) -> None:
        """Ends the section that is open."""
        if self.blocks and self.open is not None:
            name, told = self.open
            kind: Literal["work", "finishing", "notes"] = told
            if kind == "work" and not any(block.kind == "row" for block in self.blocks):
                kind = "finishing" if any(section.kind == "work" for section in self.sections) else "work"
            care = kind == "notes" and name.lower().strip().startswith(_CARE)
            self.sections.append(Section(headline(name) or UNNAMED[told], kind, tuple(self.blocks), care))
        self.open = None
        self.blocks = []
        self.active = self.everyone

    def _block(self, line: Line, section: Literal["work", "notes"]) -> None:
        if self.open is None or self.open[1] != section:
            self._close()
            self.open = ("", section)
        if line.kind == "row":
            self.blocks.append(self._row(line))
            return
        if line.kind == "sizes":
            self.active = size_phrase(line.phrase, self.pattern.sizes) or self.everyone
        sizes = (size_phrase(line.phrase, self.pattern.sizes) if line.phrase else None) or self.active
        # A step or note with a word in front, `Seam: …` or `Child and up: …`, keeps it.
        start = self._past_bullet(line.whole.start, line.start) if line.name or line.phrase else line.start
        instruction = section == "work" and line.kind != "prose"
        words = self._cut(start, line.end, active=sizes, instruction=instruction)
        kind: Literal["step", "prose", "sizes"] = "step" if instruction else "prose"
        if words:
            self.blocks.append(Block("sizes" if line.kind == "sizes" else kind, words, sizes))

    def _row(self, line: Line) -> Block:
        read = self.labelled.get(line.start)
        rows = self.rows.get(line.start, [])
        begin = self._past_bullet(line.whole.start, line.start)
        if read is None:
            return Block("row", self._cut(begin, line.end), self.active)
        body = read.label.span.end
        closed = _LABEL_END.match(self.text, body, line.end)
        body = end = closed.end() if closed is not None else body
        # Marks of bold type around a label are no words of hers.
        if self.text.startswith("**", begin):
            begin += 2
            body += 2 if self.text.startswith("**", body) else 0
        return Block(
            "row",
            self._cut(body, line.end, [stated.span for stated in read.stated], read.sizes),
            read.sizes,
            label=self._cut(begin, end, active=read.sizes),
            labels=labels_per_size(rows),
            numbers=self.cutter.cut(row_numbers(rows)) if rows and read.label.first is None else (),
            filled=tuple(
                msgspec.structs.replace(filled, words=self.cutter.cut(filled_text(filled), active=read.sizes))
                for filled in filled_counts(rows)
            ),
        )

    def _cut(
        self,
        start: int,
        end: int,
        counts: Iterable[Span] = (),
        active: tuple[int, ...] = (),
        instruction: bool = True,
    ) -> Words:
        return self.cutter.cut(self.text, start, end, counts, active, instruction)

    def _past_bullet(self, start: int, end: int) -> int:
        found = _BULLET.match(self.text, start, end)
        return found.end() if found is not None else start


def _plain_need(need: YarnLineNeed) -> YarnLineNeed:
    return msgspec.structs.replace(
        need, label=plain(need.label), colour=plain(need.colour), buy=tuple(map(plain, need.buy))
    )


def _plain_chart(chart: Chart) -> Chart:
    return msgspec.structs.replace(
        chart,
        piece=plain(chart.piece),
        title=plain(chart.title),
        description=plain(chart.description),
        words=tuple(map(plain, chart.words)),
    )


def _home_of(key: str) -> str:
    """Where a key of the head belongs; empty for one that says something else."""
    lower = " ".join(key.lower().split()).strip(" *_")
    if re.fullmatch(r"[a-z]|mc|cc\d?|c\d", lower):
        return "yarn"
    return next((home for openers, home in _HOMES if lower.startswith(openers)), "")
