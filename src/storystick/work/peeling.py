"""In what order an assembly goes together: taken apart in thought from the outside, then the other way round.

A part comes off when all joints that still hold it let go the same way. What comes off first goes on last. A panel
that is let in from outside all round, into steps that are open that way, comes off first of all.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from storystick.model.joining import Joined


@dataclass(frozen=True, slots=True)
class Closing:
    """What goes on in one go: names of parts, the joints that close, the axis they close along (None: several)."""

    parts: tuple[str, ...]
    joints: tuple[Joined, ...]
    axis: int | None


type Ways = frozenset[tuple[int, int]]
ALL_ROUND = 3  # a panel let in from outside meets at least so many others


def closings(parts: Sequence[str], joints: Sequence[Joined], out: Mapping[str, Ways] | None = None) -> list[Closing]:
    """The goes in which parts come together, the innermost first; parts that no joint holds are left out.

    out  for joints in an open step: the ways (axis, sign) in which the guest can also leave, by the joint's name
    """
    open_ways = out or {}
    left = [name for name in parts if any(name in (j.host, j.guest) for j in joints)]
    rounds = []
    while len(left) > 1:
        open_joints = [j for j in joints if j.host in left and j.guest in left]
        ways = {name: _ways_off(name, open_joints, open_ways) for name in left}
        free = [name for name in left if ways[name]]
        if not open_joints or not free:
            break
        first = min(free, key=lambda name: _firmness(name, open_joints, open_ways, left))
        axis = min(ways[first])[0]
        same = [n for n in free if any(a == axis for a, _ in ways[n]) and _as_firm(n, first, open_joints)]
        if _let_in(first, open_joints, open_ways):
            same = [first]
        off = [name for name in same if not any(_meet(name, other, open_joints) for other in same if other < name)]
        left = [name for name in left if name not in off]
        let_go = tuple(j for j in open_joints if j.host in off or j.guest in off)
        rounds.append(Closing(tuple(off), let_go, axis))
    inner = tuple(j for j in joints if j.host in left and j.guest in left)
    core = Closing(tuple(left), inner, inner[0].axis if len({j.axis for j in inner}) == 1 else None)
    return _when_held([core, *reversed(rounds)])


def _when_held(found: Sequence[Closing]) -> list[Closing]:
    """Each part goes on in the go in which the first of its joints closes, not before."""
    first: dict[str, int] = {}
    for number, one in enumerate(found):
        for joint in one.joints:
            first.setdefault(joint.host, number)
            first.setdefault(joint.guest, number)
    order = [name for one in found for name in one.parts]
    goes = [
        replace(one, parts=tuple(name for name in order if first.get(name) == number))
        for number, one in enumerate(found)
    ]
    return [one for one in goes if one.joints]


def _ways_off(name: str, joints: Sequence[Joined], out: Mapping[str, Ways]) -> Ways:
    """The ways in which all joints of a part let go: axis and sign; none where no joint holds it."""
    found: Ways | None = None
    let_in = _let_in(name, joints, out)
    for j in joints:
        if name in (j.host, j.guest):
            turn = 1 if j.guest == name else -1
            beside = out.get(j.name, frozenset()) if let_in else frozenset()
            ways = frozenset({(j.axis, -j.sign * turn)}) | beside
            found = ways if found is None else found & ways
    return found or frozenset()


def _count(name: str, joints: Sequence[Joined]) -> int:
    return sum(name in (j.host, j.guest) for j in joints)


def _let_in(name: str, joints: Sequence[Joined], out: Mapping[str, Ways]) -> bool:
    """It sits in open steps of all its neighbours, and there are several of them."""
    own = [j for j in joints if name in (j.host, j.guest)]
    return len(own) >= ALL_ROUND and all(j.guest == name and out.get(j.name) for j in own)


def _firmness(
    name: str, joints: Sequence[Joined], out: Mapping[str, Ways], order: Sequence[str]
) -> tuple[bool, bool, int, int]:
    """Smallest comes off first: what is let in from outside, what no glue holds, then what most joints hold."""
    glued = any(j.glued for j in joints if name in (j.host, j.guest))
    return (not _let_in(name, joints, out), glued, -_count(name, joints), order.index(name))


def _as_firm(name: str, first: str, joints: Sequence[Joined]) -> bool:
    return 2 * _count(name, joints) >= _count(first, joints)


def _meet(one: str, other: str, joints: Sequence[Joined]) -> bool:
    return any({one, other} == {j.host, j.guest} for j in joints)
