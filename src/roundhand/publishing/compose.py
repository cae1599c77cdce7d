"""From a pattern read and counted to its leaflet, in the order of the page and in her words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

import msgspec

from roundhand.findings import Source, Span
from roundhand.measures import unit_words
from roundhand.notation.page import Line, cut_page
from roundhand.notation.tree import Fact, Pattern, RowLine
from roundhand.press import plain
from roundhand.publishing.abbreviations import Speller
from roundhand.publishing.counting import filled_counts, filled_text, labels_per_size, row_numbers
from roundhand.publishing.leaflet import (
    Block,
    Chart,
    Colour,
    Entry,
    Leaflet,
    MeasureLine,
    Section,
    YarnLineNeed,
)
from roundhand.publishing.words import Cutter, Words
from roundhand.tally import RowTally, Tally

UNTITLED = "A pattern without a title"

_BULLET = re.compile(r"[\s\u2022\u00b7\u25cf\u25aa>+]*(?:[-\u2013*]\s+)?")
_LABEL_END = re.compile(r"[\s*_]*(?:(?:\([^()]*\)|\[[^\[\]]*\]|RS|WS)[\s*_]*)?(?::(?!/)|\.(?!\d)|\)|[-\u2013\u2014])")
_KEY_LINE = re.compile(r"(?P<key>[^\W\d_][^:\n]{0,58}?)\s*:(?!//)\s*(?P<value>.*)", re.DOTALL)
_LIST = re.compile(
    r"[\d\s/.,;|:()\[\]\u00bc-\u00be\u2150-\u215e\u2013-]+(?P<unit>" + "|".join(map(re.escape, unit_words())) + r")?[.\s]*",
    re.IGNORECASE,
)
_WORD = re.compile(r"[^\W\d_]+(?:['\u2019][^\W\d_]+)*")

# Keys of the head by what they are about; the first that fits, by how the key begins.
_HOMES = (
    (("size", "sizes", "terms", "terminology", "language", "crochet terms", "editor", "sizing"), "nowhere"),
    (("version", "errata", "erratum", "edition", "corrected", "correction", "updated", "revised"), "version"),
    (("yarn", "colour", "color", "mc", "cc", "main colo", "contrast", "colourway", "colorway"), "yarn"),
    (("hook",), "hook"),
    (("notion", "needle", "tools"), "notions"),
    (("material", "supplies", "you will need", "yardage", "amount", "weight"), "material"),
    (("swatch",), "swatch"),
    (("gauge", "tension"), "gauge"),
    (("abbreviation",), "listed"),
    (("special stitch", "stitch guide"), "special"),
    (("note", "about", "introduction"), "intro"),
)
_SECTION_HOMES = {
    "materials": "material",
    "gauge": "gauge",
    "terms": "listed",
    "special": "special",
    "sizes": "size",
    "sizing": "nowhere",
}
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
    composer = _Composer(source, pattern, tally)
    for line in cut_page(source, pattern.sizes):
        composer.take(line)
    return composer.made(measures, needs, charts)


class _Composer:
    """Sorts the lines of one page into a leaflet."""

    def __init__(self, source: Source, pattern: Pattern, tally: Tally) -> None:
        self.text = source.text
        self.pattern = pattern
        self.rows: dict[int, list[RowTally]] = {}
        for row in tally.rows():
            self.rows.setdefault(row.line.span.start, []).append(row)
        self.lines = {
            line.span.start: line for part in pattern.parts for line in part.lines if isinstance(line, RowLine)
        }
        self.facts = {fact.span.start: fact for fact in pattern.facts}
        self.everyone = tuple(range(len(pattern.sizes)))
        self.entries: dict[str, list[Entry]] = {}
        self.intro: list[Words] = []
        self.stated: list[MeasureLine] = []
        self.sections: list[Section] = []
        self.open: tuple[str, str] | None = None
        self.blocks: list[Block] = []
        self.active = self.everyone
        self.cutter = Cutter(Speller(pattern, self._own_abbreviations(source)), len(pattern.sizes))

    def made(
        self, measures: Sequence[MeasureLine], needs: Sequence[YarnLineNeed], charts: Sequence[Chart]
    ) -> Leaflet:
        """All that was taken, as a leaflet."""
        self._close()
        works = [at for at, section in enumerate(self.sections) if section.kind != "notes"] or [0, -1]
        first, last = works[0], works[-1] + 1
        materials = [entry for home in ("yarn", "material", "hook", "notions") for entry in self._of(home)]
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
            materials=tuple(materials),
            colours=tuple(
                Colour(plain(yarn.label), plain(yarn.colour)) for yarn in self.pattern.yarns if yarn.label
            ),
            needs=tuple(map(_plain_need, needs)),
            gauge=(*self._of("gauge"), *self._of("swatch")),
            listed=self._of("listed"),
            abbreviations=self._abbreviations(),
            special=self._of("special"),
            opening=tuple(self.sections[:first]),
            sections=tuple(self.sections[first:last]),
            closing=tuple(self.sections[last:]),
            charts=tuple(map(_plain_chart, charts)),
        )

    def take(self, line: Line) -> None:
        """Adds a line of the page to where it belongs."""
        if line.kind == "title":
            return
        if line.kind == "heading":
            self._close()
            if line.section in ("work", "notes"):
                self.open = (line.name, line.section)
            return
        if line.section in ("work", "notes") and line.kind != "key":
            self._block(line)
        elif line.section == "notes":
            self._block(line)
        elif line.kind == "key":
            self._key(line)
        else:
            self._loose(line)

    # The head and its sections.

    def _key(self, line: Line) -> None:
        fact = self.facts.get(line.start)
        home = _SECTION_HOMES.get(line.section, "")
        named = _home_of(line.name)
        # Within a section a key is its own, but for a line that is never printed and the few that have a home anywhere.
        if named in ("nowhere", "version") or not home or (home == "material" and named in ("hook", "notions", "yarn", "swatch")):
            home = named or ("stated" if self._is_measure(fact) else home)
        if home in ("", "size") and self._is_measure(fact):
            home = "stated"
        if home == "nowhere":
            return
        if home == "stated" and fact is not None:
            lengths = fact.lengths * len(self.everyone) if len(fact.lengths) == 1 else fact.lengths
            self.stated.append(MeasureLine(plain(line.name), lengths))
        elif home == "intro":
            self.intro.append(self._cut(line.start, line.end, instruction=False))
        else:
            self._entries(home or "about", line.name, line.start, line.end)

    def _is_measure(self, fact: Fact | None) -> bool:
        """Whether a key is a list of lengths and nothing else, so that a table loses none of its words."""
        if fact is None or not fact.lengths or len(fact.lengths) not in (1, len(self.everyone)):
            return False
        listed = _LIST.fullmatch(fact.text)
        return listed is not None and listed["unit"] is not None

    def _loose(self, line: Line) -> None:
        """A line without a key outside the sections of work and notes."""
        home = _SECTION_HOMES.get(line.section)
        if home is None:
            if line.kind in ("prose", "step", "sizes"):
                self.intro.append(self._cut(line.start, line.end, instruction=False))
        elif home != "nowhere":
            self._entries(home, "", line.start, line.end)

    def _entries(self, home: str, key: str, start: int, end: int) -> None:
        """A line of materials, gauge or the like; lines of the page that stand there as one are taken apart again."""
        pieces = [(start, end)]
        if home not in ("special", "listed"):
            breaks = [found.start() for found in re.finditer(r"\r\n|\r|\n", self.text[start:end])]
            edges = [start, *(start + at for at in breaks), end]
            pieces = list(zip(edges, edges[1:], strict=False))
        for left, right in pieces:
            begin = left + _BULLET.match(self.text[left:right]).end()  # type: ignore[union-attr]
            name = key if left == start else ""
            if left != start or not key:
                found = _KEY_LINE.match(self.text[begin:right])
                if found is not None and len(found["key"].split()) <= 6:
                    name, begin = found["key"], begin + found.start("value")
            words = self._cut(begin, right, instruction=home in ("special", "gauge"))
            if words or name:
                role = home if home in ("yarn", "hook", "notions", "gauge", "swatch") else _home_of(name)
                entry = Entry(plain(name).strip(), words, role if role in _ROLES else "")
                self.entries.setdefault(home, []).append(entry)

    def _of(self, home: str) -> tuple[Entry, ...]:
        return tuple(self.entries.get(home, ()))

    def _own_abbreviations(self, source: Source) -> dict[str, str]:
        """What the pattern's own list of abbreviations says, short word by short word."""
        own: dict[str, str] = {}
        for line in cut_page(source, self.pattern.sizes):
            if line.section == "terms" and line.kind in ("key", "prose", "step"):
                for piece in self.text[line.whole.start : line.end].splitlines():
                    found = re.match(r"(?P<short>[^:=\n]{1,20}?)\s*(?::|=|\s[-\u2013]\s)\s*(?P<long>.+)", piece.strip())
                    if found is not None:
                        own[found["short"].strip(" *_\u2022-")] = plain(found["long"]).strip(" .,;")
        return own

    def _abbreviations(self) -> tuple:  # type: ignore[type-arg]
        listed = {plain(entry.key).casefold() for entry in self._of("listed")}
        return tuple(found for found in self.cutter.met if found.short.casefold() not in listed)

    # Sections of work and notes.

    def _close(self) -> None:
        if self.open is not None or self.blocks:
            name, kind = self.open or ("", "work")
            rows = any(block.kind == "row" for block in self.blocks)
            shown = headline(name) or ("Pattern" if kind == "work" else "Notes")
            care = kind == "notes" and name.lower().strip().startswith(_CARE)
            if self.blocks:
                told = "notes" if kind == "notes" else "work" if rows or not self._has_finished() else "finishing"
                self.sections.append(Section(shown, told, tuple(self.blocks), care))  # type: ignore[arg-type]
        self.open = None
        self.blocks = []
        self.active = self.everyone

    def _has_finished(self) -> bool:
        return any(section.kind == "work" for section in self.sections)

    def _block(self, line: Line) -> None:
        if line.kind == "row":
            self.blocks.append(self._row(line))
            return
        if line.kind == "sizes":
            words = self._cut(line.start, line.end)
            self.blocks.append(Block("sizes", words, self.active))
            return
        start = line.start
        if line.kind in ("step", "key") and line.name:
            # A step or note with a word in front, `Seam: …`, keeps it.
            start = line.whole.start + _BULLET.match(self.text[line.whole.start : line.start]).end()  # type: ignore[union-attr]
        instruction = line.section == "work"
        kind = "step" if line.kind == "step" and instruction else "prose"
        words = self._cut(start, line.end, instruction=instruction)
        if words:
            self.blocks.append(Block(kind, words, self.active))  # type: ignore[arg-type]

    def _row(self, line: Line) -> Block:
        read = self.lines.get(line.start)
        rows = self.rows.get(line.start, [])
        begin = line.whole.start + _BULLET.match(self.text[line.whole.start : line.start]).end()  # type: ignore[union-attr]
        if read is None:
            return Block("row", self._cut(begin, line.end), self.everyone)
        end = read.label.span.end
        closed = _LABEL_END.match(self.text, end, line.end)
        end = closed.end() if closed is not None else end
        body = end
        if self.text[begin : read.label.span.start].rstrip().endswith("**") and self.text.startswith("**", body):
            body += 2
        begin += 2 if self.text.startswith("**", begin) else 0
        counts = [stated.span for stated in read.stated]
        return Block(
            "row",
            self._cut(body, line.end, counts, read.sizes),
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


_ROLES = ("yarn", "hook", "notions", "gauge", "swatch")


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


def _home_of(key: str) -> str:
    lower = " ".join(key.lower().split()).strip(" *_")
    if re.fullmatch(r"[a-z]|mc|cc\d?|c\d", lower):
        return "yarn"
    for openers, home in _HOMES:
        if lower.startswith(openers):
            # `Finished size` is a measure; `Sizes` and `Size` alone name the sizes.
            return home
    return ""
