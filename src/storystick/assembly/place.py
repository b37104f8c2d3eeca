"""Is what is finished brought to its place along a straight way, and does each part go through the shop's door."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from storystick.assembly.blocking import Mask
from storystick.assembly.kin import Web, bits
from storystick.model.sequence import BroughtIn
from storystick.shapes.pose import Vector
from storystick.shop.shop import Shop


def backwards(way: Vector) -> Vector:
    """The opposite way."""
    return (0.0 - way[0], 0.0 - way[1], 0.0 - way[2])


def brought_in(web: Web) -> tuple[BroughtIn, ...]:
    """Each finished thing in the order of the plan, against the site and what was brought before it."""
    return tuple(_brought(web)) if web.site else ()


def _brought(web: Web) -> Iterator[BroughtIn]:
    there = 0
    for names in _wholes(web):
        mask = 0
        for name in names:
            mask |= web.within[name]
        if not mask:
            continue
        rolls = any(one.swivels > 0 for one in web.scene.build.assemblies if one.name in _inside(web, names))
        free, hindered = [], []
        for off in range(6):  # the way it would go off again is the opposite of the way it comes
            way = web.ways[off]
            if way[2] < 0 or (rolls and way[2] != 0):
                continue
            by = _in_the_way(web, mask, there, off)
            comes = backwards(way)
            if by:
                hindered.append((comes, by))
            else:
                free.append(comes)
        there |= mask
        yield BroughtIn(names, rolls, tuple(free), tuple(hindered))


def _in_the_way(web: Web, mask: Mask, there: Mask, off: int) -> tuple[str, ...]:
    site = bodies = 0
    for number in bits(mask):
        site |= web.site_hits[off][number]
        bodies |= web.hits[off][number]
    return (*(web.site[n].name for n in bits(site)), *web.names(bodies & there))


def _inside(web: Web, names: Sequence[str]) -> set[str]:
    return {inner for name in names for inner in web.scene.inside(name)}


def _wholes(web: Web) -> list[tuple[str, ...]]:
    """The plan's own entries; those that fasteners or joints hold together go as one, unless they lift off."""
    names = [name for name in web.inside[""] if web.within[name]]
    group = {name: name for name in names}
    fixed = [one.ends for one in web.crossing] + [tie.ends for tie in web.ties]
    loose = {one.name for one in web.scene.build.assemblies if one.removable}
    for ends in fixed:
        held = [name for name in names if web.within[name] & ends]
        if len(held) == 2 and not loose & set(held):
            old, new = group[held[1]], group[held[0]]
            group = {name: new if leader == old else leader for name, leader in group.items()}
    return [tuple(n for n in names if group[n] == leader) for leader in dict.fromkeys(group[n] for n in names)]


def too_big(web: Web, shop: Shop) -> tuple[str, ...]:
    """Parts that the shop's door does not let through, turned the best way."""
    if shop.door is None:
        return ()
    narrow, tall = sorted(shop.door)
    return tuple(part.name for part in web.scene.build.parts if not _goes_through(part.size, narrow, tall))


def _goes_through(size: Sequence[object], narrow: Fraction, tall: Fraction) -> bool:
    least, middle, _ = sorted(Fraction(side.value) for side in size)  # type: ignore[attr-defined]
    return least <= narrow and middle <= tall
