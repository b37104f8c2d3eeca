"""Numbers that the plan states outright: where they stand, and what would be written there instead."""

from fractions import Fraction

from storystick.checks.saying import at_most
from storystick.ground.dim import Dim, Leaf, Named, counts, walk
from storystick.ground.finding import Mend
from storystick.ground.length import Manner, show, up_to


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


def _value(dim: Dim, leaf: Leaf) -> Fraction:
    """The value of a leaf that a number rests on."""
    return next(one.value for one in walk(dim) if one.node is leaf)
