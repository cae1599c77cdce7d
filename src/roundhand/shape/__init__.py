"""Finished measurements: widths from counts and gauge, depths from rows and heights, in every size, exactly.

A view of the tally. Nothing is rounded here; four inches are 101.6 mm.
"""

from roundhand.shape.measure import Measure, Measures, PieceMeasures, measure

__all__ = ["Measure", "Measures", "PieceMeasures", "measure"]
