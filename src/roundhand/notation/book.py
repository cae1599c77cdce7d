"""The stitches of one pattern: every definition of the page read, and the words of its rows that mean them."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

import msgspec

from roundhand.findings import Span
from roundhand.notation.definitions import read_definition
from roundhand.notation.lines import Line
from roundhand.notation.named_groups import opened
from roundhand.notation.sizes import size_phrase
from roundhand.notation.special import Pending, definitions_in_rows, find_definitions, forms
from roundhand.notation.tokens import Lexicon, understand
from roundhand.notation.tree import Definition, Work
from roundhand.terms import Meaning

# No page defines more.
_MOST = 300


class Book(msgspec.Struct, frozen=True):
    """What a page defines: its stitches by every name, all definitions in order, and the words that mean them.

    `asides` are places inside rows that only name a stitch, `own_lines` the lines among the work that define one.
    """

    definitions: Mapping[str, Definition]
    defined: tuple[Definition, ...]
    lexicon: Lexicon
    asides: tuple[Span, ...]
    own_lines: frozenset[int]


def read_book(text: str, lines: Sequence[Line], lexicon: Lexicon, names: tuple[str, ...]) -> Book:
    """The stitches that a page defines, read in its own words."""
    pending, headed = find_definitions(text, lines)
    inside, asides = definitions_in_rows(text, lines)
    known: dict[str, Definition] = {}
    kept: list[tuple[Pending, Definition]] = []
    own_lines = set(headed)
    for one in (*pending, *inside)[:_MOST]:
        if size_phrase(one.names[0], names) is not None:
            # "(L only: 2 sc in next st)" says for which size and defines nothing.
            continue
        found = read_definition(one.names[0], text, one.start, one.end, lexicon, names, one.span)
        likened = one.where in ("heading", "colon") and _likens(text[one.start : one.end], lines)
        if likened or not _is_meant(one, found, lexicon):
            if one.where == "heading":
                own_lines = {at for at in own_lines if not one.span.start <= lines[at].whole.start < one.span.end}
            continue
        if one.where in ("row", "colon"):
            if one.where == "colon":
                asides.append(one.span)
            if any(form in known for form in forms(one.names)):
                # What a list says of a stitch goes before an aside in a row.
                continue
        kept.append((one, found))
        known |= dict.fromkeys(forms(one.names), found)
    meant = _words(kept, lexicon)
    wider = lexicon.defining(meant) if meant else lexicon
    definitions: dict[str, Definition] = {}
    defined: list[Definition] = []
    for one, first in kept:
        found = first
        if len(kept) > 1 and (first.stitch is None or not first.stitch.recipe):
            found = read_definition(one.names[0], text, one.start, one.end, _without(wider, one), names, one.span)
        where = {"heading": "special", "colon": "row"}.get(one.where, one.where)
        found = msgspec.structs.replace(found, names=one.names, where=where)
        defined.append(found)
        definitions |= dict.fromkeys(forms(one.names), found)
        if found.stitch is not None:
            definitions[found.stitch.id] = found
    whole = {
        name: msgspec.structs.replace(one, body=opened(one.body, definitions)) for name, one in definitions.items()
    }
    return Book(whole, tuple(defined), wider, tuple(asides), frozenset(own_lines))


def _without(lexicon: Lexicon, one: Pending) -> Lexicon:
    """The words of a definition: every name of the page but its own."""
    own = set(forms(one.names))
    left = {
        first: tuple(words for words in spelled if " ".join(words) not in own)
        for first, spelled in lexicon.defined.items()
    }
    return lexicon.defining(left)


def _meaning(name: str, lexicon: Lexicon) -> Meaning | None:
    """What the trade means by a whole name: one stitch or one word; None where it knows none."""
    tokens = understand(name, 0, len(name), lexicon.defining({}))
    if len(tokens) == 1 and tokens[0].kind in ("stitch", "word") and not tokens[0].foreign:
        return Meaning(tokens[0].kind, tokens[0].value, 1)
    return None


def _is_meant(one: Pending, found: Definition, lexicon: Lexicon) -> bool:
    """Whether a line that has the form of a definition defines a stitch that rows may name."""
    name = one.names[0]
    if len(name) < 2 or name in lexicon.colours or name.lower() in lexicon.words.colours:
        return False
    trade = _meaning(name, lexicon)
    told = bool(found.group or found.body) or found.stitch is not None
    if trade is not None and trade.kind == "word":
        return told and trade.value in ("increase", "decrease") and not _as_usual(trade.value, found)
    if one.where == "special":
        return told or _is_free(name, lexicon)
    if one.where in ("heading", "colon"):
        closed = found.stitch is not None and found.stitch.recipe and found.lacking is None
        return bool(closed or found.group or found.body)
    if one.where == "row":
        return trade is None or trade.kind != "stitch" or bool(found.group and len(found.group) > 1)
    if found.group or found.body:
        return sum((item.amount.at(0) or 0) for item in found.group) > 1 or bool(found.body)
    return found.stitch is not None and (trade is None or trade.value != found.stitch.id)


def _likens(words: str, lines: Sequence[Line]) -> bool:
    """Whether the words under a heading work it as another part of the page: "as for First Motif, in hdc"."""
    links = re.search(r"\b(?:as|like|same|match|correspond)\b", words, re.IGNORECASE)
    if links is None:
        return False
    behind = " ".join(words[links.end() :].lower().split())
    return any(
        re.search(rf"\b{re.escape(' '.join(line.name.lower().split()))}\b", behind) is not None
        for line in lines
        if line.kind == "heading" and line.section == "work" and len(line.name) > 2
    )


def _is_free(name: str, lexicon: Lexicon) -> bool:
    """Whether a name holds a word that means nothing by itself, so that rows can only mean this by it."""
    tokens = understand(name, 0, len(name), lexicon.defining({}))
    return any(token.kind == "name" and token.value not in lexicon.words.filler for token in tokens)


def _as_usual(concept: str, found: Definition) -> bool:
    """Whether `inc` or `dec` is defined as the trade means it, which follows the stitch of its row.

    So it is where a list only tells what the letters stand for, `dec: decrease/decreasing`, `dec: decrease (sc2tog)`.
    """
    first = found.body[0] if found.body else None
    items = found.group or (first.group if isinstance(first, Work) else ())
    if items and not any(item.stitch for item in items):
        number = 2 if concept == "increase" else 1
        return all(item.amount.values == (number,) and item.together in (0, 2) for item in items)
    if concept == "increase":
        return len(found.group) == 1 and found.group[0].amount.values == (2,)
    return found.stitch is not None and found.stitch.uses == 2 and found.stitch.makes == 1


def _words(kept: Sequence[tuple[Pending, Definition]], lexicon: Lexicon) -> dict[str, tuple[tuple[str, ...], ...]]:
    """The spellings that mean a stitch of this page, by their first word, the longest first."""
    found: dict[str, list[tuple[str, ...]]] = {}
    for one, definition in kept:
        for spelling in forms(one.names):
            words = tuple(spelling.split())
            trade = lexicon.words.find(words, 0)
            whole = trade is not None and trade.length == len(words)
            if whole and trade is not None:
                same = definition.stitch is not None and definition.stitch.id == trade.value
                if same or (trade.kind == "word" and trade.value not in ("increase", "decrease")):
                    continue
            found.setdefault(words[0], []).append(words)
    return {first: tuple(sorted(set(spelled), key=lambda one: (-len(one), one))) for first, spelled in found.items()}
