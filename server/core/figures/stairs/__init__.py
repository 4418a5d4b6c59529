"""Stairs: risers and treads after the finishes, winders, curves, jigs and easings."""

from server.core.figures.stairs.curves import Developed, developed
from server.core.figures.stairs.flight import Choice, Flight, FlightFigure, flight
from server.core.figures.stairs.jigs import Easing, Jig, Ordinate, easing, jig
from server.core.figures.stairs.risers import (
    Packing,
    Uniformity,
    packing,
    risers,
    rough_surfaces,
    uniformity,
)
from server.core.figures.stairs.winders import DepthAt, Winders, WindersFigure, depth_at, winders

__all__ = [
    "Choice",
    "DepthAt",
    "Developed",
    "Easing",
    "Flight",
    "FlightFigure",
    "Jig",
    "Ordinate",
    "Packing",
    "Uniformity",
    "Winders",
    "WindersFigure",
    "depth_at",
    "developed",
    "easing",
    "flight",
    "jig",
    "packing",
    "risers",
    "rough_surfaces",
    "uniformity",
    "winders",
]
