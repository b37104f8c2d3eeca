"""Three views of the whole piece: front, top and one side, every distance from one datum: left, front and floor.

Third angle for american habits (ASME Y14.3: the top view above, the right side at the right), first angle for british
ones (ISO 5456-2: the top view below, the left side at the right); the symbol of the method stands beside its name.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from storystick.ground.dim import Dim
from storystick.model.build import Build
from storystick.model.part import Assembly
from storystick.paper.drawing.canvas import Canvas, Spot, text_box
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.drawing.measure import PITCH, Tick, Upright, level_stick, upright_sticks
from storystick.paper.drawing.scale import fitting, scale_said
from storystick.paper.folder import Folder
from storystick.shapes.hidden import draw
from storystick.shapes.pose import Vector
from storystick.shapes.solid import Solid
from storystick.shapes.view import FRONT, LEFT, RIGHT, TOP, View

BESIDE, BELOW, BETWEEN, ABOVE, HEAD = (
    34.0,
    24.0,
    26.0,
    12.0,
    8.0,
)  # paper left of, below, between (level, upright) and above the views [mm]


@dataclass(frozen=True)
class Spread:
    """Where the three views lie on the paper: left edges of front and side, lines that floor and front fall on."""

    scale: float
    left: float
    right: float
    floor: float
    front: float
    low: Vector
    size: Vector
    third: bool

    def across(self, axis: int) -> float:
        """How long the piece is on the paper along an axis [mm]."""
        return self.size[axis] / self.scale


def three_views(folder: Folder, wide: float, high: float) -> Drawn:
    """The three views in a drawing of at most a given size [mm]."""
    bodies = [*folder.scene.parts.items(), *folder.hardware.items()]
    ticks, datum = distances(folder.build)
    numbers = PITCH * (len(ticks[1]) + len(ticks[2]))
    lie = _spread(extent(bodies, datum), datum, wide, high, folder.words == "american", numbers)
    canvas = Canvas(wide, 1000.0)
    names = _draw(canvas, bodies, lie)
    foot = _sticks(canvas, ticks, lie, folder)
    for at, word in names:
        if canvas.is_free(text_box(at, word, 11.0)):
            canvas.text(at, word, 11.0)
    spot = (lie.right + 2.0, HEAD + 6.0) if lie.third else (lie.right + 2.0, lie.front - lie.across(1) + 8.0)
    if lie.third and spot[1] + METHOD > lie.floor - lie.across(2) - 7.0:  # no room over the side view's name
        spot = (lie.right + 2.0, foot + 8.0)
    foot = max(foot, _method(canvas, lie.third, spot))
    canvas.high = max(foot, *(box.bottom for box in canvas.lettering)) + 2.0
    side = "right" if lie.third else "left"
    alt = f"{folder.build.title} in three views: front, top and {side} side, {scale_said(lie.scale)}."
    return Drawn(canvas.svg(alt), alt, lie.scale, wide, canvas.high, tuple(canvas.lettering), canvas.left_out)


def distances(build: Build) -> tuple[tuple[list[Dim], list[Dim], list[Dim]], Vector]:
    """For each axis how far everything is from the datum: assemblies and the openings in them; and the datum [mm]."""
    outer = [one for one in build.assemblies if not one.inside_of]
    lows = [min((one.at[axis] for one in outer), key=lambda dim: dim.value) for axis in range(2)]
    found: tuple[list[Dim], list[Dim], list[Dim]] = ([], [], [])
    for at, size in _boxes(build):
        for axis in range(3):
            low = at[axis] - lows[axis] if axis < 2 else at[axis]
            found[axis].extend((low, low + size[axis]))
    each = tuple(sorted({d.value: d for d in row if d.value > 0}.values(), key=lambda d: d.value) for row in found)
    return (each[0], each[1], each[2]), (float(lows[0]), float(lows[1]), 0.0)


def _boxes(build: Build) -> Iterator[tuple[Sequence[Dim], Sequence[Dim]]]:
    """Low corner and size, in the room, of every outer assembly and of every opening in one that stands straight."""
    for one in build.assemblies:
        if not one.inside_of and one.lean is None:
            yield one.at, one.size if one.turns % 2 == 0 else (one.size[1], one.size[0], one.size[2])
    for opening in build.openings:
        base = _straight(build.assemblies_by_name, opening.assembly)
        if base is not None:
            yield tuple(a + b for a, b in zip(base, opening.at, strict=True)), opening.size


def _straight(assemblies: Mapping[str, Assembly], name: str) -> Sequence[Dim] | None:
    """Where an assembly's origin is in the room; None where it is turned or leans."""
    one = assemblies[name]
    if one.turns % 4 or one.lean is not None:
        return None
    if not one.inside_of:
        return one.at
    base = _straight(assemblies, one.inside_of)
    return None if base is None else tuple(a + b for a, b in zip(base, one.at, strict=True))


def extent(bodies: Sequence[tuple[str, Solid]], datum: Vector) -> Vector:
    """How far the piece reaches from the datum along each axis [mm]."""
    tops = [solid.bounds[1] for _, solid in bodies if not solid.is_empty]
    wide, deep, high = (max(top[axis] for top in tops) - datum[axis] for axis in range(3))
    return wide, deep, high


def _spread(size: Vector, datum: Vector, wide: float, high: float, third: bool, numbers: float) -> Spread:
    """Where the views lie; `numbers` is the height of all numbers beside them [mm]."""
    across, up = wide - BESIDE - BETWEEN - 14.0, high - BELOW * (1 if third else 2) - ABOVE - HEAD
    scale = max(fitting(size[0] + size[1], across), fitting(size[1] + size[2], up))
    left = BESIDE + max(0.0, (across - (size[0] + size[1]) / scale) / 2)
    deep, tall = size[1] / scale, size[2] / scale
    head = HEAD + max(0.0, numbers - (HEAD + deep + ABOVE + tall))
    floor = head + (deep + ABOVE + tall if third else tall)
    front = head + deep if third else floor + ABOVE + deep
    return Spread(scale, left, left + size[0] / scale + BETWEEN, floor, front, datum, size, third)


def _draw(canvas: Canvas, bodies: Sequence[tuple[str, Solid]], lie: Spread) -> list[tuple[Spot, str]]:
    """The views themselves; where their names may stand."""
    x0, y0, z0 = lie.low

    def front(p: Spot) -> Spot:
        return lie.left + (p[0] - x0) / lie.scale, lie.floor - (p[1] - z0) / lie.scale

    def top(p: Spot) -> Spot:
        return lie.left + (p[0] - x0) / lie.scale, lie.front - (p[1] - y0) / lie.scale

    def right(p: Spot) -> Spot:
        return lie.right + (p[0] - y0) / lie.scale, lie.floor - (p[1] - z0) / lie.scale

    def left(p: Spot) -> Spot:
        return lie.right + (p[0] + y0 + lie.size[1]) / lie.scale, lie.floor - (p[1] - z0) / lie.scale

    side = (RIGHT, right) if lie.third else (LEFT, left)
    views: tuple[tuple[View, Callable[[Spot], Spot]], ...] = ((FRONT, front), (TOP, top), side)
    for view, at in views:
        for line in draw(bodies, view, hidden=False):
            canvas.run([at(spot) for spot in line.points], "edge")
    tall = lie.across(2)
    return [
        ((lie.left, lie.floor - tall - 2.0), "front"),
        ((lie.left, lie.front - lie.across(1) - 2.0), "top"),
        ((lie.right, lie.floor - tall - 2.0), "right side" if lie.third else "left side"),
    ]


def _sticks(canvas: Canvas, ticks: tuple[list[Dim], list[Dim], list[Dim]], lie: Spread, folder: Folder) -> float:
    """Heights and depths beside the views, widths and depths below them; where the drawing ends [mm]."""
    manner = folder.build.manner
    heights = [Tick(t, lie.floor - float(t) / lie.scale) for t in ticks[2]]
    depths = [Tick(t, lie.front - float(t) / lie.scale) for t in ticks[1]]
    widths = [Tick(t, lie.left + float(t) / lie.scale) for t in ticks[0]]
    near = lie.left - 3.0
    strips = (
        Upright(tuple(heights), lie.floor, lie.floor - lie.across(2)),
        Upright(tuple(depths), lie.front, lie.front - lie.across(1)),
    )
    below = max(lie.floor, lie.front) + 3.0
    upright_sticks(canvas, strips, manner, near, leftward=True, foot=below - 1.5)
    foot = level_stick(canvas, widths, manner, lie.left, lie.left + lie.across(0), below)
    if lie.third:
        deep = [Tick(t, lie.right + float(t) / lie.scale) for t in ticks[1]]
        foot = max(foot, level_stick(canvas, deep, manner, lie.right, lie.right + lie.across(1), below))
    return foot


METHOD = 18.5  # from the middle of the symbol to the foot of what is written below it [mm]


def _method(canvas: Canvas, third: bool, at: Spot) -> float:
    """The symbol of the method of projection, a cut cone seen from its side and its end, and the method's name."""
    x, y = at
    cone = [(x, y - 2.0), (x + 8.0, y - 4.0), (x + 8.0, y + 4.0), (x, y + 2.0)]
    rings, ends = (x + 16.0, cone) if not third else (x + 5.0, [(px + 13.0, py) for px, py in cone])
    canvas.run(ends, "edge", closed=True)
    canvas.ring((rings, y), 4.0, "edge")
    canvas.ring((rings, y), 2.0, "edge")
    canvas.text((x, y + 9.5), "third angle" if third else "first angle", 11.0)
    canvas.text((x, y + 14.0), "ASME Y14.3" if third else "ISO 5456-2", 10.0)
    return canvas.text((x, y + 18.2), "sizes: ISO 129-1", 10.0).bottom
