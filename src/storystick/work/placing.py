"""Putting a finished piece in its place: how far it stands from what is there, how it is held, what to try then."""

from collections.abc import Container, Iterator, Sequence
from fractions import Fraction

from storystick.ground.length import show
from storystick.model.build import Build, Shape, SiteBody
from storystick.model.part import Assembly
from storystick.shop.tables import castors
from storystick.work.saying import and_of, cap

SIDES = (("left", "right"), ("front", "back"))
FAR = Fraction(300)
"""What is farther off than this is of no use to measure from [mm]."""
ENDS = (("left side", "right side"), ("front", "back"), ("underside", "top"))
HEAVY = 23.0
"""What one person may lift [kg]; see the cautions table, heavy lift."""
type Box = tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction], tuple[Fraction, Fraction]]


def stands(build: Build, one: Assembly, there: Container[str] = ()) -> Iterator[str]:
    """How far it stands from what is there: "Its left side 6 mm from the left wall, its back 8 mm from the back wall."

    Nothing is said of what stands askew: there the three views have to do. `there` is what stands there before it.
    """
    if one.turns or one.lean is not None:
        return
    own = _box(one)
    below = build.assemblies_by_name.get(one.stands_on)
    if below is not None and not below.turns and below.lean is None:
        yield from _over(build, own, _box(below), below.name)
        return
    told: list[str] = []
    for axis in (0, 1):
        near = [found for end in (0, 1) if (found := _nearest(build, one, own, axis, end, there)) is not None]
        told.extend(f"its {ENDS[axis][end]} {_gap(build, gap, name)}" for end, gap, name in near)
    if one.stands_on != "floor" and own[2][0] > 0:
        told.append(f"its underside {show(own[2][0], build.manner)} above the floor")
    if told:
        yield f"{cap(and_of(told))}."


def _over(build: Build, own: Box, below: Box, name: str) -> Iterator[str]:
    """How far it stands over what carries it, at each side."""
    flush: list[str] = []
    over: list[str] = []
    short: list[str] = []
    for axis in (0, 1):
        for end in (0, 1):
            out = below[axis][0] - own[axis][0] if end == 0 else own[axis][1] - below[axis][1]
            side = SIDES[axis][end]
            if abs(out) < build.manner.mark / 2:
                flush.append(side)
            else:
                (over if out > 0 else short).append(f"{show(abs(out), build.manner)} at the {side}")
    words = []
    if flush:
        words.append(f"flush with the {name} at the {and_of(flush)}" if len(flush) < 4 else f"flush with the {name}")
    if over:
        words.append(f"standing over it by {and_of(over)}")
    if short:
        words.append(f"set back by {and_of(short)}")
    yield f"{cap(', '.join(words))}."


def _gap(build: Build, gap: Fraction, name: str) -> str:
    return f"{show(gap, build.manner)} from the {name}" if gap >= build.manner.mark / 2 else f"against the {name}"


def _box(one: Assembly) -> Box:
    (x, w), (y, d), (z, h) = ((at.value, size.value) for at, size in zip(one.at, one.size, strict=True))
    return ((x, x + w), (y, y + d), (z, z + h))


def _nearest(
    build: Build, one: Assembly, own: Box, axis: int, end: int, there: Container[str]
) -> tuple[int, Fraction, str] | None:
    """What is nearest to a side, and how far off; None where nothing is near."""
    found: list[tuple[Fraction, str]] = []
    for name, shapes in _around(build, one, there):
        for low, high in (span for shape in shapes if (span := _reach(shape, own, axis)) is not None):
            gap = own[axis][0] - high if end == 0 else low - own[axis][1]
            if 0 <= gap <= FAR:
                found.append((gap, name))
    return (end, *min(found)) if found else None


def _around(build: Build, one: Assembly, there: Container[str]) -> Iterator[tuple[str, Sequence[Shape]]]:
    for body in build.site:
        if not body.stays_free and body.name != one.stands_on:
            yield body.name, body.shapes or (_whole(body),)
    for other in build.assemblies:
        if other.name in there and not other.inside_of and other.lean is None and not other.turns:
            yield other.name, (Shape("box", other.at, other.size),)


def _whole(body: SiteBody) -> Shape:
    return Shape("box", body.at, body.size)


def _reach(shape: Shape, own: Box, axis: int) -> tuple[Fraction, Fraction] | None:
    """How far a body reaches along an axis where it is level with the piece; None where it is not."""
    spans = [(at.value, at.value + size.value) for at, size in zip(shape.at, shape.size, strict=True)]
    for other in range(3):
        if other != axis and min(spans[other][1], own[other][1]) <= max(spans[other][0], own[other][0]):
            return None
    if not shape.outline or shape.axis == axis:
        return spans[axis]
    drawn = [one for one in range(3) if one != shape.axis]
    first = drawn.index(axis)
    points = [(p[first].value, p[1 - first].value) for p in shape.outline]
    return _between(points, own[drawn[1 - first]])


def _between(points: Sequence[tuple[Fraction, Fraction]], band: tuple[Fraction, Fraction]) -> tuple[Fraction, Fraction]:
    """How far an outline reaches along its first coordinate where the second is within a band."""
    low, high = band
    found = [u for u, v in points if low <= v <= high]
    for (u1, v1), (u2, v2) in zip(points, (*points[1:], points[0]), strict=True):
        for line in band:
            if min(v1, v2) < line < max(v1, v2):
                found.append(u1 + (u2 - u1) * (line - v1) / (v2 - v1))
    return (min(found), max(found)) if found else (min(u for u, _ in points), max(u for u, _ in points))


def held(build: Build, one: Assembly) -> Iterator[str]:
    """How it is fixed there."""
    bodies = {body.name for body in build.site}
    words = [word for word in one.held_by if word in ("screws", "glue", "cleat", "cleats")]
    if "glue" in words:
        yield "Try it dry, plane it until it fits, then glue it there and hold it with tape or pins until it has set."
    if set(words) & {"screws", "cleat", "cleats"} and one.stands_on in bodies:
        how = "on a cleat screwed to" if "cleat" in words or "cleats" in words else "with screws into"
        yield (
            f"Hang it {how} what carries the {one.stands_on}: find the studs first, or use plugs made for it, and "
            "choose screws for the load and for the wall."
        )
    between = {one.name, one.stands_on}
    of = build.parts_by_name
    driven = [(of[f.through], of[f.into]) for f in build.fasteners if f.through in of and f.into in of]
    fixed = any({through.assembly, into.assembly} == between for through, into in driven)
    if "screws" in words and one.stands_on in build.assemblies_by_name and not fixed:
        yield "Screw it on from below, with screws shorter than the two boards together: the plan gives none."
    if one.removable:
        yield "It lifts off again: no glue, no screws."


def is_off_the_floor(build: Build, one: Assembly) -> bool:
    """It hangs with nothing under it."""
    return one.stands_on == "" and one.at[2].value > 0


def tries(build: Build, one: Assembly) -> str:
    """What to check when it stands."""
    names = {one.name} | {a.name for a in build.assemblies if a.inside_of == one.name}
    if set(one.held_by) == {"glue"} and not one.stands_on:
        return "No gap along it on either side."
    words = []
    if any(body.move is not None for body in build.site):
        words.append("everything nearby that swings, slides or tilts goes its whole way")
    if any(slider.assembly in names for slider in build.sliders):
        words.append("the drawers run")
    words.append("level, and nothing rocks")
    if any(item.assembly in names and item.kind in castors() for item in build.items):
        words.append("the castors lock")
    return f"{cap('; '.join(words))}."


def weighs(build: Build, one: Assembly) -> float:
    """What a piece weighs at most, its boards reckoned without their cuts [kg]."""
    names = {one.name} | {a.name for a in build.assemblies if a.inside_of == one.name}
    wood = sum(
        float(p.size[0].value * p.size[1].value * p.size[2].value) * 1e-9 * p.stock.density
        for p in build.parts
        if p.assembly in names
    )
    return wood + sum(item.kilograms * item.count for item in build.items if item.assembly in names)
