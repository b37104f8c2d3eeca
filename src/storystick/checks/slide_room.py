"""Slide room: where a drawer's slides are, between its sides and what they are screwed to, as bodies in the room."""

from collections.abc import Iterator

from storystick.model.build import Slider
from storystick.model.check import Asked
from storystick.shapes.solid import Bounds
from storystick.shop.tables import find, slides

THIN_MM = 0.3  # what goes in by less only touches


def bodies(asked: Asked, slider: Slider) -> Iterator[Bounds]:
    """The two slides of a drawer or tray, shut: as thick as the room they want, centred on the height of its sides."""
    row = find(slides(), slider.runs_on)
    sides = [p for p in asked.build.parts if p.assembly == slider.assembly and p.role in ("drawer side", "side")]
    if row is None or row.kind != "side" or len(sides) != 2:
        return
    one, other = (asked.scene.parts[part.name].bounds for part in sides)
    across = max((0, 1), key=lambda a: abs(one[0][a] - other[0][a]))
    left, right = sorted((one, other), key=lambda box: box[0][across])
    half, thick = float(row.high_mm) / 2, float(row.thick_mm)
    for box, sign in ((left, -1), (right, 1)):
        low, high = list(box[0]), list(box[1])
        middle = (low[2] + high[2]) / 2
        low[2], high[2] = middle - half, middle + half
        face = box[0][across] if sign < 0 else box[1][across]
        low[across], high[across] = (face - thick, face) if sign < 0 else (face, face + thick)
        yield (low[0], low[1], low[2]), (high[0], high[1], high[2])


def intruders(asked: Asked, slider: Slider) -> Iterator[tuple[str, float]]:
    """What reaches into the room of its slides, and how far [mm]: by the box round it, of boards that lie square."""
    within = asked.scene.inside(slider.assembly)
    for low, high in bodies(asked, slider):
        for part in asked.build.parts:
            solid = asked.scene.parts[part.name]
            if part.assembly in within or solid.is_empty:
                continue
            first, last = solid.bounds
            deep = min(min(high[a], last[a]) - max(low[a], first[a]) for a in range(3))
            if deep > THIN_MM:
                yield part.name, deep
