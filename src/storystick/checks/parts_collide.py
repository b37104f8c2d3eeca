"""Parts collide: no two boards may be in one place. Faces that touch are what joints are for."""

from collections.abc import Iterator

from storystick.checks.saying import at_least, decimal, mm, where
from storystick.checks.stated import moved_along
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.shapes.clash import Clash, clashes
from storystick.shapes.solid import Bounds

SOLIDS = Source("the solids of the parts with all their cuts, compared pair by pair", "practice")


def run(asked: Asked) -> Iterator[Finding]:
    """Every pair of parts that share a place."""
    bodies = list(asked.scene.parts.items())
    found = clashes(bodies)
    for clash in found:
        yield _finding(asked, clash)
    if not found and len(bodies) > 1:
        said = f"None of the {len(bodies)} parts runs into another."
        yield Finding(CHECK.code, Grade.FINE, asked.build.place, said, "", SOLIDS)


def _finding(asked: Asked, clash: Clash) -> Finding:
    manner = asked.build.manner
    said = (
        f"{clash.first} and {clash.other} are in one place: {mm(clash.thickness, manner)} deep, "
        f"{decimal(clash.volume / 1000)} cm3 of wood, {where(clash.at, manner)}."
    )
    away = at_least(push_mm(asked.scene.parts[clash.first].bounds, asked.scene.parts[clash.other].bounds), manner)
    advice = f"Move one of them by {away} or more, cut one of them back there, or give them a joint."
    place = asked.build.part(clash.other).place
    about = (clash.first, clash.other)
    tries = tuple(_apart(asked, clash))
    return Finding(CHECK.code, Grade.STOP, place, said, advice, SOLIDS, clash.thickness, 0, "mm", about, None, tries)


def _apart(asked: Asked, clash: Clash) -> Iterator[Mend]:
    """Either of the two moved out of the other along the axis on which that is shortest."""
    one, other = asked.scene.parts[clash.first].bounds, asked.scene.parts[clash.other].bounds
    axis = min(range(3), key=lambda a: min(one[1][a] - other[0][a], other[1][a] - one[0][a]))
    for name, mine, theirs in ((clash.other, other, one), (clash.first, one, other)):
        part = asked.build.part(name)
        out = (theirs[1][axis] - mine[0][axis], theirs[0][axis] - mine[1][axis])
        for by in sorted(out, key=abs)[:1]:
            way = (float(axis == 0), float(axis == 1), float(axis == 2))
            yield from moved_along(asked.build.assembly(part.assembly).at, way, by, asked.build.manner)


def push_mm(one: Bounds, other: Bounds) -> float:
    """The least way along an axis of the room that parts two boxes [mm]."""
    return min(min(one[1][a] - other[0][a], other[1][a] - one[0][a]) for a in range(3))


CHECK = Check("parts-collide", "Is every part in a place of its own?", run, SOLIDS)
