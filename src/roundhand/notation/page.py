"""A text cut into the lines of a pattern: title, headings, keys, rows, steps and prose, each with its place.

Nothing here knows a stitch. What a line is follows from how it begins, in the order of DESIGN: row label, key, step,
title, heading, prose.
"""

from __future__ import annotations

import re

import msgspec

from roundhand.findings import Source, Span
from roundhand.notation.lines import (
    COUNT_ALONE,
    STEP,
    Line,
    begins_with_chain,
    bracket_open,
    ends_sentence,
    goes_on,
    names_row,
)
from roundhand.notation.page_marks import NOTHING
from roundhand.notation.pasted import typed
from roundhand.notation.rule_rows import read_rule
from roundhand.notation.size_leads import leading_sizes
from roundhand.notation.sizing_section import QUANTITY_LINE

__all__ = ["Line", "cut_page", "find_sizes", "section_of"]

_BLANK = re.compile(r"[\s\u200b\ufeff]*")
# A sign that is no letter, number, bracket or mark of the trade, in front of a word: lists are made with many of them.
_BULLET = re.compile(
    r"\s*(?:\d{1,3}[.)]\s+(?=(?i:rnds?|rounds?|rows?)\b)|[^\w\s()\[\]{}<>\"'\u2018-\u201d#*=.,;:/\\&%$@!?|~^`-]\uFE0F?(?=\s*\w)|[>\u2013](?=\s*\S)|-(?=\s)|\*(?=\s\S))\s*"
)
_LABEL = re.compile(
    r"(?:on\s+)?(?:the\s+)?(?:next|following|foll\.?)\s+(?:\d+\s*(?:[(\[][^)\]]*[)\]]\s*)?|\w+\s+)?(?:rnds?|rounds?|rows?)\b"
    r"|(?:(?:rs|ws)[:,]?\s+)?(?:rnds?|rounds?|rds?|rows?|rws?)\.?\s*(?:#|no\.\s*)?\d"
    r"|\((?:rnds?|rounds?|rows?)\.?\s*\d+\)"
    r"|(?:foundation|set-?\s?up|base)\s+(?:rnd|round|row)\s*(?:\([^)]*\)\s*)?:"
    r"|(?:edging|border|final|joining)\s+(?:rnd|round|row)s?\b(?=[^.\n]{0,20}:)"
    r"|r\s?\d+\s*(?:[:.)\u2013-]|\()"
    r"|\d{1,3}(?:\s*(?:,|&|\band\b)\s*\d{1,3})+\s*[:.)]\s*\S"
    r"|\d{1,3}\s*(?::|[.)](?=\s)|\s?[-\u2013]\s?\d{1,3}\s*[:.)])\s*\S"
    r"|\d{1,3}\s+to\s+\d{1,3}\s*[:.](?=\s|-)"
    r"|(?:\d+(?:st|nd|rd|th|d)|first|second|third|fourth|fifth|sixth)\s*"
    r"(?:(?:to\b|through\b|thru\b|[-\u2013])\s*\d+(?:st|nd|rd|th|d)\s+)?"
    r"(?:rnds?|rounds?|rows?)\b",
    re.IGNORECASE,
)
# A label that names its row: where one stands no bracket of the line above is still open.
_NAMED_ROW = re.compile(r"(?:the\s+)?(?:next\s+)?(?:rnds?|rounds?|rds?|rows?|rws?|r\s?\d)\b", re.IGNORECASE)
_NO_LABEL = re.compile(
    r"(?:rnds?|rounds?|rows?)\.?\s*\d+[^:.]{0,12}\b(?:is|are|was|will|should|measures?)\b|next\s+(?:to|size)\b",
    re.IGNORECASE,
)
# A colon between two numbers parts the values of a size list, "ch 12:14:16".
_KEY = re.compile(r"(?P<key>[^\W\d_][^:\n]{0,58}?)\s*(?:(?<!\d):(?!//)|:(?!//|\d))(?:\*\*|__)?\s*")
_BOLD_KEY = re.compile(r"(\*\*|__|\*(?=\w)|_(?=\w))[^\W\d_][^:\n*_]{0,58}(?P<close>:\1|\1\s*:)")
_SIZES = re.compile(
    r"(?:#+\s*|\*\*?|__?)?(?:sizes?|sizes? (?:included|available)|finished sizes?)\s*:?\s*\**\s*:\s*(?P<value>.+)",
    re.IGNORECASE,
)
# The measures that a page names its sizes by where it has no other list: "To fit bust 81 (86, 91) cm".
_TO_FIT = re.compile(
    r"(?:#+\s*|\*\*?|__?)?to\s+fit\b[^\d(\[:\n]{0,40}:?\**\s*(?P<value>\d[^\n]*?[(\[/,:][^\n]*)", re.IGNORECASE
)
_SIZE_LIST = re.compile(r"\d[^()\[\]]{0,12}[(\[]\s*\d[^()\[\]]*[)\]][^()\[\]]{0,12}\.?\s*")
# The editor's word is a line of its own wherever it stands, and ends nothing but the row above it.
_EDITOR = re.compile(r"[*_#\s]*(?P<key>Editor)\s*[*_]*\s*:[*_\s]*(?=\S)", re.IGNORECASE)
# What the work of a piece begins with, where it stands behind notes that no heading ends.
_BEGINS = re.compile(
    r"(?:(?:with|using|in)\s+[^,.;:]{1,40},?\s+)?(?:(?:make|work|begin with|start with)\s+)?(?:an?\s+)?"
    r"(?:(?:ch|chain)\s*\d|\d+\s*(?:[(\[][\d\s,;:/-]+[)\]]\s*)?(?:ch|chains?|f(?:sc|hdc|dc))\b|(?:magic|adjustable)\s+(?:ring|circle|loop)|mr\b"
    r"|f(?:sc|hdc|dc)\s*\d|chain\s+of\s+\d)",
    re.IGNORECASE,
)
_COUNTING = re.compile(r"\bcounts?\b|\bcounting\b|\bcounted\b", re.IGNORECASE)
_MIDDLE = re.compile(
    r"(?<=[.;)\]])\s+(?=(?:(?:[Ff]or\s+)?(?:[Ss]izes?|[Aa]ll\s+(?:other\s+)?sizes)\b[^.:\n]{0,40}:\s*)?"
    r"(?:Rnd|Round|Row|RND|ROUND|ROW)s?\.?\s+\d+[^.:\n]{0,40}:)"
)
_NUMBERED = re.compile(r"\W*\d{1,3}[.)]")
_EDGINGS = ("edging", "border", "trim")
_ASIDE = re.compile(r"\s*[(\[][^()\[\]\n]*[)\]]\s*")
_SECTIONS = {
    "materials": ("material", "supplies", "you will need", "you need", "what you need", "yarn", "notions", "tools",
                  "hook"),
    "gauge": ("gauge", "tension", "swatch"),
    "terms": ("abbreviation", "stitches used", "terms", "key", "stitch key", "glossary"),
    "special": ("special stitch", "special instruction", "stitch guide", "special technique", "stitch explanation",
                "pattern stitch", "special abbreviation", "stitches"),
    "notes": ("note", "about", "before you", "tips", "design", "introduction", "care", "safety", "caution", "copyright",
              "thank", "disclaimer"),
    "sizes": ("size", "measurement", "finished", "dimension", "fit", "ease"),
    "sizing": ("sizing",),
}  # fmt: skip
_HEAD_KEYS = (
    "size", "fit", "to fit", "finished", "circumference", "length", "height", "depth", "width", "terms", "language",
    "yarn", "colour", "color", "mc", "cc", "hook", "notions", "gauge", "tension", "swatch", "material", "supplies",
    "ease", "level", "skill", "difficulty", "design", "designer", "by", "copyright", "yardage", "abbreviation",
    "measurement", "main", "contrast", "needle", "head", "weight", "amount", "version", "editor",
)  # fmt: skip


def find_sizes(source: Source) -> tuple[str, Span] | None:
    """The value of the first `Sizes:` line and its place."""
    source = Source(typed(source.text))
    for listed in (_SIZES, _TO_FIT):
        for number in range(1, min(source.line_count, 400) + 1):
            text = source.line(number)
            bullet = _BULLET.match(text)
            found = listed.match(text, bullet.end() if bullet is not None else _past_blank(text, 0, len(text)))
            if found is not None and (listed is _SIZES or _SIZE_LIST.fullmatch(found["value"])):
                at = source.line_span(number).start
                return found["value"], Span(at + found.start("value"), at + found.end("value"))
    return None


def cut_page(source: Source, names: tuple[str, ...]) -> list[Line]:
    """All lines of a pattern, in order. The rows of a gauge swatch are no rows of the pattern, unless a page holds
    nothing but a swatch."""
    source = Source(typed(source.text))
    lines = _cut(source, names, False)
    return lines if any(line.kind == "row" for line in lines) else _cut(source, names, True)


def _cut(source: Source, names: tuple[str, ...], swatch: bool) -> list[Line]:
    text = source.text
    capitals = _mostly_capitals(source)
    lines: list[Line] = []
    section = "head"
    rows_seen = False
    titled = False
    open_line = False
    blank_before = True
    for start, end in _pieces(source):
        begin = _past_blank(text, start, end)
        if begin >= end:
            if NOTHING in text[start:end]:
                # The mark of a printed page, which ends nothing.
                continue
            open_line = False
            blank_before = True
            continue
        last = end
        while last > begin and text[last - 1].isspace():
            last -= 1
        whole = Span(begin, last)
        heading = _marked_heading(text, begin, last)
        labelled = heading is not None and (titled or lines) and _is_section(heading, "work")
        if labelled and _label_at(text, _after_mark(text, begin), last):
            heading = None
        editor = _EDITOR.match(text, begin, last)
        if editor is not None and lines:
            lines.append(Line("key", section, editor.end(), last, editor["key"], "", whole))
            open_line = False
            continue
        if heading is not None:
            titled, section, open_line, blank_before = _head(lines, heading, whole, titled, section)
            rows_seen = rows_seen and section == "work"
            continue
        if open_line and lines and lines[-1].kind == "row" and COUNT_ALONE.fullmatch(text, begin, last):
            lines[-1] = msgspec.structs.replace(lines[-1], end=last, whole=lines[-1].whole.to(whole))
            continue
        bullet = _BULLET.match(text, begin, last)
        words = bullet.end() if bullet is not None and bullet.end() < last else begin
        words = _past_stars(text, words, last)
        if section == "sizing" and (defined := QUANTITY_LINE.match(text, words, last)) is not None:
            # "rounds: …" is a quantity here, whatever it is called.
            lines.append(Line("quantity", section, words, last, defined["name"], "", whole))
            open_line = False
            blank_before = False
            continue
        # Row label, perhaps behind a phrase that names sizes.
        listed = not rows_seen and _SIZES.match(text, words, last) is not None
        phrase, behind = ("", words) if listed else leading_sizes(text, words, last, names, _LABEL)
        at = _past_blank(text, behind, last) if phrase else words
        if phrase and at >= last:
            lines.append(Line("sizes", section, words, last, phrase, phrase, whole))
            open_line = False
            blank_before = False
            continue
        if open_line and lines and not _NAMED_ROW.match(text, at, last) and bracket_open(text, lines[-1]):
            # A list broken over two lines of the page: "54 (60," and "66) sc".
            previous = lines[-1]
            lines[-1] = msgspec.structs.replace(previous, end=last, whole=previous.whole.to(whole))
            continue
        chain = begins_with_chain(text, at, last) if section in ("head", "work") and (titled or lines) else None
        if chain is not None and not (open_line and lines and goes_on(text, lines[-1], words)):
            lines.append(Line("step", section, chain, last, "", phrase, whole))
            open_line = True
            blank_before = False
            continue
        if open_line and lines and names_row(text, lines[-1], at):
            previous = lines[-1]
            lines[-1] = msgspec.structs.replace(previous, end=last, whole=previous.whole.to(whole))
            continue
        ruled = section in ("head", "work") and read_rule(text, at, last) is not None
        if (swatch or section != "gauge") and (ruled or _label_at(text, at, last)):
            if section != "work":
                _begun_in_notes(text, lines)
            section = "work" if section != "work" else section
            lines.append(Line("row", section, at, last, "", phrase, whole))
            rows_seen = True
            titled = True
            open_line = True
            blank_before = False
            continue
        if not titled and not lines:
            key = _KEY.match(text, words, last)
            if key is None or not _known_key(key["key"]):
                lines.append(Line("title", section, words, last, text[words:last].strip(" #*_"), "", whole))
                titled = True
                blank_before = False
                continue
        if open_line and lines and goes_on(text, lines[-1], words):
            previous = lines[-1]
            lines[-1] = msgspec.structs.replace(previous, end=last, whole=previous.whole.to(whole))
            blank_before = False
            continue
        named = _key_at(text, at, last, section, rows_seen)
        if named is not None:
            name, value = named
            if value >= last and _is_section(name, "any"):
                titled, section, open_line, blank_before = _head(lines, name, whole, True, section)
                continue
            if value >= last and section in ("head", "work", "notes", "special", "sizes", "terms", "materials"):
                titled, section, open_line, blank_before = _head(lines, name, whole, True, section)
                continue
            # In a section of work a word with a colon is never a key: `Seam: …` is a step.
            kind = "step" if section == "work" else "key"
            if section == "work" and name.lower() in _EDGINGS:
                # `Edging: sc evenly around` is a row without a number.
                kind, value = "row", at
            lines.append(Line(kind, section, value, last, name, phrase, whole))
            open_line = True
            blank_before = False
            continue
        if (
            STEP.match(text, at, last)
            and section in ("head", "work")
            and not (section == "head" and not ends_sentence(text, last))
        ):
            lines.append(Line("step", section, at, last, "", phrase, whole))
            open_line = True
            blank_before = False
            continue
        if _is_heading(text, words, last, capitals, blank_before or _heads_rows(text, words, last, lines)):
            titled, section, open_line, blank_before = _head(lines, text[words:last], whole, True, section)
            continue
        lines.append(Line("prose", section, words, last, "", phrase, whole))
        open_line = True
        blank_before = False
    return lines


def _past_blank(text: str, start: int, end: int) -> int:
    """Past white space and marks that take no room."""
    found = _BLANK.match(text, start, end)
    return found.end() if found is not None else start


def _pieces(source: Source) -> list[tuple[int, int]]:
    """The lines of the page, cut again where a row label stands in the middle of one."""
    pieces = []
    for number in range(1, source.line_count + 1):
        span = source.line_span(number)
        start = span.start
        for found in _MIDDLE.finditer(source.text, span.start, span.end):
            if _ASIDE.fullmatch(source.text, start, found.start()):
                # "(Sizes L and XL only) Rnd 2:" is one row.
                continue
            if _NUMBERED.fullmatch(source.text, start, found.start()):
                # The number of an item in a list, which the label follows.
                continue
            pieces.append((start, found.start()))
            start = found.end()
        pieces.append((start, span.end))
    return pieces


def _head(lines: list[Line], name: str, whole: Span, titled: bool, section: str) -> tuple[bool, str, bool, bool]:
    """Adds a heading, or the title if there is none yet, and says in which section what follows stands."""
    clean = name.strip(" #*_:\u2022")
    if not titled and not lines:
        lines.append(Line("title", "head", whole.start, whole.end, clean, "", whole))
        return True, "head", False, False
    kind = section_of(clean)
    lines.append(Line("heading", kind, whole.start, whole.end, clean, "", whole))
    return True, kind, False, False


def section_of(name: str) -> str:
    """What kind of section a heading begins; `work` for every heading that is none of the trade's others.

    >>> section_of("MATERIALS"), section_of("Special stitches"), section_of("Crown"), section_of("Sizing")
    ('materials', 'special', 'work', 'sizing')
    """
    lower = name.lower().strip()
    if lower == "sizing":
        return "sizing"
    for kind, openers in _SECTIONS.items():
        if any(
            re.match(rf"(?:the |pattern |finished |general |important |design )?{opener}", lower) for opener in openers
        ):
            return kind
    return "work"


def _is_section(name: str, kind: str) -> bool:
    found = section_of(name)
    return found == kind if kind != "any" else found != "work"


def _begun_in_notes(text: str, lines: list[Line]) -> None:
    """Work that begins without a heading behind notes or materials: the chain or ring in front of the first row."""
    for at in range(len(lines) - 1, max(len(lines) - 4, -1), -1):
        line = lines[at]
        begins = _BEGINS.match(text, line.start, line.end) and not _COUNTING.search(text, line.start, line.end)
        if line.kind != "prose" or line.section in ("work", "head") or not begins:
            return
        lines[at] = msgspec.structs.replace(line, kind="step", section="work")


def _label_at(text: str, start: int, end: int) -> bool:
    return _LABEL.match(text, start, end) is not None and _NO_LABEL.match(text, start, end) is None


def _past_stars(text: str, start: int, end: int) -> int:
    """Past the marks of bold type around a label or a key, `**Rnd 1:**`, `**Hook:**`; a repeat's star stays."""
    bold = _BOLD_KEY.match(text, start, end)
    if bold is not None:
        return start + len(bold[1])
    for marks in ("**", "__", "*", "_"):
        if text.startswith(marks, start) and _LABEL.match(text, start + len(marks), end):
            close = text.find(marks, start + len(marks), min(end, start + 60))
            colon = text.find(":", start, end)
            # A single star is emphasis only where it closes right beside the colon of the label.
            if len(marks) == 2 or (close > 0 and abs(close - colon) == 1):
                return start + len(marks)
    return start


def _after_mark(text: str, start: int) -> int:
    while start < len(text) and text[start] in "#*_ ":
        start += 1
    return start


def _marked_heading(text: str, start: int, end: int) -> str | None:
    """The words of `# Heading` or `**Heading**`."""
    line = text[start:end]
    if line.startswith("#"):
        return line.lstrip("# ").rstrip("# *")
    bold = re.fullmatch(r"(\*\*|__)(?P<words>[^*_]+?):?\1:?", line)
    if bold is not None and len(bold["words"]) <= 60:
        return bold["words"]
    return None


def _known_key(name: str) -> bool:
    lower = name.lower().strip(" *_")
    return lower.startswith(_HEAD_KEYS) or len(lower) <= 2


def _key_at(text: str, start: int, end: int, section: str, rows_seen: bool) -> tuple[str, int] | None:
    """The name of a key and where its value begins; None where the line is no key here."""
    found = _KEY.match(text, start, end)
    if found is None:
        return None
    name = found["key"].strip(" *_")
    if (
        not name
        or len(name.split()) > 8
        or "." in name
        or text.count("(", start, found.end()) != text.count(")", start, found.end())
        or text.count("[", start, found.end()) != text.count("]", start, found.end())
    ):
        return None
    value = found.end()
    if text[value - 1] == ":" or text[value - 1].isspace():
        value = _past_closing_star(text, start, found.start() + len(found[0].rstrip()), value)
    if section in ("gauge", "special", "terms", "sizes", "materials", "sizing"):
        return name, value
    if section == "work":
        # A key of the head may still come after an opening section that looks like one of work.
        if not rows_seen and _known_key(name) and section_of(name) != "work":
            return None if value >= end else (name, value)
        lower = name.lower()
        if value >= end or STEP.match(name) or lower in ("finishing", "note", "notes"):
            return name, value
        return (name, value) if len(name.split()) <= 3 else None
    if _known_key(name) or (section == "notes" and len(name.split()) <= 3):
        return name, value
    return (name, value) if len(name.split()) <= 5 and (value >= end or section == "head") else None


def _past_closing_star(text: str, start: int, colon: int, value: int) -> int:
    """Past the star that closes a key in slanted type, `*Hook:* 5 mm`; `value` where none was opened."""
    mark = text[start - 1 : start]
    if mark and mark in "*_" and text.startswith(mark, colon):
        return _past_blank(text, colon + 1, len(text))
    return value


def _mostly_capitals(source: Source) -> bool:
    """Whether most lines of the text are written in capitals, so that capitals make no heading."""
    lettered = upper = 0
    for number in range(1, min(source.line_count, 300) + 1):
        line = source.line(number)
        if any(letter.isalpha() for letter in line):
            lettered += 1
            upper += line.upper() == line
    return lettered > 0 and upper * 2 > lettered


# What the line behind a heading begins with, where no empty line tells it apart.
_HEADED = re.compile(
    r"\s*\n[ \t]*(?:(?:rnds?|rounds?|rows?|r)\.?\s*\d+|(?:ch|chain)\s+\d+|make\s+an?\s+(?:magic|adjustable)"
    r"|magic\s+(?:ring|circle)|foundation\s+(?:row|rnd|round|ch))\b",
    re.IGNORECASE,
)
_BARE = re.compile(r"[A-Z][a-z]+(?: [A-Za-z]+){0,2}:?")


def _heads_rows(text: str, start: int, end: int, lines: list[Line]) -> bool:
    """Whether a few words between finished lines and the first row of a piece head it, though no empty line stands
    before them: "Brim", "Left ear"."""
    if not lines or _BARE.fullmatch(text, start, end) is None or _HEADED.match(text, end) is None:
        return False
    last = lines[-1]
    finished = text[last.start : last.end].rstrip()[-1:] in (".", ")", "]")
    return last.kind in ("title", "heading") or (last.kind in ("row", "step", "prose") and finished)


def _is_heading(text: str, start: int, end: int, capitals: bool, blank_before: bool) -> bool:
    words = text[start:end].rstrip(":")
    letters = [letter for letter in words if letter.isalpha()]
    if len(letters) < 2 or len(words) > 60:
        return False
    if not capitals and words.upper() == words and len(letters) >= 3:
        return True
    bare = re.sub(r"\([^)]*\)", "", words).strip()
    return (
        len(words) <= 40
        and not re.search(r"[.,;!?*=]|\d\s*(?:mm|cm|in|g|yd|m)\b", bare)
        and words[0].isupper()
        and len(bare.split()) <= 5
        and blank_before
    )
