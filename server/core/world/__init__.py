"""The frozen snapshot of a project, one file per noun."""

from server.core.world.chain import Activity, Dependency, Effect
from server.core.world.company import (
    Company,
    Crew,
    OfCompany,
    OwnLimits,
    OwnPattern,
    Person,
    WorkCalendar,
)
from server.core.world.detail import Detail, Layer, Side
from server.core.world.figures import KeptFigure, StackPart
from server.core.world.holds import Ask, Attempt, HoldPoint, Measurement, Photo
from server.core.world.indices import MADE_OF
from server.core.world.kept import Cause, DayFinish
from server.core.world.noun import Noun, OfProject
from server.core.world.project import Floor, Given, Place, Project, Way
from server.core.world.site import AcceptedWarning, Look, Reading, Sheet, TemporaryWork
from server.core.world.snapshot import TABLES, Difference, Snapshot, differences
from server.core.world.visits import Agreed, Booking, Telling

__all__ = [
    "MADE_OF",
    "TABLES",
    "AcceptedWarning",
    "Activity",
    "Agreed",
    "Ask",
    "Attempt",
    "Booking",
    "Cause",
    "Company",
    "Crew",
    "DayFinish",
    "Dependency",
    "Detail",
    "Difference",
    "Effect",
    "Floor",
    "Given",
    "HoldPoint",
    "KeptFigure",
    "Layer",
    "Look",
    "Measurement",
    "Noun",
    "OfCompany",
    "OfProject",
    "OwnLimits",
    "OwnPattern",
    "Person",
    "Photo",
    "Place",
    "Project",
    "Reading",
    "Sheet",
    "Side",
    "Snapshot",
    "StackPart",
    "Telling",
    "TemporaryWork",
    "Way",
    "WorkCalendar",
    "differences",
]
