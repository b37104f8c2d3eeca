"""Lines on paper: strokes that lie on one straight line made whole, and strokes that run on made one."""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

Spot = tuple[float, float]
Floats = NDArray[np.float64]
Counts = NDArray[np.int64]

SAME_WAY = 1e-6
"""Directions nearer than this are the same [rad]."""
SAME_LINE = 1e-3
"""Lines nearer than this are the same, and ends nearer than this meet [mm]."""
BEND = math.cos(math.radians(45.0))
"""Strokes that meet at a smaller bend than this run on as one: the facets of a round seen aslant bend by up to 40."""
DIGITS = 4
"""Points on paper are given to so many digits of a millimetre."""


@dataclass(frozen=True)
class Strokes:
    """Straight strokes, a row each: whose (by number), whether seen, and both ends (n, 2)."""

    owners: Counts
    seen: NDArray[np.bool_]
    first: Floats
    last: Floats


@dataclass(frozen=True)
class Path:
    """Points of a line, whose it is (by number), and whether it is seen."""

    owner: int
    is_seen: bool
    points: tuple[Spot, ...]


@dataclass(frozen=True)
class _Run:
    """A straight stroke as a stretch of the line that it lies on."""

    owner: int
    is_seen: bool
    start: float
    end: float
    first: Spot
    last: Spot


def join(strokes: Strokes, once: bool) -> list[Path]:
    """Straight strokes of one owner made whole where they touch or overlap on one line.

    With `once`, what an earlier owner has drawn is not drawn again, and nothing hidden is drawn over what is seen.
    """
    found: list[Path] = []
    for runs in _on_one_line(strokes):
        taken: list[tuple[float, float]] = []
        for whole in _whole(runs) if len(runs) > 1 else runs:
            bare = _bare(whole, taken) if once and taken else [whole]
            found += [Path(whole.owner, whole.is_seen, (part.first, part.last)) for part in bare]
            taken.append((whole.start, whole.end))
    return found


def _on_one_line(strokes: Strokes) -> Iterator[list[_Run]]:
    """Strokes sorted into lines: by direction, then by distance from the origin, each group by near neighbours."""
    if not len(strokes.owners):
        return
    way = strokes.last - strokes.first
    size = np.hypot(way[:, 0], way[:, 1])
    way = way / size[:, None]
    back = (way[:, 0] < -SAME_WAY / 2) | ((np.abs(way[:, 0]) <= SAME_WAY / 2) & (way[:, 1] < 0))
    way = np.where(back[:, None], -way, way)
    first = np.where(back[:, None], strokes.last, strokes.first)
    last = np.where(back[:, None], strokes.first, strokes.last)
    angle = np.arctan2(way[:, 1], way[:, 0])
    places = (last[:, 1], last[:, 0], first[:, 1], first[:, 0])
    same_way = clusters(np.zeros(len(angle), np.int64), angle, SAME_WAY)
    order = np.lexsort((*places, -size, same_way))
    longest = order[np.searchsorted(same_way[order], np.arange(same_way.max() + 1))]
    way = way[longest][same_way]  # of strokes that go one way, the longest knows the way best
    aside = way[:, 0] * first[:, 1] - way[:, 1] * first[:, 0]
    line = clusters(same_way, aside, SAME_LINE)
    starts = way[:, 0] * first[:, 0] + way[:, 1] * first[:, 1]
    ends = way[:, 0] * last[:, 0] + way[:, 1] * last[:, 1]
    order = np.lexsort((*places, ends, starts, strokes.owners, ~strokes.seen, line))
    columns = (line, strokes.owners, strokes.seen, starts, ends)
    rows = zip(*(column[order].tolist() for column in (*columns, *first.T, *last.T)), strict=True)
    runs: list[_Run] = []
    before = -1
    for number, owner, seen, start, end, ax, ay, bx, by in rows:
        if number != before and runs:
            yield runs
            runs = []
        before = number
        runs.append(_Run(owner, seen, start, end, (ax, ay), (bx, by)))
    yield runs


def clusters(groups: Counts, values: Floats, tolerance: float) -> Counts:
    """A number for each value: the same for those of one group that hang together by steps within `tolerance`."""
    order = np.lexsort((values, groups))
    new = np.ones(len(values), dtype=np.int64)
    new[1:] = (np.diff(values[order]) > tolerance) | (np.diff(groups[order]) != 0)
    number = np.empty(len(values), dtype=np.int64)
    number[order] = np.cumsum(new) - 1
    return number


def _whole(runs: list[_Run]) -> list[_Run]:
    """Runs of one owner that touch or overlap made one; they come with the seen first, then by owner, then along."""
    whole: list[_Run] = []
    for run in runs:
        before = whole[-1] if whole else None
        same = before and (before.owner, before.is_seen) == (run.owner, run.is_seen)
        if before and same and run.start <= before.end + SAME_LINE:
            if run.end > before.end:
                whole[-1] = replace(before, end=run.end, last=run.last)
        else:
            whole.append(run)
    return whole


def _bare(run: _Run, taken: list[tuple[float, float]]) -> list[_Run]:
    """What is left of a run once the taken stretches are out of it."""
    left, at, here = [], run.start, run.first
    for start, end in sorted(taken):
        if end <= at or start >= run.end:
            continue
        if start > at + SAME_LINE:
            left.append(replace(run, start=at, end=start, first=here, last=_along(run, start)))
        at, here = end, _along(run, end)
    if run.end > at + SAME_LINE:
        left.append(replace(run, start=at, first=here))
    return left


def _along(run: _Run, at: float) -> Spot:
    share = (at - run.start) / (run.end - run.start)
    return (
        run.first[0] + share * (run.last[0] - run.first[0]),
        run.first[1] + share * (run.last[1] - run.first[1]),
    )


def joined_up(paths: Iterable[Path]) -> list[Path]:
    """Straight paths that run on into one another without much of a bend made one; by owner, seen first."""
    groups: dict[tuple[int, bool], set[tuple[Spot, Spot]]] = defaultdict(set)
    for path in paths:
        a, b = _rounded(path.points[0]), _rounded(path.points[-1])
        if a != b:
            groups[path.owner, not path.is_seen].add((a, b) if a < b else (b, a))
    found = []
    for (owner, is_hidden), parts in sorted(groups.items()):
        found += [Path(owner, not is_hidden, points) for points in sorted(_chains(sorted(parts)))]
    return found


def _chains(parts: list[tuple[Spot, Spot]]) -> list[tuple[Spot, ...]]:
    at: dict[Spot, list[int]] = defaultdict(list)
    for number, part in enumerate(parts):
        for end in part:
            at[end].append(number)

    def onward(number: int, end: Spot) -> int | None:
        """The one part that carries on from this end."""
        if len(at[end]) != 2:
            return None
        other = at[end][0] if at[end][1] == number else at[end][1]
        return other if _runs_on(parts[number], parts[other], end) else None

    used: set[int] = set()
    chains = []
    ends_first = [n for n in range(len(parts)) if any(onward(n, end) is None for end in parts[n])]
    for number in [*ends_first, *range(len(parts))]:
        if number in used:
            continue
        first, last = parts[number]
        if onward(number, first) is not None and onward(number, last) is None:
            first, last = last, first
        points, current = [first, last], number
        used.add(number)
        while (following := onward(current, points[-1])) is not None and following not in used:
            used.add(following)
            points.append(_other_end(parts[following], points[-1]))
            current = following
        chains.append(tuple(min(points, points[::-1])))
    return chains


def _runs_on(one: tuple[Spot, Spot], two: tuple[Spot, Spot], at: Spot) -> bool:
    a, b = _other_end(one, at), _other_end(two, at)
    back, on = (at[0] - a[0], at[1] - a[1]), (b[0] - at[0], b[1] - at[1])
    return back[0] * on[0] + back[1] * on[1] > BEND * math.hypot(*back) * math.hypot(*on)


def _other_end(part: tuple[Spot, Spot], end: Spot) -> Spot:
    return part[1] if part[0] == end else part[0]


def _rounded(point: Spot) -> Spot:
    return (round(point[0], DIGITS) + 0.0, round(point[1], DIGITS) + 0.0)
