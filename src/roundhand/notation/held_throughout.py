"""Notes that the yarn is worked with several strands together, said once: for the whole pattern, or for one part of it.

`Work with 2 strands held together throughout`, `Yarn is held double`, `A and B are held together`; on the line of a
yarn, `Yarn A: sport, 100 g = 300 m, held double`. Strands are named as in a row: `A+A`, `A+B`, and `+` for two of
whatever yarn is in hand.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from roundhand.findings import Span
from roundhand.notation.lines import Line
from roundhand.notation.tree import HeldNote, Note, Part

_NUMBERS = {
    "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "2": 2, "3": 3, "4": 4, "5": 5, "6": 6, "both": 2,
    "double": 2, "doubled": 2, "triple": 3, "tripled": 3, "treble": 3, "a double": 2, "a triple": 3,
}  # fmt: skip
_STRANDS = r"(?:strands?|threads?|ends|lengths|plies)"
_YARN = r"(?:yarns?|threads?|wool|cotton|colou?rs?)"
_IS = r"(?:(?:are|is|was|were|to\s+be|should\s+be|being)\s+)?"
_HELD = r"(?:held|used|worked|taken|run|crocheted)"
_TOGETHER = r"(?:together|tog\b|as\s+one|as\s+if\s+one|at\s+once|at\s+the\s+same\s+time|throughout)"
_MANY = r"(?P<many>two|three|four|five|six|[2-6]|(?:a\s+)?double|(?:a\s+)?triple)"
_FOLD = r"(?P<fold>doubled?|tripled?|treble)"
_USING = r"(?:us(?:e|es|ed|ing)|hold(?:s|ing)?|with|work(?:ed|s|ing)?(?:\s+throughout)?\s+(?:with|using|holding))"
_WHOLE = r"(?:work(?:ed|s|ing)?|made|crocheted)(?:\s+throughout)?\s+(?:with|using|holding)"
# Words that leave it open, deny it, or speak of another yarn than the one at hand.
_OPEN = re.compile(
    r"\b(?:if|or|may|can|could|might|optional(?:ly)?|instead|alternativ\w*|substitut\w*|equivalent|not|never|unless"
    r"|prefer\w*|don['\u2019]t|except|tassels?|pom-?\s?poms?|fringes?|embroider\w*|sew\w*|seams?|cords?|ties?)\b",
    re.IGNORECASE,
)
_SENTENCE = re.compile(r"[^.;!?\n]+(?:\.(?=\d)[^.;!?\n]+)*")


def held_notes(
    text: str, lines: Iterable[Line], parts: Iterable[Part], names: Mapping[str, str]
) -> tuple[HeldNote, ...]:
    """What the head, notes and sentences between the rows say of strands held together, in the order of the page.

    `names` are the words for each yarn with its label. A note that stands among the rows of a part, or names the
    heading of one, is for that part.
    """
    lines, parts = list(lines), list(parts)
    titles = [_spaced(line.name) for line in lines if line.kind == "title"]
    # What is said of the whole work by its title is said of all its parts.
    known = [part.name for part in parts if _spaced(part.name) not in titles]
    pattern = _pattern(names)
    found: list[HeldNote] = []
    heading = ""
    for line in lines:
        if line.kind == "heading":
            heading = _named(line.name, known) if line.section == "work" else ""
        if line.kind in ("prose", "key", "title") or (line.kind == "step" and line.section != "work"):
            own = names.get(_label(line.name), "") if line.kind == "key" else ""
            where = heading if line.section == "work" else ""
            found += _notes_in(text, line.whole, pattern, names, known, own, where)
    for part in parts:
        for row in part.lines:
            for node in row.nodes:
                if isinstance(node, Note) and not any(
                    node.span.start <= note.span.start < node.span.end for note in found
                ):
                    found += _notes_in(text, node.span, pattern, names, known, "", part.name)
    return tuple(sorted(found, key=lambda note: note.span.start))


def _label(key: str) -> str:
    """The word of a key that names its yarn: `Yarn A`, `Main colour (MC)`."""
    words = re.findall(r"\w+", key)
    return words[-1].lower() if words else ""


def _pattern(names: Mapping[str, str]) -> re.Pattern[str]:
    """The wordings, with the names of the yarns of this pattern in them."""
    labels = "|".join(sorted((re.escape(name) for name in names), key=len, reverse=True))
    yarn = rf"(?:(?:yarns?|colou?rs?)\s+)?(?:{labels})" if labels else r"(?!)"
    one = rf"(?:(?:1|one|a)\s+{_STRANDS}\s+(?:each\s+)?of\s+)?(?:the\s+)?{yarn}"
    both = rf"{one}(?:\s*,\s*{one})*\s*(?:and|&|\+|plus|with)\s*{one}"
    each = (
        rf"(?:(?:both|all)\s+(?:the\s+)?(?:{_STRANDS}|{_YARN})|(?:one|1|a)\s+{_STRANDS}\s+(?:of\s+each"
        rf"(?:\s+(?:of\s+the\s+)?{_YARN})?|of\s+(?:both|all)(?:\s+{_YARN})?))"
    )
    of = rf"(?:\s+(?:of|in)\s+(?:the\s+)?(?:same\s+)?(?P<of>{yarn}|(?:\w+\s+){{0,3}}?{_YARN})(?!\w))?"
    many = rf"{_MANY}[\s-]+{_STRANDS}"
    subject = rf"(?P<whose>{yarn}|{_YARN})(?!\w)"
    return re.compile(
        rf"\b(?:"
        rf"(?:{_USING}\s+)?(?P<named>{both})\s+{_IS}{_HELD}\s+{_TOGETHER}"
        rf"|{_USING}\s+(?P<named2>{both})\s+{_TOGETHER}"
        rf"|(?P<each>{each})\s+{_IS}{_HELD}\s+{_TOGETHER}"
        rf"|{_USING}\s+(?P<each2>{each})\s+{_TOGETHER}"
        rf"|{many}{of}\s*{_IS}(?:{_HELD}\s+)?{_TOGETHER}"
        rf"|{_WHOLE}\s+(?:the\s+)?{many.replace('many', 'many2')}{of.replace('<of>', '<of2>')}"
        rf"|{subject}\s+{_IS}(?:{_HELD}\s+)?{_FOLD}\b(?!\s+(?:knit|crochet|treble|trebles|triple|ch|tr|stitch|rib|row))"
        rf"|{_HELD}\s+(?P<fold2>doubled?|tripled?)\b(?=\s+throughout|\s*[.;,)]|\s*$)"
        rf"|{_USING}\s+(?P<fold3>doubled?|tripled?)[\s-]+(?:stranded\s+)?{_YARN}\b"
        rf"|(?P<fold4>double|triple)[\s-]+stranded\b"
        rf")",
        re.IGNORECASE,
    )


def _notes_in(
    text: str,
    span: Span,
    pattern: re.Pattern[str],
    names: Mapping[str, str],
    parts: Iterable[str],
    own: str,
    part: str,
) -> Iterator[HeldNote]:
    """The notes in one stretch of text. `own` is the yarn whose line it is, `part` the part in which it stands."""
    for sentence in _SENTENCE.finditer(text, span.start, span.end):
        said = pattern.search(text, sentence.start(), sentence.end())
        if said is None or _OPEN.search(sentence[0]):
            continue
        strands = _strands(said, names, own)
        if strands:
            where = part or _named(sentence[0], parts)
            yield HeldNote(strands, where, Span(said.start(), said.end()))


def _named(sentence: str, parts: Iterable[str]) -> str:
    """The part whose heading a sentence names."""
    said = _spaced(sentence)
    return max((name for name in parts if _spaced(name) in said), key=len, default="")


def _spaced(words: str) -> str:
    """Words in small letters with a space around each.

    >>> _spaced("Left Front (make 2)")
    ' left front make 2 '
    """
    return " " + " ".join(re.findall(r"\w+", words.lower())) + " "


def _strands(said: re.Match[str], names: Mapping[str, str], own: str) -> str:
    """The strands that some words hold together; empty where they are no more than one."""
    found = said.groupdict()
    together = found["named"] or found["named2"]
    if together or found["each"] or found["each2"]:
        labels = _labels(together, names) if together else list(dict.fromkeys(names.values()))
        return "+".join(labels) if len(labels) > 1 else ""
    many = found["many"] or found["many2"]
    word = many or found["fold"] or found["fold2"] or found["fold3"] or found["fold4"] or ""
    number = _NUMBERS.get(" ".join(word.lower().split()), 1)
    whose = (found["of"] or found["of2"] or found["whose"] or "").lower().split()
    label = next((names[name] for name in reversed(whose) if name in names), own)
    return "+".join([label] * number) if number > 1 else ""


def _labels(words: str, names: Mapping[str, str]) -> list[str]:
    """The labels of the yarns that some words name: `a strand of A and B` has an article that is no yarn."""
    yarns = re.sub(rf"\b(?:a|one|1)\s+{_STRANDS}", "", words, flags=re.IGNORECASE)
    return [names[word.lower()] for word in re.findall(r"[^\W_]+", yarns) if word.lower() in names]
