"""Fields of a figure that may stay empty, or are written in a way of their own."""

import re
from dataclasses import replace

from babel.dates import get_month_names

from server.core.figures.air import Air, check_air
from server.core.figures.base import BadFigure
from server.core.figures.drying import Read
from server.core.figures.joint import OF_COEFFICIENT
from server.pages.figures.asked import Asked

_READING = re.compile(r"(\d{1,3}(?:\.\d+)?)\s*[:=;\s]\s*(\d{1,3}(?:\.\d+)?)\s*%?")
MOST_READINGS = 40


def maybe_temperature(asked: Asked, name: str, label: str, *, hint: str = "") -> float | None:
    """A temperature in °F, or None where nothing is typed; in °C beside millimeters."""
    value = asked._quantity(name, label, "°F", "", "", hint, needed=False)
    return None if value is None else float(value)


def maybe_number(asked: Asked, name: str, label: str, unit: str, *, hint: str = "") -> float | None:
    """A number of a unit, or None where nothing is typed."""
    value = asked._quantity(name, label, unit, "", "", hint, needed=False)
    return None if value is None else float(value)


def coefficient(asked: Asked, name: str, label: str, *, hint: str = "") -> float | None:
    """How far a wood moves, as a part of its width for each point; None where nothing is typed."""
    found = maybe_number(asked, name, label, "%", hint=hint)
    _last(asked, unit="")
    least, most = OF_COEFFICIENT
    if found is not None and not least <= found <= most:
        asked.refuse(BadFigure("figures.bad.coefficient", field=name, least=least, most=most))
        return least
    return found


def air_of(asked: Asked, air: Air, warm: str, damp: str) -> Air:
    """The same air; what is no air of a room is refused beside its field at once."""
    try:
        check_air(air, warm, damp)
    except BadFigure as refusal:
        asked.refuse(refusal)
    return air


def months(asked: Asked, usual: tuple[Air, ...]) -> tuple[Air, ...]:
    """The air of each month: where nothing is typed, the usual one."""
    names = month_names(asked)
    found = []
    for number, air in enumerate(usual, 1):
        warm = maybe_temperature(asked, f"air_{number}", "joint.air")
        _name_month(asked, names[number - 1])
        damp = maybe_number(asked, f"humidity_{number}", "joint.humidity", "%")
        _name_month(asked, names[number - 1])
        taken = Air(
            air.fahrenheit if warm is None else warm, air.humidity if damp is None else damp
        )
        found.append(air_of(asked, taken, f"air_{number}", f"humidity_{number}"))
    return tuple(found)


def month_names(asked: Asked) -> tuple[str, ...]:
    """January to December, short, in the reader's language."""
    names = get_month_names("abbreviated", locale=asked.words.locale)
    return tuple(str(names[number]) for number in range(1, 13))


def readings(asked: Asked, name: str, label: str, hint: str) -> tuple[Read, ...]:
    """What a meter read: on each line the day and the reading, like "3 8.5"."""
    typed = asked.form.typed(name).replace("\r", "").strip()
    lines = [line.strip() for line in re.split(r"[\n,]", typed) if line.strip()]
    asked._add(name, label, "\n".join(lines), "", hint, kind="lines")
    found = []
    if len(lines) > MOST_READINGS:
        asked.refuse(BadFigure("figures.too_many", field=name, most=MOST_READINGS))
    for line in lines[:MOST_READINGS]:
        match = _READING.fullmatch(line)
        if match is None:
            asked.refuse(BadFigure("drying.bad_line", field=name, typed=line[:40]))
            return ()
        found.append(Read(day=float(match[1]), value=float(match[2])))
    return tuple(found)


def _name_month(asked: Asked, month: str) -> None:
    field = asked._groups[-1][2][-1]
    _last(asked, label=asked.say("joint.of_month", month=month, what=field.label))


def _last(asked: Asked, **changed: str) -> None:
    """Changes how the field that was asked for last is shown."""
    fields = asked._groups[-1][2]
    fields[-1] = replace(fields[-1], **changed)  # type: ignore[arg-type]
