"""Whether one activity already comes before another, and the ring that one more arrow makes."""

from server.core.world import Snapshot


def reaches(snapshot: Snapshot, before_id: str, after_id: str, type: str) -> bool:
    """Whether the dependencies there are already keep this order.

    Any dependency of the same type between the two does; else only finish to start counts, one
    after the other, with no overlap allowed anywhere on the way.
    """
    direct = snapshot.after.get(before_id, ())
    if any(d.after_id == after_id and d.type == type and d.lag >= 0 for d in direct):
        return True
    seen, open_ids = {before_id}, [before_id]
    while open_ids:
        for dependency in snapshot.after.get(open_ids.pop(), ()):
            next_id = dependency.after_id
            if dependency.type != "FS" or dependency.lag < 0 or next_id in seen:
                continue
            if next_id == after_id:
                return True
            seen.add(next_id)
            open_ids.append(next_id)
    return False


def ring(snapshot: Snapshot, before_id: str, after_id: str) -> tuple[str, ...] | None:
    """The ring that "before_id comes before after_id" would close, in order, or None.

    Dependencies of every type count. The ring begins with `before_id` and does not repeat it.
    """
    came_from: dict[str, str] = {after_id: ""}
    open_ids = [after_id]
    while open_ids:
        id = open_ids.pop()
        if id == before_id:
            return _walked(came_from, id)
        for dependency in snapshot.after.get(id, ()):
            if dependency.after_id not in came_from:
                came_from[dependency.after_id] = id
                open_ids.append(dependency.after_id)
    return None


def _walked(came_from: dict[str, str], last: str) -> tuple[str, ...]:
    path = []
    id = last
    while id:
        path.append(id)
        id = came_from[id]
    return (last, *reversed(path[1:]))
