"""What the reader of clauses puts together before it is folded: nodes of the tree, and the marks between them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TypeAlias

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import Amount, Chain, Copy, Evenly, Node, Note, Plain, Times, Unread, Work


class Star(msgspec.Struct, frozen=True):
    """A star that opens (or closes) a repeat; gone once the sentence is folded."""

    span: Span
    double: bool


class Again(msgspec.Struct, frozen=True):
    """`rep from * …`: how often what stands between is worked; gone once folded.

    `starred` is true where the words name a star, `cut` where the last run stops at a doubled star, `lost`
    where the words lead to a star, "rep from", and none follows, `until` where it stops at the next corner or space, of
    `length` chains."""

    span: Span
    mode: str
    amount: Amount | None
    rest: Amount | None
    starred: bool
    cut: bool = False
    lost: bool = False
    until: str = ""
    length: int | None = None


class Ending(msgspec.Struct, frozen=True):
    """`ending last rep with …`, `ending …`, `omitting last …` behind a repeat; gone once folded.

    `how` is `last`, `after` or `omit`; what is said goes on to the offset `until`."""

    span: Span
    how: str
    until: int


class Loop(msgspec.Struct, frozen=True):
    """`in back loops only` said for the rest of the row; `row` and `free` as in a place: "in free loops of Rnd 3"."""

    loop: str
    span: Span
    row: Amount | None = None
    free: bool = False


class Whole(msgspec.Struct, frozen=True):
    """Shaping told of the whole row, written out once folded: `dec 1 st each end`, `inc in every 6th st`.

    `act` is `increase`, `decrease` or `skip`; `kind` is `ends`, `start`, `end`, `every` (in groups of `every`
    stitches), `named` (at `places`) or `spread`. `first` and `last` are the spans of its first and last word.
    """

    act: str
    kind: str
    amount: Amount | None
    every: Amount | None
    places: tuple[Amount, ...]
    stitch: str
    span: Span
    first: Span
    last: Span


Piece: TypeAlias = Node | Star | Again | Ending | Loop | Whole
SILENT = (Note, Unread)


# How far back a word may speak of something: far more than any sentence needs, so that endless rows end.
_BACK = 60


class Pieces(list[Piece]):
    """The pieces of a row read so far; knows what has been worked without looking at all of them each time."""

    def __init__(self, pieces: Iterable[Piece] = ()) -> None:
        super().__init__(pieces)
        self._seen = 0
        self._worked = False
        self._stitched = False
        self._stars = 0

    def _look(self) -> None:
        if self._seen == len(self):
            return
        for piece in self[self._seen :]:
            if isinstance(piece, Work | Times | Evenly | Again | Whole):
                self._stitched = True
            if isinstance(piece, Work | Times | Evenly | Chain | Unread | Star | Copy | Plain | Whole):
                self._worked = True
            if isinstance(piece, Star) and not piece.double:
                self._stars += 1
        self._seen = len(self)

    @property
    def worked(self) -> bool:
        """Whether anything has been worked yet, so that a number may be a count."""
        self._look()
        return self._worked

    @property
    def stitched(self) -> bool:
        """Whether a stitch has been worked yet, chains apart, so that a slip stitch may close the round."""
        self._look()
        return self._stitched

    @property
    def starred(self) -> bool:
        """Whether a star stands open."""
        self._look()
        return self._stars % 2 == 1

    def backwards(self) -> Iterator[tuple[int, Piece]]:
        """The last pieces with their positions, the last first."""
        for at in range(len(self) - 1, max(-1, len(self) - 1 - _BACK), -1):
            yield at, self[at]
