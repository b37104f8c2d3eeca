"""Putting together: the order of taking apart turned round, with what is driven when, and what is one glue-up."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from storystick.assembly.apart import Apart, Split, take_apart
from storystick.assembly.blocking import Mask
from storystick.assembly.choosing import travel
from storystick.assembly.kin import Web, bits, web_of
from storystick.assembly.place import backwards, brought_in, too_big
from storystick.assembly.reach import Reach
from storystick.assembly.stuck import caught, smallest, told
from storystick.ground.kept import Kept, This
from storystick.model.build import Build
from storystick.model.scene import Scene
from storystick.model.sequence import AssemblyOrder, Coming, Driving, Hurried, Late, Stuck, Unreached
from storystick.shop.shop import Shop

MOST_SETS = 12
RESTS_ON = ("assemblies", "parts", "joints", "fasteners", "items", "moves")
"""All of a build that an order rests on, beside what stands around it: where these are the very same, so is it."""

_ORDERS: Kept[AssemblyOrder] = Kept(6)


def put_together(
    build: Build,
    scene: Scene,
    shop: Shop,
    *,
    tell: Callable[[str, float], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> AssemblyOrder:
    """An order in which everything comes in along a straight way and every fastener is reached; or what can't be.

    Ways are those along the axes of the assemblies. Everything is taken as it is when finished: nothing bends.
    """
    if not build.parts:
        return AssemblyOrder(())
    of_build = tuple(This(getattr(build, word)) for word in RESTS_ON)
    asked = (*of_build, tuple(map(This, build.site)), shop.drivers, shop.door)
    return _ORDERS.of(asked, lambda: _put_together(scene, shop, tell, stop), lambda order: order.whole)


def _put_together(
    scene: Scene, shop: Shop, tell: Callable[[str, float], None] | None, stop: Callable[[], bool] | None
) -> AssemblyOrder:
    if tell is not None:
        tell("what bars what", 0.0)
    web = web_of(scene, shop)
    if tell is not None:
        tell("taking apart", 0.5)
    apart = take_apart(web, web.all, stop)
    moments, unreached = _with_lone(web, _moments(web, apart))
    comings = _in_goes(web, moments)
    return AssemblyOrder(
        comings=comings,
        stuck=_stuck(web, apart),
        unreached=unreached,
        late=tuple(_late(web, apart)),
        hurried=tuple(_hurried(web, moments, comings)),
        brought=brought_in(web),
        too_big=too_big(web, shop),
        whole=apart.whole,
    )


@dataclass(frozen=True, slots=True)
class Moment:
    """A coming with its bodies as bits: what moves, and all that is together then."""

    coming: Coming
    moves: Mask
    whole: Mask


def _moments(web: Web, apart: Apart) -> list[Moment]:
    """Every coming, in order: what is there first, then what is made by itself, then the two to one another."""
    found: list[Moment] = []
    ask: list[tuple[Mask, Split | None]] = [(web.all, None)] if web.all else []
    while ask:
        mask, joins = ask.pop()
        split = apart.splits.get(mask)
        if joins is not None:
            found.append(_join(web, joins))
        elif split is not None:
            ask.append((mask, split))
            if split.moves.bit_count() > 1:
                ask.append((split.moves, None))
            ask.append((split.rest, None))
        else:
            there = Coming(web.names(mask), (), (0.0, 0.0, 0.0), 0.0, assembly=_assembly(web, mask))
            found.append(Moment(there, mask, mask))
    return found


def _join(web: Web, split: Split) -> Moment:
    moves, rest = split.moves, split.rest
    ties = web.crossing_ties(moves, rest)
    driven = [one for one in web.crossing if one.ends & moves and one.ends & rest]
    return Moment(
        Coming(
            moves=web.names(moves),
            meets=web.names(rest),
            way=backwards(web.ways[split.way]),
            far=travel(web, moves, rest, split.way),
            then=_driving(driven, split.whole),
            joints=tuple(tie.of.name for tie in ties),
            glued=any(tie.of.glued for tie in ties),
            assembly=_assembly(web, split.whole),
        ),
        moves,
        split.whole,
    )


def _driving(some: Sequence[Reach], present: Mask) -> tuple[Driving, ...]:
    by: dict[str, list[str]] = {}
    for one in some:
        by.setdefault(one.free(present) or "", []).append(one.of.name)
    return tuple(Driving(tuple(names), tool) for tool, names in by.items())


def _assembly(web: Web, mask: Mask) -> str:
    """The innermost assembly that has all of it; "" where none has."""
    inner = [name for name, within in web.within.items() if name and mask & ~within == 0]
    return inner[-1] if inner else ""


def _with_lone(web: Web, moments: list[Moment]) -> tuple[list[Moment], tuple[Unreached, ...]]:
    """With the fasteners of things that have no body: driven as late as they are reached, before what these carry."""
    carried = {item.name: web.within.get(item.carries, 0) for item in web.scene.build.items if item.carries}
    first: dict[int, list[Reach]] = {}
    then: dict[int, list[Reach]] = {}
    missed: dict[tuple[str, ...], list[str]] = {}
    for one in web.lone:
        on = carried.get(one.of.through, 0)
        hung = on if not on & one.ends else 0
        number = _last_reached(moments, one, hung)
        if number is not None:
            then.setdefault(number, []).append(one)
        elif one.free(one.ends) is not None:
            first.setdefault(_when_it_comes(moments, one.ends), []).append(one)
        else:
            missed.setdefault(web.names(one.in_the_way(one.ends)), []).append(one.of.name)
    done = [
        replace(
            each,
            coming=replace(
                each.coming,
                first=_driving(first.get(number, ()), each.moves if each.moves.bit_count() == 1 else 0),
                then=(*each.coming.then, *_driving(then.get(number, ()), each.whole)),
            ),
        )
        for number, each in enumerate(moments)
    ]
    return done, tuple(Unreached(tuple(names), by) for by, names in missed.items())


def _last_reached(moments: Sequence[Moment], one: Reach, hung: Mask) -> int | None:
    for number in range(len(moments) - 1, -1, -1):
        whole = moments[number].whole
        if one.ends & whole and not hung & whole and one.free(whole) is not None:
            return number
    return None


def _when_it_comes(moments: Sequence[Moment], body: Mask) -> int:
    return next(number for number, each in enumerate(moments) if each.moves & body)


def _in_goes(web: Web, moments: Sequence[Moment]) -> tuple[Coming, ...]:
    """Numbers for the goes: comings whose parts grip one another belong to one, the others to one each."""
    leader = list(range(len(moments)))

    def of(number: int) -> int:
        while leader[number] != number:
            number = leader[number]
        return number

    for number, each in enumerate(moments):
        for tie in web.crossing_ties(each.moves, each.whole & ~each.moves):
            if tie.grips or tie.between:
                other = bits(tie.ends & ~each.moves)[0]
                before = [n for n in range(number) if moments[n].moves >> other & 1 and _same(each, moments[n])]
                if before:
                    leader[of(number)] = of(before[-1])
    goes: dict[int, int] = {}
    return tuple(
        replace(each.coming, go=goes.setdefault(of(number), len(goes) + 1)) for number, each in enumerate(moments)
    )


def _hurried(web: Web, moments: Sequence[Moment], comings: Sequence[Coming]) -> Iterator[Hurried]:
    """What is fastened between two comings of one glue-up that it is no part of."""
    ends: dict[int, list[int]] = {}
    for number, one in enumerate(comings):
        ends.setdefault(one.go, []).append(number)
    open_from = {go: (some[0], some[-1]) for go, some in ends.items() if any(comings[n].glued for n in some)}
    for number, one in enumerate(comings):
        around = [go for go, (first, last) in open_from.items() if first < number < last and go != one.go]
        if not one.then or not any(comings[open_from[go][0]].assembly == one.assembly for go in around):
            continue
        names = {name for driving in one.then for name in driving.names}
        whole = web.within.get(one.assembly, web.all)
        mine = [each for each in web.crossing if each.of.name in names and each.free(whole) is None]
        by = 0
        for each in mine:
            by |= each.in_the_way(whole) & ~moments[number].whole
        if by:
            fasteners = tuple(each.of.name for each in mine)
            yield Hurried(one.moves[0], fasteners, web.names(by))


def _same(one: Moment, other: Moment) -> bool:
    first, second = one.coming.assembly, other.coming.assembly
    return first.startswith(second) or second.startswith(first)


def _stuck(web: Web, apart: Apart) -> tuple[Stuck, ...]:
    """Each smallest set; the one of each that holds to the fewest is then left out, to see whether there is another."""
    found: list[Mask] = []
    ask = list(apart.stuck)
    while ask and len(found) < MOST_SETS:
        whole = ask.pop(0)
        core = smallest(web, whole)
        found.append(core)
        least = min(bits(core), key=lambda number: (web.held_to[number].bit_count(), number))
        ask += take_apart(web, whole & ~(1 << least)).stuck
    return (*caught(web), *(told(web, core) for core in dict.fromkeys(found)))


def _late(web: Web, apart: Apart) -> Iterator[Late]:
    """Parts of an assembly that go on after it has met another that it could not meet when it was whole."""
    for split in apart.splits.values():
        if not split.broken:
            continue
        owner = _assembly(web, split.moves)
        whole = _assembly(web, split.whole)
        if not owner or owner == whole or any(split.moves & ~block == 0 for block in web.removable):
            continue
        others = [name for name in web.inside[whole] if web.within[name] & split.rest and name != owner]
        met = others[0] if others else whole
        for name in web.names(split.moves):
            yield Late(name, owner, met)
