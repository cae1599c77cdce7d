"""The fabric of a piece: every stitch of one size, what it is worked into and what it stands over.

Built from a tally when something needs single stitches: charts, positions, shape. It is held in arrays, so that a
blanket of a million stitches is made in a fraction of a second.
"""

from roundhand.fabric.build import build
from roundhand.fabric.landings import Landing, depths, landings, long_stitches
from roundhand.fabric.model import Fabric, RowMark

__all__ = ["Fabric", "Landing", "RowMark", "build", "depths", "landings", "long_stitches"]
