"""Stairs: risers and treads after the finishes, winders, curves, jigs and easings."""

from server.core.figures.stairs.flight import Choice, Flight, FlightFigure, flight
from server.core.figures.stairs.risers import (
    Packing,
    Uniformity,
    packing,
    risers,
    rough_surfaces,
    uniformity,
)

__all__ = [
    "Choice",
    "Flight",
    "FlightFigure",
    "Packing",
    "Uniformity",
    "flight",
    "packing",
    "risers",
    "rough_surfaces",
    "uniformity",
]
