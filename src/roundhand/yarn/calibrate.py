"""The scale between the formulas and a maker's hands, from weighed swatches.

Method (COMPUTATION 4.4): log y = log a + log M + e, prior log a ~ N(0, 0.20^2), e ~ N(0, 0.05^2) for a swatch; the
posterior is closed. The spreads are ours.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import erf, exp, log, sqrt

import msgspec

_PRIOR, _SWATCH, _MAKING, _BALL = 0.20, 0.05, 0.03, 0.03


class Calibration(msgspec.Struct, frozen=True):
    """The scale `a`: mean and spread of its logarithm, and how many swatches it rests on."""

    mean: float = 0.0
    spread: float = _PRIOR
    swatches: int = 0

    @property
    def scale(self) -> float:
        """What the formulas are multiplied by."""
        return exp(self.mean)

    def low_high(self, length: float) -> tuple[float, float]:
        """Between which lengths two makers out of three would come out, for a length already scaled: one spread."""
        spread = sqrt(self.spread**2 + _MAKING**2)
        return length * exp(-spread), length * exp(spread)


def calibrate(swatches: Sequence[tuple[float, float]], spread: float = _SWATCH) -> Calibration:
    """The calibration from pairs of model metres and measured metres; pairs that are not above nothing are left out.

    >>> found = calibrate([(20.0, 21.5)])
    >>> round(found.mean, 4), round(found.spread, 4), round(found.scale, 3)
    (0.0681, 0.0485, 1.07)
    """
    useful = [(model, measured) for model, measured in swatches if model > 0 and measured > 0]
    precision = 1 / _PRIOR**2 + len(useful) / spread**2
    mean = sum(log(measured / model) for model, measured in useful) / spread**2 / precision
    return Calibration(mean, precision**-0.5, len(useful))


def chance_enough(balls: int, ball_metres: float, model_metres: float, calibration: Calibration) -> float:
    """The chance from 0 to 1 that so many balls are enough.

    >>> one = calibrate([(20.0, 21.5)])
    >>> round(chance_enough(5, 200, 1000, one), 3), round(chance_enough(6, 200, 1000, one), 3)
    (0.123, 0.975)
    """
    spread = sqrt(calibration.spread**2 + _MAKING**2 + _BALL**2 / balls)
    z = (log(balls * ball_metres) - log(model_metres) - calibration.mean) / spread
    return 0.5 * (1 + erf(z / sqrt(2)))
