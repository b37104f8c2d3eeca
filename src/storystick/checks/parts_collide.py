"""Parts collide: no two boards may be in one place. Faces that touch are what joints are for."""

from collections.abc import Iterator

from storystick.checks.saying import at_least, decimal, mm, where
from storystick.ground.finding import Finding, Grade
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
    return Finding(CHECK.code, Grade.STOP, place, said, advice, SOLIDS, clash.thickness, 0, "mm", about)


def push_mm(one: Bounds, other: Bounds) -> float:
    """The least way along an axis of the room that parts two boxes [mm]."""
    return min(min(one[1][a] - other[0][a], other[1][a] - one[0][a]) for a in range(3))


CHECK = Check("parts-collide", "Is every part in a place of its own?", run, SOLIDS)
