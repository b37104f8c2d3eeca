"""What every sheet in true size has: a rule and a square that prove the printer's scale, marks that line up strips."""

from collections.abc import Mapping
from fractions import Fraction

from storystick.ground.length import INCH, Manner, Unit
from storystick.paper.drawing.canvas import Box, Canvas, Spot

HEAD = 20.0  # room above for the level rule [mm]
ASIDE = 12.0  # room at the left for the upright one [mm]
LAP = 12.0  # how far a strip runs on beyond its end, to be glued under the next [mm]
CORNER: Spot = (3.0, 8.0)  # where the two rules meet


STEPS: Mapping[Unit, tuple[Fraction, int]] = {"inch": (INCH, 5), "mm": (Fraction(10), 12)}


def arm(manner: Manner) -> tuple[Fraction, str]:
    """How long each arm of the rule is [mm], and the same in words."""
    step, count = STEPS[manner.unit]
    return step * count, '5"' if manner.unit == "inch" else "120 mm"


def prove(canvas: Canvas, manner: Manner) -> None:
    """A level and an upright rule from one corner, of the same length: they prove both ways and the square between."""
    step, count = STEPS[manner.unit]
    word = arm(manner)[1]
    x, y = CORNER
    far = float(step * count)
    canvas.run([(x + far, y), (x, y), (x, y + far)], "outline")
    for i in range(1, count + 1):
        at, long = float(step * i), 3.4 if i % 5 == 0 or manner.unit == "inch" else 2.2
        canvas.line((x + at, y), (x + at, y + long), "edge")
        canvas.line((x, y + at), (x + long, y + at), "edge")
    if manner.unit == "inch":
        for i in range(1, count * 8, 2):
            at = float(step * i / 8)
            canvas.line((x + at, y), (x + at, y + 1.6), "fine")
            canvas.line((x, y + at), (x + 1.6, y + at), "fine")
    canvas.text((x + far + 3.0, y + 1.2), f"both arms are {word} long", 11.0)
    canvas.text((x + far + 3.0, y + 5.8), "when the print is true", 11.0)


def lap(canvas: Canvas, left: float, right: float, top: float) -> None:
    """The tab by which a strip goes under the next, and half of the mark that must come out whole."""
    canvas.run([(left, top), (left, top - LAP), (right, top - LAP), (right, top)], "hidden")
    meeting(canvas, (left + right) / 2, top)


def meeting(canvas: Canvas, x: float, y: float) -> None:
    """A ring with a cross where two strips meet: each strip has it, and they must lie on each other."""
    canvas.ring((x, y), 2.0, "fine")
    canvas.line((x - 3.2, y), (x + 3.2, y), "fine")
    canvas.line((x, y - 3.2), (x, y + 3.2), "fine")


def strip(canvas: Canvas, box: Box) -> None:
    """The strip itself, left open to be cut out on its lines."""
    corners = [(box.left, box.bottom), (box.right, box.bottom), (box.right, box.top), (box.left, box.top)]
    canvas.run(corners, "edge", "wood", closed=True)
