"""Counts that fit: bodies and ease, gauges, shaping spread evenly over a row or round, the counts of a flat circle.

Counts that are named in a sizing section are planned here and solved; swatches will stand here too.

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
from roundhand.sizing.plan import Remark, remarks_on
from roundhand.sizing.solving import Answer, Clash, Solution, solve

__all__ = [
    "Answer",
    "BodyMeasure",
    "Clash",
    "Conflict",
    "DiscRound",
    "Ease",
    "EaseRule",
    "Fabric",
    "FlatRule",
    "GaugeBook",
    "Remark",
    "Solution",
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
    "remarks_on",
    "solve",
]
