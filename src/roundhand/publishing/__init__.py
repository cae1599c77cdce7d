"""What is handed to a maker: one leaflet of a pattern, and the page, the PDF and the plain text made from it.

>>> from roundhand import notation, tally
>>> from roundhand.findings import Source
>>> text = "Cap\\n\\nRnd 1: 6 sc in a magic ring.\\nRnd 2: Inc in each st around. (12)"
>>> pattern, _ = notation.read(text)
>>> made = leaflet(Source(text), pattern, tally.count(pattern)[0])
>>> print(plain_text(made).splitlines()[-2])
Rnd 1: 6 sc in a magic ring. [6 sts]
"""

from roundhand.publishing.compose import leaflet
from roundhand.publishing.folder import makers, outputs
from roundhand.publishing.html import page
from roundhand.publishing.leaflet import Chart, Leaflet, MeasureLine, YarnLineNeed
from roundhand.publishing.pdf import Paper, lacking_signs, pages, pdf
from roundhand.publishing.text import plain_text

__all__ = [
    "Chart",
    "Leaflet",
    "MeasureLine",
    "Paper",
    "YarnLineNeed",
    "lacking_signs",
    "leaflet",
    "makers",
    "outputs",
    "page",
    "pages",
    "pdf",
    "plain_text",
]
