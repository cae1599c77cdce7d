"""What a person can ask of roundhand: the public Python interface, over texts, files and folders of patterns.

>>> from roundhand import workshop
>>> reading = workshop.understand("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: inc in each st around. (12)")
>>> workshop.understood(reading).sentence()
'One size, 2 rounds; all 2 counts agree.'
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from roundhand.workshop.answers import check, concerning, counts, encode, summary
from roundhand.workshop.beside import Beside, beside
from roundhand.workshop.folders import is_pattern, patterns_in, shipped_patterns
from roundhand.workshop.measuring import measure, measures
from roundhand.workshop.open_page import OpenPage
from roundhand.workshop.reading import Reading, open_pattern, size_of, understand
from roundhand.workshop.reckoning import breakdown, reckon, sureness, yarn
from roundhand.workshop.text import Text, decode, read_text
from roundhand.workshop.understood import Understood, understood
from roundhand.workshop.use import UseError, spoken
from roundhand.workshop.why import Why, why

if TYPE_CHECKING:
    from roundhand.workshop.charting import ChartAnswer, Charted, chart, chart_answer, picture, symbol_sheet
    from roundhand.workshop.publishing import Published, RefusedError, publish, publish_answer
    from roundhand.workshop.writing import write_file

__all__ = [
    "Beside",
    "ChartAnswer",
    "Charted",
    "OpenPage",
    "Published",
    "Reading",
    "RefusedError",
    "Text",
    "Understood",
    "UseError",
    "Why",
    "beside",
    "breakdown",
    "chart",
    "chart_answer",
    "check",
    "concerning",
    "counts",
    "decode",
    "encode",
    "is_pattern",
    "measure",
    "measures",
    "open_pattern",
    "patterns_in",
    "picture",
    "publish",
    "publish_answer",
    "read_text",
    "reckon",
    "shipped_patterns",
    "size_of",
    "spoken",
    "summary",
    "sureness",
    "symbol_sheet",
    "understand",
    "understood",
    "why",
    "write_file",
    "yarn",
]

# What needs the press and the pen is loaded when it is asked for, so that a quick question is answered quickly.
_LATER = {
    "ChartAnswer": "charting",
    "Charted": "charting",
    "chart": "charting",
    "chart_answer": "charting",
    "picture": "charting",
    "symbol_sheet": "charting",
    "Published": "publishing",
    "RefusedError": "publishing",
    "publish": "publishing",
    "publish_answer": "publishing",
    "write_file": "writing",
}

# Hidden from the type checker, which would take any name for one that is here.
if not TYPE_CHECKING:

    def __getattr__(name: str) -> object:
        if name not in _LATER:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        return getattr(import_module(f"{__name__}.{_LATER[name]}"), name)
