"""The part that takes up what the others are off by: it is cut last, and to what they really are.

A case is as wide as its bottom is long, less two dadoes, and two sides. Once the sides have their dadoes, the bottom
alone can still make the case as wide as planned. Which part that is follows from how each room really comes about.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from storystick.ground.dim import Dim, walk
from storystick.model.judged import Judged, judge
from storystick.model.made import Made, as_reckoned, is_fixed
from storystick.model.part import Part

NOTHING = Fraction(1, 10**6)
"""Less than a millionth of a millimetre is nothing to take up [mm]."""


@dataclass(frozen=True, slots=True)
class Closer:
    """A size that alone can still make a room come out as planned.

    number   the size;  room  what is to come out right
    by       how much the size has to change for that [mm];  others  parts that come before it
    """

    number: str
    part: str
    room: str
    by: Fraction
    others: tuple[str, ...]


def closers(made: Made) -> tuple[Closer, ...]:
    """Every size that isn't cut and can still put a room right; what lies outermost comes first."""
    made = replace(made, to_measure=False)  # a part that is cut to fit, as it is printed now
    found: dict[str, Closer] = {}
    sizes = {dim.name: part for part in made.build.parts for dim in part.size[:2] if dim.name}
    for room in _outermost_first(made):
        page = made.build.pages[room]
        truth = made.build.truths[room]
        moves = made.moves(truth)
        one_to_one = [name for name, weight in moves.items() if name in sizes and abs(abs(weight) - 1) < 1e-9]
        open_to = [name for name in moves if name in sizes and not is_fixed(made.build.pages[name])]
        off = page.value - made.as_made(truth).value
        if not is_fixed(page) and len(open_to) == 1 and open_to == [name for name in one_to_one if name in open_to]:
            found.setdefault(open_to[0], _closer(made, room, open_to[0], sizes[open_to[0]], moves, off))
        if len(one_to_one) == 1:
            for number, part, own, by in _twins(made, one_to_one[0], sizes, moves):
                found.setdefault(number, _closer(made, room, number, part, own, off - by))
    return tuple(found.values())


def _closer(made: Made, room: str, number: str, part: Part, moves: Mapping[str, float], off: Fraction) -> Closer:
    others = dict.fromkeys(_owner(made, name) for name in moves)
    by = off if moves[number] > 0 else -off
    return Closer(number, part.name, room, by, tuple(one for one in others if one not in ("", part.name)))


def _twins(
    made: Made, number: str, sizes: Mapping[str, Part], moves: Mapping[str, float]
) -> Iterator[tuple[str, Part, Mapping[str, float], Fraction]]:
    """Boards that go between the same others in the same way: a top over its bottom, a box's back behind its front.

    Each with its size, the numbers that its own room comes about from, and how much wider that room is [mm].
    """
    pages, first = made.build.pages, sizes[number]
    axis = [dim.name for dim in first.size].index(number)
    short = first.name.rsplit(".", 1)[-1]
    for part in made.build.parts:
        size = part.size[axis]
        alike = part.assembly == first.assembly and part.lies == first.lies and part is not first
        if not alike or is_fixed(size) or as_reckoned(size).value != as_reckoned(first.size[axis]).value:
            continue
        word = part.name.rsplit(".", 1)[-1]
        named = [
            (name, name.replace(f".{short} in ", f".{word} in ").replace(f"{first.name}.", f"{part.name}."), weight)
            for name, weight in moves.items()
        ]
        if all(own in pages for _, own, _ in named):
            apart = (Fraction(round(weight)) * (pages[own].value - pages[name].value) for name, own, weight in named)
            yield size.name, part, {own: weight for _, own, weight in named}, sum(apart, Fraction(0))


WORTH = 0.02
"""A part whose fits go wrong in fewer builds than this is not worth waiting for a dry fit."""


@dataclass(frozen=True, slots=True)
class ToFit:
    """A part that is printed as it will be cut at once, and had better be cut when the rest stands dry.

    printed, fitted  the chance that one of its fits goes wrong: cut to the print, and taken off what stands
    """

    part: str
    fits: tuple[str, ...]
    printed: float
    fitted: float


def better_to_fit(made: Made, judged: Sequence[Judged]) -> Iterator[ToFit]:
    """Parts that aren't cut yet and would go wrong less than half as often if they were cut to fit."""
    for part in made.build.parts:
        sizes = {dim.name for dim in part.size[:2] if dim.name and not is_fixed(dim)}
        if part.fit_to or not sizes:
            continue
        mine = [
            one for one in judged
            if one.fit.goes_in == part.name and one.trouble >= WORTH
            and sizes & made.moves(as_reckoned(one.fit.gap)).keys()
        ]  # fmt: skip
        if not mine:
            continue
        fitted = judge(made.cut_to_fit(part), [one.fit for one in mine])
        before, after = (max(one.trouble for one in some) for some in (mine, fitted))
        if after < before / 2:
            yield ToFit(part.name, tuple(one.fit.name for one in mine), before, after)


def _owner(made: Made, number: str) -> str:
    return next((part.name for part in made.build.parts if number.startswith(f"{part.name}.")), "")


def _outermost_first(made: Made) -> Iterator[str]:
    """Rooms by name, none before those that it is reckoned from."""
    rests = {name: _rooms_under(made.build.pages[name], made.build.truths, name) for name in made.build.truths}
    waiting = list(rests)
    told: set[str] = set()
    while waiting:
        free = [name for name in waiting if rests[name] <= told] or waiting[:1]
        yield from free
        told |= {*free}
        waiting = [name for name in waiting if name not in told]


def _rooms_under(page: Dim, truths: Mapping[str, Dim], own: str) -> frozenset[str]:
    return frozenset(one.name for one in walk(page) if one.name in truths and one.name != own)


def turns(made: Made) -> tuple[tuple[str, ...], ...]:
    """Names of all parts, in turns: each after those whose errors it takes up or whose sizes it follows.

    Parts that are cut to fit come when all else stands. Within a turn no part hangs on another.
    """
    after: dict[str, set[str]] = {part.name: {*_follows(made, part)} - {part.name} for part in made.build.parts}
    for one in closers(made):
        after[one.part] |= {*one.others}
    standing = {part.name for part in made.build.parts if not part.fit_to}
    for part in made.build.parts:
        if part.fit_to:
            after[part.name] |= standing
    found: list[tuple[str, ...]] = []
    waiting, done = list(after), set[str]()
    while waiting:
        free = tuple(name for name in waiting if after[name] <= done) or (waiting[0],)
        found.append(free)
        done |= {*free}
        waiting = [name for name in waiting if name not in done]
    return tuple(found)


def _follows(made: Made, part: Part) -> Iterator[str]:
    """Parts whose sizes are reckoned into this one's length or width, by way of the rooms that they make."""
    for size in part.size[:2]:
        for one in walk(size):
            if one.name in made.build.truths and part.name not in one.name:
                for name in made.moves(made.build.truths[one.name]):
                    yield _owner(made, name)
