"""Charts: one piece in one size drawn from its fabric, and the same in words.

>>> from roundhand.fabric import build
>>> from roundhand.notation import read
>>> from roundhand.tally import count
>>> text = "Tube\\n\\nRnd 1: 6 sc in a magic ring.\\nRnd 2: sc in each st around."
>>> tally = count(read(text)[0])[0]
>>> fabric = build(tally)
>>> draw(fabric, setting(tally, fabric)).lines
('Rnd 1: 6 sc in the ring', 'Rnd 2: 6 sc')
"""

from roundhand.charts.draw import draw
from roundhand.charts.look import Look
from roundhand.charts.model import Chart
from roundhand.charts.region import Region, regions
from roundhand.charts.setting import Cells, Setting, Yarn, cells, setting
from roundhand.charts.sheet import symbol_sheet
from roundhand.charts.words import row_lines, row_words

__all__ = [
    "Cells",
    "Chart",
    "Look",
    "Region",
    "Setting",
    "Yarn",
    "cells",
    "draw",
    "regions",
    "row_lines",
    "row_words",
    "setting",
    "symbol_sheet",
]
