"""The head of a pattern: yarns, gauges, hook, and every other key with its lengths of every size."""

from __future__ import annotations

import re
from fractions import Fraction

from roundhand.findings import Span
from roundhand.measures import Length, length_unit, read_number, unit_words
from roundhand.notation.tree import Fact, Gauge, YarnLine

_UNITS = "|".join(re.escape(word) for word in unit_words())
_NUMBER = r"\d+(?:\.\d+)?(?:\s+\d+/\d+|/\d+|\s*[\u00bc-\u00be\u2150-\u215e])?|[\u00bc-\u00be\u2150-\u215e]"
_UNIT_AFTER = re.compile(rf"\s*-?\s*({_UNITS})(?![^\W\d_])", re.IGNORECASE)
_LABEL_IN_KEY = re.compile(r"(?:^|\s|\()([A-Z]|MC|CC\d?|C\d|[A-Z]\d)\)?\s*$")
_LABEL_IN_BRACKETS = re.compile(r"([^\W\d_][\w \-']*?)\s*\(\s*(?:colou?r\s+|yarn\s+)?([A-Z]|MC|CC\d?|C\d)\s*\)")
_LABEL_LED = re.compile(
    r"\b(?:colou?r|yarn)\s+([A-Z]|MC|CC\d?|C\d)\b\s*(?:[:=,\u2013-]\s*|\bis\s+)?([^\W\d_][\w ']*)?", re.IGNORECASE
)
_LABEL_ALONE = re.compile(r"(?:^|[,;.]\s*)([A-Z]|MC|CC\d?|C\d)\s*[:=\u2013-]\s*([^\W\d_][\w ']*)")
# "MC navy, CC cream": one capital alone may be an article, two in a line are not.
_LABEL_BARE = re.compile(r"(?:^|[,;]\s*|\band\s+)([A-Z]|MC|CC\d?|C\d)\s+([a-z][\w ']*)")
_NEXT_YARN = re.compile(r"[;,.]\s*[*_]{0,2}(?:[Yy]arn|[Cc]olou?r)\s+([A-Z]|MC|CC\d?|C\d)\s*[*_]{0,2}:[*_]{0,2}\s*")
_PUT_UP = re.compile(
    rf"({_NUMBER})\s*(g|gr|grams?|oz|ounces?)\b\s*(?:=|/|,|per|\()?\s*(?:approx\.?\s*|about\s*)?({_NUMBER})\s*"
    r"(m|metres?|meters?|yds?|yards?)\b"
    rf"|({_NUMBER})\s*(m|metres?|meters?|yds?|yards?)\b\s*(?:=|/|,|per|\()?\s*({_NUMBER})\s*(g|gr|grams?|oz|ounces?)\b",
    re.IGNORECASE,
)
_BALLS = re.compile(r"\b(?:balls?|skeins?|hanks?|cones?)\b", re.IGNORECASE)
_WEIGHTS = (
    "lace", "cobweb", "fingering", "sock", "baby", "sport", "dk", "double knitting", "light worsted", "worsted", "aran",
    "afghan", "chunky", "bulky", "super bulky", "roving", "jumbo", "4 ply", "8 ply", "10 ply", "12 ply",
)  # fmt: skip
_GRAMS = {"g": Fraction(1), "o": Fraction("28.349523125")}  # The avoirdupois ounce, exactly (1959 agreement).
_STITCHES = re.compile(
    rf"({_NUMBER})\s*(?:sts?\b|stitches|[a-z]{{2,4}}\b(?=\s*(?:sts?\b|and|x|by|,|=|over|to|per|\d)))", re.IGNORECASE
)
_ROWS = re.compile(rf"({_NUMBER})\s*(?:rows?|rnds?|rounds?|r\b)", re.IGNORECASE)
_LENGTH = re.compile(rf"({_NUMBER})\s*-?\s*({_UNITS})(?![^\W\d_])", re.IGNORECASE)
_HOOK = re.compile(rf"(\d+,\d{{1,2}}(?![\d,])|{_NUMBER})\s*-?\s*mm", re.IGNORECASE)
# A size with a decimal has no unit beside it in some countries; no other numbering of hooks has decimals.
_HOOK_BARE = re.compile(r"(?<![\d.,/-])(\d{1,2}[.,]\d{1,2})(?![\d.,/]|\s*(?:\d|in\b|inch|cm\b|\"))", re.IGNORECASE)
_STRETCH = re.compile(r"stretch\w*\b[^.;]*?\bto\b", re.IGNORECASE)


def read_fact(key: str, text: str, start: int, sizes: int) -> Fact:
    """A key with its value: the first list of lengths or numbers in it, one for all sizes or one for each.

    `start` is the offset of the value in the whole text.
    """
    lengths: tuple[Length | None, ...] = ()
    numbers = number_list(text, sizes)
    values: tuple[Fraction | None, ...] = ()
    if numbers is not None:
        values, end = numbers
        unit = _UNIT_AFTER.match(text, end)
        name = length_unit(unit[1]) if unit is not None else None
        if name is not None:
            lengths = tuple(Length.of(value, name) if value is not None else None for value in values)
    lists = []
    end = 0
    while (found := number_list(text, sizes, end)) is not None:
        lists.append(found[0])
        end = found[1]
    return Fact(key, text.strip(), Span(start, start + len(text.rstrip())), lengths, values, lists=tuple(lists))


def number_list(text: str, sizes: int, start: int = 0) -> tuple[tuple[Fraction | None, ...], int] | None:
    """The first number of a text with the values of further sizes in brackets behind it, and the offset behind them.

    >>> number_list("16 (17 1/2, 19) in", 3)
    ((Fraction(16, 1), Fraction(35, 2), Fraction(19, 1)), 15)
    """
    first = re.compile(_NUMBER).search(text, start)
    if first is None:
        return None
    found = read_number(text, first.start())
    if found is None:
        return None
    values: list[Fraction | None] = [found[0]]
    end = found[1]
    bracket = re.compile(r"\s*[(\[]([^()\[\]]*)[)\]]").match(text, end)
    while bracket is not None and sizes > 1:
        inside: list[Fraction | None] = []
        for item in re.split(r"[,;:|]", bracket[1]):
            stripped = item.strip()
            number = read_number(stripped)
            if number is not None and number[1] == len(stripped):
                inside.append(number[0])
            elif stripped in ("-", "\u2013", "\u2014"):
                inside.append(None)
            else:
                return tuple(values), end
        values += inside
        end = bracket.end()
        bracket = re.compile(r"\s*[(\[]([^()\[\]]*)[)\]]").match(text, end)
    return tuple(values), end


def is_yarn_key(key: str) -> bool:
    """Whether a key names a yarn: `Yarn A`, `Colour B`, `MC`, `Main colour (MC)`."""
    lower = key.lower()
    if any(word in lower for word in ("needed", "amount", "yardage", "weight", "used", "quantity")):
        return False
    named = re.match(r"(?:yarns?|colou?rs?|main|contrast\w*|mc|cc\d?|[a-z]|yarn\s+\w)\b", lower)
    return named is not None and (
        lower in ("yarn", "yarns", "colors", "colours") or _LABEL_IN_KEY.search(key) is not None or len(key) <= 2
    )


def read_yarns(key: str, text: str, span: Span, sizes: int) -> list[YarnLine]:
    """The yarns that one line of the materials declares, with weight, colour, put-up and balls where they are said."""
    in_key = _LABEL_IN_KEY.search(key)
    if in_key is not None:
        # "Yarn A: …; Yarn B: …" on one line.
        pieces = _NEXT_YARN.split(text)
        labels_here = (in_key[1], *pieces[1::2])
        return [_yarn(label, piece, span, sizes) for label, piece in zip(labels_here, pieces[::2], strict=True)]
    labels: dict[str, str] = {}
    for found in _LABEL_IN_BRACKETS.finditer(text):
        labels.setdefault(found[2], found[1])
    for pattern in (_LABEL_LED, _LABEL_ALONE):
        for found in pattern.finditer(text):
            labels.setdefault(found[1].upper() if len(found[1]) == 1 else found[1], found[2] or "")
    bare = _LABEL_BARE.findall(text)
    if len(bare) > 1 or any(len(label) > 1 for label, _ in bare):
        for label, words in bare:
            labels.setdefault(label, words)
    if labels:
        whole = _yarn("", text, span, sizes)
        return [
            YarnLine(
                label, span, whole.words, whole.weight, _colour_words(words), whole.mass_g, whole.length, whole.balls
            )
            for label, words in labels.items()
        ]
    return [_yarn("", text, span, sizes)] if key.lower() in ("yarn", "yarns") else []


def _yarn(label: str, text: str, span: Span, sizes: int) -> YarnLine:
    lower = text.lower()
    weight = next((word for word in sorted(_WEIGHTS, key=len, reverse=True) if re.search(rf"\b{word}\b", lower)), "")
    mass = length = None
    put_up = _PUT_UP.search(text)
    if put_up is not None:
        if put_up[1] is not None:
            mass, length = _put_up(put_up[1], put_up[2], put_up[3], put_up[4])
        else:
            mass, length = _put_up(put_up[7], put_up[8], put_up[5], put_up[6])
    parts = [part.strip() for part in re.split(r"[,;]", text)]
    colour = ""
    for part in parts:
        if part and not re.search(r"\d", part) and part.lower() not in _WEIGHTS and not _BALLS.search(part):
            colour = _colour_words(part) or colour
    balls: tuple[Fraction | None, ...] = ()
    for part in text.split(";"):
        if _BALLS.search(part):
            numbers = number_list(part, sizes)
            if numbers is not None:
                balls = numbers[0]
    return YarnLine(label, span, tuple(parts), weight, colour, mass, length, balls)


def _put_up(mass: str, mass_unit: str, length: str, length_word: str) -> tuple[Fraction | None, Length | None]:
    grams = read_number(mass)
    metres = read_number(length)
    unit = length_unit(length_word)
    if grams is None or metres is None or unit is None:
        return None, None
    return grams[0] * _GRAMS[mass_unit[0].lower()], Length.of(metres[0], unit)


def _colour_words(words: str) -> str:
    """The colour among some words: what is left without the trade's words for yarn."""
    kept = [
        word
        for word in words.split()
        if word.lower()
        not in (
            "yarn",
            "in",
            "weight",
            "color",
            "colour",
            "main",
            "contrast",
            "contrasting",
            "of",
            "the",
            "a",
            "and",
            "worsted",
            "wool",
            "cotton",
            "acrylic",
            "ball",
            "balls",
            "skein",
            "skeins",
            "shade",
            "with",
        )
        and word.lower() not in _WEIGHTS
    ]
    return " ".join(kept)


def read_gauge(key: str, text: str, start: int) -> Gauge | None:
    """A gauge: stitches and rows over a length; None where the words hold no length or neither of the two."""
    body = text
    stretched = None
    pulled = _STRETCH.search(text)
    if pulled is not None:
        length = _LENGTH.search(text, pulled.end())
        if length is not None:
            stretched = _length(length)
        body = (
            text[: max(text.rfind(mark, 0, pulled.start()) for mark in ";,.")]
            if any(mark in text[: pulled.start()] for mark in ";,.")
            else text
        )
    over = _LENGTH.search(body)
    stitches = _STITCHES.search(body)
    rows = _ROWS.search(body)
    if over is None or (stitches is None and rows is None):
        return None
    fabric = ""
    named = re.search(r"\bin\s+(?:pattern\s+in\s+)?([^\W\d_][\w ]+)", body[over.end() :], re.IGNORECASE)
    if named is not None:
        fabric = named[1].strip()
    return Gauge(
        Span(start, start + len(text.rstrip())),
        key,
        _value(stitches),
        _value(rows),
        _length(over),
        stretched,
        fabric,
    )


def _value(found: re.Match[str] | None) -> Fraction | None:
    number = read_number(found[1]) if found is not None else None
    return number[0] if number is not None else None


def _length(found: re.Match[str]) -> Length | None:
    number, unit = read_number(found[1]), length_unit(found[2])
    return Length.of(number[0], unit) if number is not None and unit is not None else None


def read_hook(text: str) -> Fraction | None:
    """The hook in millimetres, where the text gives it so.

    >>> read_hook("5 mm (H-8)"), read_hook("7")
    (Fraction(5, 1), None)
    >>> read_hook("2,1 mm"), read_hook("3,75")
    (Fraction(21, 10), Fraction(15, 4))
    """
    found = _HOOK.search(text) or _HOOK_BARE.search(text)
    number = read_number(found[1].replace(",", ".")) if found is not None else None
    return number[0] if number is not None else None
