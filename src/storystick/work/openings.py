"""What is measured in a dry fit: the openings that parts are cut to, where boards stand to measure between."""

from collections.abc import Sequence

from storystick.ground.dim import number, total
from storystick.model.build import Opening
from storystick.model.follows import followed, height, stacks, taken_up
from storystick.model.part import Assembly, Part
from storystick.work.bench import Bench
from storystick.work.saying import said, spoken_all

LOWEST = "cut the lowest front by what it differs"


def to_measure(bench: Bench, one: Assembly, reads: Sequence[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Of the numbers asked, those that can be measured between boards; and in words what is measured for the others."""
    open_ended = list(stacks(bench.build, one.name))
    names = {f"{opening.name}.opening high" for stack in open_ended for opening in stack}
    kept = tuple(name for name in reads if name not in names)
    fitted = {part.fit_to for part in bench.build.parts}
    return kept, tuple(_told(bench, stack) for stack in open_ended if any(one.name in fitted for one in stack))


def _told(bench: Bench, stack: Sequence[Opening]) -> str:
    """What is measured where no board stands between openings, and which of them take up what it differs."""
    whole = total((height(bench.build, one) for one in stack), number(0))
    taken = [one.name for one in taken_up(bench.build, stack)]
    those = spoken_all([one.name for one in stack])
    takes = f"{spoken_all(taken)} {'take' if len(taken) > 1 else 'takes'} up what it differs" if taken else LOWEST
    return f"No board stands between {those}: measure the whole height, planned {said(whole, bench.build)}; {takes}."


def to_them(bench: Bench, parts: Sequence[Part]) -> list[Part]:
    """The parts with a size that follows what is measured."""
    return [part for part in parts if any(followed(part, bench.build))]


def is_measured(bench: Bench, part: Part, size: str) -> bool:
    """Whether a part's length or width is cut to what was measured; of what fits no opening, every size is."""
    if not any(name.startswith(f"{part.fit_to}.opening ") for name in bench.build.pages):
        return bool(part.fit_to)
    return bool(followed(part, bench.build)[size != "length"])
