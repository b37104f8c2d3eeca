"""A reader of STEP that shares nothing with the writer: volumes from the faces by the divergence theorem.

A flat face adds area x distance of its plane / 3. A round wall about an axis, the wood outside, adds what the integral
of place . normal comes to over a cylinder or a cone; both are worked out by hand below.
"""

import math
import re
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np


@dataclass
class Step:
    """The lines of a file by their numbers: (kind, arguments)."""

    text: str
    uses: dict[int, list[bool]] = field(default_factory=dict)  # how often each edge is gone along, and which way

    @cached_property
    def lines(self) -> dict[int, tuple[str, list]]:
        data = self.text[self.text.index("DATA;") + 5 : self.text.index("ENDSEC;\nEND-ISO")]
        found = {}
        for number, kind, inner in re.findall(r"#(\d+)=([A-Z0-9_]+)\((.*)\);\n", data):
            found[int(number)] = (kind, arguments(inner))
        return found

    def all(self, kind: str) -> list[int]:
        return [number for number, (one, _) in self.lines.items() if one == kind]

    def args(self, number: int) -> list:
        return self.lines[number][1]

    def kind(self, number: int) -> str:
        return self.lines[number][0]

    def vector(self, number: int) -> np.ndarray:
        return np.array(self.args(number)[1], dtype=float)

    def frame(self, number: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Origin, z and x of an AXIS2_PLACEMENT_3D."""
        _, at, z, x = self.args(number)
        return self.vector(at), self.vector(z), self.vector(x)

    # --- volumes --------------------------------------------------------------------------------------------------

    def volume(self, brep: int) -> float:
        """Volume of a MANIFOLD_SOLID_BREP; notes the use of every edge."""
        (shell,) = self.args(brep)[1:]
        return sum(self._face(face) for face in self.args(shell)[1]) / 3

    def _face(self, face: int) -> float:
        _, bounds, surface, same = self.args(face)
        loops = [self._loop(self.args(bound)[1], self.args(bound)[2]) for bound in bounds]
        if self.kind(surface) == "PLANE":
            assert same
            at, normal, _ = self.frame(self.args(surface)[1])
            area = sum(sum(step(normal) for step in loop) for loop in loops)
            assert area > 0, "the outer loop of a face goes round it anticlockwise as seen from outside"
            return float(at @ normal) * area
        kinds = [self.kind(self.args(self.args(o)[3])[3]) for o in self.args(self.args(bounds[0])[1])[1]]
        if kinds.count("LINE") == 2 and len(set(self._corners(bounds[0]))) == 4:
            return self._bent(bounds[0], surface, same)
        assert not same, "a bore's wall looks toward its axis"
        return self._wall(surface, loops)

    def _corners(self, bound: int) -> list[int]:
        """The vertices of a loop, where each of its edges begins."""
        found = []
        for oriented in self.args(self.args(bound)[1])[1]:
            *_, edge, so = self.args(oriented)
            found.append(self.args(edge)[1 if so else 2])
        return found

    def _bent(self, bound: int, surface: int, outward: bool) -> float:
        """Over part of a cylinder: place . normal, the place on it being c + r e(t) + z k with e(t) away from the axis.

        The integral over the turn t and the height h is r h (r turn + c . (integral of e)), minus for a wall that looks
        toward its axis; the integral of e from s to t is x (sin t - sin s) + y (cos s - cos t).
        """
        _, frame, radius = self.args(surface)
        centre, z, x = self.frame(frame)
        y = np.cross(z, x)
        corners = [self.vector(self.args(vertex)[1]) - centre for vertex in self._corners(bound)]
        heights = [float(c @ z) for c in corners]
        for c, height in zip(corners, heights, strict=True):
            assert abs(float(np.linalg.norm(c - height * z)) - radius) < 2e-6
        for oriented in self.args(self.args(bound)[1])[1]:
            curve = self.args(self.args(oriented)[3])[3]
            if self.kind(curve) == "CIRCLE":
                assert abs(self.args(curve)[2] - radius) < 2e-6
                turn, start = self._turn(oriented, z, x)
                if turn > 0:
                    s, t = start, start + turn
        e = x * (math.sin(t) - math.sin(s)) + y * (math.cos(s) - math.cos(t))
        flux = radius * (max(heights) - min(heights)) * (radius * (t - s) + float(centre @ e))
        return flux if outward else -flux

    def _turn_of(self, edge: int) -> tuple[float, float]:
        """The angle that an arc turns through about its own axis, from its first end to its last."""
        first, last = (self.vector(self.args(v)[1]) for v in self.args(edge)[1:3])
        at, z, x = self.frame(self.args(self.args(edge)[3])[1])
        y = np.cross(z, x)
        a, b = (math.atan2(float((p - at) @ y), float((p - at) @ x)) for p in (first, last))
        return (b - a) % math.tau, a

    def _turn(self, oriented: int, z: np.ndarray, x: np.ndarray) -> tuple[float, float]:
        """The angle that an arc turns through about an axis as it is gone along, and where it starts."""
        *_, edge, so = self.args(oriented)
        first, last = (self.vector(self.args(v)[1]) for v in self.args(edge)[1:3])
        at, own, _ = self.frame(self.args(self.args(edge)[3])[1])
        y = np.cross(z, x)
        a, b = (math.atan2(float((p - at) @ y), float((p - at) @ x)) for p in (first, last))
        way = 1.0 if float(own @ z) > 0 else -1.0
        turn = way * ((way * (b - a)) % math.tau)
        return (turn, a) if so else (-turn, b)

    def _loop(self, loop: int, forward: bool) -> list:
        assert forward
        edges = self.args(loop)[1]
        ends, found = [], []
        for oriented in edges:
            *_, edge, so = self.args(oriented)
            self.uses.setdefault(edge, []).append(so)
            first, last = self.args(edge)[1:3]
            ends.append((first, last) if so else (last, first))
            found.append(self._area_step(edge, so))
        assert all(a[1] == b[0] for a, b in zip(ends, ends[1:] + ends[:1], strict=True)), (
            "a loop goes from corner to corner"
        )
        return found

    def _area_step(self, edge: int, so: bool):
        """What an edge adds to the area of a flat face, as a function of the face's normal."""
        first, last = (self.vector(self.args(v)[1]) for v in self.args(edge)[1:3])
        curve = self.args(edge)[3]
        if self.kind(curve) == "LINE":
            _, start, vector = self.args(curve)
            way = self.vector(self.args(vector)[1])
            along = (last - first) @ way
            assert np.allclose(self.vector(start) + way * along, last, atol=2e-6)
            assert along > 0
            a, b = (first, last) if so else (last, first)
            return lambda normal: float(np.cross(a, b) @ normal) / 2
        assert self.kind(curve) == "CIRCLE"
        _, frame, radius = self.args(curve)
        centre, z, x = self.frame(frame)
        if not np.allclose(first, last):  # an arc: its chord, and the piece between chord and arc
            for spot in (first, last):
                assert abs(np.linalg.norm(spot - centre) - radius) < 2e-6
            turn, _ = self._turn_of(edge)
            piece = radius**2 * (turn - math.sin(turn)) / 2
            way = 1 if so else -1
            return lambda normal: way * (float(np.cross(first, last) @ normal) / 2 + piece * float(z @ normal))
        assert np.allclose(centre + x * radius, first, atol=2e-6), "the circle's vertex lies where the circle begins"
        return lambda normal: (1 if so else -1) * float(z @ normal) * math.pi * radius**2

    def _wall(self, surface: int, loops: list) -> float:
        """Over a wall: place . normal, the normal toward the axis.

        The wall's rings are its two circles. With c and d their centres, r and s their radii, h their distance:
        by the divergence theorem the plug between them has volume pi h (r2 + rs + s2) / 3, and its two flat ends give
        pi r2 (c . out) and pi s2 (d . out); the wall, looking into the plug, gives what is left, with its sign turned.
        """
        (loop,) = loops
        del loop
        face = next(f for f in self.all("ADVANCED_FACE") if self.args(f)[2] == surface)
        circles = []
        for oriented in self.args(self.args(self.args(face)[1][0])[1])[1]:
            curve = self.args(self.args(oriented)[3])[3]
            if self.kind(curve) == "CIRCLE":
                circles.append((self.frame(self.args(curve)[1])[0], self.args(curve)[2]))
        (c, r), (d, s) = circles
        h = float(np.linalg.norm(d - c))
        out = (d - c) / h
        self._lies_on(surface, c, r)
        self._lies_on(surface, d, s)
        plug = math.pi * h * (r * r + r * s + s * s) / 3
        return -(3 * plug - math.pi * r * r * float(c @ -out) - math.pi * s * s * float(d @ out))

    def _lies_on(self, surface: int, centre: np.ndarray, radius: float) -> None:
        args = self.args(surface)
        at, z, _ = self.frame(args[1])
        along = float((centre - at) @ z)
        assert np.linalg.norm(centre - at - along * z) < 2e-6
        wanted = args[2] + (along * math.tan(args[3]) if self.kind(surface) == "CONICAL_SURFACE" else 0.0)
        assert abs(wanted - radius) < 2e-6


def arguments(text: str) -> list:
    """`'a',#3,(1.,2.),.T.` as Python."""
    found, rest = _list(text)
    assert not rest
    return found


def _list(text: str) -> tuple[list, str]:
    found: list = []
    while text and text[0] != ")":
        if text[0] == "(":
            inner, text = _list(text[1:])
            found.append(inner)
            text = text[1:]
        elif text[0] == "'":
            end = re.match(r"'((?:[^']|'')*)'", text)
            found.append(end[1].replace("''", "'"))
            text = text[end.end() :]
        else:
            word = re.match(r"[^,()]*", text)[0]
            text = text[len(word) :]
            found.append(
                int(word[1:])
                if word[0] == "#"
                else word in (".T.",)
                if word[0] == "." and word[1] in "TF"
                else _value(word)
            )
        text = text.removeprefix(",")
    return found, text


def _value(word: str):
    try:
        return float(word)
    except ValueError:
        return word
