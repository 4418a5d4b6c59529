"""The tables: one per noun, with the same fields; and what is not a noun (access, log, answers)."""

from collections.abc import Mapping
from typing import cast

from sqlalchemy import Table

from server.core.world import (
    AcceptedWarning,
    Activity,
    Agreed,
    Ask,
    Attempt,
    Booking,
    Cause,
    Company,
    Crew,
    DayFinish,
    Dependency,
    Detail,
    Effect,
    Floor,
    Given,
    HoldPoint,
    KeptFigure,
    Layer,
    Look,
    Measurement,
    Noun,
    OwnLimits,
    OwnPattern,
    Person,
    Photo,
    Place,
    Project,
    Reading,
    Sheet,
    Side,
    StackPart,
    Telling,
    TemporaryWork,
    Way,
    WorkCalendar,
)
from server.store.tables import (
    access,
    chain,
    company,
    detail,
    figures,
    holds,
    kept,
    project,
    site,
    visits,
)
from server.store.tables.base import Base

_CLASSES: Mapping[type[Noun], type[Base]] = {
    Company: company.CompanyTable,
    WorkCalendar: company.CalendarTable,
    Crew: company.CrewTable,
    Person: company.PersonTable,
    OwnPattern: company.OwnPatternTable,
    OwnLimits: company.OwnLimitsTable,
    Project: project.ProjectTable,
    Floor: project.FloorTable,
    Place: project.PlaceTable,
    Way: project.WayTable,
    Given: project.GivenTable,
    Detail: detail.DetailTable,
    Side: detail.SideTable,
    Layer: detail.LayerTable,
    Activity: chain.ActivityTable,
    Dependency: chain.DependencyTable,
    Effect: chain.EffectTable,
    HoldPoint: holds.HoldTable,
    Ask: holds.AskTable,
    Attempt: holds.AttemptTable,
    Measurement: holds.MeasurementTable,
    Photo: holds.PhotoTable,
    KeptFigure: figures.KeptFigureTable,
    StackPart: figures.StackPartTable,
    Booking: visits.BookingTable,
    Agreed: visits.AgreedTable,
    Telling: visits.TellingTable,
    DayFinish: visits.DayFinishTable,
    Cause: visits.CauseTable,
    Sheet: site.SheetTable,
    TemporaryWork: site.TemporaryTable,
    Look: site.LookTable,
    Reading: site.ReadingTable,
    AcceptedWarning: site.AcceptedTable,
}


def table_of(row: type[Base]) -> Table:
    """The table of a declared class, for statements that need no objects."""
    return cast(Table, row.__table__)


NOUNS: Mapping[type[Noun], Table] = {noun: table_of(row) for noun, row in _CLASSES.items()}
"""Every noun and its table."""

COMPANY = NOUNS[Company]
PROJECT = NOUNS[Project]
PERSON = NOUNS[Person]
LOG = table_of(kept.LogTable)
ANSWER = table_of(kept.AnswerTable)
CREDENTIAL = table_of(access.CredentialTable)
FAILURE = table_of(access.FailureTable)
LINK = table_of(access.LinkTable)
LINK_PROJECT = table_of(access.LinkProjectTable)
DEVICE = table_of(access.DeviceTable)
SESSION = table_of(access.SessionTable)


__all__ = [
    "ANSWER",
    "COMPANY",
    "CREDENTIAL",
    "DEVICE",
    "FAILURE",
    "LINK",
    "LINK_PROJECT",
    "LOG",
    "NOUNS",
    "PERSON",
    "PROJECT",
    "SESSION",
    "Base",
    "table_of",
]
