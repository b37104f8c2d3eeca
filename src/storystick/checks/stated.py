"""Numbers that the plan states outright: where they stand, and what would be written there instead."""

from collections.abc import Iterable, Iterator
from fractions import Fraction

from storystick.checks.saying import at_most, kg
from storystick.ground.dim import Dim, Leaf, Named, counts, walk
from storystick.ground.finding import Mend, Place
from storystick.ground.length import Manner, down_to, show, up_to
from storystick.model.build import Load
from storystick.model.check import Asked
from storystick.model.part import Part
from storystick.shapes.pose import Vector

SMALL_MM, FAR = 25, 3  # a size that would become more than three times what it is, or less than a third, is no mend
LEAST_WEIGHT = 0.05  # a number that moves another by less than this share is not to blame for it


def stated(dim: Dim) -> Leaf | None:
    """The leaf of a number that is written in the plan as it is; None where it is a sum, a rule or a reading."""
    node = dim.node
    while isinstance(node, Named):
        node = node.by.node
    return node if isinstance(node, Leaf) and _is_ours(node) else None


def _is_ours(leaf: Leaf) -> bool:
    """Whether somebody chose it: what was measured is as it is."""
    return leaf.kind == "given" and leaf.place.line > 0 and leaf.place.path[:1] == ("build",)


def no_more(dim: Dim, most: Fraction, manner: Manner) -> Mend | None:
    """Write the most that will do, rounded down to a mark, where the plan states a number; None where it doesn't."""
    leaf, text = stated(dim), at_most(most, manner)
    if leaf is None or most < manner.mark:
        return None
    return Mend(leaf.place, text, f"Make it {text} instead of {leaf.name}")


def more_of(dim: Dim, word: str, by: Fraction, manner: Manner) -> Mend | None:
    """Add to the one number under `word` that another moves with, rounded up to a mark; None where there is none."""
    leaves = [leaf for leaf, weight in counts(dim).values() if abs(weight) == 1.0]
    found = [leaf for leaf in leaves if _is_ours(leaf) and leaf.place.path[-1:] == (word,)]
    if len(found) != 1:
        return None
    leaf = found[0]
    text = show(up_to(_value(dim, leaf) + by, manner.mark), manner)
    return Mend(leaf.place, text, f"Make {word} {text} instead of {leaf.name}")


def changes(dim: Dim, by: Fraction | float, manner: Manner) -> Iterator[Mend]:
    """Each number of the plan that would bring another so much up (or down, below nothing), by itself.

    Rounded away from what it is, to a mark; the one that it moves with most comes first.
    """
    by = Fraction(str(round(float(by), 6)))
    leaves = [(leaf, weight) for leaf, weight in counts(dim).values() if _is_ours(leaf) and abs(weight) >= LEAST_WEIGHT]
    for leaf, weight in sorted(leaves, key=lambda found: -abs(found[1])):
        old = _length(dim, leaf)
        if old is None or not by:
            continue
        delta = by / Fraction(str(round(weight, 6)))
        new = up_to(old + delta, manner.mark) if delta > 0 else down_to(old + delta, manner.mark)
        place = leaf.place.path[-1].isdigit() or leaf.place.path[-1].endswith(" at")
        if old <= 0 or place or (new > 0 and (old < SMALL_MM or old / FAR <= new <= old * FAR)):
            text, word = show(new, manner), _word(leaf)
            yield Mend(leaf.place, text, f"Make {word} {text} instead of {leaf.name}")


def lighter(loads: Iterable[Load], share: float, manner: Manner) -> Iterator[Mend]:
    """Each load of the plan brought down to a share of what it is, rounded down."""
    for load in loads:
        if load.weighs.line and 0 < share < 1:
            text = kg(int(load.kilograms * share * 10) / 10, manner)
            if manner.unit == "inch":
                text = f"{int(load.kilograms * share / 0.45359237 * 10) / 10:g} lb"
            yield Mend(load.weighs, text, f"Put {text} on {load.on} or less")


def worded(entry: str, words: tuple[str, ...], text: str, says: str) -> Mend:
    """Another word or number behind one of some words of an entry of the plan, wherever in it that stands."""
    return Mend(Place(path=("build", entry.split(".")[0], *words)), text, says)


def thicker(asked: Asked, part: Part, least: float, words: tuple[str, ...]) -> Iterator[Mend]:
    """Each other sheet or board of the plan that is thick enough, the thinnest first, in place of a part's stock."""
    fit = [s for s in asked.build.stock if s.form == part.stock.form and float(s.thickness) >= least - 1e-6]
    for stock in sorted(fit, key=lambda s: s.thickness.value):
        if stock.name != part.stock.name:
            yield worded(part.assembly, words, stock.name, f"Make it of {stock.name}")


def moved_along(at: tuple[Dim, Dim, Dim], way: Vector, by: float, manner: Manner) -> Iterator[Mend]:
    """A thing moved so far along a way: by the numbers that say where it stands."""
    for dim, part in zip(at, way, strict=True):
        if abs(part) > 0.5:
            yield from changes(dim, by / part, manner)


def _word(leaf: Leaf) -> str:
    """What a number is called in the plan: the word that it stands behind, or its place in a list."""
    *_, before, last = ("", *leaf.place.path)
    return f"number {last} of {before}" if last.isdigit() else last


def _value(dim: Dim, leaf: Leaf) -> Fraction:
    """The value of a leaf that a number rests on."""
    return next(one.value for one in walk(dim) if one.node is leaf)


def _length(dim: Dim, leaf: Leaf) -> Fraction | None:
    """The same where it is a length; None where it is a count or a share."""
    return next((one.value for one in walk(dim) if one.node is leaf and one.power == 1), None)
