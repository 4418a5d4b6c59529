"""Measurements: read as they are typed, judged against two tolerances, exact throughout."""

from server.core.measure.judging import Band, State, Verdict, check_bands, judge, sixteenths
from server.core.measure.reading import read
from server.core.measure.refusals import NoNumber
from server.core.measure.units import UNITS

__all__ = [
    "UNITS",
    "Band",
    "NoNumber",
    "State",
    "Verdict",
    "check_bands",
    "judge",
    "read",
    "sixteenths",
]
