"""On the wall: what hangs on strips that are screwed to a wall, and by how many screws."""

from collections.abc import Iterator
from dataclasses import dataclass

from storystick.checks.driven import Drive, drives
from storystick.checks.masses import carried, masses, solids_of
from storystick.model.check import Asked
from storystick.model.cut import Bore
from storystick.model.part import Assembly, Part
from storystick.shapes.pose import direct, dot

WALL_SCREW = "wall screw"


@dataclass(frozen=True, slots=True)
class OnWall:
    """What hangs on a wall by some strips.

    strips   the assembly that is screwed to the wall
    hung     names of the assemblies that hang on it
    newtons  weight of all of it, its loads counted [N]
    out      how far its middle is in front of the wall [mm]
    above    how far each screw is above its lower edge, where it leans on the wall [mm]
    holes    diameters of the holes for the screws into the wall [mm]
    links    the screws between the strips and what hangs
    """

    strips: Assembly
    hung: tuple[str, ...]
    newtons: float
    out: float
    above: tuple[float, ...]
    holes: tuple[float, ...]
    links: tuple[Drive, ...]


def wall_holes(asked: Asked, assembly: str) -> tuple[tuple[Part, Bore], ...]:
    """The holes for screws into a wall in the parts of an assembly and of all that is inside it."""
    within = asked.scene.inside(assembly)
    parts = [part for part in asked.build.parts if part.assembly in within]
    return tuple((p, cut) for p in parts for cut in p.cuts if isinstance(cut, Bore) and WALL_SCREW in cut.called)


def on_the_wall(asked: Asked) -> Iterator[OnWall]:
    """Every assembly of strips on a wall by which something hangs, and what is fixed straight to it."""
    lines = drives(asked)
    for one in asked.build.assemblies:
        if one.inside_of or not (found := wall_holes(asked, one.name)):
            continue
        within = asked.scene.inside(one.name)
        mine = {part.name for part in asked.build.parts if part.assembly in within}
        links = tuple(drive for drive in lines if len(mine & {drive.of.through, drive.of.into}) == 1)
        links = tuple(d for d in links if {d.of.through, d.of.into} <= asked.build.parts_by_name.keys())
        parts = asked.build.parts_by_name.keys() - mine
        others = {name for drive in links for name in (drive.of.through, drive.of.into)} & parts
        tops = {_outermost(asked, asked.build.part(name).assembly) for name in others}
        hung = frozenset(name for top in tops for name in carried(asked, asked.build.assembly(top)))
        if not hung and not one.stands_on:  # fixed straight to the wall, by boards of its own
            hung = carried(asked, one)
        if hung:
            yield _of(asked, one, found, hung, links)


def _outermost(asked: Asked, name: str) -> str:
    while outer := asked.build.assembly(name).inside_of:
        name = outer
    return name


def _of(
    asked: Asked, one: Assembly, found: tuple[tuple[Part, Bore], ...], hung: frozenset[str], links: tuple[Drive, ...]
) -> OnWall:
    weights = masses(asked, hung | asked.scene.inside(one.name), filled=True)
    total = sum(mass.newtons for mass in weights)
    part = max((part for part, _ in found), key=lambda part: asked.scene.parts[part.name].bounds[0][2])
    strip, axis = asked.scene.parts[part.name], part.lies[2]
    way = direct(asked.scene.poses[part.assembly], (float(axis == 0), float(axis == 1), float(axis == 2)))
    middle = sum(mass.newtons * dot(mass.at, way) for mass in weights) / total
    low, high = sorted((dot(strip.bounds[0], way), dot(strip.bounds[1], way)))
    out = max(high - middle, middle - low)  # the wall is at the side of the strip that is farther from what hangs
    foot = min(solid.bounds[0][2] for solid in solids_of(asked, hung))
    middles = {p.name: sum(asked.scene.parts[p.name].bounds[n][2] for n in (0, 1)) / 2 for p, _ in found}
    boards = {part.name for part, _ in found if part.role != "back"} or {part.name for part, _ in found}
    mine = [(part, cut) for part, cut in found if part.name in boards]
    above = tuple(max(1.0, middles[part.name] - foot) for part, _ in mine)
    return OnWall(
        one, tuple(sorted(hung)), total, out, above, tuple(float(cut.diameter) for _, cut in mine), links
    )  # fmt: skip
