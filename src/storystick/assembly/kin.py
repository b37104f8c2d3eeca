"""What holds to what: the web of bodies, what hinders each, the joints and the assemblies between them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache

import numpy as np

from storystick.assembly.blocking import Mask, hits
from storystick.assembly.bodies import Body, bodies_of, site_of, ways_of
from storystick.assembly.reach import Reach, reaches
from storystick.ground.kept import Kept
from storystick.model.joining import Joined
from storystick.model.scene import Scene
from storystick.shapes.pose import Vector, direct, dot
from storystick.shop.shop import Shop

_MARKS: Kept[object] = Kept(16)


@dataclass(frozen=True, slots=True)
class Tie:
    """A joint between two bodies: by number; the ways (by number) it opens along, those it would have to slide along.

    grips  the host holds the guest from both sides, as a trough does
    between the guest is glued between this host and one across from it: they close over it together
    """

    of: Joined
    host: int
    guest: int
    opens: frozenset[int]
    slides: frozenset[int]
    grips: bool
    between: bool
    ends: Mask  # both bodies


@dataclass(frozen=True, eq=False)
class Web:
    """All bodies of a build by number, and what each way of each is barred by (`hits[way][body]`, bits)."""

    scene: Scene
    bodies: tuple[Body, ...]
    ways: tuple[Vector, ...]
    hits: list[list[Mask]]
    reach: tuple[Reach, ...]
    ties: tuple[Tie, ...]
    site: tuple[Body, ...] = ()
    site_hits: list[list[Mask]] = field(default_factory=list)  # of the same shape: what of the site is in the way
    barred: dict[tuple[Mask, int], Mask] = field(default_factory=dict)
    partnered: dict[Mask, Mask] = field(default_factory=dict)

    @property
    def all(self) -> Mask:
        """Every body."""
        return (1 << len(self.bodies)) - 1

    @cached_property
    def mark(self) -> object:
        """One and the same for all webs of as many bodies in the same assemblies, held by the same joints and screws.

        What hinders what may differ between these: `seen_within` tells.
        """
        assemblies = tuple((one.name, one.inside_of, one.removable) for one in self.scene.build.assemblies)
        bodies = tuple((body.assembly, body.item is None) for body in self.bodies)
        ties = tuple((t.host, t.guest, t.opens, t.slides, t.grips, t.between, t.of.glued) for t in self.ties)
        return _MARKS.of((assemblies, bodies, ties, self.holds, len(self.ways)), object)

    @cached_property
    def _rows(self) -> tuple[tuple[Mask, ...], ...]:
        """What each body is barred by, on one way after the other."""
        return tuple(zip(*self.hits, strict=True))

    def seen_within(self, whole: Mask) -> tuple[object, ...]:
        """These bodies, what each of them is barred by among them, and what keeps which driver from their fasteners."""
        barred = tuple([mask & whole for number in bits(whole) for mask in self._rows[number]])
        driven = tuple([
            (one.ends, *[mask & whole for mask in one.blocked])
            for one in self.crossing
            if one.ends & whole == one.ends
        ])  # fmt: skip
        return whole, barred, driven

    @cached_property
    def within(self) -> dict[str, Mask]:
        """The bodies of each assembly, with those of the assemblies inside it; "" is everything."""
        found: dict[str, Mask] = {"": self.all}
        for one in self.scene.build.assemblies:
            names = self.scene.inside(one.name)
            found[one.name] = sum(1 << n for n, body in enumerate(self.bodies) if body.assembly in names)
        return found

    @cached_property
    def own(self) -> dict[str, list[int]]:
        """The bodies of each assembly alone."""
        found: dict[str, list[int]] = {one.name: [] for one in self.scene.build.assemblies}
        for number, body in enumerate(self.bodies):
            found[body.assembly].append(number)
        return found

    @cached_property
    def inside(self) -> dict[str, list[str]]:
        """The assemblies directly inside each; those of "" are the plan's own entries."""
        found: dict[str, list[str]] = {"": []}
        for one in self.scene.build.assemblies:
            found.setdefault(one.inside_of, []).append(one.name)
            found.setdefault(one.name, [])
        return found

    @cached_property
    def depth(self) -> int:
        """How deep assemblies lie in one another, and one more for the bodies."""
        names = self.scene.build.assemblies_by_name
        deepest = 0
        for name in names:
            deep, one = 1, name
            while names[one].inside_of:
                one, deep = names[one].inside_of, deep + 1
            deepest = max(deepest, deep)
        return deepest

    @cached_property
    def removable(self) -> tuple[Mask, ...]:
        """The bodies of each assembly that lifts off or is pulled out: it comes as a whole."""
        return tuple(
            self.within[one.name]
            for one in self.scene.build.assemblies
            if one.removable and self.within[one.name] != self.all and self.within[one.name]
        )

    @cached_property
    def swinging(self) -> tuple[Mask, ...]:
        """The bodies of each assembly that swings: a door, a lid."""
        names = [name for move in self.scene.build.moves if move.kind == "swing" for name in move.names]
        return tuple(self.within[name] for name in names if name in self.within)

    @cached_property
    def crossing(self) -> tuple[Reach, ...]:
        """The fasteners that hold one body to another."""
        return tuple(one for one in self.reach if one.ends.bit_count() == 2)

    @cached_property
    def lone(self) -> tuple[Reach, ...]:
        """The fasteners that hold something without a body of its own, such as a slide."""
        return tuple(one for one in self.reach if one.ends.bit_count() == 1)

    @cached_property
    def holds(self) -> tuple[Mask, ...]:
        """Every two bodies that a joint or a fastener holds together, and every thing with what it is fixed to."""
        numbers = {body.name: number for number, body in enumerate(self.bodies)}
        fixed = [
            1 << n | 1 << numbers[on]
            for n, body in enumerate(self.bodies)
            if body.item is not None
            for on in body.item.on
            if on in numbers
        ]
        return tuple(dict.fromkeys([*(t.ends for t in self.ties), *(one.ends for one in self.crossing), *fixed]))

    @cached_property
    def ties_of(self) -> tuple[tuple[Tie, ...], ...]:
        """The joints of each body."""
        found: list[list[Tie]] = [[] for _ in self.bodies]
        for tie in self.ties:
            for number in dict.fromkeys((tie.host, tie.guest)):
                found[number].append(tie)
        return tuple(tuple(some) for some in found)

    def crossing_ties(self, moves: Mask, rest: Mask) -> list[Tie]:
        """The joints between two sets of bodies that have none in common."""
        few, many = (moves, rest) if moves.bit_count() <= rest.bit_count() else (rest, moves)
        return [tie for number in bits(few) for tie in self.ties_of[number] if tie.ends & many]

    @cached_property
    def firm(self) -> tuple[Mask, ...]:
        """Every two bodies that glue or a trough holds together."""
        return tuple(dict.fromkeys(tie.ends for tie in self.ties if tie.of.glued or tie.grips))

    @cached_property
    def ends_along(self) -> tuple[tuple[tuple[float, float], ...], ...]:
        """For each way, where each body begins and ends along it [mm]."""
        low = np.array([body.bounds[0] for body in self.bodies])
        high = np.array([body.bounds[1] for body in self.bodies])
        found = []
        for way in self.ways:
            line = np.array(way)
            first, last = np.where(line > 0, low, high) @ line, np.where(line > 0, high, low) @ line
            found.append(tuple(zip(first.tolist(), last.tolist(), strict=True)))
        return tuple(found)

    @cached_property
    def held_to(self) -> tuple[Mask, ...]:
        """For each body, what anything holds it to, itself with it."""
        found = [1 << number for number in range(len(self.bodies))]
        for ends in self.holds:
            for number in bits(ends):
                found[number] |= ends
        return tuple(found)

    def partners(self, some: Mask) -> Mask:
        """What anything holds some bodies to, themselves with it."""
        found = self.partnered.get(some)
        if found is None:
            found = some
            for number in bits(some):
                found |= self.held_to[number]
            self.partnered[some] = found
        return found

    def names(self, mask: Mask) -> tuple[str, ...]:
        """The names of some bodies, in their order."""
        return tuple(self.bodies[n].name for n in bits(mask))


@lru_cache(maxsize=8192)
def bits(mask: Mask) -> tuple[int, ...]:
    """The numbers of the bodies in a set, the least first."""
    found = []
    while mask:
        low = mask & -mask
        found.append(low.bit_length() - 1)
        mask ^= low
    return tuple(found)


def web_of(scene: Scene, shop: Shop) -> Web:
    """Everything that is looked at, reckoned once."""
    bodies, ways, site = bodies_of(scene), ways_of(scene), site_of(scene)
    seen = hits((*bodies, *site), ways)
    every = (1 << len(bodies)) - 1
    barred = [[mask & every for mask in row[: len(bodies)]] for row in seen]
    there = [[mask >> len(bodies) for mask in row[: len(bodies)]] for row in seen]
    numbers = {body.name: number for number, body in enumerate(bodies)}
    _parted(scene, barred, ways, numbers)
    ties = tuple(_ties(scene, numbers, ways, barred))
    return Web(scene, bodies, ways, barred, reaches(scene, bodies, shop), ties, site, there)


def _parted(scene: Scene, barred: list[list[Mask]], ways: Sequence[Vector], numbers: dict[str, int]) -> None:
    """Two boards with a dowel between them part along the dowel only."""
    for one in scene.build.fasteners:
        if one.kind == "dowel" and one.through in numbers and one.into in numbers:
            line = direct(scene.poses[one.assembly], one.way)
            a, b = numbers[one.through], numbers[one.into]
            for number, way in enumerate(ways):
                if abs(dot(line, way)) < 1 - 1e-6:
                    barred[number][a] |= 1 << b
                    barred[number][b] |= 1 << a


def _ties(scene: Scene, numbers: dict[str, int], ways: Sequence[Vector], barred: list[list[Mask]]) -> Iterator[Tie]:
    glued: dict[str, set[tuple[int, int]]] = {}
    for joint in scene.build.joints:
        if joint.glued:
            glued.setdefault(joint.guest, set()).add((joint.axis, joint.sign))
    for joint in scene.build.joints:
        host, guest = numbers.get(joint.host), numbers.get(joint.guest)
        if host is None or guest is None:
            continue
        pose = scene.poses[scene.build.part(joint.host).assembly]
        axis = [0.0, 0.0, 0.0]
        axis[joint.axis] = 1.0
        line = direct(pose, (axis[0], axis[1], axis[2]))
        opens = frozenset(n for n, way in enumerate(ways) if abs(dot(line, way)) > 1 - 1e-6)
        held = [n for n in range(0, len(ways), 2) if all(barred[k][guest] >> host & 1 for k in (n, n + 1))]
        across = [n for n in held if n not in opens]
        slides = frozenset(
            n for n in range(len(ways)) if n not in opens and any(abs(dot(ways[n], ways[e])) < 1e-6 for e in across)
        )
        between = joint.glued and glued[joint.guest] == {(joint.axis, 1), (joint.axis, -1)}
        yield Tie(joint, host, guest, opens, slides, bool(across), between, 1 << host | 1 << guest)
