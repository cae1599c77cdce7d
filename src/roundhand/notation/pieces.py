"""What the reader of clauses puts together before it is folded: nodes of the tree, and the marks between them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeAlias

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import Amount, Chain, Evenly, Node, Note, Times, Unread, Work


class Star(msgspec.Struct, frozen=True):
    """A star that opens (or closes) a repeat; gone once the sentence is folded."""

    span: Span
    double: bool


class Again(msgspec.Struct, frozen=True):
    """`rep from * …`: how often what stands between is worked; gone once folded.

    `starred` is true where the words name a star, `cut` where the last run stops at a doubled star."""

    span: Span
    mode: str
    amount: Amount | None
    rest: Amount | None
    starred: bool
    cut: bool = False


class Loop(msgspec.Struct, frozen=True):
    """`in back loops only` said for the rest of the row."""

    loop: str
    span: Span


Piece: TypeAlias = Node | Star | Again | Loop
SILENT = (Note, Unread)


def worked(pieces: Iterable[Piece]) -> bool:
    """Whether anything has been worked yet, so that a number may be a count."""
    return any(isinstance(piece, Work | Times | Evenly | Chain | Unread | Star) for piece in pieces)


def stitched(pieces: Iterable[Piece]) -> bool:
    """Whether a stitch has been worked yet, chains apart, so that a slip stitch may close the round."""
    return any(isinstance(piece, Work | Times | Evenly | Again) for piece in pieces)
