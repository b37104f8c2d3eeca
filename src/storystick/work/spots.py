"""Where holes are bored, in words: rows along a line are told as rows, a few spots one by one."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from storystick.ground.length import show
from storystick.model.build import Build
from storystick.model.cut import Bore, Side
from storystick.work.saying import and_of, many

DATUMS = ("the reference end", "the reference edge", "the face")
MOST_ROWS = 4
MOST = 6


def spots(bores: Sequence[Bore], build: Build) -> Iterator[str]:
    """A clause for each side of a part: how many holes, and where from which datum; a crowd is left to the card."""
    for side in dict.fromkeys(one.side for one in bores):
        own = [one for one in bores if one.side is side]
        where = _rows(own, side, build)
        yield f"{many(len(own), 'hole')} in the {side.value}, {where or 'where the card has them'}"


def _rows(bores: Sequence[Bore], side: Side, build: Build) -> str:
    """Rows that share one coordinate; "" where there are too many of them, or too many holes in one to be read off."""
    best: list[tuple[int, dict[Fraction, list[Fraction]]]] = []
    for shared in (0, 1):
        rows: dict[Fraction, list[Fraction]] = {}
        for one in bores:
            rows.setdefault(one.at[shared].value, []).append(one.at[1 - shared].value)
        best.append((shared, rows))
    shared, rows = min(best, key=lambda found: len(found[1]))
    if len(rows) > MOST_ROWS:
        return ""
    by_spots: dict[tuple[Fraction, ...], list[Fraction]] = {}
    for line, along in rows.items():
        by_spots.setdefault(tuple(sorted(along)), []).append(line)
    if any(len(along) > MOST and not _step(along) for along in by_spots):
        return ""
    datum, other = DATUMS[side.axes[shared]], DATUMS[side.axes[1 - shared]]
    clauses = []
    for row, lines in by_spots.items():
        across = and_of(show(line, build.manner) for line in sorted(lines))
        clauses.append(f"{across} from {datum} and {_along(row, build)} from {other}")
    return "; ".join(clauses)


def _step(along: Sequence[Fraction]) -> Fraction:
    """How far holes of a row are apart, where all are the same; else nothing."""
    gaps = {b - a for a, b in pairwise(along)}
    return gaps.pop() if len(gaps) == 1 else Fraction(0)


def _along(along: Sequence[Fraction], build: Build) -> str:
    if len(along) > 3 and (step := _step(along)):
        return (
            f"every {show(step, build.manner)} from {show(along[0], build.manner)} to {show(along[-1], build.manner)}"
        )
    return and_of(show(one, build.manner) for one in along)
