"""One stitch goes by two short names in the same pattern.

A maker takes them for two stitches and looks for the difference. One name throughout costs nothing.

Bad:
    MAT
    Ch 11.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (10)
    Row 2: Ch 1, sc in first st, tr in next 8 sts, sc in last st, turn. (10)
    Row 3: Ch 1, sc in first st, trc in next 8 sts, sc in last st, turn. (10)

Good:
    MAT
    Ch 11.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (10)
    Row 2: Ch 1, sc in first st, tr in next 8 sts, sc in last st, turn. (10)
    Row 3: Ch 1, sc in first st, tr in next 8 sts, sc in last st, turn. (10)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.mentions import in_rows
from roundhand.checks.spoken import Spoken, spoken
from roundhand.findings import Finding, Mark, Span
from roundhand.notation.definitions import differing
from roundhand.notation.tree import Definition

GROUP = "words"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every stitch that the rows call by two abbreviations, and for two definitions of one stitch."""
    first: dict[str, dict[str, Spoken]] = {}
    for word in spoken(sheet.paper):
        if word.stitch != "chain":
            first.setdefault(word.stitch, {}).setdefault(_single(word.form), word)
    for forms in first.values():
        if len(forms) > 1:
            words = [(found.span.of(sheet.text).lower(), found.span) for found in forms.values()]
            yield _finding(words, "the same stitch is meant by both")
    defined = [one for one in sheet.pattern.defined if one.where == "special" and _is_more(one)]
    for at, one in enumerate(defined):
        for other in defined[at + 1 :]:
            if _same(one, other) and not _alike(one, other):
                yield from _defined(sheet, one, other)


def _single(form: str) -> str:
    return form.removesuffix("s") if form != "ss" else form


def _is_more(definition: Definition) -> bool:
    """Whether it defines more than a plain stitch in some place: a group, a way of several places, a stitch."""
    several = len(definition.group) > 1 or any((item.amount.at(0) or 0) > 1 for item in definition.group)
    return several or bool(definition.body) or definition.stitch is not None


def _same(one: Definition, other: Definition) -> bool:
    """Whether two definitions come to one stitch, into the same place."""
    ids = [definition.stitch.id if definition.stitch is not None else "" for definition in (one, other)]
    return ids[0] == ids[1] and not differing(one, other)


def _alike(one: Definition, other: Definition) -> bool:
    """Whether two definitions belong together by their names, as those of a stitch for either hand or either side."""
    words = [{definition.name, *definition.names} for definition in (one, other)]
    return bool(words[0] & words[1]) or bool(set(one.name.lower().split()) & set(other.name.lower().split()))


def _defined(sheet: Sheet, one: Definition, other: Definition) -> Iterator[Finding]:
    places = [next(in_rows(sheet, definition), None) for definition in (one, other)]
    if all(place is not None for place in places):
        yield _finding([(one.name, one.span), (other.name, other.span)], "both are worked in the same way")


def _finding(words: list[tuple[str, Span]], because: str) -> Finding:
    names = " and ".join(f"\u201c{word}\u201d" for word, _ in words[:2])
    return Finding(
        "stitch-named-twice",
        "advice",
        f"{names} are one stitch",
        words[1][1],
        because=because,
        help="use one of the names throughout",
        facts={"names": tuple(word for word, _ in words)},
        see=tuple(Mark(span, word) for word, span in words if span != words[1][1]),
        label="by another name",
    )
