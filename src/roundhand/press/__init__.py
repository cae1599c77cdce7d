"""How pages are set: text made safe to show, typst pages from sources and data alone, PDF finished for every reader.

>>> plain("6 sc\\tin ring\\x07")
'6 sc in ring'
"""

from roundhand.press.finish import finish_pdf
from roundhand.press.page import (
    LackingError,
    PressError,
    lacking,
    marker,
    picture_fits,
    picture_with_marks,
    picture_words,
    set_pdf,
    set_pictures,
)
from roundhand.press.signs import MARK, plain

__all__ = [
    "MARK",
    "LackingError",
    "PressError",
    "finish_pdf",
    "lacking",
    "marker",
    "picture_fits",
    "picture_with_marks",
    "picture_words",
    "plain",
    "set_pdf",
    "set_pictures",
]
