"""More pieces of a kind are sewn on than are made.

A maker who has fastened off comes to the making up and finds that she needs a second ear.

Bad:
    HEAD
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)

    EAR
    Rnd 1: 5 sc in a magic ring. (5)

    FINISHING
    Sew both ears to the head.

Good:
    HEAD
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)

    EAR (make 2)
    Rnd 1: 5 sc in a magic ring. (5)

    FINISHING
    Sew both ears to the head.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Mark, Span
from roundhand.measures import number_word, say_count

GROUP = "seams"

_NUMBER = r"both|two|three|four|five|six|eight|\d{1,2}"
# Nobody sews more kinds of pieces together.
_MOST_PIECES = 60
_SEWN = re.compile(r"\b(?:sew|attach|join|stitch|pin|seam)\b[^.\n]*", re.IGNORECASE)
_AGAIN = re.compile(
    r"\b(?:make|work|repeat|rep)\b[^.\n]{0,30}\b(?:another|second|other|same|again|more|two|2|twice)\b|\bmake\s+\d"
    r"|\bas\s+(?:for\s+)?(?:the\s+)?first\b",
    re.IGNORECASE,
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every number of pieces sewn on that is over the number made."""
    pieces = [piece for piece in sheet.tally.pieces if piece.rows]
    parts = {part.name: part for part in sheet.pattern.parts}
    if not 2 <= len(pieces) <= _MOST_PIECES or _AGAIN.search(sheet.text):
        return
    words = {piece.name.lower().split()[-1] for piece in pieces if piece.name.split()}
    for word in sorted(words):
        # Left and right make two of a kind, however many headings they have.
        mine = [piece for piece in pieces if word in piece.name.lower().split()]
        if not word.isalpha() or word.endswith("s") or any(piece.name not in parts for piece in mine):
            continue
        made = sum(max(piece.make) for piece in mine)
        last = parts[mine[-1].name].span.end
        many = re.compile(
            rf"\b(?P<number>{_NUMBER})\s+(?:of\s+the\s+|the\s+)?(?:\w+\s+)?(?P<word>{re.escape(word)}(?:e?s))\b",
            re.IGNORECASE,
        )
        for sentence in _SEWN.finditer(sheet.text, last):
            found = many.search(sheet.text, sentence.start(), sentence.end())
            if found is None:
                continue
            said = found["number"].lower()
            asked = 2 if said == "both" else int(said) if said.isdigit() else number_word(said) or 0
            if asked > made:
                yield _finding(sheet, found, asked, made, word, parts[mine[-1].name].span)
                break


def _finding(sheet: Sheet, found: re.Match[str], asked: int, made: int, word: str, heading: Span) -> Finding:
    return Finding(
        "pieces-differ",
        "warning",
        f"{say_count(asked, word)} sewn on, {made} made",
        Span(found.start("number"), found.end("word")),
        because=f"the section of the {word} makes {made}",
        help=f"write “make {asked}” behind its heading, or sew on what is made",
        facts={"asked": asked, "made": made, "piece": word},
        see=(Mark(heading, f"{made} made"),),
        label=f"{made} made",
    )
