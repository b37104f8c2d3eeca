"""Taking apart: from the finished piece, one thing after the other moved off along a straight way, in thought.

What has come apart once never hinders anything again. So whichever way one begins, a piece that can be taken apart at
all comes apart to the end; a set of bodies of which none, and no group, can leave the others on any way, is the proof
that it can't. Source: Wilson and Latombe, Geometric reasoning about mechanical assembly, 1994 (from memory): the graph
of what bars what, way by way. Which of all that is free comes off first is a matter of custom: see choosing.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from storystick.assembly.blocking import Mask
from storystick.assembly.choosing import choose, way_of
from storystick.assembly.kin import Web, bits
from storystick.assembly.reach import Reach
from storystick.ground.kept import Kept

type Stop = Callable[[], bool]


@dataclass(frozen=True, slots=True)
class Split:
    """Of the bodies `whole`, `moves` goes off along a way (by number) and leaves `rest`.

    broken  an assembly had to be opened for it while it was together with others
    """

    whole: Mask
    moves: Mask
    way: int
    broken: bool = False

    @property
    def rest(self) -> Mask:
        """What stays."""
        return self.whole & ~self.moves


@dataclass(frozen=True, slots=True)
class Apart:
    """How far it came apart: the splits from the finished piece on, and the sets that would not."""

    splits: dict[Mask, Split]
    stuck: tuple[Mask, ...]
    whole: bool


def take_apart(web: Web, present: Mask, stop: Stop | None = None) -> Apart:
    """Take everything apart; what can't be is left in one piece and told."""
    splits: dict[Mask, Split] = {}
    stuck: list[Mask] = []
    left = [present]
    while left:
        if stop is not None and stop():
            return Apart(splits, tuple(stuck), False)
        whole = left.pop()
        if whole.bit_count() < 2:
            continue
        split = split_of(web, whole)
        if split is None:
            stuck.append(whole)
        else:
            splits[whole] = split
            left += [split.rest, split.moves]
    return Apart(splits, tuple(stuck), True)


type First = tuple[Mask, tuple[int, ...], bool]  # what comes off, its ways, whether anything was opened

_FIRST: Kept[First | None] = Kept(1024)


def split_of(web: Web, whole: Mask) -> Split | None:
    """The first thing to come off; None where nothing can. What is glued up together stays together while it can."""
    first = _FIRST.of((web.mark, *web.seen_within(whole)), lambda: _first_of(web, whole))
    if first is None:
        return None
    moves, ways, broken = first
    return Split(whole, moves, way_of(web, whole, moves, ways), broken)


def _first_of(web: Web, whole: Mask) -> First | None:
    """The first thing to come off, by what holds and hinders what: how far anything goes makes no difference to it."""
    locks = locks_in(web, whole)
    wanted, before = 0, 0
    for level in range(-1, web.depth + 1):
        units = units_of(web, whole, level) if level >= 0 else glued_up(web, units_of(web, whole, 0))
        if len(units) == before:
            continue
        before = len(units)
        found = list(free_units(web, whole, units, locks))
        if found:
            near = [one for one in found if one[0] & wanted]
            return *choose(web, whole, near or found), level > 0
        wanted = wanted or _wanted(web, whole, units)
    return None


def glued_up(web: Web, units: Sequence[Mask]) -> tuple[Mask, ...]:
    """Units that glue or a trough holds together, as one."""
    of = {number: unit for unit in units for number in bits(unit)}
    whole = sum(units)
    for ends in web.firm:
        if ends & whole == ends:
            one, other = (of[number] for number in bits(ends))
            if one != other:
                of.update((number, one | other) for number in bits(one | other))
    return tuple(dict.fromkeys(of[number] for unit in units for number in bits(unit & -unit)))


def locks_in(web: Web, present: Mask) -> tuple[Reach, ...]:
    """The fasteners that no tool gets at while all those bodies are there: they hold what they hold."""
    return tuple(
        one for one in web.crossing if one.ends & present == one.ends and one.free(present) is None
    )


def free_units(
    web: Web, whole: Mask, units: Sequence[Mask], locks: Sequence[Reach]
) -> Iterator[tuple[Mask, int]]:
    """Every unit that can leave the others along a way; where there is none, every group of units that can."""
    if len(units) < 2:
        return
    tied = _tied(units, locks)
    barred = {(unit, way): barred_by(web, unit, way) & whole & ~unit for unit in units for way in range(len(web.ways))}
    single = [(u, w) for (u, w), mask in barred.items() if not mask and not tied[u]]
    yield from single
    if single:
        return
    seen = set()
    of = {number: unit for unit in units for number in bits(unit)}
    for way in range(len(web.ways)):
        for unit in units:
            group = _closed(unit, way, barred, tied, of)
            if group != whole and (group, way) not in seen:
                seen.add((group, way))
                yield group, way


def barred_by(web: Web, unit: Mask, way: int) -> Mask:
    """Every body that any of the unit would run into on a way."""
    row = web.hits[way]
    if unit & (unit - 1) == 0:
        return row[unit.bit_length() - 1]
    if (unit, way) not in web.barred:
        found = 0
        for number in bits(unit):
            found |= row[number]
        web.barred[unit, way] = found
    return web.barred[unit, way]


def _tied(units: Sequence[Mask], locks: Sequence[Reach]) -> dict[Mask, Mask]:
    """For each unit, the bodies outside that a fastener holds it to for now."""
    tied = dict.fromkeys(units, 0)
    for one in locks:
        for unit in units:
            if unit & one.ends and one.ends & ~unit:
                tied[unit] |= one.ends & ~unit
    return tied


def _closed(
    unit: Mask, way: int, barred: dict[tuple[Mask, int], Mask], tied: dict[Mask, Mask], of: dict[int, Mask]
) -> Mask:
    """What a unit takes along when it moves: what it runs into, what that runs into, and so on."""
    group, ask = unit, [unit]
    while ask:
        one = ask.pop()
        for number in bits((barred[one, way] | tied[one]) & ~group):
            if not group >> number & 1:
                group |= of[number]
                ask.append(of[number])
    return group


def _wanted(web: Web, whole: Mask, units: Sequence[Mask]) -> Mask:
    """The bodies that keep the blocks from coming apart: what keeps drivers off, and what is in the way."""
    found = 0
    for one in locks_in(web, whole):
        if not any(one.ends & unit == one.ends for unit in units):
            found |= one.in_the_way(whole)
    for unit in units:
        for way in range(len(web.ways)):
            found |= barred_by(web, unit, way) & whole & ~unit if not found else 0
    return found


def units_of(web: Web, whole: Mask, level: int) -> tuple[Mask, ...]:
    """The blocks that some bodies are made of; `level` is how many times blocks are opened into what they are made of.

    What lifts off or is pulled out stays one block until it is alone.
    """
    units = _blocks(web, whole)
    for _ in range(level):
        units = tuple(
            part
            for unit in units
            for part in ((unit,) if unit.bit_count() == 1 or _goes_whole(web, unit, whole) else _blocks(web, unit))
        )
    return units


def _goes_whole(web: Web, unit: Mask, whole: Mask) -> bool:
    return any(unit & ~block == 0 and whole & ~block for block in web.removable)


def _blocks(web: Web, whole: Mask) -> tuple[Mask, ...]:
    """The bodies of an assembly one by one, and each assembly inside it as one: of the outermost that has several."""
    name = ""
    while True:
        blocks = [mask for one in web.inside[name] if (mask := web.within[one] & whole)]
        own = [1 << number for number in web.own.get(name, ()) if whole >> number & 1]
        if len(blocks) == 1 and not own:
            name = next(one for one in web.inside[name] if web.within[one] & whole)
            continue
        return (*own, *blocks)
