"""The number of ends to weave in that is stated is not what the yarns are cut to, or it is very large and not told.

A maker counts her ends when she finishes; one too few sends her looking for a loose one. And a blanket with eighty ends
is another evening that she would like to know of before she begins.

Bad:
    MATERIALS
    Yarn A: worsted, slate
    Yarn B: worsted, samphire
    CAP
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Cut A.
    Rnd 3: With B, sc in each st around. (12)
    Fasten off B.
    FINISHING
    Weave in the 6 ends.

Good:
    MATERIALS
    Yarn A: worsted, slate
    Yarn B: worsted, samphire
    CAP
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Cut A.
    Rnd 3: With B, sc in each st around. (12)
    Fasten off B.
    FINISHING
    Weave in the 4 ends.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.measures import number_word

GROUP = "colours"

_SAID = re.compile(
    r"\bweave\s+in\s+(?:the|all|all\s+the)?\s*(?P<number>\d{1,3}|two|three|four|five|six|seven|eight|nine|ten|twelve)\s+"
    r"(?:loose\s+|yarn\s+)?(?P<what>ends|tails)\b",
    re.IGNORECASE,
)
_EASED = re.compile(
    r"\b(?:ends\s+as\s+you\s+go|carry|carried|work(?:ing)?\s+over\s+(?:the\s+)?(?:ends|tails)|many\s+ends)\b",
    re.IGNORECASE,
)
# Ours: more ends than this are an evening's work.
_MANY = 40


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding where the stated ends are not two for every length of yarn, or where there are forty and more."""
    counts = [_ends(sheet, size) for size in range(len(sheet.pattern.sizes))]
    ends = counts[0]
    if ends is None or any(one != ends for one in counts):
        return
    said = list(_SAID.finditer(sheet.text))
    if len(said) > 1:
        return
    if said:
        word = said[0]["number"].lower()
        number = int(word) if word.isdigit() else number_word(word)
        if number is not None and number != ends:
            yield _finding(
                f"{number} ends written, the yarns have {ends}",
                Span(said[0].start("number"), said[0].end("what")),
                f"yarn is cut or fastened off {ends // 2} times, and every length of it has two ends",
                f"write {ends}, or look whether a yarn is cut that should be carried",
                {"said": number, "ends": ends},
                f"{ends} ends",
            )
    elif ends >= _MANY and not _EASED.search(sheet.text) and all(max(piece.make) == 1 for piece in sheet.tally.pieces):
        # Whoever makes motifs knows that each has ends.
        last = list(sheet.tally.rows())[-1]
        yield _finding(
            f"{ends} ends to weave in",
            last.line.label.span,
            f"yarn is cut or fastened off {ends // 2} times",
            "tell the maker so at the beginning, or say how the ends are worked over as she goes",
            {"said": None, "ends": ends},
            "many ends",
        )


def _ends(sheet: Sheet, size: int) -> int | None:
    """Two ends for every length of yarn in a size; None where not every length is ended.

    Yarn may go on from one piece to the next where each is made once."""
    pieces = sheet.tally.pieces
    once = all(piece.made(size) == 1 for piece in pieces)
    open_: set[str] = set()
    lengths = 0
    for piece in pieces:
        own = 0
        for event in piece.events[size]:
            if event.act == "use":
                open_.add(event.colour)
            elif event.act in ("cut", "fasten"):
                own += 1
                open_.discard(event.colour)
        if open_ and not once:
            return None
        lengths += own * piece.made(size)
    return None if open_ or not lengths else 2 * lengths


def _finding(headline: str, span: Span, because: str, way: str, facts: dict[str, int | None], label: str) -> Finding:
    return Finding("ends-to-weave", "advice", headline, span, because=because, help=way, facts=facts, label=label)
