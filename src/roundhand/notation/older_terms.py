"""Pages from old books: which older vocabulary they are in, said by a heading or shown by their words.

Names of stitches have moved in a hundred and fifty years: a treble of 1918 is the double crochet of today. A page is
read in an older vocabulary only where it says so, or where a name that no pattern of today has stands beside a mark
of the time. Evidence for the marks: a survey of old books; how far each proves is ours.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache

import msgspec

from roundhand.findings import Span
from roundhand.notation.lines import Line
from roundhand.stitches import dictionary
from roundhand.terms import WORDS, Period, Vocabulary, languages, older, vocabulary

_SIDES = r"US|UK|U\.S\.A?\.?|U\.K\.|American|British|Australian|English"
_ERA = r"(?:c(?:irca|a)?\.?\s*|about\s+)?1[89]\d\d(?:['\u2019]?s)?|older|old|vintage|antique|victorian|edwardian"
_ERA += r"|(?:(?:late|early|mid)[ -]*)?(?:19|nineteenth|20|twentieth)(?:th)?[ -]century"
_SAID = re.compile(rf"(?<!\w)(?P<era>{_ERA})(?!\w)", re.IGNORECASE)
_SIDE = re.compile(rf"(?<!\w)(?:{_SIDES})(?!\w)", re.IGNORECASE)
# "Written in older US terms", "US terms of 1918".
IN_PROSE = re.compile(
    rf"(?<!\w)(?:(?:{_ERA})\s+(?:(?:{_SIDES})\s+)?(?:crochet\s+)?(?:terms|terminology)"
    rf"|(?:{_SIDES})\s+(?:crochet\s+)?(?:terms|terminology)\s+(?:of|from)\s+(?:the\s+)?(?:{_ERA}))(?!\w)",
    re.IGNORECASE,
)
# Years that books of these words were printed in; a number of yards or stitches is none.
_YEAR = re.compile(
    r"(?<![\d#.,/-])(?:18[4-9]\d|19[0-4]\d)(?!\s*(?:m|yds?|yards?|g|sts?|metres?|meters?|mm|cm)\b)(?![\d.,/-]\d)"
)
# "2d row", "3d round"; "1st row.\u2014" and "Row 2.--".
_ORDINAL = re.compile(r"\b\d*[23]d(?=\s)")
_DASH = re.compile(r"\b(?:rows?|rounds?|rnds?)(?:\s*\d+)?\.\s*(?:\u2014|--)", re.IGNORECASE)
_NUMBER = (
    r"\d+|one|two|three|four|five|six|seven|eight|nine|ten|a|each|every|next|first|last|1st|\d*(?:2|3)d|\d+(?:nd|rd|th)"
)
_BEFORE = rf"(?<!\w)(?:(?:{_NUMBER}|the|of|in|on|and|then|same)\s+|[:;,*(\[.\u2014\u2013-]\s*|^\s*)"
_AFTER = (
    r"(?=\s*(?:[,;.:)\]*=]|$|(?:in|into|on|over|under|between|around|round|to|at|and|all|along|through|of|then|across"
    r"|by|as|with)\b))"
)
_LONG = re.compile(rf"(?<!\w)(?:\d+|one|two|three|four|five|six|each|every)\s+(long){_AFTER}", re.IGNORECASE)
# "3 chain for 1st treble", "ch 3 (counts as first d c)".
_HEIGHT = re.compile(
    r"(?:\bch(?:ain)?\.?\s*(?P<behind>\d+)|(?P<before>\d+)\s*ch(?:ains?|s)?\b)\.?\s*,?\s*\(?\s*"
    r"(?:for|as|to form|to stand for|to take the place of|counts? as|=)\s+(?:(?:the|a|an|1st|first|one)\s+)*"
    r"(?P<word>[a-z][a-z. ]*?)(?=\s*(?:[,;:)(]|\.\s|\.?$|\b(?:and|in|into|then)\b))",
    re.IGNORECASE | re.MULTILINE,
)


class Terms(msgspec.Struct, frozen=True):
    """The vocabulary that a page is read in: whether the page says it, the words that show it (names of stitches before
    marks of the time), what else it may be, and where books of the time disagree the words that are settled otherwise
    than the vocabulary has them."""

    name: str
    said: bool
    shown: tuple[Span, ...] = ()
    doubt: str = ""
    instead: tuple[tuple[str, str], ...] = ()


def older_said(value: str, text: str, lines: Sequence[Line]) -> str | None:
    """The older vocabulary that the value of `Terms:` names, None where it names one of today.

    >>> older_said("older UK", "", []), older_said("US, 1940s", "", []), older_said("c. 1870", "", [])
    ('older UK', '1940s US', 'older US')
    >>> older_said("US", "", []) is None, older_said("US 2019", "", []) is None
    (True, True)
    """
    era = _SAID.search(value)
    if era is None:
        return None
    side = _SIDE.search(value)
    year = _year(era["era"].lower())
    likely = []
    for name in older():
        known, period = _known(name)
        if side is not None and known.side != _side(side[0]):
            continue
        if year is not None and not period.years[0] <= year <= period.years[1]:
            continue
        likely.append(name)
    if not likely:
        return None
    found = [_seen(text, lines, name) for name in likely]
    return max(found, key=lambda seen: (*seen.weight[:2], "1940s" not in seen.name, *seen.weight[2:])).name


def _year(era: str) -> int | None:
    digits = re.search(r"1[89]\d\d", era)
    if digits is not None:
        return int(digits[0])
    if "cent" in era:
        return 1870 if "19" in era or "nine" in era else 1910
    return {"victorian": 1870, "edwardian": 1905}.get(era)


def _side(word: str) -> str:
    return "US" if word.lower().replace(".", "") in ("us", "usa", "american") else "UK"


class _Seen(msgspec.Struct, frozen=True):
    """What a page shows of one vocabulary. `shows` whether it is enough; `weight` how much it is beside others."""

    name: str
    words: dict[str, Span]
    marks: tuple[Span, ...]
    shows: bool
    weight: tuple[int, int, int, bool]


def older_shown(text: str, lines: Sequence[Line], words: frozenset[str]) -> Terms | None:
    """The older vocabulary that the words of a page show; None for pages of today. `words` are those of the rows."""
    if not words & _first_words():
        return None
    seen = sorted((one for one in (_seen(text, lines, name) for name in older()) if one.shows), key=_by_weight)
    if not seen:
        return None
    best = seen[0]
    spans = (*sorted(best.words.values()), *sorted(best.marks))
    doubt = next((one.name for one in seen[1:] if one.weight[:3] == best.weight[:3] and _differ(best, one)), "")
    return Terms(best.name, False, spans, doubt)


def settled(terms: Terms, text: str, lines: Sequence[Line]) -> Terms:
    """The same with contested words settled by the turning chains that stand for them."""
    if terms.name in languages():
        return terms
    known, period = _known(terms.name)
    instead = []
    for number, word in _heights(text, lines):
        other = period.contested.get(word)
        if other is not None and dictionary()[other].turning_chain == number:
            found = _meaning(known, word)
            instead += [(said, other) for said in period.contested if _meaning(known, said) == found]
    return msgspec.structs.replace(terms, instead=tuple(dict.fromkeys(instead)))


def contested_words(terms: Terms, text: str, lines: Sequence[Line]) -> Iterator[tuple[Span, str, str]]:
    """The first place of each word of the page that books of the time use for two stitches; with both of them, the
    one taken first."""
    if terms.name in languages():
        return
    known, period = _known(terms.name)
    for word, other in period.contested.items():
        place = next(_places(text, lines, _pattern((word,), False)), None)
        own = _meaning(known, word)
        if place is not None and own is not None:
            yield (place, other, own) if (word, other) in terms.instead else (place, own, other)


def _by_weight(seen: _Seen) -> tuple[int, ...]:
    return tuple(-part for part in seen.weight)


def _differ(one: _Seen, other: _Seen) -> bool:
    """Whether a word of the page is another stitch in the other vocabulary."""
    first, second = vocabulary(one.name), vocabulary(other.name)
    return any(_meaning(first, word) != _meaning(second, word) for word in one.words)


def _seen(text: str, lines: Sequence[Line], name: str) -> _Seen:
    known, period = _known(name)
    rows = [line for line in lines if line.kind in ("row", "step")]
    alone = {span.of(text).lower(): span for span in _places(text, rows, _pattern(tuple(sorted(period.alone)), False))}
    names = {span.of(text).lower(): span for span in _places(text, rows, _pattern(tuple(sorted(period.names)), True))}
    longs = list(_places(text, rows, _LONG)) if "long" in known.counted else []
    marks = [*longs, *_marks(text, lines, rows, period)] if names or longs else []
    fits = 0
    for number, word in _heights(text, lines):
        stitch = _meaning(known, word)
        usual = dictionary()[stitch].turning_chain if stitch is not None else None
        fits += 0 if usual is None else 1 if usual == number else -1
    if fits > 0 and names:
        marks += [Span(found.start(), found.end()) for found in _HEIGHT.finditer(text)][:1]
    of_today = _of_today(text, rows) if alone or names or longs else (0, 0)
    proved = (
        len(alone) > 0
        and sum(1 for _ in _places(text, rows, _pattern(tuple(sorted(period.alone)), False))) > (of_today[0])
    )
    shows = proved or (bool(longs or (names and marks)) and not any(of_today))
    if longs:
        names["long"] = longs[0]
    hints = sum(
        1 for hint in sorted(period.hints) if re.search(rf"(?<!\w){re.escape(hint)}(?!\w)", text, re.IGNORECASE)
    )
    first = {span.of(text).lower(): span for span in reversed(marks)}
    weight = (fits, len(alone) + len(names), hints, known.side == "US")
    return _Seen(name, names | alone, tuple(first.values()), shows, weight)


def _marks(text: str, lines: Sequence[Line], rows: Sequence[Line], period: Period) -> Iterator[Span]:
    """Marks of the time on a page: in the rows, at their labels, and a year above them."""
    for pattern in (_ORDINAL, _DASH, _pattern(tuple(sorted(period.marks)), False)):
        yield from _places(text, rows, pattern)
    for line in lines:
        if line.kind not in ("row", "step"):
            found = _YEAR.search(text, line.whole.start, line.whole.end)
            if found is not None:
                yield Span(found.start(), found.end())


def _places(text: str, lines: Sequence[Line], pattern: re.Pattern[str]) -> Iterator[Span]:
    for line in lines:
        for found in pattern.finditer(text, line.whole.start, line.whole.end):
            group = 1 if pattern.groups else 0
            yield Span(found.start(group), found.end(group))


def _heights(text: str, lines: Sequence[Line]) -> Iterator[tuple[int, str]]:
    """Turning chains that stand for a stitch, with its words: `3 chain for 1st treble`."""
    for line in lines:
        for found in _HEIGHT.finditer(text, line.whole.start, line.whole.end):
            number = found["behind"] or found["before"]
            if len(number) < 3:
                yield int(number), _bare(" ".join(found["word"].lower().split()))


def _bare(word: str) -> str:
    """A word without the stop behind it, unless there are stops inside."""
    return word.rstrip(".") if word.count(".") == 1 else word


def _of_today(text: str, rows: Sequence[Line]) -> tuple[int, int]:
    """How often short words of today stand in the rows: those that prove a side, and those that both sides have."""
    proofs = frozenset[str]().union(*(vocabulary(name).proofs for name in languages()))
    both = ("dc", "tr", "dtr")
    proving = shared = 0
    for line in rows:
        for word in re.findall(r"[a-z]+(?:\d+tog)?", text[line.start : line.end].lower()):
            proving += word in proofs
            shared += word in both
    return proving, shared


@cache
def _pattern(words: tuple[str, ...], in_place: bool) -> re.Pattern[str]:
    """A pattern for any of some words; `in_place` where they are ordinary words unless they stand as stitches do."""
    spelled = []
    for word in sorted(words, key=len, reverse=True):
        pieces = [found[0] for found in WORDS.finditer(word)]
        glue = r"\s*" if "." in word else r"\s+"
        spelled.append(glue.join(map(re.escape, pieces)))
    either = "|".join(spelled) or r"(?!)"
    if in_place:
        return re.compile(rf"{_BEFORE}({either}){_AFTER}", re.IGNORECASE)
    # A capital letter alone is a yarn and no part of a stitch's name.
    short = "|".join(one for one in spelled if not re.search(r"[a-z]{3}", one)) or r"(?!)"
    full = "|".join(one for one in spelled if re.search(r"[a-z]{3}", one)) or r"(?!)"
    return re.compile(rf"(?<![\w.])((?:{short})|(?i:{full}))(?!\w)")


@cache
def _first_words() -> frozenset[str]:
    """The first words of all names that show an older vocabulary."""
    found: set[str] = {"long"}
    for name in older():
        period = _known(name)[1]
        found |= {re.split(r"[ .]", word)[0] for word in period.names | period.alone}
    return frozenset(found)


def _known(name: str) -> tuple[Vocabulary, Period]:
    known = vocabulary(name)
    assert known.period is not None, f"{name} has no years"
    return known, known.period


def _meaning(known: Vocabulary, word: str) -> str | None:
    """The stitch that a whole wording means, or None."""
    cut = [found[0] for found in WORDS.finditer(word)]
    found = known.find(cut, 0) if cut else None
    return found.value if found is not None and found.kind == "stitch" and found.length == len(cut) else None
