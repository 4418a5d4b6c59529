"""Which commands can be undone: what plans the work and the house, and has not happened.

Marks, releases, photos, readings, answers, visits, what was told, people and their links are never
undone: others have acted on them, or seen them, and each has its own opposite. What was agreed to
with what it pushes has been told to crews. The end of a crew ends the links of its people.
"""

UNDOABLE = frozenset(
    {
        # dates moved on purpose
        "PutOff",
        "ChangeWork",
        # the plan
        "AddDetail",
        "AddDetailFromPattern",
        "ChangeDetail",
        "EndDetail",
        "AddSide",
        "AddLayer",
        "ChangeLayer",
        "EndLayer",
        "AddActivity",
        "ChangeActivity",
        "EndActivity",
        "AddDependency",
        "ChangeDependency",
        "EndDependency",
        # its rows moved about
        "MoveActivity",
        "MoveActivities",
        "CopyActivities",
        "SplitActivity",
        "MergeActivities",
        "ChangeSide",
        "EndSide",
        "MoveLayer",
        # figures kept with a detail
        "KeepFigure",
        "TieFigure",
        "TieToWait",
        "UntieFigure",
        "EndFigure",
        # the house and its crews
        "KeepCalendar",
        "SetDays",
        "KeepHolidays",
        "GiveCrewHours",
        "DropCalendar",
        "KeepPattern",
        "EndPattern",
        "AddFloor",
        "ChangeFloor",
        "KeepPlace",
        "KeepWay",
        "KeepCrew",
    }
)
"""Names of commands. An entry of the log can be undone if all of its commands can."""
