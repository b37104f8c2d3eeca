"""An order replayed on the solids, step by step: it shares nothing with what found it but the solids themselves."""

from collections.abc import Iterator, Sequence
from math import radians, tan

from storystick.model.joining import Fastener
from storystick.model.scene import Scene
from storystick.model.sequence import AssemblyOrder, Coming, Driving
from storystick.shapes.near import overlap
from storystick.shapes.pose import Vector, apply, compose, direct, facing, plus, shifted, times
from storystick.shapes.solid import Solid, box, boxes_apart, cylinder, moved
from storystick.shop.shop import Shop

TIGHT = 0.12
"""What is tight by so much goes in with a tap [mm]."""
ITEM = 0.5
LEANS = ((0.0, 0.0), (3.0, 0.0), (-3.0, 0.0), (0.0, 3.0), (0.0, -3.0))


def solids_of(scene: Scene) -> dict[str, Solid]:
    """Parts and things with a box, the things half a millimetre smaller all round."""
    found = dict(scene.parts)
    for item in scene.build.items:
        if item.box is not None:
            at, size = ([float(value) for value in three] for three in item.box)
            body = box(*(side - 2 * min(ITEM, side / 4) for side in size))
            corner = tuple(a + min(ITEM, side / 4) for a, side in zip(at, size, strict=True))
            found[item.name] = moved(body, compose(scene.poses[item.assembly], shifted(corner)))
    return found


def faults(scene: Scene, shop: Shop, order: AssemblyOrder) -> Iterator[str]:
    """Everything that goes wrong when the order is followed."""
    solids = solids_of(scene)
    fasteners = {one.name: one for one in scene.build.fasteners}
    bunches: list[frozenset[str]] = []
    driven: list[str] = []
    for coming in order.comings:
        moves, meets = frozenset(coming.moves), frozenset(coming.meets)
        for first in coming.first:
            driven += first.names
            yield from unreached(scene, shop, solids, fasteners, first, moves)
        yield from together_already(bunches, moves, meets)
        if meets:
            yield from clashes_on_the_way(solids, coming)
        bunches = [one for one in bunches if not one & (moves | meets)] + [moves | meets]
        for then in coming.then:
            driven += then.names
            yield from unreached(scene, shop, solids, fasteners, then, moves | meets)
    if sorted(name for one in bunches for name in one) != sorted(solids):
        yield "not everything came"
    if len(bunches) != 1:
        yield f"it ends in {len(bunches)} pieces"
    wanted = sorted(one.name for one in fasteners.values() if one.kind != "dowel")
    if sorted(driven) != wanted:
        yield f"driven twice or never: {sorted(set(driven) ^ set(wanted))[:5]}"


def together_already(bunches: Sequence[frozenset[str]], moves: frozenset[str], meets: frozenset[str]) -> Iterator[str]:
    """What comes, and what it comes to, must each be in one piece by then; a single thing may come as it is."""
    for some in (moves, meets):
        if len(some) > 1 and some not in bunches:
            yield f"{sorted(some)[:4]} are not together yet"
        if len(some) == 1 and any(some < one for one in bunches):
            yield f"{sorted(some)} is part of something by then"


def clashes_on_the_way(solids: dict[str, Solid], coming: Coming) -> Iterator[str]:
    """Poses along the way, closer near its end."""
    places = sorted({0.0, 0.3, 1.0, 3.0, 6.0, 12.0, coming.far * 0.25, coming.far * 0.5, coming.far * 0.8, coming.far})
    for away in (place for place in places if place <= coming.far + 1e-9):
        pose = shifted(times(coming.way, -away))
        for name in coming.moves:
            there = moved(solids[name], pose)
            for other in coming.meets:
                if boxes_apart(there.bounds, solids[other].bounds) > 0:
                    continue
                shared = overlap(there, solids[other])
                home = overlap(solids[name], solids[other]) if shared else None
                if shared and shared.thickness > TIGHT and not home:
                    yield f"{name} runs into {other} {away:.1f} mm before it is home, {shared.thickness:.2f} mm deep"
    clear = shifted(times(coming.way, -coming.far - 0.2))
    for name in coming.moves:
        line = coming.way
        ahead = max(along(moved(solids[name], clear), line))
        if any(ahead > min(along(solids[other], line)) + 1.5 for other in coming.meets):
            yield f"{name} does not start clear of what it comes to"
            return


def along(solid: Solid, line: Vector) -> list[float]:
    low, high = solid.bounds
    corners = [(x, y, z) for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])]
    return [sum(a * b for a, b in zip(corner, line, strict=True)) for corner in corners]


def unreached(
    scene: Scene, shop: Shop, solids: dict[str, Solid], fasteners: dict[str, Fastener], driving: Driving,
    present: frozenset[str],
) -> Iterator[str]:  # fmt: skip
    for name in driving.names:
        one = fasteners[name]
        if not any(reached(scene, shop, solids, one, driving.by, present, lean) for lean in LEANS):
            yield f"no {driving.by} gets at {name}"


def reached(
    scene: Scene, shop: Shop, solids: dict[str, Solid], one: Fastener, tool: str, present: frozenset[str],
    lean: tuple[float, float],
) -> bool:  # fmt: skip
    """Whether a bar as thick as the tool, from where its bit ends to its end, is free of all that is there."""
    if tool == "nailer":
        nose, long, across = 30.0, 250.0, 60.0
    else:
        (driver,) = [each for each in shop.drivers if each.name == tool]
        long, across = float(driver.long), float(driver.across)
        nose = 150.0 if one.kind == "pocket screw" else long - 110.0 if tool == "screwdriver" else 50.0
    pose = scene.poses[one.assembly]
    head, way = apply(pose, (float(one.at[0]), float(one.at[1]), float(one.at[2]))), direct(pose, one.way)
    aside = facing(way).axes
    for side, degrees in zip(aside, lean, strict=False):
        head = plus(head, times(side, nose * tan(radians(degrees))))
    bar = moved(cylinder(across - 1.0, long - nose), facing(times(way, -1.0), plus(head, times(way, -nose))))
    skip = {one.through} if one.kind == "pocket screw" or one.through not in scene.parts else set()
    others = (solids[name] for name in present - skip)
    return not any(overlap(bar, other) for other in others if boxes_apart(bar.bounds, other.bounds) <= 0)
