"""Which sizes of a part follow what is measured at the opening that it is cut to fit."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from storystick.ground.dim import Dim, Op, walk
from storystick.model.build import Build, Opening
from storystick.model.part import Part

NEAR = Fraction(1)
"""A board begins where an opening ends, to this [mm]."""
X, Z = 0, 2


def followed(part: Part, build: Build) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The names of the measures that its length, and its width, are reckoned from: "cabinet.drawer 1.opening wide".

    A size that follows none is cut as printed: the side of a drawer is as long as its slide, however wide the opening.
    """
    if not part.fit_to:
        return (), ()
    left_out = f"{part.fit_to}.opening high" if part.fit_to in set(_marked_out(build)) else ""
    length, width = (
        tuple(dict.fromkeys(name for name in _measures(part.fit_to, size) if name != left_out))
        for size in part.size[:2]
    )
    return length, width


def _measures(opening: str, size: Dim) -> Iterator[str]:
    """What of an opening a size is reckoned from; two leaves in one opening both name it, each after itself."""
    outer = opening.rpartition(".")[0]
    for one in walk(size):
        name, _, measure = one.name.rpartition(".")
        if measure.startswith("opening ") and name.rpartition(".")[0] == outer:
            yield f"{opening}.{measure}"


def _marked_out(build: Build) -> Iterator[str]:
    """Openings whose height the plan gives and no board bounds: it is marked out, and can't come out different."""
    for name in dict.fromkeys(one.assembly for one in build.openings):
        for stack in stacks(build, name):
            taken = taken_up(build, stack)
            yield from (one.name for one in stack if one not in taken)


def stacks(build: Build, assembly: str) -> Iterator[list[Opening]]:
    """Openings of an assembly with no board between them, in columns, the lowest first."""
    boards = [part for part in build.parts if part.assembly == assembly and not part.fit_to]
    loose = [one for one in build.openings if one.assembly == assembly and not all(_bounded(one, boards))]
    while loose:
        stack = [min(loose, key=lambda one: one.at[Z].value)]
        loose.remove(stack[0])
        while above := next((one for one in loose if _on(one, stack[-1])), None):
            stack.append(above)
            loose.remove(above)
        if len(stack) > 1:
            yield stack


def taken_up(build: Build, stack: Sequence[Opening]) -> list[Opening]:
    """Those of a stack whose height is reckoned, and so takes up what the whole height differs."""
    return [one for one in stack if any(isinstance(dim.node, Op) for dim in walk(height(build, one)))]


def height(build: Build, opening: Opening) -> Dim:
    """The height of an opening as it is measured."""
    return build.pages.get(f"{opening.name}.opening high", opening.size[Z])


def _on(upper: Opening, lower: Opening) -> bool:
    gap = upper.at[Z].value - lower.at[Z].value - lower.size[Z].value
    return abs(gap) <= NEAR and upper.at[X].value == lower.at[X].value


def _bounded(opening: Opening, boards: Sequence[Part]) -> tuple[bool, bool]:
    """Whether a board stands below an opening, and above it."""
    left, low = opening.at[X].value, opening.at[Z].value
    right, high = left + opening.size[X].value, low + opening.size[Z].value
    over = [board for board in boards if board.low(X) < right and left < board.high(X)]
    return any(abs(b.high(Z) - low) <= NEAR for b in over), any(abs(b.low(Z) - high) <= NEAR for b in over)
