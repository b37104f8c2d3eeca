"""Which of all that is free comes off first, and so goes on last: the custom of the trade, as a few plain rules."""

from collections.abc import Sequence

from storystick.assembly.blocking import Mask
from storystick.assembly.kin import Tie, Web, bits
from storystick.ground.source import practice

CUSTOM = practice(
    "cases are glued up from the inside out, sides over what is between them; then what closes them, then what is "
    "screwed on, then hardware; drawers, loose shelves and tops go in last"
)

type Free = tuple[Mask, int]


def choose(web: Web, whole: Mask, found: Sequence[Free]) -> tuple[Mask, tuple[int, ...]]:
    """The one to take, and the ways that it could go. Source: CUSTOM."""
    ways: dict[Mask, list[int]] = {}
    for moves, way in found:
        ways.setdefault(moves, []).append(way)
    first = min(ways, key=lambda moves: _order(web, whole, moves, ways[moves]))
    return first, tuple(ways[first])


def way_of(web: Web, whole: Mask, moves: Mask, ways: Sequence[int]) -> int:
    """The way that it goes, of those that it could. Source: CUSTOM."""
    return ways[0] if len(ways) == 1 else min(ways, key=lambda way: _way_order(web, moves, whole & ~moves, way))


def _order(web: Web, whole: Mask, moves: Mask, ways: Sequence[int]) -> tuple[int, ...]:
    rest = whole & ~moves
    ties = web.crossing_ties(moves, rest)
    glued = [tie for tie in ties if tie.of.glued]
    dragged = min(sum(way in tie.slides for tie in glued) for way in ways)
    against = min(sum(way not in tie.opens for tie in glued) for way in ways)
    large = moves.bit_count() > rest.bit_count()
    between = any(tie.between and 1 << tie.guest & moves for tie in glued)
    rank = _rank(web, moves, rest, ties, dragged > 0 or (against > 0 and between))
    in_two = rank > 3 and pieces(web, rest) > pieces(web, whole)
    return (large, in_two, rank, -len(glued), against, moves.bit_count(), -moves.bit_length())


def pieces(web: Web, some: Mask) -> int:
    """How many things some bodies are that nothing holds to one another."""
    left, count = some, 0
    while left:
        group = edge = left & -left
        while edge:
            edge = web.partners(edge) & some & ~group
            group |= edge
        left &= ~group
        count += 1
    return count


def _way_order(web: Web, moves: Mask, rest: Mask, way: int) -> tuple[float, ...]:
    """Along its joints rather than across them, by the shortest way, rather up than down."""
    ties = web.crossing_ties(moves, rest)
    glued = [tie for tie in ties if tie.of.glued]
    return (
        sum(way in tie.slides for tie in glued),
        sum(way not in tie.opens for tie in glued),
        sum(way not in tie.opens for tie in ties),
        round(travel(web, moves, web.partners(moves) & rest or rest, way), 3),
        (4, 2, 3, 0, 1, 5)[way] if way < 6 else way,
    )


def _rank(web: Web, moves: Mask, rest: Mask, ties: Sequence[Tie], aslant: bool) -> int:
    """What kind of thing it is: what goes on last has the least. `aslant` where it would leave its joints sideways."""
    bodies = [web.bodies[n] for n in bits(moves)]
    if any(moves & ~block == 0 for block in web.removable if rest & ~block):
        return 0
    if all(body.item is not None for body in bodies):
        return 2
    if not web.partners(moves) & rest:
        return 1
    if len(bodies) > 1:
        return 3
    if not any(tie.of.glued for tie in ties):
        return 4
    if aslant:
        return 7
    return 6 if any(1 << tie.host & moves for tie in ties) else 5


def travel(web: Web, moves: Mask, rest: Mask, way: int) -> float:
    """How far it goes until it is free of what stays [mm]: until the boxes round them are past one another."""
    ends = web.ends_along[way]
    return max(0.0, max(ends[n][1] for n in bits(rest)) - min(ends[n][0] for n in bits(moves)))
