"""What a stitch is: what the hook does, what it uses of the row below and leaves on top, where it goes, how high it is.

Stitches are data (one TOML file each in `data/`, or a family in one file), named by ids in whole words of US usage;
what people call them stands in the room of terms. This room knows no other.

>>> from roundhand.stitches import dictionary, loops
>>> single_2_together = dictionary()["single_2_together"]
>>> single_2_together.uses, single_2_together.makes, single_2_together.family
(2, 1, 'single')
>>> loops(single_2_together.recipe)
(1, 2, 2, 3, 1)
"""

from roundhand.stitches.reading import StitchDataError, dictionary, read_stitches
from roundhand.stitches.recipe import (
    Operation,
    RecipeError,
    closes,
    lacking,
    loops,
    needed_to_close,
    peak,
    read_recipe,
    write_recipe,
)
from roundhand.stitches.stitch import Part, Stitch

__all__ = [
    "Operation",
    "Part",
    "RecipeError",
    "Stitch",
    "StitchDataError",
    "closes",
    "dictionary",
    "lacking",
    "loops",
    "needed_to_close",
    "peak",
    "read_recipe",
    "read_stitches",
    "write_recipe",
]
