"""Exact units: lengths in fractions of a millimetre, kept with the unit they were written in.

Four inches are 101.6 mm and never 10 cm. Nothing is rounded before the leaflet.
"""

from roundhand.measures.length import Length, length_unit, unit_words
from roundhand.measures.number import number_word, opens_number, read_number, say_count, say_number

__all__ = [
    "Length",
    "length_unit",
    "number_word",
    "opens_number",
    "read_number",
    "say_count",
    "say_number",
    "unit_words",
]
