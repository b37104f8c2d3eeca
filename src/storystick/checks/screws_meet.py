"""Screws meet: two screws that come from different sides must pass one another in the wood."""

from collections.abc import Iterator

import numpy as np

from storystick.checks.driven import Drive, apart, drives, is_for_a_fastener, lines_apart
from storystick.checks.saying import at_least, like_it, mm
from storystick.checks.stated import changes, stated
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.source import practice
from storystick.model.check import Asked, Check
from storystick.model.cut import Bore
from storystick.shapes.pose import Vector, apply

BETWEEN_MM = 2.0
BETWEEN = practice("two fasteners leave 2 mm (1/16 in) of wood between them at least")
NEAR_MM = 25.0  # farther apart than this is no news

type Hole = tuple[Bore, tuple[Vector, Vector]]  # a hole and its middle line in the room


def run(asked: Asked) -> Iterator[Finding]:
    """Every two fasteners that come near one another, told by their joints; of the good pairs only the nearest."""
    nearest: tuple[float, Drive, Drive] | None = None
    close: dict[frozenset[str], list[tuple[float, Drive, Drive]]] = {}
    for one, other in _near(drives(asked)):
        wood = apart(one, other) - (float(one.of.diameter) + float(other.of.diameter)) / 2
        if wood < BETWEEN_MM:
            close.setdefault(frozenset((_joint(one), _joint(other))), []).append((wood, one, other))
        elif nearest is None or wood < nearest[0]:
            nearest = (wood, one, other)
    for pairs in close.values():
        yield _finding(asked, *min(pairs, key=lambda pair: pair[0]), len(pairs))
    if nearest is not None and nearest[0] < NEAR_MM:
        yield _finding(asked, *nearest, 1)
    yield from _into_holes(asked)


def _into_holes(asked: Asked) -> Iterator[Finding]:
    """Every fastener that runs into a hole made for something else: a pin, a hinge, a bolt, another screw's way."""
    told: dict[tuple[str, str], tuple[float, Drive, Bore, int]] = {}
    holes: dict[str, list[Hole]] = {}
    for drive in drives(asked):
        for part in (drive.of.through, drive.of.into):
            if part not in holes:
                holes[part] = list(_holes(asked, part))
            for hole, line in holes[part]:
                if is_its_own(drive, hole):
                    continue
                wood = _between(drive, hole, line)
                if wood < BETWEEN_MM:
                    key = (_joint(drive), hole.called)
                    before = told.get(key)
                    worst = before is None or wood < before[0]
                    count = 1 + (before[3] if before else 0)
                    told[key] = (wood, drive, hole, count) if worst or before is None else (*before[:3], count)
    for wood, drive, hole, count in told.values():
        yield _into_hole(asked, wood, drive, hole, count)


def is_its_own(drive: Drive, hole: Bore) -> bool:
    """Whether a hole was made for this fastener: it bears its joint or its name, or is a pilot or clearance hole."""
    named = bool(hole.joint) and hole.joint in (drive.of.joint, drive.of.name)
    return named or is_for_a_fastener(hole) or drive.of.name in hole.name


def _between(drive: Drive, hole: Bore, line: tuple[Vector, Vector]) -> float:
    """Wood between a fastener and a straight hole [mm]; below nothing where it runs into it."""
    apart_mm = lines_apart(drive.head, drive.tip, *line)
    return apart_mm - (float(drive.of.diameter) + float(hole.diameter)) / 2


def _holes(asked: Asked, part: str) -> Iterator[Hole]:
    """The straight holes of a board, but for those of fasteners."""
    board = asked.build.parts_by_name.get(part)
    for hole in board.cuts if board is not None else ():
        if isinstance(hole, Bore) and not hole.lean and not is_for_a_fastener(hole):
            yield hole, _line(asked, part, hole)


def _line(asked: Asked, part: str, hole: Bore) -> tuple[Vector, Vector]:
    """The middle line of a straight hole in the room, from its mouth to its end."""
    board = asked.build.part(part)
    normal, (u, v) = hole.side.normal, hole.side.axes
    thick = float(board.size[normal])
    deep = thick if hole.depth is None else float(hole.depth)
    mouth, end = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
    for axis, at in ((u, hole.at[0]), (v, hole.at[1])):
        mouth[axis] = end[axis] = float(at)
    mouth[normal], end[normal] = (thick, thick - deep) if hole.side.is_far else (0.0, deep)
    pose = asked.scene.part_poses[part]
    return apply(pose, (mouth[0], mouth[1], mouth[2])), apply(pose, (end[0], end[1], end[2]))


def _into_hole(asked: Asked, wood: float, drive: Drive, hole: Bore, count: int) -> Finding:
    manner, one = asked.build.manner, drive.of
    said = f"{one.name} (into {one.into}){like_it(count)}"
    said += f" runs into the {hole.called} {hole.name}." if wood <= 0 else (
        f" leaves only {mm(wood, manner)} of wood to the {hole.called} {hole.name}."
    )  # fmt: skip
    advice = f"Move one of the two by {at_least(BETWEEN_MM - wood, manner)} or more, away from the other."
    grade = Grade.STOP if wood <= 0 else Grade.CARE
    tries = tuple(
        mend for dim in (*one.at, *hole.at) for by in (BETWEEN_MM - wood, wood - BETWEEN_MM)
        for mend in changes(dim, by, manner)
    )  # fmt: skip
    about = tuple(dict.fromkeys((one.through, one.into)))
    numbers = (BETWEEN, wood, BETWEEN_MM, "mm", about, None, tries)
    return Finding(CHECK.code, grade, one.place, said, advice, *numbers)


def _joint(drive: Drive) -> str:
    return drive.of.joint or f"{drive.of.through} {drive.of.into}"


def _near(found: tuple[Drive, ...]) -> Iterator[tuple[Drive, Drive]]:
    """Pairs whose boxes come within reach of one another."""
    boxes = [(tuple(map(min, d.head, d.tip)), tuple(map(max, d.head, d.tip)), d) for d in found]
    boxes.sort(key=lambda box: (box[0], box[1], box[2].of.name))
    low = np.array([box[0] for box in boxes]).reshape(-1, 3)
    high = np.array([box[1] for box in boxes]).reshape(-1, 3) + NEAR_MM
    near = (low[:, None] <= high[None]).all(axis=2)
    for i, j in np.argwhere(np.triu(near & near.T, 1)).tolist():
        yield boxes[i][2], boxes[j][2]


def _finding(asked: Asked, wood: float, one: Drive, other: Drive, count: int) -> Finding:
    manner = asked.build.manner
    about = tuple(dict.fromkeys((one.of.into, other.of.into)))
    said = f"{one.of.name} (into {one.of.into}) and {other.of.name} (into {other.of.into}){like_it(count)}"
    if wood >= BETWEEN_MM:
        said += f" come nearest to one another and leave {mm(wood, manner)} of wood between them."
        return Finding(CHECK.code, Grade.FINE, other.of.place, said, "", BETWEEN, wood, BETWEEN_MM, "mm", about)
    meets = wood <= 0
    said += " meet in the wood." if meets else f" leave only {mm(wood, manner)} of wood between them."
    advice = f"Move one of them along its joint by {at_least(BETWEEN_MM - wood, manner)} or more, away from the other."
    grade = Grade.STOP if meets else Grade.CARE
    tries = tuple(_tries(asked, one, other, BETWEEN_MM - wood))
    return Finding(CHECK.code, grade, other.of.place, said, advice, BETWEEN, wood, BETWEEN_MM, "mm", about, None, tries)


def _tries(asked: Asked, one: Drive, other: Drive, by: float) -> Iterator[Mend]:
    """Either of them moved, by the numbers that say where it is; or shorter."""
    for drive in (other, one):
        for dim in drive.of.at:
            for way in (by, -by):
                yield from changes(dim, way, asked.build.manner)
    for drive in (one, other):
        shorter = [long for long in (drive.row.lengths_mm if drive.row else ()) if long < drive.of.length.value]
        leaf = stated(drive.of.length)
        size, times, _ = leaf.name.rpartition(" x ") if leaf else ("", "", "")
        if leaf is not None and size and shorter:
            text = f"{size}{times}{mm(shorter[-1], asked.build.manner)}"
            yield Mend(leaf.place, text, f"Take {text} instead of {leaf.name}")


CHECK = Check(
    "screws-meet", "Do screws from different sides pass one another, and the holes for other things?", run, BETWEEN
)
