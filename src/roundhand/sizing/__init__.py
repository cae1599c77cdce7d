"""Counts that fit: bodies and ease, gauges, shaping spread evenly over a row or round, the counts of a flat circle.

Swatches and the solving of counts will stand here too.

>>> from roundhand.sizing import disc, increase_evenly
>>> increase_evenly(24, 6).groups, increase_evenly(24, 6).result
(((6, 4),), 30)
>>> disc(6, 5).stitches
30
"""

from roundhand.sizing.bodies import (
    BodyMeasure,
    Conflict,
    between_sizes,
    body_tables,
    conflicts,
    measures_known,
    person,
    published,
    read_bodies,
)
from roundhand.sizing.circle import DiscRound, FlatRule, disc, flat_increase, flat_rules
from roundhand.sizing.ease import Ease, EaseRule, ease_rules, read_ease
from roundhand.sizing.even import Spacing, children, decrease_evenly, even_gaps, increase_evenly
from roundhand.sizing.gauges import Fabric, GaugeBook, gauge_book

__all__ = [
    "BodyMeasure",
    "Conflict",
    "DiscRound",
    "Ease",
    "EaseRule",
    "Fabric",
    "FlatRule",
    "GaugeBook",
    "Spacing",
    "between_sizes",
    "body_tables",
    "children",
    "conflicts",
    "decrease_evenly",
    "disc",
    "ease_rules",
    "even_gaps",
    "flat_increase",
    "flat_rules",
    "gauge_book",
    "increase_evenly",
    "measures_known",
    "person",
    "published",
    "read_bodies",
    "read_ease",
]
