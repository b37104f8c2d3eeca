"""Two at once: what moves may be open together with whatever else moves, of the piece or of the site."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from storystick.checks.moving import Mover, Named, drawers, leaves, riders, shapes_of, site_movers
from storystick.checks.saying import at_most, listed, mm, where
from storystick.checks.stated import moved_along
from storystick.ground.finding import Finding, Grade, Mend, Place
from storystick.ground.source import Source
from storystick.model.build import SiteBody
from storystick.model.check import Asked, Check
from storystick.shapes.motion import Carried, Motion, Path, Slide, Still, Swing, pose_at
from storystick.shapes.near import Overlap, gap, overlap
from storystick.shapes.pose import dot, shifted, times, unit
from storystick.shapes.solid import Bounds, Solid, boxes_apart, moved
from storystick.shapes.sweep import Least, least_gap

SOLIDS = Source("least distance between two things that move, each as far along its own way as it likes", "practice")
CLEAR_MM = 1.0  # what two things of the piece that are open together leave between them
SWEEP_MM = 0.25
LOOKS = 24
TOUCH_MM = 0.05


@dataclass(frozen=True, slots=True)
class Pair:
    """Two movers whose ways cross, with those of their bodies that do, and what is to be kept between them [mm]."""

    one: Mover
    other: Mover
    ones: tuple[Named, ...]
    others: tuple[Named, ...]
    keep: float

    def nearest(self, one: Motion, other: Motion) -> Least | None:
        """The nearest that they come with these motions, if it is under what is to be kept."""
        mine, theirs = [s for _, s in self.ones], [s for _, s in self.others]
        return least_gap(mine, theirs, one, SWEEP_MM, driven(other, 1), self.keep + SWEEP_MM)

    def is_near(self, one: Motion, other: Motion) -> bool:
        """Whether they come nearer than is to be kept."""
        return self._too_near([s for _, s in self.ones], [s for _, s in self.others], one, other) is not None

    def part(self, slide: Slide, start: float, end: float, other: Motion, mine: bool) -> Least | None:
        """Where they come too near while one slides from a share of its way to another and the other goes all its way.

        mine  whether the first of the two slides
        """
        out, rest = shifted(times(slide.by, start)), replace(slide, by=times(slide.by, end - start))
        ones, others = ([s for _, s in some] for some in (self.ones, self.others))
        if mine:
            return self._too_near([moved(solid, out) for solid in ones], others, rest, other)
        return self._too_near(ones, [moved(solid, out) for solid in others], other, rest)

    def _too_near(self, ones: list[Solid], others: list[Solid], one: Motion, other: Motion) -> Least | None:
        within, enough = self.keep + SWEEP_MM, self.keep * 0.999
        found = least_gap(ones, others, one, SWEEP_MM, driven(other, 1), within, enough=enough)
        return found if found is not None and found.gap < self.keep else None


@dataclass(frozen=True, slots=True)
class Hit:
    """Where two run into one another: shares of both ways, names of the two bodies, what they share."""

    when: tuple[float, float]
    names: tuple[str, str]
    shared: Overlap


def run(asked: Asked) -> Iterator[Finding]:
    """Each pair whose ways cross and of which neither hinders the other while that one is at rest."""
    free: list[str] = []
    crossing = list(pairs(asked))
    for pair, place in crossing:
        least = pair.nearest(pair.one.motion, pair.other.motion)
        if least is None or least.gap >= pair.keep:
            free.append(f"{pair.one.name} and {pair.other.name}")
        elif not _hinders_at_rest(pair):
            yield _finding(asked, pair, least, place)
    own = [*drawers(asked), *leaves(asked)]
    if not crossing and len(own) > 1 and not _one_way(own):
        said = f"None of {listed(mover.name for mover in own)} comes into the way of another."
        yield Finding(CHECK.code, Grade.FINE, asked.build.place, said, "", SOLIDS)
    yield from _carried(asked)
    if free:
        said = f"Open together they stay clear: {listed(free)}."
        yield Finding(CHECK.code, Grade.FINE, asked.build.place, said, "", SOLIDS)


def _carried(asked: Asked) -> Iterator[Finding]:
    """What opens in a piece that something of the site tilts or shifts: open and tilted, against all that stays."""
    opens = [*drawers(asked), *leaves(asked)]
    for carrier, ridden in riders(asked):
        stays = [b for b in asked.build.site if b is not carrier and not b.stays_free and b.move is None]
        still = [(body, shape) for body in stays for shape in shapes_of(body)]
        for mover in opens:
            if not still or not mover.names <= ridden.names:
                continue
            both = Carried(driven(ridden.motion, 1), mover.motion)
            hit = _worst_of(mover, still, both)
            if hit is None or _worst_of(mover, still, mover.motion) or _worst_of(mover, still, ridden.motion):
                continue  # one of them alone comes too near: that is told elsewhere
            yield _tilted_open(asked, mover, ridden, *hit)


def _worst_of(mover: Mover, still: list[tuple[SiteBody, Solid]], motion: Motion) -> tuple[Least, SiteBody] | None:
    """The nearest that it comes to what stays, where that is too near."""
    found: list[tuple[float, Least, SiteBody]] = []
    for body in dict.fromkeys(body for body, _ in still):
        shapes = [shape for other, shape in still if other is body]
        keep = max(CLEAR_MM, float(body.keep or 0))
        least = least_gap([s for _, s in mover.bodies], shapes, motion, SWEEP_MM, within=keep + SWEEP_MM)
        if least is not None and least.gap < keep:
            found.append((least.gap - keep, least, body))
    worst = min(found, key=lambda each: each[0], default=None)
    return worst and (worst[1], worst[2])


def _tilted_open(asked: Asked, mover: Mover, ridden: Mover, least: Least, body: SiteBody) -> Finding:
    manner, keep = asked.build.manner, max(CLEAR_MM, float(body.keep or 0))
    part = mover.bodies[least.bodies[0]][0]
    place = next((p.place for p in asked.build.parts if p.name in mover.names), asked.build.place)
    near = f"comes within {mm(least.gap, manner)} of" if least.gap > TOUCH_MM else "runs into"
    said = (
        f"{part} {near} {body.name} ({mover.name} {mover.after(least.when[0], manner)}, {ridden.name} "
        f"{ridden.after(least.when[1], manner)}), {where(least.at, manner)}; {mm(keep, manner)} is to be kept."
    )
    advice = f"Keep {mover.name} shut while {ridden.name} is moved, or give it a catch."
    numbers = (least.gap, keep, "mm", (part, body.name))
    return Finding(CHECK.code, Grade.CARE, place, said, advice, SOLIDS, *numbers)


def _one_way(movers: Sequence[Mover]) -> bool:
    """Whether all of them slide the same way, as the drawers of one case: then nobody asks."""
    slides = [unit(mover.motion.by) for mover in movers if isinstance(mover.motion, Slide) and mover.way]
    return len(slides) == len(movers) and all(dot(slides[0], one) > 0.999 for one in slides)


def pairs(asked: Asked) -> Iterator[tuple[Pair, Place]]:
    """Two movers of the piece, or one of it and one of the site, whose boxes cross on their ways."""
    own = [*drawers(asked), *leaves(asked)]
    if not own:
        return
    site = [(body, mover) for body, mover in site_movers(asked) if not body.stays_free]
    places = {part.name: part.place for part in asked.build.parts}
    asked_for = [(a, b, CLEAR_MM) for a, b in combinations(own, 2)]
    asked_for += [(a, b, max(CLEAR_MM, float(body.keep or 0))) for body, b in site for a in own]
    for one, other, keep in asked_for:
        if one.names & other.names or boxes_apart(one.whole, other.whole) > keep:
            continue
        ones, others = _near(one, other.whole, keep), _near(other, one.whole, keep)
        if ones and others:
            place = next((places[name] for name, _ in one.bodies if name in places), asked.build.place)
            yield Pair(one, other, ones, others, keep), place


def driven(motion: Motion, drive: int) -> Motion:
    """The same motion on a drive of its own, so that it goes as it likes."""
    return replace(motion, drive=drive) if isinstance(motion, Swing | Slide | Path) else motion


def _near(mover: Mover, box: Bounds, keep: float) -> tuple[Named, ...]:
    """Those of its bodies that get that near to a box on their way."""
    return tuple(one for one, way in zip(mover.bodies, mover.ways, strict=True) if boxes_apart(way, box) <= keep)


def _hinders_at_rest(pair: Pair) -> bool:
    """Whether one is in the other's way while it is at rest, or they are near when shut: other checks tell of that."""
    return pair.is_near(pair.one.motion, Still()) or pair.is_near(Still(), pair.other.motion)


def _finding(asked: Asked, pair: Pair, least: Least, place: Place) -> Finding:
    manner, (one, other) = asked.build.manner, (pair.one, pair.other)
    hit = first_hit(pair) if least.gap <= TOUCH_MM else None
    advice = f"Open one of them at a time{_stopped(asked, pair, least)}."
    if hit is None:
        i, j = least.bodies
        names = (pair.ones[i][0], pair.others[j][0])
        near = f"comes within {mm(least.gap, manner)} of" if least.gap > TOUCH_MM else "brushes"
        said = (
            f"{names[0]} {near} {names[1]} ({one.name} "
            f"{one.after(least.when[0], manner)}, {other.name} {other.after(least.when[1], manner)}), "
            f"{where(least.at, manner)}; {mm(pair.keep, manner)} is to be kept."
        )
        tries = tuple(_apart(asked, pair))
        return Finding(
            CHECK.code, Grade.CARE, place, said, advice, SOLIDS, least.gap, pair.keep, "mm", names, None, tries
        )  # fmt: skip
    deep = hit.shared.thickness
    said = (
        f"Open together, {hit.names[0]} runs into {hit.names[1]} ({one.name} {one.after(hit.when[0], manner)}, "
        f"{other.name} {other.after(hit.when[1], manner)}), {mm(deep, manner)} deep, {where(hit.shared.at, manner)}."
    )
    tries = tuple(_apart(asked, pair))
    return Finding(CHECK.code, Grade.CARE, place, said, advice, SOLIDS, -deep, pair.keep, "mm", hit.names, None, tries)


def _apart(asked: Asked, pair: Pair) -> Iterator[Mend]:
    """Either of two pieces of the plan moved out of the other's whole way, along the axis on which that is shortest."""
    one, other = pair.one.whole, pair.other.whole
    for mover, mine, theirs in ((pair.other, other, one), (pair.one, one, other)):
        names = {part.assembly for part in asked.build.parts if part.name in mover.names}
        outer = {_outermost(asked, name) for name in names}
        if len(outer) != 1:
            continue
        at = asked.build.assembly(outer.pop()).at
        ways = [(theirs[1][a] - mine[0][a], a) for a in (0, 1)] + [(theirs[0][a] - mine[1][a], a) for a in (0, 1)]
        for by, axis in sorted(ways, key=lambda way: abs(way[0]))[:2]:
            way = (float(axis == 0), float(axis == 1), 0.0)
            room = pair.keep + SWEEP_MM  # a way is known no closer than that
            yield from moved_along(at, way, by + (room if by > 0 else -room), asked.build.manner)


def _outermost(asked: Asked, name: str) -> str:
    while outer := asked.build.assembly(name).inside_of:
        name = outer
    return name


def first_hit(pair: Pair) -> Hit | None:
    """The first that is seen of two running into one another, looking at even steps of both ways."""
    placed = [(s / LOOKS, _placed(pair.ones, pair.one.motion, s / LOOKS)) for s in range(LOOKS + 1)]
    others = [(s / LOOKS, _placed(pair.others, pair.other.motion, s / LOOKS)) for s in range(LOOKS + 1)]
    for share, mine in placed:
        for far, theirs in others:
            for name, solid in mine:
                for other, body in theirs:
                    if boxes_apart(solid.bounds, body.bounds) > 0 or gap(solid, body, TOUCH_MM) is None:
                        continue
                    if shared := overlap(solid, body):
                        return Hit((share, far), (name, other), shared)
    return None


def _placed(bodies: Sequence[Named], motion: Motion, share: float) -> list[tuple[str, Solid]]:
    pose = pose_at(motion, (share, 0.0))
    return [(name, moved(solid, pose)) for name, solid in bodies]


def _stopped(asked: Asked, pair: Pair, least: Least) -> str:
    """How far a drawer may come out so that the other may do as it likes; the one that keeps more of its way."""
    found = []
    for mover, other, mine in ((pair.one, pair.other, True), (pair.other, pair.one, False)):
        if isinstance(mover.motion, Slide) and mover.way:
            way = safe_way(pair, mover.motion, other.motion, mover.way, mine, least.when[0 if mine else 1])
            found.append((way / mover.way, f", or stop {mover.name} after {at_most(way, asked.build.manner)}"))
    return max(found)[1] if found else ""


def safe_way(pair: Pair, slide: Slide, other: Motion, way: float, mine: bool, bad: float = 1.0) -> float:
    """The longest way of a slide that stays clear of all the other's way [mm], by halving; on the safe side.

    bad  a share of the slide that is known not to be clear
    """
    good = 0.0
    while (bad - good) * way > 0.5:
        middle = (good + bad) / 2
        near = pair.part(slide, good, middle, other, mine)
        if near is None:
            good = middle
        else:  # so far out it is too near, be that farther in than the middle or just there
            bad = min(middle, good + near.when[0 if mine else 1] * (middle - good))
    return good * way


CHECK = Check(
    "two-at-once",
    "Can two things that move be open together: two drawers, a door and a drawer, a lid and what swings at the site?",
    run,
    SOLIDS,
    looks="bodies",
)
