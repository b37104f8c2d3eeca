"""Which of all that is free comes off first, and so goes on last: the custom of the trade, as a few plain rules."""

from collections.abc import Sequence

import numpy as np

from storystick.assembly.blocking import Mask
from storystick.assembly.kin import Tie, Web, bits
from storystick.ground.source import practice

CUSTOM = practice(
    "cases are glued up from the inside out, sides over what is between them; then what closes them, then what is "
    "screwed on, then hardware; drawers, loose shelves and tops go in last"
)

type Free = tuple[Mask, int]


def choose(web: Web, whole: Mask, found: Sequence[Free]) -> Free:
    """The one to take, and its way. Source: CUSTOM."""
    ways: dict[Mask, list[int]] = {}
    for moves, way in found:
        ways.setdefault(moves, []).append(way)
    first = min(ways, key=lambda moves: _order(web, whole, moves, ways[moves]))
    return first, min(ways[first], key=lambda way: _way_order(web, first, whole & ~first, way))


def _order(web: Web, whole: Mask, moves: Mask, ways: Sequence[int]) -> tuple[int, ...]:
    rest = whole & ~moves
    ties = _crossing(web, moves, rest)
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
    held = [ends for ends in web.holds if ends & some == ends]
    while left:
        group, grown = left & -left, 0
        while group != grown:
            grown = group
            for ends in held:
                if ends & group:
                    group |= ends
        left &= ~group
        count += 1
    return count


def _way_order(web: Web, moves: Mask, rest: Mask, way: int) -> tuple[float, ...]:
    """Along its joints rather than across them, by the shortest way, rather up than down."""
    ties = _crossing(web, moves, rest)
    glued = [tie for tie in ties if tie.of.glued]
    return (
        sum(way in tie.slides for tie in glued),
        sum(way not in tie.opens for tie in glued),
        sum(way not in tie.opens for tie in ties),
        round(travel(web, moves, _partners(web, moves) & rest or rest, way), 3),
        (4, 2, 3, 0, 1, 5)[way] if way < 6 else way,
    )


def _partners(web: Web, moves: Mask) -> Mask:
    """What anything holds it to."""
    found = 0
    for ends in web.holds:
        if ends & moves:
            found |= ends
    return found


def _crossing(web: Web, moves: Mask, rest: Mask) -> list[Tie]:
    return [tie for tie in web.ties if tie.ends & moves and tie.ends & rest]


def _rank(web: Web, moves: Mask, rest: Mask, ties: Sequence[Tie], aslant: bool) -> int:
    """What kind of thing it is: what goes on last has the least. `aslant` where it would leave its joints sideways."""
    bodies = [web.bodies[n] for n in bits(moves)]
    if any(moves & ~block == 0 for block in web.removable if rest & ~block):
        return 0
    if all(body.item is not None for body in bodies):
        return 2
    if not any(ends & moves and ends & rest for ends in web.holds):
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
    line = np.array(web.ways[way])
    ends = [_along(web, mask, line) for mask in (moves, rest)]
    return max(0.0, ends[1][1] - ends[0][0])


def _along(web: Web, mask: Mask, line: np.ndarray) -> tuple[float, float]:
    low, high = [], []
    for number in bits(mask):
        first, last = (np.array(corner) for corner in web.bodies[number].bounds)
        low.append(float(np.where(line > 0, first, last) @ line))
        high.append(float(np.where(line > 0, last, first) @ line))
    return min(low), max(high)
