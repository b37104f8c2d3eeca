"""Drawer path: nothing of the piece is in the way of a drawer, a lid or a leaf, from shut to open."""

from collections.abc import Iterator, Mapping

import numpy as np

from storystick.checks.moving import Mover, Named, arrivals, boxed, drawers, leaves, riders
from storystick.checks.saying import at_least, listed, mm, small, where
from storystick.checks.stated import changes, moved_along
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.source import Source, practice
from storystick.model.check import Asked, Check
from storystick.shapes.motion import Slide, pose_at
from storystick.shapes.near import boxes_far, gap, is_nearer
from storystick.shapes.pose import shifted, times, unit
from storystick.shapes.solid import Bounds, Solid, moved
from storystick.shapes.strikes import strikes

SOLIDS = Source("the solids of what moves against all other parts, from shut to open", "practice")
STEP_MM = 4.0
RUB_MM = 1.0
RUB = practice("a front keeps 1 mm (3/64 in) from its neighbours, more where it is painted")
PULLED_MM = 6.0  # pulled out so far that what it lies against when shut is no neighbour


def run(asked: Asked) -> Iterator[Finding]:
    """Every drawer, tray, lid and leaf; what is in the way, fronts that rub, and the nearest of those that do not."""
    free: list[str] = []
    nearest: tuple[str, str, float] | None = None
    doors = list(leaves(asked))
    opened = {name: moved(solid, pose_at(one.motion, (1.0, 0.0))) for one in doors for name, solid in one.bodies}
    others = [*(mover for _, mover in riders(asked)), *arrivals(asked)]
    for mover, slides in [*((m, True) for m in drawers(asked)), *((m, False) for m in (*doors, *others))]:
        around: Mapping[str, Solid] = asked.scene.parts
        found = list(_hits(asked, mover, around))
        shut = {name for finding in found for name in finding.about} & opened.keys()
        if slides and shut:  # the doors before it are opened first
            first = {name for one in doors if one.names & shut for name in one.names}
            around = {**around, **{name: solid for name, solid in opened.items() if name in first & around.keys()}}
            found = list(_hits(asked, mover, around))
        near = None if found or not slides else _nearest(mover, around)
        if near is not None and near[2] < RUB_MM:
            found.append(_near(asked, mover.name, near))
        elif not found:
            free.append(mover.name)
            nearest = min((one for one in (near, nearest) if one), key=lambda one: one[2], default=None)
        yield from found
    if nearest is not None:
        yield _near(asked, listed(free), nearest)
    elif free:
        said = f"Nothing is in the way of {listed(free)}."
        yield Finding(CHECK.code, Grade.FINE, asked.build.place, said, "", SOLIDS, about=tuple(free))


def _hits(asked: Asked, mover: Mover, around: Mapping[str, Solid]) -> Iterator[Finding]:
    """What a mover runs into on its way; `around` has every part where it is then."""
    manner = asked.build.manner
    place = next((p.place for p in asked.build.parts if p.name in mover.names), asked.build.place)
    whole = boxed(mover.ways)
    others = [(name, s) for name, s in around.items() if name not in mover.names and _cross(whole, s.bounds)]
    for strike in strikes([s for _, s in mover.bodies], [s for _, s in others], mover.motion, STEP_MM):
        one, other = mover.bodies[strike.bodies[0]][0], others[strike.bodies[1]][0]
        deep = strike.overlap.thickness
        said = (
            f"{one} runs into {other} {mover.after(strike.when[0], manner)}, {mm(deep, manner)} deep, "
            f"{where(strike.overlap.at, manner)}."
        )
        advice = f"Move {other}, or cut back one of the two, so that {mover.name} passes."
        tries = tuple(_moved_away(asked, mover, other, whole, strike.when[0]))
        yield Finding(CHECK.code, Grade.STOP, place, said, advice, SOLIDS, deep, 0, "mm", (one, other), None, tries)


def _moved_away(asked: Asked, mover: Mover, other: str, whole: Bounds, share: float) -> Iterator[Mend]:
    """What is in the way moved out of it, along the axes on which that is shortest; a drawer stopped."""
    manner, part = asked.build.manner, asked.build.part(other)
    outer = asked.build.assembly(part.assembly)
    while outer.inside_of:
        outer = asked.build.assembly(outer.inside_of)
    low, high = asked.scene.parts[other].bounds
    ways = [(whole[1][a] - low[a], a) for a in range(3)] + [(whole[0][a] - high[a], a) for a in range(3)]
    for by, axis in sorted(ways, key=lambda way: abs(way[0]))[:3]:
        way = (float(axis == 0), float(axis == 1), float(axis == 2))
        yield from moved_along(outer.at, way, by, manner)
    slider = next((s for s in asked.build.sliders if s.name == mover.name), None)
    if slider is not None:
        yield from changes(slider.travel, -mover.way * (1 - share) - STEP_MM, manner)


def _near(asked: Asked, movers: str, near: tuple[str, str, float]) -> Finding:
    """How near a front passes its neighbour."""
    manner, (one, other, distance) = asked.build.manner, near
    place = asked.build.part(one).place
    said = (
        f"Free to run: {movers}; {one} passes {other} {small(distance, manner)} away ({small(RUB_MM, manner)} wanted)."
    )
    if distance >= RUB_MM:
        return Finding(CHECK.code, Grade.FINE, place, said, "", RUB, distance, RUB_MM, "mm", (one, other))
    advice = f"Make {one} {at_least(RUB_MM - distance, manner)} smaller there or more."
    part, by = asked.build.part(one), RUB_MM - distance
    tries = tuple(m for dim in (part.width, part.length) for m in changes(dim, -2 * by, manner))
    return Finding(CHECK.code, Grade.CARE, place, said, advice, RUB, distance, RUB_MM, "mm", (one, other), None, tries)


def _nearest(mover: Mover, around: Mapping[str, Solid]) -> tuple[str, str, float] | None:
    """The nearest that the foremost part, a little pulled out, has beside it; None where there is nothing near."""
    if not isinstance(mover.motion, Slide) or not mover.way:
        return None
    out = unit(mover.motion.by)
    front: Named = max(mover.bodies, key=lambda body: _reach(body[1], out))
    pulled = moved(front[1], shifted(times(out, PULLED_MM)))
    best: tuple[str, str, float] | None = None
    beside = [(name, solid) for name, solid in around.items() if name not in mover.names]
    far = boxes_far([pulled], [solid for _, solid in beside])[0]
    for number in np.argsort(np.round(far, 6), kind="stable").tolist():
        within = best[2] if best else PULLED_MM * 0.99
        if far[number] > within:
            break
        name, solid = beside[number]
        if best is not None and not is_nearer(pulled, solid, within):
            continue
        near = gap(pulled, solid, within)
        if near is not None and (best is None or near.distance < best[2]):
            best = (front[0], name, near.distance)
    return best


def _reach(solid: Solid, out: tuple[float, float, float]) -> float:
    """How far a body reaches along a direction [mm]."""
    low, high = solid.bounds
    return sum((high[a] if out[a] > 0 else low[a]) * out[a] for a in range(3))


def _cross(a: Bounds, b: Bounds) -> bool:
    return all(a[0][i] < b[1][i] - 0.01 and b[0][i] < a[1][i] - 0.01 for i in range(3))


CHECK = Check(
    "drawer-path", "Is the way of every drawer, tray and lid free of other parts?", run, SOLIDS, looks="bodies"
)
