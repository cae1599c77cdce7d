"""A word stands where a stitch must stand, and is none that is known here.

A maker cannot look it up, and a slip of one letter can make another stitch.

Bad:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 zc in each st around. (12)

Good:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Edit, Finding
from roundhand.notation.tree import Node, RowLine, Times, Unread

GROUP = "words"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every unknown word in the place of a stitch, said at its first mention."""
    said: set[str] = set()
    for part in sheet.pattern.parts:
        for line in part.lines:
            if not isinstance(line, RowLine):
                continue
            for node in _unread(line.nodes):
                if node.word.lower() in said:
                    continue
                said.add(node.word.lower())
                yield Finding(
                    "words-unknown",
                    "error",
                    f"\u201c{node.word}\u201d is not a stitch known here",
                    node.span,
                    tuple(sheet.pattern.sizes[size] for size in line.sizes),
                    because="it stands where a stitch must stand and is not defined in the pattern",
                    help=(
                        f"\u201c{node.near}\u201d is near; it was worked as that"
                        if node.near
                        else "define it under Special Stitches, or use a word that the pattern explains"
                    ),
                    facts={"word": node.word, "near": node.near},
                    edits=(Edit(node.span, node.near, "ask"),) if node.near else (),
                    label="not known",
                )


def _unread(nodes: Iterable[Node]) -> Iterator[Unread]:
    for node in nodes:
        if isinstance(node, Unread) and node.stitch:
            yield node
        elif isinstance(node, Times):
            yield from _unread(node.body)
