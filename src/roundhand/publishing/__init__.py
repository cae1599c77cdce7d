"""What is handed to a maker: one leaflet of a pattern, and the page, the PDF and the plain text made from it."""

from roundhand.publishing.compose import leaflet
from roundhand.publishing.leaflet import Chart, Leaflet, MeasureLine, YarnLineNeed

__all__ = ["Chart", "Leaflet", "MeasureLine", "YarnLineNeed", "leaflet"]
