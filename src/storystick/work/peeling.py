"""In what order an assembly goes together: taken apart in thought from the outside, then the other way round.

A part comes off when all joints that still hold it let go the same way. What comes off first goes on last.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from storystick.model.joining import Joined


@dataclass(frozen=True, slots=True)
class Closing:
    """What goes on in one go: names of parts, the joints that close, the axis they close along (None: several)."""

    parts: tuple[str, ...]
    joints: tuple[Joined, ...]
    axis: int | None


def closings(parts: Sequence[str], joints: Sequence[Joined]) -> list[Closing]:
    """The goes in which parts come together, the innermost first; parts that no joint holds are left out."""
    held = [name for name in parts if any(name in (j.host, j.guest) for j in joints)]
    left, rounds = list(held), []
    while len(left) > 1:
        open_joints = [j for j in joints if j.host in left and j.guest in left]
        if not open_joints:
            break
        ways = {name: _ways_off(name, open_joints) for name in left}
        free = [name for name in left if len(ways[name]) == 1]
        if not free:
            break
        first = min(free, key=lambda name: _firmness(name, open_joints, left))
        axis = next(iter(ways[first]))[0]
        same = [n for n in free if next(iter(ways[n]))[0] == axis and _as_firm(n, first, open_joints)]
        off = [name for name in same if not any(_meet(name, other, open_joints) for other in same if other < name)]
        left = [name for name in left if name not in off]
        let_go = tuple(j for j in open_joints if j.host in off or j.guest in off)
        rounds.append(Closing(tuple(off), let_go, axis))
    inner = tuple(j for j in joints if j.host in left and j.guest in left)
    core = Closing(tuple(left), inner, inner[0].axis if len({j.axis for j in inner}) == 1 else None)
    found = [core, *reversed(rounds)]
    return _seeded(found)


def _seeded(found: list[Closing]) -> list[Closing]:
    """A core that no joint closes goes together with what comes next."""
    core, *rest = found
    if core.joints or not rest:
        return found
    return [Closing(core.parts + rest[0].parts, rest[0].joints, rest[0].axis), *rest[1:]]


def _ways_off(name: str, joints: Sequence[Joined]) -> set[tuple[int, int]]:
    """The ways in which the joints of a part let go: axis and sign."""
    return {(j.axis, j.sign if j.host == name else -j.sign) for j in joints if name in (j.host, j.guest)}


def _count(name: str, joints: Sequence[Joined]) -> int:
    return sum(name in (j.host, j.guest) for j in joints)


def _firmness(name: str, joints: Sequence[Joined], order: Sequence[str]) -> tuple[bool, int, int]:
    """Smallest comes off first: what no glue holds, then what most joints hold."""
    glued = any(j.glued for j in joints if name in (j.host, j.guest))
    return (glued, -_count(name, joints), order.index(name))


def _as_firm(name: str, first: str, joints: Sequence[Joined]) -> bool:
    return 2 * _count(name, joints) >= _count(first, joints)


def _meet(one: str, other: str, joints: Sequence[Joined]) -> bool:
    return any({one, other} == {j.host, j.guest} for j in joints)
