"""The numbered lines of a STEP file (ISO 10303-21), and how geometry is said in them (ISO 10303-42)."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from storystick.exports.bends import ArcEdge, Bend, aside_of
from storystick.exports.patches import Loop
from storystick.exports.shells import FlatFace, Ring, RingUsed, RoundWall, Shell
from storystick.shapes.pose import Vector, plus, times, unit


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines as they are added; each gets a number, and equal points and directions of one set share a line."""

    texts: list[str] = field(default_factory=list)
    shared: dict[str, str] = field(default_factory=dict)

    def add(self, text: str) -> str:
        """A line; its number as others name it."""
        self.texts.append(text)
        return f"#{len(self.texts)}"

    def once(self, text: str) -> str:
        """A line that is written only once, however often it is asked for."""
        if text not in self.shared:
            self.shared[text] = self.add(text)
        return self.shared[text]

    def written(self) -> Iterator[str]:
        """All lines."""
        return (f"#{number}={text};" for number, text in enumerate(self.texts, 1))


def real(value: float) -> str:
    """A number as the format wants it: always with a point."""
    text = f"{round(value, 9) + 0.0:.12G}"
    mantissa, e, exponent = text.partition("E")
    return (mantissa if "." in mantissa else mantissa + ".") + e + exponent


def text(words: str) -> str:
    """A text in quotes: apostrophes doubled, anything beyond plain letters by its number (ISO 10303-21, 6.4.3)."""
    out = []
    for letter in words:
        code = ord(letter)
        if letter in "'\\":
            out.append(letter * 2)
        elif 32 <= code < 127:
            out.append(letter)
        elif code < 0x10000:
            out.append(f"\\X2\\{code:04X}\\X0\\")
        else:
            out.append(f"\\X4\\{code:08X}\\X0\\")
    return "'" + "".join(out) + "'"


def listed(names: list[str] | tuple[str, ...]) -> str:
    """(#1,#2)"""
    return "(" + ",".join(names) + ")"


def point(lines: Lines, at: Vector) -> str:
    """A point."""
    return lines.once(f"CARTESIAN_POINT('',({','.join(map(real, at))}))")


def direction(lines: Lines, way: Vector) -> str:
    """A direction."""
    return lines.once(f"DIRECTION('',({','.join(map(real, way))}))")


def placement(lines: Lines, at: Vector, z: Vector, x: Vector) -> str:
    """An origin with the directions of its z and x."""
    return lines.once(f"AXIS2_PLACEMENT_3D('',{point(lines, at)},{direction(lines, z)},{direction(lines, x)})")


def solid(lines: Lines, shell: Shell, name: str) -> str:
    """One closed piece as a solid with its faces."""
    drawn = _Drawn(lines, shell, {}, {})
    faces = [_flat(drawn, face) for face in shell.flats] + [_round(drawn, n) for n in range(len(shell.walls))]
    faces += [_bent(drawn, one) for one in shell.bends]
    closed = lines.add(f"CLOSED_SHELL('',{listed(faces)})")
    return lines.add(f"MANIFOLD_SOLID_BREP({text(name)},{closed})")


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A shell while it is written: which corners and edges have their lines already."""

    lines: Lines
    shell: Shell
    vertices: dict[object, str]
    edges: dict[object, str]

    def vertex(self, key: object, at: Callable[[], Vector]) -> str:
        if key not in self.vertices:
            self.vertices[key] = self.lines.add(f"VERTEX_POINT('',{point(self.lines, at())})")
        return self.vertices[key]

    def corner(self, number: int) -> Vector:
        x, y, z = self.shell.corners[number].tolist()
        return (x, y, z)


def _flat(drawn: _Drawn, face: FlatFace) -> str:
    lines = drawn.lines
    bounds = []
    for number, loop in enumerate(face.loops):
        kind = "FACE_OUTER_BOUND" if number == 0 else "FACE_BOUND"
        edges = [_ring_edge(drawn, loop)] if isinstance(loop, RingUsed) else _straight_edges(drawn, loop)
        bounds.append(lines.add(f"{kind}('',{lines.add(f"EDGE_LOOP('',{listed(edges)})")},.T.)"))
    at, along = _on_plane(drawn, face)
    plane = lines.add(f"PLANE('',{placement(lines, at, face.normal, along)})")
    return lines.add(f"ADVANCED_FACE('',{listed(bounds)},{plane},.T.)")


def _on_plane(drawn: _Drawn, face: FlatFace) -> tuple[Vector, Vector]:
    """A point of a flat face and a direction in it."""
    outer = face.loops[0]
    if isinstance(outer, RingUsed):
        wall = drawn.shell.walls[outer.wall]
        return wall.rings[outer.end].centre, wall.axis.aside
    a, b = drawn.corner(outer[0]), drawn.corner(outer[1])
    return a, unit((b[0] - a[0], b[1] - a[1], b[2] - a[2]))


def _straight_edges(drawn: _Drawn, loop: Loop) -> list[str]:
    return [_straight(drawn, a, b) for a, b in zip(loop, (*loop[1:], loop[0]), strict=True)]


def _straight(drawn: _Drawn, a: int, b: int) -> str:
    low, high = min(a, b), max(a, b)
    if (low, high) not in drawn.edges:
        start, end = drawn.corner(low), drawn.corner(high)
        ends = [drawn.vertex(corner, lambda at=at: at) for corner, at in ((low, start), (high, end))]  # type: ignore[misc]
        arc = drawn.shell.arcs.get((low, high))
        drawn.edges[low, high] = (
            _arc_edge(drawn.lines, ends, arc) if arc else _line_edge(drawn.lines, ends, start, end)
        )
    return drawn.lines.add(f"ORIENTED_EDGE('',*,*,{drawn.edges[low, high]},{_so(a == low)})")


def _line_edge(lines: Lines, ends: list[str], start: Vector, end: Vector) -> str:
    way = unit((end[0] - start[0], end[1] - start[1], end[2] - start[2]))
    vector = lines.add(f"VECTOR('',{direction(lines, way)},1.)")
    line = lines.add(f"LINE('',{point(lines, start)},{vector})")
    return lines.add(f"EDGE_CURVE('',{ends[0]},{ends[1]},{line},.T.)")


def _arc_edge(lines: Lines, ends: list[str], arc: ArcEdge) -> str:
    place = placement(lines, arc.centre, arc.way, aside_of(arc.way))
    circle = lines.add(f"CIRCLE('',{place},{real(arc.radius)})")
    return lines.add(f"EDGE_CURVE('',{ends[0]},{ends[1]},{circle},.T.)")


def _bent(drawn: _Drawn, bend: Bend) -> str:
    """The wall of a sawn curve: two arcs and the two straight edges between them."""
    lines = drawn.lines
    loop = lines.add(f"EDGE_LOOP('',{listed(_straight_edges(drawn, bend.corners))})")
    bound = lines.add(f"FACE_OUTER_BOUND('',{loop},.T.)")
    place = placement(lines, bend.axis.point, bend.axis.way, bend.axis.aside)
    surface = lines.add(f"CYLINDRICAL_SURFACE('',{place},{real(bend.radius)})")
    return lines.add(f"ADVANCED_FACE('',({bound}),{surface},{_so(bend.outward)})")


def _ring_edge(drawn: _Drawn, used: RingUsed) -> str:
    """The whole circle, anticlockwise about the bore's axis or the other way."""
    key = ("ring", *_same_ring(drawn.shell, used.wall, used.end))
    if key not in drawn.edges:
        wall = drawn.shell.walls[used.wall]
        ring = wall.rings[used.end]
        here = drawn.vertex(key, lambda: _start_of(wall, ring))
        circle = drawn.lines.add(
            f"CIRCLE('',{placement(drawn.lines, ring.centre, wall.axis.way, wall.axis.aside)},{real(ring.radius)})"
        )
        drawn.edges[key] = drawn.lines.add(f"EDGE_CURVE('',{here},{here},{circle},.T.)")
    return drawn.lines.add(f"ORIENTED_EDGE('',*,*,{drawn.edges[key]},{_so(used.turns > 0)})")


def _same_ring(shell: Shell, wall: int, end: int) -> tuple[int, int]:
    """A ring that two walls share goes by the first of them: a bore goes on from its countersink."""
    one, ring = shell.walls[wall], shell.walls[wall].rings[end]
    for other in range(wall):
        for which, its in enumerate(shell.walls[other].rings):
            close = abs(its.along - ring.along) < 1e-6 and abs(its.radius - ring.radius) < 1e-6
            if close and shell.walls[other].axis == one.axis:
                return other, which
    return wall, end


def _start_of(wall: RoundWall, ring: Ring) -> Vector:
    return plus(ring.centre, times(wall.axis.aside, ring.radius))


def _round(drawn: _Drawn, number: int) -> str:
    """The wall between two circles, cut open along a seam; the wood lies outside, so its normal points inward."""
    lines, wall = drawn.lines, drawn.shell.walls[number]
    circles = [_ring_edge(drawn, RingUsed(number, end, wall.rings[end].turns)) for end in (0, 1)]
    starts = [_start_of(wall, ring) for ring in wall.rings]
    ends = [drawn.vertices["ring", *_same_ring(drawn.shell, number, end)] for end in (0, 1)]
    seam = _line_edge(lines, ends, *starts)
    up, down = (lines.add(f"ORIENTED_EDGE('',*,*,{seam},{_so(way)})") for way in (True, False))
    loop = lines.add(f"EDGE_LOOP('',{listed([circles[0], up, circles[1], down])})")
    bound = lines.add(f"FACE_OUTER_BOUND('',{loop},.T.)")
    return lines.add(f"ADVANCED_FACE('',({bound}),{_surface(lines, wall)},.F.)")


def _surface(lines: Lines, wall: RoundWall) -> str:
    one, other = wall.rings
    if abs(one.radius - other.radius) < 1e-6:
        place = placement(lines, one.centre, wall.axis.way, wall.axis.aside)
        return lines.add(f"CYLINDRICAL_SURFACE('',{place},{real(one.radius)})")
    small = one if one.radius < other.radius else other
    way = wall.axis.way if small is one else times(wall.axis.way, -1.0)
    place = placement(lines, small.centre, way, wall.axis.aside)
    return lines.add(f"CONICAL_SURFACE('',{place},{real(small.radius)},{real(_half_angle(wall))})")


def _half_angle(wall: RoundWall) -> float:
    """Half the angle of a cone [rad]."""
    from math import atan2

    one, other = wall.rings
    return atan2(abs(one.radius - other.radius), abs(one.along - other.along))


def _so(yes: bool) -> str:
    return ".T." if yes else ".F."
