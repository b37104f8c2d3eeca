"""The smallest set that can't be put together, and why: what bars each of it on each way, what no driver gets at."""

from collections.abc import Iterator, Sequence
from itertools import combinations

from storystick.assembly.apart import barred_by, free_units, locks_in, take_apart, units_of
from storystick.assembly.blocking import Mask
from storystick.assembly.kin import Web, bits
from storystick.model.sequence import Hindrance, Stuck

LOOKS = 4000
"""Sets looked at, the smallest first, before the search goes on by leaving one out at a time."""


def smallest(web: Web, whole: Mask) -> Mask:
    """A set of bodies of `whole` of which none, and no group, can leave the others; smallest where `LOOKS` allow it."""
    units = units_of(web, whole, 9)
    looked = 0
    for size in range(2, min(5, len(units) + 1)):
        for some in combinations(units, size):
            looked += 1
            if looked > LOOKS:
                return _thinned(web, whole)
            mask = sum(some)
            if not any(True for _ in free_units(web, mask, some, locks_in(web, mask))):
                return mask
    return _thinned(web, whole)


def _thinned(web: Web, whole: Mask) -> Mask:
    """Leave one out after the other, as long as what is left still can't be put together."""
    core = whole
    for unit in units_of(web, whole, 9):
        if core & unit:
            apart = take_apart(web, core & ~unit)
            if apart.stuck:
                core = min(apart.stuck, key=lambda mask: mask.bit_count())
    return core


def told(web: Web, core: Mask) -> Stuck:
    """The set with the reasons: what of it bars each of it on each way, and which fasteners no driver reaches."""
    return Stuck(web.names(core), tuple(_because(web, core)))


def caught(web: Web) -> Iterator[Stuck]:
    """What lifts off or is pulled out, but can't leave the finished piece, though everything else that can has left.

    Doors and lids stand open meanwhile; whether they are out of the way then is told where drawers are drawn past them.
    """
    loose = 0
    for block in (*web.removable, *web.swinging):
        loose |= block
    for one in web.scene.build.assemblies:
        block = web.within[one.name]
        if not one.removable or block not in web.removable:
            continue
        rest = web.all & ~loose & ~block
        barred = [barred_by(web, block, way) & rest for way in range(len(web.ways))]
        if rest and all(barred):
            few = _fewest(barred)
            because = [
                Hindrance("way", one.name, web.names(mask & few), web.ways[way]) for way, mask in enumerate(barred)
            ]
            yield Stuck(web.names(block | few), tuple(because), one.name)


def _fewest(barred: Sequence[Mask]) -> Mask:
    """The fewest bodies of which every way has one in it."""
    every = 0
    for mask in barred:
        every |= mask
    for size in range(1, 4):
        for some in combinations(bits(every), size):
            few = sum(1 << number for number in some)
            if all(mask & few for mask in barred):
                return few
    return every


def _because(web: Web, core: Mask) -> Iterator[Hindrance]:
    for one in locks_in(web, core):
        ends = web.names(one.ends)
        yield Hindrance("driver", ends[0], web.names(one.in_the_way(core)), one.way, one.of.name)
    for unit in units_of(web, core, 9):
        for number, way in enumerate(web.ways):
            barred = barred_by(web, unit, number) & core & ~unit
            if barred:
                yield Hindrance("way", web.names(1 << bits(unit)[0])[0], web.names(barred), way)
