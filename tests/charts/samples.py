"""Charts for the tests: of the shipped caps, and of small texts."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from roundhand.charts import Chart, cells, draw, setting
from roundhand.fabric import Fabric, build
from roundhand.notation import read
from roundhand.sizing.gauges import gauge_book
from roundhand.tally import Tally, count

_PATTERNS = Path(__file__).resolve().parents[2] / "patterns"

# A cuff of our own, small enough to note every stroke.
TERN_CUFF = """Tern Cuff

Sizes: Hand (Foot)
Terms: US

MATERIALS
Yarn A: worsted, fog (#d9d6cc)
Yarn B: worsted, tern red (#8f2f2a)

GAUGE
16 sts and 20 rnds = 4 in in single crochet

SPECIAL STITCHES
Long sc: insert hook in top of st 2 rnds below, draw up a loop to the height of this rnd, yo, pull through 2 loops. \
Skip the st of the last rnd behind it.

CUFF
With A, ch 20 (32), join to form a ring.
Rnd 1: Ch 1 (does not count as a st here and throughout), sc in each ch around, join. (20 (32) sc)
Rnd 2: Ch 1, sc in each st around, changing to B in last st, join.
Rnd 3: With B, ch 1, *sc in next 3 sts, long sc in next st; rep from * around, join.
"""


@cache
def cap(name: str) -> Tally:
    """The tally of a shipped cap."""
    return count(read((_PATTERNS / f"{name}-cap.txt").read_text(encoding="utf-8"))[0])[0]


def fabric_and_chart(tally: Tally, piece: int = 0, size: int = 0) -> tuple[Fabric, Chart]:
    """A fabric and its chart, true to the gauges of the pattern."""
    fabric = build(tally, piece, size)
    book = gauge_book(tally.pattern)
    return fabric, draw(fabric, setting(tally, fabric), cells(fabric, book.width, book.height))


def chart(text: str, piece: int = 0, size: int = 0) -> Chart:
    """The chart of a text."""
    return fabric_and_chart(count(read(text)[0])[0], piece, size)[1]
