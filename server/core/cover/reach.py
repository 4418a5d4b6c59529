"""Which activities come before which, through however many others, as one bit for each pair."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from server.core.world import Activity, Dependency, Snapshot


@dataclass(frozen=True)
class Reach:
    """The transitive closure of a chain's dependencies.

    `numbers` is the bit of each activity. `ended` holds for each the set of those that are done
    before it starts (every dependency on the way is finish to start), `any` of those that come
    before it by whatever dependencies.
    """

    numbers: dict[str, int]
    ended: Sequence[int]
    any: Sequence[int]

    def ends_before(self, first: str, then: str) -> bool:
        """Whether the chain says that `first` is done before `then` starts."""
        return self._in(self.ended, first, then)

    def comes_before(self, first: str, then: str) -> bool:
        """Whether the chain puts `first` before `then` in any way."""
        return self._in(self.any, first, then)

    def _in(self, sets: Sequence[int], first: str, then: str) -> bool:
        one, other = self.numbers.get(first), self.numbers.get(then)
        return one is not None and other is not None and bool(sets[other] >> one & 1)


def reach(snapshot: Snapshot) -> Reach:
    """The reach of everything in a snapshot's chains, worked out once for it."""
    found = snapshot.kept_reach
    if not found:
        found.append(reach_of(snapshot.chain, snapshot.dependencies.values()))
    reached: Reach = found[0]
    return reached


def reach_of(chain: Sequence[Activity], dependencies: Iterable[Dependency]) -> Reach:
    """The reach of these activities; dependencies that lead out of them are left out.

    One pass over the closure in the order of the chain's arrows: a set is a whole number with a bit
    per activity, so that joining two sets is one operation of the machine on many of them at once.
    """
    numbers = {a.id: n for n, a in enumerate(chain)}
    before: list[list[tuple[int, bool]]] = [[] for _ in numbers]
    after: list[list[int]] = [[] for _ in numbers]
    for d in dependencies:
        first, then = numbers.get(d.before_id), numbers.get(d.after_id)
        if first is not None and then is not None:
            before[then].append((first, d.type == "FS"))
            after[first].append(then)
    ended, any_ = [0] * len(numbers), [0] * len(numbers)
    open_before = [len(found) for found in before]
    ready = [n for n, count in enumerate(open_before) if not count]
    for n in ready:
        strict = whole = 0
        for first, by_finish in before[n]:
            whole |= any_[first] | 1 << first
            if by_finish:
                strict |= ended[first] | 1 << first
        ended[n], any_[n] = strict, whole
        for then in after[n]:
            open_before[then] -= 1
            if not open_before[then]:
                ready.append(then)
    return Reach(numbers, ended, any_)
