"""Where a page defines its stitches: in a list of special stitches or abbreviations, under a heading of their own, in
its notes, and in brackets inside a row."""

from __future__ import annotations

import re
from collections.abc import Sequence

import msgspec

from roundhand.findings import Span
from roundhand.notation.lines import Line
from roundhand.notation.naming import read_name, spellings
from roundhand.notation.page import section_of

# Behind a group of a row: it is what the name stands for.
_MADE = re.compile(
    r"[(\[]\s*(?:(?:first|1st|one|a|your first|beg(?:inning)?)\s+)?(?P<name>[^\W\d_][\w' -]{0,28}?)"
    r"\s+(?:just\s+|is\s+|now\s+)*(?:made|formed|completed?)\s*[)\]]",
    re.IGNORECASE,
)
_GROUP_BEFORE = re.compile(
    r"(?:[(\[][^()\[\]]+[)\]]|(?<!\w)\d+\s+\w+)\s*(?:all\s+)?(?:in|into)\s+[^,;.()\[\]]{1,50}$", re.IGNORECASE
)
_COLON = re.compile(
    r"[(\[](?P<name>[^\W\d_][\w' -]{0,28}?)\s*[:=]\s*"
    r"(?P<body>(?:[^()\[\]]|\([^()]*\)|\[[^\[\]]*\])*)[)\]]"
)
# Names of talk and of single stitches stand behind "made" as well: "first dc made", "join made".
_PLAIN_MADE = frozenset(
    (
        *("st", "sts", "stitch", "stitches", "ch", "chs", "chain", "sp", "sps", "space", "sl", "join", "rnd", "round"),
        *("row", "inc", "dec", "increase", "decrease", "ring", "loop", "it", "this", "turn", "change", "corner"),
        *("first", "last", "next", "count", "counts"),
    )
)
_GOES_ON = re.compile(
    r"\s*(?:\*|\[|\(|(?:yo|yoh|yrh|yarn|wrap|wool|thread|insert|draw|pull|rep|repeat|then|drop|remove|complete|finish)\b"
    r"|ch\s+\d)",
    re.IGNORECASE,
)
_SEVERAL = re.compile(r"(?:^|[;,.\n])\s*(?=[^\W_][^=:;,.()\[\]\n\u2013]{0,28}?\s*(?:=|:\s|\u2013\s|\s-\s))")
_TITLE = re.compile(r"[^\W\d_](?:[\w' -]|\([^()]*\)){1,40}")
_MARKS = re.compile(r"=|:\s|\u2013\s|\s-\s")
_LONGEST_LIST = 4000
_SPECIAL, _LIST, _NOTES, _ROW = "special", "list", "notes", "row"


class Pending(msgspec.Struct, frozen=True):
    """A definition that is not read yet: its names, where its words stand, the whole of it, and what kind of place."""

    names: tuple[str, ...]
    start: int
    end: int
    span: Span
    where: str


def find_definitions(text: str, lines: Sequence[Line]) -> tuple[list[Pending], frozenset[int]]:
    """Everything that may be a definition, in the order of the page, and the positions of lines that are nothing else
    although they stand among the work."""
    found: list[Pending] = []
    own: set[int] = set()
    for at, line in enumerate(lines):
        if line.kind == "heading" and line.section == "work":
            headed = _headed(lines, at)
            if headed is not None:
                found.append(headed)
                own |= set(range(at, at + 2))
            continue
        kind = _kind(line)
        if kind == "" or at in own:
            continue
        pending = _of_line(text, line, kind)
        if not pending and kind == _SPECIAL and line.kind == "prose":
            titled = _titled(text, line, lines[at + 1] if at + 1 < len(lines) else None)
            if titled is not None:
                found.append(titled)
                continue
        if not pending and kind == _SPECIAL and found and line.kind == "prose" and _GOES_ON.match(text, line.start):
            # A definition of several sentences, each on a line of its own.
            found[-1] = msgspec.structs.replace(found[-1], end=line.end, span=found[-1].span.to(line.whole))
        found += pending
    return found, frozenset(own)


def _titled(text: str, line: Line, after: Line | None) -> Pending | None:
    """A name alone on its line of the page, with the words that define it on the next."""
    words = text[line.start : line.end]
    name, _, rest = words.partition("\n")
    if not _TITLE.fullmatch(name.strip()):
        return None
    named = read_name(name.strip() + ": x", 0, len(name.strip()) + 3)
    if named is None:
        return None
    if rest and _GOES_ON.match(rest):
        return Pending(named.names, line.start + len(name) + 1, line.end, line.whole, _SPECIAL)
    if not rest and after is not None and after.kind in ("prose", "step") and _GOES_ON.match(text, after.start):
        return Pending(named.names, line.end, line.end, line.whole, _SPECIAL)
    return None


def _kind(line: Line) -> str:
    """In what kind of place a line may define a stitch; empty where it may not."""
    if line.kind not in ("key", "prose", "step"):
        return ""
    section = section_of(line.name) if line.kind == "key" and line.name else ""
    if line.section == "special" or (section == "special" and line.section in ("head", "notes", "terms")):
        return _SPECIAL
    if line.section == "terms" or (section == "terms" and line.section in ("head", "notes", "materials")):
        return _LIST
    if line.section == "notes" or (line.section == "head" and line.kind == "key"):
        return _NOTES
    return ""


def _of_line(text: str, line: Line, kind: str) -> list[Pending]:
    """The definitions of one line: one, or several with semicolons between them."""
    listed = line.kind == "key" and line.section != "special" and section_of(line.name) in ("special", "terms")
    start = (
        line.start if listed else max(line.whole.start, line.start if line.kind != "key" else _past_marks(text, line))
    )
    end = min(line.end, start + _LONGEST_LIST)
    if kind == _LIST or listed:
        found = []
        for begin, stop in _pieces(text, start, end):
            named = read_name(text, begin, stop)
            if named is not None:
                found.append(Pending(named.names, named.start, stop, Span(begin, stop), kind))
        return found
    named = read_name(text, start, end)
    return [Pending(named.names, named.start, line.end, line.whole, kind)] if named is not None else []


def _past_marks(text: str, line: Line) -> int:
    """Where the name of a key begins, behind bullets and marks of bold type."""
    at = text.find(line.name.split()[0], line.whole.start, line.end) if line.name.split() else -1
    return at if at >= 0 else line.whole.start


def _pieces(text: str, start: int, end: int) -> list[tuple[int, int]]:
    """A list of abbreviations cut where the next begins."""
    if len(_MARKS.findall(text, start, end)) < 2:
        return [(start, end)]
    cuts = [
        _past(text, found.end(), end)
        for found in _SEVERAL.finditer(text, start, end)
        if _outside(text, start, found.end())
    ]
    cuts = [start, *(cut for cut in cuts if cut > start)]
    return [(begin, stop) for begin, stop in zip(cuts, [*cuts[1:], end], strict=True)]


def _past(text: str, at: int, end: int) -> int:
    while at < end and (text[at].isspace() or text[at] in "\u2022*-"):
        at += 1
    return at


def _outside(text: str, start: int, at: int) -> bool:
    """Whether no bracket is open here."""
    said = text[start:at]
    return said.count("(") + said.count("[") <= said.count(")") + said.count("]")


def _headed(lines: Sequence[Line], at: int) -> Pending | None:
    """A heading that names a stitch, with one paragraph below it that tells how it is worked."""
    if at + 1 >= len(lines) or lines[at + 1].kind not in ("prose", "step"):
        return None
    if at + 2 < len(lines) and lines[at + 2].kind != "heading":
        return None
    heading, words = lines[at], lines[at + 1]
    return Pending((heading.name,), words.start, words.end, heading.whole.to(words.whole), "heading")


def definitions_in_rows(text: str, lines: Sequence[Line]) -> tuple[list[Pending], list[Span]]:
    """`(dc, ch 1, dc) in next st (V-st made)`, `puff in next st (puff: yo, insert hook, …)`: definitions inside rows,
    and the asides that name them, which are no instruction."""
    found: list[Pending] = []
    asides: list[Span] = []
    for line in lines:
        if line.kind not in ("row", "step") or line.section != "work":
            continue
        for made in _MADE.finditer(text, line.start, line.end):
            asides.append(Span(made.start(), made.end()))
            if set(re.split(r"[\s-]+", made["name"].lower())) <= _PLAIN_MADE:
                continue
            group = _GROUP_BEFORE.search(text[line.start : made.start()].rstrip(" ,;:-\u2013"))
            if group is not None:
                start = line.start + group.start()
                span = Span(start, made.end())
                found.append(Pending((made["name"].strip(),), start, line.start + group.end(), span, _ROW))
        for said in _COLON.finditer(text, line.start, line.end):
            found.append(
                Pending(
                    (said["name"].strip(),),
                    said.start("body"),
                    said.end("body"),
                    Span(said.start(), said.end()),
                    "colon",
                )
            )
    return found, asides


def forms(names: Sequence[str]) -> tuple[str, ...]:
    """Every way in which rows may write these names."""
    return tuple(dict.fromkeys(spelling for name in names for spelling in spellings(name)))
