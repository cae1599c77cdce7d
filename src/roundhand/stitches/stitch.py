"""What is known of a stitch: how it is worked, what it uses and leaves, how high it stands."""

from __future__ import annotations

import re
from fractions import Fraction

import msgspec

from roundhand.stitches.recipe import Operation
from roundhand.stitches.recipe import peak as most_loops

# Where a stitch is worked when nothing else is said; more places can be said of a stitch than any has by itself.
PLACES = (
    "both loops",
    "front loop",
    "back loop",
    "front post",
    "back post",
    "below",
    "base chain",
    "bar",
    "face of fabric",
    "top of the last stitch",
    "loop on the hook",
)

# How well a fact is known, the best first: read in a published source, recalled without the source at hand, what
# makers generally do, decided here.
EVIDENCE = ("found", "memory", "common practice", "ours")


# An insertion into a part of the stitch itself or of its neighbour, which gives it no leg to stand on.
OWN_PART = re.compile(r"\bof (?:last|first|base|loop)\b")


class Part(msgspec.Struct, frozen=True):
    """A number of one stitch inside a stitch that is a group of them, a shell or a picot.

    `where` is empty for the place that the group is worked in, else it says in plain words where these go.
    """

    stitch: str
    count: int = 1
    where: str = ""


class Stitch(msgspec.Struct, frozen=True):
    """A stitch.

    `id` is in whole words of US usage. `family` is the id of the plain stitch it is a form of, its own for a plain
    stitch. `recipe` holds the movements of the hook. `uses` counts the places of the row below that it passes and
    `makes` the stitches it leaves on top. `place` is where it is worked when nothing else is said. `shares` counts
    places that it is worked into together with the one of its kind before it: wedges share one, so a run of them needs
    one place more than they pass.

    `parts` are the stitches that a group is made of, in order; empty for a stitch of its own. The recipe of a group is
    that of its parts, one behind the other.

    `height_chains` is the nominal height in chains, the trade's rule for the edge of a row; `height` is the nominal
    height against a single crochet, the rule for rows. Neither is a length: real heights come from a gauge.
    `turning_chain` is the usual number of chains at the start of a row, None where there is no usual one;
    `turning_chain_counts` says whether they count as a stitch, None where the pattern must say.

    `symbol` holds the strokes of its symbol in a chart as its file gives them, empty where a rule makes it from the
    recipe (roundhand.stitches.symbols); `symbol_source` and `symbol_evidence` say how well that shape is known.

    `source` says where the facts were found, `evidence` how well they are known: `found`, `memory`,
    `common practice` or `ours`, the weakest that holds for any of them where they differ.

    >>> from roundhand.stitches import dictionary
    >>> treble = dictionary()["treble"]
    >>> treble.uses, treble.makes, treble.peak, treble.height_chains
    (1, 1, 4, Fraction(4, 1))
    """

    id: str
    family: str
    recipe: tuple[Operation, ...]
    uses: int
    makes: int
    place: str
    height_chains: Fraction
    height: Fraction
    turning_chain: int | None
    turning_chain_counts: bool | None
    source: str
    evidence: str
    parts: tuple[Part, ...] = ()
    shares: int = 0
    symbol: tuple[str, ...] = ()
    symbol_source: str = ""
    symbol_evidence: str = ""

    @property
    def peak(self) -> int:
        """The most loops on the hook while the stitch is worked.

        >>> from roundhand.stitches import dictionary
        >>> dictionary()["half_double"].peak
        3
        """
        return most_loops(self.recipe)

    @property
    def legs(self) -> int:
        """How many legs the stitch stands on: insertions into the work, those into its own parts left out.

        >>> from roundhand.stitches import dictionary
        >>> [dictionary()[id].legs for id in ("double", "double_2_together", "popcorn_5_double", "linked_double")]
        [1, 2, 5, 1]
        """
        return sum(one.act == "insert" and not OWN_PART.search(one.where) for one in self.recipe)
