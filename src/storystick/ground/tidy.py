"""A sum told shorter: what is added and taken away again falls out, brackets within brackets are opened.

`thick + ends - (thick - depth)` is `ends + depth`. The value and what it rests on stay the same; only the formula that
*why* prints becomes one that a woodworker reads.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from storystick.ground.dim import Dim, Leaf, Named, Op
from storystick.ground.kept import Kept

NOTHING = "nothing"
type Times = int | Fraction  # whole numbers, as nearly all are, add much faster

_TOLD: Kept[Dim] = Kept(1024)  # screws along a joint stand in like places on two boards: the same terms come again


@dataclass(slots=True)
class Sum:
    """Terms by what they are, in the order they come, each with how often; `clumsy`: it can be told better."""

    terms: dict[object, tuple[Dim, Times]] = field(default_factory=dict)
    said: int = 0
    clumsy: bool = False

    def add(self, key: object, dim: Dim, times: Times) -> None:
        """Count a term: under its name, a leaf under what it is, anything else as the one that it is."""
        self.said += 1
        before = self.terms.get(key)
        self.terms[key] = (dim, times) if before is None else (before[0], before[1] + times)


def tidied(dim: Dim) -> Dim:
    """The same number with a shorter formula, or itself where none is shorter."""
    if not isinstance(dim.node, Op) or dim.node.sign not in "+-":
        return dim
    found = Sum()
    _open(dim, 1, found)
    left = [(one, times) for one, times in found.terms.values() if times]
    if not left:
        return Dim(dim.value, Named(NOTHING, "", Dim(Fraction(0), Leaf("0", "given", ""), 0)), dim.power)
    if len(left) == found.said and not found.clumsy:
        return dim
    return _TOLD.of(tuple(left), lambda: _told(left))


def _told(left: Sequence[tuple[Dim, Times]]) -> Dim:
    """The sum of some terms, each so many times: what is added first, then what is taken away."""
    ordered = [pair for pair in left if pair[1] > 0] + [pair for pair in left if pair[1] < 0]
    answer: Dim | None = None
    for one, times in ordered:
        term = _times(one, times if times > 0 else -times)
        if answer is None:
            answer = term if times > 0 else -term
        else:
            answer = answer + term if times > 0 else answer - term
    assert answer is not None
    return answer


def _times(dim: Dim, times: Times) -> Dim:
    if times.numerator != 1:
        dim = dim * times.numerator
    return dim if times.denominator == 1 else dim / times.denominator


def _open(dim: Dim, times: Times, into: Sum) -> None:
    """Add a number's terms, each so many times."""
    node = dim.node
    if isinstance(node, Named):
        if node.name == NOTHING and not dim.value:
            into.clumsy = True
        else:
            into.add(node.name, dim, times)
    elif isinstance(node, Leaf):
        into.add((node.key, dim.value) if node.name else id(dim), dim, times)
    elif (sign := node.sign) == "+" or sign == "-":
        one, other = node.terms
        if sign == "+":
            _open(one, times, into)
            _open(other, times, into)
            return
        if isinstance(other.node, Op) and other.node.sign in ("+", "-"):
            into.clumsy = True
        _open(one, times, into)
        _open(other, -times, into)
    elif sign in ("*", "/") and (plain := _plain(node.terms[1])) is not None:
        into.clumsy = into.clumsy or plain < 0 or plain == 1
        _open(node.terms[0], times * plain if sign == "*" else Fraction(times, plain), into)
    elif sign == "*" and (plain := _plain(node.terms[0])) is not None:
        into.clumsy = into.clumsy or plain < 0 or plain == 1
        _open(node.terms[1], times * plain, into)
    else:
        into.add(id(dim), dim, times)


def _plain(dim: Dim) -> Times | None:
    """The value of a plain number that needs no reason."""
    node = dim.node
    if dim.power or not isinstance(node, Leaf) or node.says or node.spread is not None:
        return None
    return dim.value.numerator if dim.value.denominator == 1 else dim.value
