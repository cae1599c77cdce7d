"""Drawings to PNG through typst: a page of the drawing's own size that holds nothing but the drawing.

Only the engine's own fonts are used, never those of the machine, so the picture is the same everywhere.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import TYPE_CHECKING, cast

from roundhand.drawing import Drawing, written
from roundhand.press.page import PressError, _fonts, picture_fits
from roundhand.press.svg import svg

if TYPE_CHECKING:
    import typst

# A poster at print resolution is far below this; a picture beyond it is refused before any work is done.
MOST_PIXELS = 100_000_000
_INCH_MM = Fraction(254, 10)

_PAGE = """#set page(width: {width}mm, height: {height}mm, margin: 0mm)
#image("drawing.svg", width: 100%, height: 100%)
"""


def png(drawing: Drawing, root: str, pixels_wide: int = 1400) -> bytes:
    """The drawing as a PNG so many pixels wide, the same bytes for the same drawing.

    `root` is the path of an empty folder that the caller lends; nothing in it is read. Raises ValueError without a
    root or for a width below one pixel, and `PressError` where the picture would be too large or cannot be set.
    """
    if not root:
        raise ValueError("a picture is set in an empty folder, and none was named")
    if pixels_wide < 1:
        raise ValueError(f"a picture is at least one pixel wide, not {pixels_wide}")
    pixels_high = -(-pixels_wide * Fraction(drawing.height) // Fraction(drawing.width))
    if pixels_wide * pixels_high > MOST_PIXELS:
        raise PressError(f"A picture {pixels_wide} pixels wide would be {pixels_high} high, which is too large.")
    picture = svg(drawing).encode()
    if not picture_fits(picture):
        raise PressError("The drawing has too many marks to make a picture of it.")
    import typst

    page = _PAGE.format(width=written(drawing.width), height=written(drawing.height))
    # The engine's annotations know a single source only; a mapping of names to bytes is what it takes besides.
    compiled = cast("Callable[..., tuple[bytes, list[typst.TypstWarning]]]", typst.compile_with_warnings)
    try:
        made, warnings = compiled(
            {"main.typ": page.encode(), "drawing.svg": picture},
            format="png",
            root=root,
            ppi=float(pixels_wide * _INCH_MM / Fraction(drawing.width)),
            font_paths=_fonts(),
            ignore_system_fonts=True,
        )
    except typst.TypstError as problem:
        raise PressError(f"The picture could not be made: {problem.message.rstrip('.')}.") from None
    if warnings:
        raise PressError(f"The picture was made with a warning: {warnings[0].message.rstrip('.')}.")
    return made
