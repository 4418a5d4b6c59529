"""One thing found: where it leads, and in one line what and where it is and how it stands."""

from dataclasses import dataclass

from server.core.finding import Hit
from server.core.refusals import Message, message
from server.core.visits import is_open
from server.core.world import Activity, Detail
from server.pages.figures.known import FIGURES
from server.pages.shared.opened import Opened
from server.pages.shared.rope import stands_said


@dataclass(frozen=True)
class Result:
    """What was found. `where` is its detail and house, `stands` how it stands or when."""

    href: str
    name: str
    where: str
    stands: str
    done: bool


def result_of(opened: Opened, hit: Hit, several: bool) -> Result:
    """A thing found, in words. `several`: with the house, since there is more than one."""
    house = opened.snapshot.project.name if several else ""
    if hit.group in ("work", "checks"):
        return _work(opened, hit, house)
    said = {
        "details": _detail,
        "figures": _figure,
        "crews": _crew,
        "places": _place,
        "people": _person,
        "drawings": _drawing,
    }
    return said[hit.group](opened, hit, house)


def _work(opened: Opened, hit: Hit, house: str) -> Result:
    snapshot = opened.snapshot
    hold = snapshot.holds.get(hit.id) if hit.group == "checks" else None
    activity: Activity = snapshot.activities[hold.activity_id if hold else hit.id]
    detail = snapshot.details[activity.detail_id]
    href = f"/h/{hold.id}" if hold else f"/d/{detail.id}/a/{activity.id}"
    stands = stands_said(snapshot, opened.schedule, opened.words, opened.now, activity)
    if hold is None and activity.kind != "task":
        kind = _say(opened, message("find.kind", kind=activity.kind))
        stands = _joined(kind, stands)
    return Result(href, activity.name, _of(detail, house), stands, hit.done)


def _detail(opened: Opened, hit: Hit, house: str) -> Result:
    detail = opened.snapshot.details[hit.id]
    said = message("find.no_work")
    if hit.when is not None:
        id = "detail.finished" if hit.done else "find.finish"
        said = Message(id, {"day": opened.words.day(hit.when, opened.now)})
    where = _joined(detail.sheet, house)
    return Result(f"/d/{detail.id}", detail.name, where, _say(opened, said), hit.done)


def _figure(opened: Opened, hit: Hit, house: str) -> Result:
    kept = opened.snapshot.kept_figures[hit.id]
    detail = opened.snapshot.details[kept.detail_id]
    title = next((one.title for one in FIGURES if one.name == kept.figure), "")
    stands = _say(opened, Message(title)) if title else ""
    href = f"/d/{detail.id}/figures/{kept.id}"
    return Result(href, kept.name, _of(detail, house), stands, False)


def _crew(opened: Opened, hit: Hit, house: str) -> Result:
    """A crew with its next visit to this house."""
    snapshot = opened.snapshot
    crew = snapshot.crews[hit.id]
    visits = [
        b for b in snapshot.bookings.values() if b.crew_id == crew.id and is_open(b, opened.status)
    ]
    stands = ""
    if visits:
        first = min(visits, key=lambda b: b.start)
        at = max(first.start, opened.status)
        stands = _say(opened, message("find.visit", state=first.state, when=at))
    return Result(
        f"/house/crews/{crew.id}", crew.name, _joined(crew.trade, crew.foreman), stands, False
    )


def _place(opened: Opened, hit: Hit, house: str) -> Result:
    place = opened.snapshot.places[hit.id]
    floor = opened.snapshot.floors.get(place.floor_id)
    today = opened.now.date().isoformat()
    return Result(
        href=f"/p/{opened.project_id}/days?place={place.id}&day={today}#square",
        name=place.name,
        where=_joined(floor.name if floor else "", house),
        stands=_say(opened, message("find.stands_here")),
        done=False,
    )


def _person(opened: Opened, hit: Hit, house: str) -> Result:
    person = opened.snapshot.people[hit.id]
    crew = opened.snapshot.crews.get(person.crew_id or "")
    where = _joined(person.title, crew.name if crew else "")
    return Result("/people", person.name, where, person.phone, False)


def _drawing(opened: Opened, hit: Hit, house: str) -> Result:
    sheet = opened.snapshot.sheets[hit.id]
    detail = opened.snapshot.details[sheet.detail_id]
    stands = message("find.revision", revision=sheet.revision, replaced=hit.done)
    name = _joined(sheet.number, sheet.title)
    href = f"/d/{detail.id}/drawings"
    return Result(href, name, _of(detail, house), _say(opened, stands), hit.done)


def _of(detail: Detail, house: str) -> str:
    return _joined(detail.name, house)


def _joined(*parts: str) -> str:
    return " · ".join(part for part in parts if part)


def _say(opened: Opened, said: Message) -> str:
    return opened.words.say(said, now=opened.now)
