"""Resting: what holds up a flat board from below or at its ends, looked for where the boards are."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from storystick.checks.moving import shapes_of
from storystick.model.check import Asked
from storystick.model.part import Part
from storystick.shapes.pose import apply, direct
from storystick.shapes.solid import Bounds

TOUCH_MM = 0.6
REACHES = 0.5  # what goes under half of the way across, or more of it, carries all of it: practice
TOP, LAYER = "top", "layer"


@dataclass(frozen=True, slots=True)
class Resting:
    """A flat board, or the layers of a top: how long and wide it is and how thick, and the longest ways it bends over.

    axis     the room's axis along which it bends (0 or 1)
    clear    the longest way between two of the things that hold it up [mm], 0 where there is none
    """

    assembly: str
    parts: tuple[Part, ...]
    axis: int
    long: float
    wide: float
    thick: float
    clear: float
    sticks_out: float  # the longest that it goes past the last of them [mm]
    has_sides: bool  # whether its assembly has sides of its own: a case, and not a top by itself

    @property
    def is_top(self) -> bool:
        """Whether it is the upper side of its assembly."""
        return self.parts[-1].role == TOP

    @property
    def is_slab(self) -> bool:
        """Whether it is a top by itself, that lies on something else."""
        return self.is_top and not self.has_sides


def resting(asked: Asked) -> Iterator[Resting]:
    """Every flat board of what stands, with the layers of a top taken as one; none for what nothing holds up."""
    moving = _moving(asked)
    flats: dict[tuple[str, str], list[Part]] = {}
    for part in asked.build.parts:
        if part.lies[2] == 2 and not asked.scene.parts[part.name].is_empty and part.assembly not in moving:
            own = part.role if part.role in (TOP, LAYER) else part.name
            flats.setdefault((part.assembly, TOP if own == LAYER else own), []).append(part)
    boxes = _uprights(asked, moving)
    for (assembly, _), parts in flats.items():
        sides = any(p.assembly == assembly and p.role == "side" for p in asked.build.parts)
        found = _bends(asked, assembly, parts, boxes, sides)
        if found is not None:
            yield found


def _moving(asked: Asked) -> frozenset[str]:
    runs = [slider.assembly for slider in asked.build.sliders]
    runs += [name for move in asked.build.moves for name in move.names if name in asked.build.assemblies_by_name]
    return frozenset(name for one in runs for name in asked.scene.inside(one))


def _uprights(asked: Asked, moving: frozenset[str]) -> list[Bounds]:
    """Boards on edge or on end, and things of the site, as boxes in the room."""
    solids = asked.scene.parts
    boards = [p for p in asked.build.parts if p.lies[2] != 2 and p.assembly not in moving]
    boxes = [solids[p.name].bounds for p in boards if not solids[p.name].is_empty]
    for body in asked.build.site:
        if not body.stays_free and body.move is None:
            boxes += [shape.bounds for shape in shapes_of(body)]
    return boxes


def _bends(
    asked: Asked, assembly: str, parts: list[Part], uprights: list[Bounds], has_sides: bool
) -> Resting | None:
    low, high = asked.scene.parts[parts[0].name].bounds
    for part in parts[1:]:
        a, b = asked.scene.parts[part.name].bounds
        low = (min(low[0], a[0]), min(low[1], a[1]), min(low[2], a[2]))
        high = (max(high[0], b[0]), max(high[1], b[1]), max(high[2], b[2]))
    if low[2] < TOUCH_MM:
        return None  # it lies on the floor
    reach = low[2] - _flat_below(asked, parts, (low, high)) - TOUCH_MM
    held = [box for box in uprights if _holds(box, (low, high), reach)]
    feet = [] if held else _feet(asked, assembly, high[2])  # on feet alone it bends the longer way
    found: list[Resting] = []
    for axis in (0, 1):
        ends = _ends(held or feet, (low, high), axis)
        if not ends:
            continue
        clear = max((b[0] - a[1] for a, b in pairwise(ends)), default=0.0)
        out = max(ends[0][0] - low[axis], high[axis] - ends[-1][1], 0.0)
        wide, long = high[1 - axis] - low[1 - axis], high[axis] - low[axis]
        if len(ends) < 2 and out > 0.4 * long:
            continue  # one thing under it near its middle or its edge: it would tip before it bends
        size = (high[axis] - low[axis], wide, high[2] - low[2])
        found.append(Resting(assembly, tuple(parts), axis, *size, max(0.0, clear), out, has_sides))
    pick = max if feet else min
    return pick(found, key=lambda one: max(one.clear, 2 * one.sticks_out), default=None)


def _flat_below(asked: Asked, parts: list[Part], box: Bounds) -> float:
    """Thickness of the flat board that it lies on, which is counted as nothing but a way down to what is upright."""
    mine = {part.name for part in parts}
    thick = 0.0
    for part in asked.build.parts:
        if part.lies[2] == 2 and part.name not in mine and not asked.scene.parts[part.name].is_empty:
            (low, high) = asked.scene.parts[part.name].bounds
            if abs(high[2] - box[0][2]) < TOUCH_MM and _over(box, (low, high)):
                thick = max(thick, high[2] - low[2])
    return thick


def _over(one: Bounds, other: Bounds) -> bool:
    return all(one[0][a] < other[1][a] + TOUCH_MM and other[0][a] < one[1][a] + TOUCH_MM for a in (0, 1))


def _holds(box: Bounds, flat: Bounds, reach: float) -> bool:
    """Whether an upright comes up to a flat board from below, or stands at its end and goes on below it."""
    return reach <= box[1][2] and box[0][2] < flat[0][2] + TOUCH_MM and _over(box, flat)


def _feet(asked: Asked, assembly: str, high: float) -> list[Bounds]:
    """The feet of an assembly as things that hold it up where they are; they reach across in pairs."""
    one = asked.build.assembly(assembly)
    pose = asked.scene.poses[assembly]
    if abs(direct(pose, (0.0, 0.0, 1.0))[2]) < 0.99:
        return []
    spots = [apply(pose, (float(x), float(y), 0.0)) for x, y in one.feet]
    rows = [(a, b) for a in spots for b in spots if a < b]
    return [((min(a[0], b[0]), min(a[1], b[1]), high), (max(a[0], b[0]), max(a[1], b[1]), high)) for a, b in rows
            if abs(a[0] - b[0]) < 1 or abs(a[1] - b[1]) < 1]  # fmt: skip


def _ends(held: list[Bounds], flat: Bounds, axis: int) -> list[tuple[float, float]]:
    """Where along an axis it is held up, by what reaches far enough across; what overlaps is one."""
    (low, high), over = flat, 1 - axis
    wide, long = high[over] - low[over], high[axis] - low[axis]
    found = []
    for box in held:
        across = min(box[1][over], high[over]) - max(box[0][over], low[over])
        first, last = max(box[0][axis], low[axis]), min(box[1][axis], high[axis])
        if across >= REACHES * wide and last - first < REACHES * long:
            found.append((min(first, last), max(first, last)))
    merged: list[tuple[float, float]] = []
    for first, last in sorted(found):
        if merged and first <= merged[-1][1] + TOUCH_MM:
            merged[-1] = (merged[-1][0], max(last, merged[-1][1]))
        else:
            merged.append((first, last))
    return merged
