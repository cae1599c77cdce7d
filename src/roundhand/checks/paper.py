"""What a page says beside its rows: which of the usual parts of a whole pattern it has, and where its lists stand."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cached_property

import msgspec

from roundhand.findings import Source, Span
from roundhand.measures import unit_words
from roundhand.notation.page import Line, cut_page
from roundhand.notation.tree import Pattern

# Of the usual parts a whole pattern has at least so many, and so many of those that nobody can work without; a few
# rows that somebody has pasted have fewer.
_PARTS, _MAIN_PARTS, _ROWS = 4, 2, 3
_MAIN = frozenset(("yarn", "hook", "gauge", "size"))

_UNIT = "|".join(re.escape(word) for word in unit_words())
_YARN = re.compile(
    r"\b(?:yarns?|wool|cotton|acrylic|skeins?|balls?|hanks?|worsted|aran|dk|chunky|bulky|fingering|sport|lace ?weight"
    r"|thread)\b",
    re.IGNORECASE,
)
_NO_YARN = re.compile(
    r"\b(?:yarn|wool|darning) (?:needles?|bowl|cutter|scraps?)\b|\b(?:scrap|waste) yarn\b", re.IGNORECASE
)
_HOOK = re.compile(r"\bhooks?\b", re.IGNORECASE)
_GAUGE = re.compile(r"(?:gauge|tension)\b", re.IGNORECASE)
_NO_GAUGE = re.compile(
    r"\b(?:gauge|tension)\b[^.;\n]{0,40}\b(?:not|n't|isn\u2019t|isn't|no|doesn\u2019t|doesn't|unimportant|n/a|flexible)\b"
    r"|\b(?:not|no|any)\b[^.;\n]{0,30}\b(?:gauge|tension)\b",
    re.IGNORECASE,
)
_MEASURED = re.compile(
    rf"\b(?:finished|size|measures?|measuring|circumference|diameter|long|wide|tall|high|across|length|width|height)\b"
    rf"[^.;\n]*?\d[\d\s./()\[\],x\u00d7\u00bc-\u00be\u2150-\u215e\u2013-]*(?:{_UNIT})(?![^\W\d_])"
    rf"|\d[\d\s./()\[\],x\u00d7\u00bc-\u00be\u2150-\u215e\u2013-]*(?:{_UNIT})(?![^\W\d_])[^.;\n]*?"
    rf"\b(?:long|wide|tall|high|across|square|in (?:length|width|height|diameter|circumference))\b",
    re.IGNORECASE,
)
_ENDING = re.compile(r"\b(?:weav(?:e|ing) in|darn(?:ing)? in|sew(?:ing)? in)\b", re.IGNORECASE)
_ENDING_PART = re.compile(r"(?:finish|assembl|mak(?:e|ing)[ -]up|to make up|block|construction|sewing)", re.IGNORECASE)
# Words that end the yarn.
ENDED = re.compile(
    r"\b(?:fasten(?:ing|ed)?|finish(?:ing)?|end(?:ing)?|bind(?:ing)?|tie|tying|close|closing) off\b|\bf\.?o\.?\b"
    r"|\bcut\b|\bbreak\b|\bend of pattern\b|\bsnip\b|\binvisible join\b|\bends? (?:the )?yarn\b|\btail\b|\bcast off\b"
    r"|\bfasten\b",
    re.IGNORECASE,
)
# Notes, cautions and what a shop wants said: talk that is neither a list nor an instruction.
_HEAD = frozenset(("head", "sizes", "notes"))


class Paper(msgspec.Struct, frozen=True, dict=True):
    """The lines of a page, sorted by what they are for.

    `lines` are all of them in order. A line of `listed` names something that is bought or kept at hand, a line of
    `worked` tells what the hands do.
    """

    text: str
    pattern: Pattern
    lines: tuple[Line, ...]

    def words(self, line: Line) -> str:
        """The words of a line, its key among them."""
        return line.whole.of(self.text)

    @cached_property
    def listed(self) -> tuple[Line, ...]:
        """The lines of the materials, and those of the head that name yarn, hook or tools."""
        keys = (
            "yarn",
            "hook",
            "notion",
            "material",
            "colour",
            "color",
            "tool",
            "needle",
            "supplies",
            "you will need",
            "mc",
            "cc",
        )
        return tuple(
            line
            for line in self.lines
            if line.kind != "heading"
            and (
                line.section == "materials"
                or (
                    line.kind == "key"
                    and line.section != "work"
                    and (line.name.lower().startswith(keys) or "hook" in line.name.lower())
                )
            )
        )

    @cached_property
    def worked(self) -> tuple[Line, ...]:
        """The rows, the steps and what is said between them."""
        return tuple(line for line in self.lines if line.section == "work" and line.kind != "heading")

    @cached_property
    def parts(self) -> frozenset[str]:
        """Which of the usual parts of a pattern the page has: yarn, hook, gauge, size, terms, ending."""
        return frozenset(self._parts())

    @cached_property
    def whole(self) -> bool:
        """Whether the page presents itself as a whole pattern, so that what it lacks can be missed."""
        rows = sum(line.kind == "row" for line in self.lines)
        return (
            rows >= _ROWS
            and self.lines[0].kind == "title"
            and len(self.parts) >= _PARTS
            and len(self.parts & _MAIN) >= _MAIN_PARTS
        )

    @cached_property
    def ends(self) -> bool:
        """Whether the work comes to an end on the page: words behind the rows cut the yarn, or finish the piece."""
        rows = [line for line in self.lines if line.kind == "row" and line.section == "work"]
        return bool(rows) and ("ending" in self.parts or ENDED.search(self.text, rows[0].start) is not None)

    @cached_property
    def gauge_waived(self) -> bool:
        """Whether the page says that gauge does not matter."""
        return any(_NO_GAUGE.search(self.words(line)) is not None for line in self.lines if line.section != "work")

    @cached_property
    def title_span(self) -> Span:
        """The place of the title, or of the first words of the page."""
        return self.lines[0].whole if self.lines else Span(0, 0)

    def place_of(self, *sections: str) -> Span:
        """Where a part that is missing would be looked for: the first line of one of these sections, else the title."""
        return next((line.whole for line in self.lines if line.section in sections), self.title_span)

    def _parts(self) -> Iterator[str]:
        pattern = self.pattern
        if pattern.yarns or any(_YARN.search(_NO_YARN.sub("", self.words(line))) for line in self.listed):
            yield "yarn"
        told = (line for line in self.lines if line.section in ("materials", "gauge", "head", "sizes", "notes"))
        if pattern.hook_mm is not None or any(_HOOK.search(self.words(line)) for line in told):
            yield "hook"
        if (
            pattern.gauges
            or self.gauge_waived
            or any(line.section == "gauge" or (line.kind == "key" and _GAUGE.match(line.name)) for line in self.lines)
        ):
            yield "gauge"
        sized = any(line.section == "sizes" or line.name.lower().startswith("size") for line in self.lines)
        if sized or len(pattern.sizes) > 1 or self._measured():
            yield "size"
        if pattern.language_said or any(line.section in ("terms", "special") for line in self.lines):
            yield "terms"
        if _ENDING.search(self.text) or any(
            line.kind == "heading" and _ENDING_PART.match(line.name) for line in self.lines
        ):
            yield "ending"

    def _measured(self) -> bool:
        """Whether the head says how large it comes out."""
        return any(_MEASURED.search(self.words(line)) for line in self.lines if line.section in _HEAD)


def paper(source: Source, pattern: Pattern) -> Paper:
    """The page as it lies on the table.

    >>> from roundhand.notation import read
    >>> text = "Moon Mat\\n\\nHook: 5 mm\\nFinished size: 8 in across\\n\\nRnd 1: 6 sc in a magic ring."
    >>> sorted(paper(Source(text), read(text)[0]).parts)
    ['hook', 'size']
    """
    return Paper(source.text, pattern, tuple(cut_page(source, pattern.sizes)))
