"""Counts that fit: shaping spread evenly over a row or round, and the counts of a flat circle.

Swatches, bodies and the solving of counts will stand here too; what is here now is exact arithmetic on stitches.

>>> from roundhand.sizing import disc, increase_evenly
>>> increase_evenly(24, 6).groups, increase_evenly(24, 6).result
(((6, 4),), 30)
>>> disc(6, 5).stitches
30
"""

from roundhand.sizing.circle import DiscRound, FlatRule, disc, flat_increase, flat_rules
from roundhand.sizing.even import Spacing, children, decrease_evenly, even_gaps, increase_evenly
from roundhand.sizing.gauges import Fabric, GaugeBook, gauge_book

__all__ = [
    "DiscRound",
    "Fabric",
    "FlatRule",
    "GaugeBook",
    "Spacing",
    "children",
    "decrease_evenly",
    "disc",
    "even_gaps",
    "flat_increase",
    "flat_rules",
    "gauge_book",
    "increase_evenly",
]
