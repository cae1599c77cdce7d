"""Yarn per colour and size: what every stitch takes, calibrated by a weighed swatch or by measured stitches.

A view of the tally, honest about what it does not know: without a swatch a range of about 20 % either way.
"""

from roundhand.yarn.calibrate import Calibration, calibrate, chance_enough
from roundhand.yarn.estimate import Entry, YarnEstimate, YarnNeed, estimate, to_buy
from roundhand.yarn.lengths import MeasuredLength, read_measured, stitch_length, yarn_diameter

__all__ = [
    "Calibration",
    "Entry",
    "MeasuredLength",
    "YarnEstimate",
    "YarnNeed",
    "calibrate",
    "chance_enough",
    "estimate",
    "read_measured",
    "stitch_length",
    "to_buy",
    "yarn_diameter",
]
