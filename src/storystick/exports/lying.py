"""Each part as it lies on the bench, face up, reference end to the left: never mirrored, whatever hand it is.

A part's own coordinates run down into the wood, so as plain x, y, z they would show most parts mirrored. Files for
others need the thing itself: x from the reference end, z from the back up to the face, and y across: from the
reference edge, or toward it where the part is left-handed.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from storystick.exports.naming import by_letter
from storystick.model.part import Part
from storystick.model.scene import Scene
from storystick.shapes.pose import Pose, compose, framed, invert
from storystick.shapes.solid import Solid, moved


@dataclass(frozen=True, eq=False)
class Body:
    """A part, or several that are alike, lying on the bench, and where each stands in the piece."""

    letter: str
    parts: tuple[Part, ...]
    solid: Solid
    placed: tuple[Pose, ...]  # one a part: from the bench to the room, a plain turn and shift

    @property
    def called(self) -> str:
        """`A cabinet.left side`"""
        return called(self.parts[0])


def called(part: Part) -> str:
    """A part's letter and name."""
    return f"{part.letter} {part.name}".strip()


def lying(part: Part) -> Pose:
    """From the part's own coordinates to the bench."""
    across = -1.0 if part.is_left_handed else 1.0
    low = float(part.width) if part.is_left_handed else 0.0
    return framed((1.0, 0.0, 0.0), (0.0, across, 0.0), (0.0, 0.0, -1.0), (0.0, low, float(part.thickness)))


def bodies(scene: Scene) -> Iterator[Body]:
    """Every different part of a piece, in the order of the letters."""
    for letter, parts in by_letter(scene.build).items():
        solid = moved(scene.own_solids[parts[0].name], lying(parts[0]))
        placed = tuple(compose(scene.part_poses[part.name], invert(lying(part))) for part in parts)
        yield Body(letter, parts, solid, placed)
