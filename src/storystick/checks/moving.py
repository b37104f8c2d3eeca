"""What moves, as solids in the room with their motion: drawers and trays, lids and leaves, things of the site."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import product
from math import ceil, cos, dist, radians

import numpy as np

from storystick.checks.saying import decimal, mm
from storystick.ground.kept import Kept, This
from storystick.ground.length import Manner
from storystick.model.body import solid_of_shape
from storystick.model.build import Move, SiteBody
from storystick.model.check import Asked
from storystick.model.part import Three
from storystick.shapes.motion import Motion, Path, Slide, Swing, moments
from storystick.shapes.pose import Vector, compose, direct, less, shifted, times
from storystick.shapes.solid import Bounds, Solid, box, box_between, moved

STEP_DEGREES = 6.0  # looks at a swing so far apart, for a box round it

type Named = tuple[str, Solid]


@dataclass(frozen=True)
class Mover:
    """Things that move together. `bodies` where they are at rest; `far` the whole way in words of the build."""

    name: str
    bodies: tuple[Named, ...]
    motion: Motion
    way: float  # whole way: mm of a slide, degrees of a swing

    @cached_property
    def names(self) -> frozenset[str]:
        """Of what moves."""
        return frozenset(name for name, _ in self.bodies)

    @cached_property
    def ways(self) -> tuple[Bounds, ...]:
        """A box round each of its bodies on its whole way."""
        return tuple(swept(solid, self.motion) for _, solid in self.bodies)

    @cached_property
    def whole(self) -> Bounds:
        """A box round all of it on its whole way."""
        return swept(box_between(*boxed(solid.bounds for _, solid in self.bodies)), self.motion)

    def after(self, share: float, manner: Manner) -> str:
        """How far it has gone, in words: "after 300 mm", "at 40 degrees"."""
        if isinstance(self.motion, Swing):
            return f"at {decimal(abs(self.motion.start + (self.motion.end - self.motion.start) * share), 0)} degrees"
        if isinstance(self.motion, Path):
            return f"{mm(_gone(self.motion, share), manner)} before its place"
        return f"after {mm(self.way * share, manner)}" if share > 0 else "at rest"


def _gone(path: Path, share: float) -> float:
    """How far along a path a share of it is [mm]: every stretch is an equal share, however long."""
    legs = len(path.poses) - 1
    whole = min(legs - 1, int(share * legs + 1e-9))
    ends = [dist(path.poses[n].origin, path.poses[n + 1].origin) for n in range(whole + 1)]
    return sum(ends[:-1]) + ends[-1] * (share * legs - whole)


@dataclass(frozen=True, eq=False)
class _Moving:
    """All that is in the room and moves, put together once for every check that asks for it."""

    asked: Asked

    @cached_property
    def bodies(self) -> tuple[Named, ...]:
        return _bodies_of(self.asked)

    @cached_property
    def drawers(self) -> tuple[Mover, ...]:
        return tuple(_drawers(self.asked))

    @cached_property
    def leaves(self) -> tuple[Mover, ...]:
        return tuple(_leaves(self.asked))

    @cached_property
    def site_movers(self) -> tuple[tuple[SiteBody, Mover], ...]:
        return tuple(_site_movers(self.asked))

    @cached_property
    def riders(self) -> tuple[tuple[SiteBody, Mover], ...]:
        return tuple(_riders(self.asked))

    @cached_property
    def arrivals(self) -> tuple[Mover, ...]:
        return tuple(_arrivals(self.asked))


_MOVING: Kept[_Moving] = Kept(2)


def _moving(asked: Asked) -> _Moving:
    return _MOVING.of((This(asked.build), This(asked.scene)), lambda: _Moving(asked))


def bodies_of(asked: Asked) -> tuple[Named, ...]:
    """The piece: every part, and every item that takes up room, as solids in the room."""
    return _moving(asked).bodies


def drawers(asked: Asked) -> tuple[Mover, ...]:
    """Every drawer and tray with its way out: toward the front of what it runs in."""
    return _moving(asked).drawers


def leaves(asked: Asked) -> tuple[Mover, ...]:
    """What else of the piece moves."""
    return _moving(asked).leaves


def site_movers(asked: Asked) -> tuple[tuple[SiteBody, Mover], ...]:
    """Things of the site that move."""
    return _moving(asked).site_movers


def riders(asked: Asked) -> tuple[tuple[SiteBody, Mover], ...]:
    """What stands on things of the site that move, moving with them."""
    return _moving(asked).riders


def arrivals(asked: Asked) -> tuple[Mover, ...]:
    """Assemblies whose way to their place the plan says, followed from there back to where they start from."""
    return _moving(asked).arrivals


def _bodies_of(asked: Asked) -> tuple[Named, ...]:
    parts = tuple(asked.scene.parts.items())
    return parts + tuple((item.name, _boxed(asked, item.assembly, item.box)) for item in asked.build.items if item.box)


def _boxed(asked: Asked, assembly: str, corner_and_size: tuple[Three, Three]) -> Solid:
    at, size = corner_and_size
    pose = compose(asked.scene.poses[assembly], shifted((float(at[0]), float(at[1]), float(at[2]))))
    return moved(box(float(size[0]), float(size[1]), float(size[2])), pose)


def shapes_of(body: SiteBody) -> tuple[Solid, ...]:
    """The shapes of a site body, each a solid in the room."""
    return tuple(solid_of_shape(shape) for shape in body.shapes)


def _drawers(asked: Asked) -> Iterator[Mover]:
    for slider in asked.build.sliders:
        within = asked.scene.inside(slider.assembly)
        parts = [part.name for part in asked.build.parts if part.assembly in within]
        if not parts:
            continue
        home = asked.build.assembly(slider.assembly).inside_of or slider.assembly
        out = direct(asked.scene.poses[home], (0.0, -1.0, 0.0))
        far = float(slider.travel)
        solids = tuple((name, asked.scene.parts[name]) for name in parts)
        pulls = tuple(
            (item.name, _boxed(asked, item.assembly, item.box))
            for item in asked.build.items
            if item.box and item.assembly in within
        )
        yield Mover(slider.name, solids + pulls, Slide(times(out, far)), far)


def _leaves(asked: Asked) -> Iterator[Mover]:
    for move in asked.build.moves:
        names: set[str] = set()
        for name in move.names:
            inner = _inside(asked, name)
            names |= {part.name for part in asked.build.parts if part.assembly in inner or part.name == name}
        within = frozenset(one for name in move.names for one in _inside(asked, name))
        solids = tuple((name, solid) for name, solid in asked.scene.parts.items() if name in names)
        pulls = tuple(
            (item.name, _boxed(asked, item.assembly, item.box))
            for item in asked.build.items
            if item.box and item.assembly in within
        )
        if solids:
            yield Mover(move.name, solids + pulls, motion_of(move), _way(move))


def _inside(asked: Asked, name: str) -> frozenset[str]:
    return asked.scene.inside(name) if name in asked.build.assemblies_by_name else frozenset()


def _site_movers(asked: Asked) -> Iterator[tuple[SiteBody, Mover]]:
    for body in asked.build.site:
        moves = [move for move in asked.build.moves if body.name in move.names]
        for move in [*([body.move] if body.move else []), *moves]:
            solids = tuple((body.name, solid) for solid in shapes_of(body))
            yield body, Mover(body.name, solids, motion_of(move), _way(move))


def riding(asked: Asked, body: SiteBody) -> tuple[Named, ...]:
    """The parts and things of all that stands on a body of the site: where it goes they go with it."""
    stands = {body.name}
    for one in asked.build.assemblies:
        if not one.inside_of and one.stands_on.split(".")[0] in stands:
            stands.add(one.name)
    within = frozenset(name for one in stands - {body.name} for name in asked.scene.inside(one))
    parts = {part.name for part in asked.build.parts if part.assembly in within}
    parts |= {item.name for item in asked.build.items if item.assembly in within}
    return tuple((name, solid) for name, solid in bodies_of(asked) if name in parts and not solid.is_empty)


def _riders(asked: Asked) -> Iterator[tuple[SiteBody, Mover]]:
    for body, mover in site_movers(asked):
        if found := riding(asked, body):
            yield body, Mover(mover.name, found, mover.motion, mover.way)


def _arrivals(asked: Asked) -> Iterator[Mover]:
    for one in asked.build.assemblies:
        if not one.comes_in:
            continue
        hung = [o.name for o in asked.build.assemblies if o.stands_on.split(".")[0] == one.name and o.held_by]
        within = frozenset(name for each in (one.name, *hung) for name in asked.scene.inside(each))
        names = {part.name for part in asked.build.parts if part.assembly in within}
        names |= {item.name for item in asked.build.items if item.assembly in within}
        spots: list[Vector] = [(0.0, 0.0, 0.0)]
        for way, far in reversed(one.comes_in):
            spots.append(less(spots[-1], times(way, float(far))))
        bodies = tuple((name, s) for name, s in bodies_of(asked) if name in names and not s.is_empty)
        if bodies:
            path = Path(tuple(shifted(spot) for spot in spots))
            yield Mover(f"{one.name} on its way in", bodies, path, sum(float(far) for _, far in one.comes_in))


def motion_of(move: Move) -> Motion:
    """A move of the build as a motion of the room."""
    if move.kind == "slide":
        return Slide(times(move.way, float(move.far) if move.far else 0.0))
    axis: Vector = (float(move.axis == 0), float(move.axis == 1), float(move.axis == 2))
    about = move.about
    line = (float(about[0]), float(about[1]), float(about[2])) if about else (0.0, 0.0, 0.0)
    return Swing(axis, line, move.degrees[0], move.degrees[1])


def _way(move: Move) -> float:
    if move.kind == "slide":
        return float(move.far) if move.far else 0.0
    return abs(move.degrees[1] - move.degrees[0])


def swept(solid: Solid, motion: Motion) -> Bounds:
    """A box round a body on its whole way: round the corners of its own box, with what a swing bulges in between."""
    corners = np.array(list(product(*zip(*solid.bounds, strict=True))))
    steps, bulge = (len(motion.poses) - 1 if isinstance(motion, Path) else 1), 0.0
    if isinstance(motion, Swing):
        steps = max(1, ceil(abs(motion.end - motion.start) / STEP_DEGREES))
        bulge = (1 - cos(radians(STEP_DEGREES / 2))) * float(np.linalg.norm(corners - motion.about, axis=1).max())
    now = moments(motion, np.array([(step / steps, 0.0) for step in range(steps + 1)]))
    spots = corners @ now.turn.swapaxes(1, 2) + now.at[:, None]
    low, high = (spots.min(axis=(0, 1)) - bulge).tolist(), (spots.max(axis=(0, 1)) + bulge).tolist()
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def boxed(bounds: Iterable[Bounds]) -> Bounds:
    """One box round several."""
    return _round([corner for low_high in bounds for corner in low_high])


def _round(spots: list[Vector]) -> Bounds:
    low, high = (tuple(pick(spot[a] for spot in spots) for a in range(3)) for pick in (min, max))
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])
