"""Castor turns: a swivelling castor needs room all round its stem, from every part and from the castors beside it."""

from collections.abc import Iterator
from math import hypot

from storystick.checks.saying import at_least, mm, worth_telling
from storystick.checks.stated import changes, moved_along
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.source import practice
from storystick.model.check import Asked, Check
from storystick.model.joining import Item
from storystick.shapes.near import gap
from storystick.shapes.pose import apply, compose, shifted
from storystick.shapes.solid import Solid, boxes_apart, cylinder, moved
from storystick.shop.tables import castors, find
from storystick.shop.tables.rows import Castor

ROUND = practice("a castor swings round by its offset and half of its wheel; it keeps 2 mm (1/16 in) from all about it")
KEEP_MM = 2.0
NEEDLE_MM = 1.0
NEAR_MM = 25.0  # farther off than this is no news


def run(asked: Asked) -> Iterator[Finding]:
    """Every castor that swivels; of the good ones the one with the least room."""
    wheels = [(item, row) for item in asked.build.items if (row := find(castors(), item.kind)) and row.swivels]
    yield from worth_telling(("", found) for item, row in wheels if (found := _finding(asked, item, row, wheels)))


def sweeps_mm(row: Castor) -> float:
    """How far from its stem a castor reaches when it turns [mm]."""
    return float(row.offset_mm + row.wheel_mm / 2)


def _finding(asked: Asked, item: Item, row: Castor, wheels: list[tuple[Item, Castor]]) -> Finding | None:
    if item.box is None:
        return None
    body, stem = _round(asked, item, row, sweeps_mm(row)), _round(asked, item, row, NEEDLE_MM / 2)
    others = [
        (name, solid)
        for name, solid in asked.scene.parts.items()
        if name not in item.on and not solid.is_empty and boxes_apart(body.bounds, solid.bounds) < NEAR_MM
    ]
    found = [(room, name) for name, solid in others if (room := _room(body, stem, solid, row)) is not None]
    found += [
        (hypot(a[0] - b[0], a[1] - b[1]) - sweeps_mm(row) - sweeps_mm(other_row), other.name)
        for other, other_row in wheels
        if other is not item and (a := _stem(asked, item)) and (b := _stem(asked, other))
    ]
    if not found:
        return None
    manner, (room, other) = asked.build.manner, min(found)
    said = f"{item.name} swings round {mm(sweeps_mm(row), manner)} from its stem, "
    about = (item.name, other)
    if room >= KEEP_MM:
        said += f"{mm(room, manner)} clear of {other}."
        return Finding(CHECK.code, Grade.FINE, item.place, said, "", ROUND, room, KEEP_MM, "mm", about)
    said += f"and {other} is in its way." if room <= 0 else f"{mm(room, manner)} from {other}."
    advice = f"Set it {at_least(KEEP_MM - room, manner)} or more away from {other}, or take a smaller castor."
    grade = Grade.STOP if room <= 0 else Grade.CARE
    return Finding(
        CHECK.code, grade, item.place, said, advice, ROUND, room, KEEP_MM, "mm", about, None,
        tuple(_tries(asked, item, other, KEEP_MM - room)),
    )  # fmt: skip


def _stem(asked: Asked, item: Item) -> tuple[float, float, float]:
    """Where its stem is in the room: the middle of its plate."""
    assert item.box is not None
    at, size = item.box
    middle = (float(at[0]) + float(size[0]) / 2, float(at[1]) + float(size[1]) / 2, float(at[2]))
    return apply(asked.scene.poses[item.assembly], middle)


def _room(body: Solid, stem: Solid, other: Solid, row: Castor) -> float | None:
    """How far another body is from all that it sweeps [mm], below nothing how far it is in; None where far off."""
    near = gap(body, other, NEAR_MM)
    if near is None:
        return None
    if near.distance > 0:
        return near.distance
    inner = gap(stem, other, sweeps_mm(row))
    return (inner.distance + NEEDLE_MM / 2 if inner is not None else sweeps_mm(row)) - sweeps_mm(row)


def _round(asked: Asked, item: Item, row: Castor, far: float) -> Solid:
    """What is within so far of its stem: an upright cylinder, as high as the wheel."""
    assert item.box is not None
    at, size = item.box
    foot = (float(at[0] + size[0] / 2), float(at[1] + size[1] / 2), float(at[2]))
    pose = compose(asked.scene.poses[item.assembly], shifted(foot))
    return moved(cylinder(2 * far, float(row.wheel_mm)), pose)


def _tries(asked: Asked, item: Item, other: str, by: float) -> Iterator[Mend]:
    """What is in the way moved out of it, if it is no part of what stands on the castors; else these farther in."""
    assert item.box is not None
    manner, part = asked.build.manner, asked.build.parts_by_name.get(other)
    if part is not None and part.assembly not in asked.scene.inside(item.assembly):
        at, low, stem = asked.build.assembly(part.assembly).at, asked.scene.parts[other].bounds, _stem(asked, item)
        beside = [max(low[0][a] - stem[a], stem[a] - low[1][a]) for a in (0, 1)]
        axis = max((0, 1), key=lambda a: beside[a])
        beyond = low[0][axis] + low[1][axis] > 2 * stem[axis]
        yield from moved_along(at, (float(axis == 0), float(axis == 1), 0.0), by if beyond else -by, manner)
    for dim in item.box[0][:2]:
        yield from changes(dim, by, manner)
        yield from changes(dim, -by, manner)


CHECK = Check("castor-turns", "Can every castor turn all the way round?", run, ROUND, looks="bodies")
