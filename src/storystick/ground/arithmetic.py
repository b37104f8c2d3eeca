"""Sums as a woodworker writes them, reckoned to a `Dim` that remembers every word.

    opening - 2 x side        half of inside        the smaller of depth, 18        bed height - 1/16
    (stand.inside.wide - 1/4) / 3 down to 1 mm      two thirds of the drop          24-5/8

A number without a unit that is added to a length is a length in the plan's units; one that multiplies or divides
is a plain number; a number alone is a length. A hyphen with blanks around it is a minus; 24-5/8 is a mixed number.
"""

from collections.abc import Callable, Collection
from fractions import Fraction
from typing import Literal

from storystick.ground.dim import Dim, Leaf, given, larger, number, smaller
from storystick.ground.finding import Finding
from storystick.ground.length import LONGEST, Unit, as_length, down_to, nearest, show_number, up_to
from storystick.ground.marked import Scalar, column_of, plain
from storystick.ground.misread import Misread
from storystick.ground.source import practice
from storystick.ground.sums import LONGEST_SUM, Known, Minus, Node, Number, Parser, Pick, Round, Two
from storystick.ground.sums import Names as Names
from storystick.ground.sums import Scope as Scope
from storystick.ground.tokens import tokens


def read_sum(scalar: Scalar, scope: Scope, mistakes: list[Finding], power: Literal[0, 1] = 1) -> Dim | None:
    """The number that a sum gives, its leaves as written and with their places.

    scalar    the sum, with its place in the file
    power     1 for a length in millimetres, 0 for a plain number
    mistakes  what is wrong is added here, with its column; the answer is None then

    Never raises for any text.
    """
    before = len(mistakes)
    try:
        node = Parser(scalar, scope, mistakes).whole()
        if len(mistakes) > before:
            return None
        dim = _Reckoner(scalar, scope.bare).reckon(node, power)
        _check(scalar, dim, power)
    except Misread as wrong:
        mistakes.append(wrong.finding(column_of(scalar, wrong.at)))
        return None
    return dim


def _check(scalar: Scalar, dim: Dim, power: int) -> None:
    kinds = {0: "a plain number", 1: "a length", 2: "an area"}
    if dim.power != power:
        advice = "a unit behind the number that is meant as a length" if dim.power == 0 else ""
        raise Misread(scalar.text, f"{kinds[power]}: it comes out as {kinds.get(dim.power, 'something else')}", advice)
    if abs(dim.value) > LONGEST:
        raise Misread(scalar.text, f"{kinds[power]} that a shop can hold: it comes out at more than a million")


def names_in(text: str, known: Collection[str] = ()) -> set[str]:
    """The names that a sum speaks of, in small letters with single blanks.

    known  where given: each name is cut at its dots to the longest of these, and names not among them are left out

    For putting sums in order; a text that can't be read gives the names up to there.
    """
    if len(text) > LONGEST_SUM:
        return set()
    said: list[str] = []
    try:
        for token in tokens(text):
            if token.what == "name":
                said.append(plain(token.text))
    except Misread:
        pass
    if not known or not said:
        return set(said)
    wanted = {plain(name) for name in known}
    return {head for name in said if (head := _longest(name, wanted))}


def _longest(name: str, wanted: Collection[str]) -> str:
    """The longest beginning of a name that is wanted, cut at a dot; "" where none is."""
    while name not in wanted:
        name = name.rpartition(".")[0]
        if not name:
            return ""
    return name


class _Reckoner:
    """A tree to a Dim. What is open (a number without unit) becomes a length or a plain number by what it meets."""

    def __init__(self, scalar: Scalar, bare: Unit) -> None:
        self.scalar, self.bare = scalar, bare

    def power(self, node: Node) -> int | None:
        """The power of the millimetre that a node has by itself; None while it is open."""
        match node:
            case Number():
                return 1 if node.number.unit else None
            case Known():
                return node.dim.power
            case Minus() | Round():
                return self.power(node.of)
            case Pick():
                return next((p for p in map(self.power, node.among) if p is not None), None)
            case Two(_, sign, one, other):
                left, right = self.power(one), self.power(other)
                if sign in "+-":
                    return right if left is None else left
                if left is None and right in (None, 0):
                    return None
                if right is None and left == 0 and sign == "*":
                    return None
                if sign == "*":
                    return (left or 0) + (right or 0)
                return 0 if left is None else left - (right or 0)

    def reckon(self, node: Node, want: int) -> Dim:
        """The number of a node; an open one is taken to be of the power that is wanted."""
        known = self.power(node)
        power = want if known is None else known
        match node:
            case Number():
                return self.number(node, power)
            case Known():
                return node.dim
            case Minus():
                return -self.reckon(node.of, power)
            case Pick():
                dims = [self.alike(node.at, self.reckon(one, power), power) for one in node.among]
                return smaller(*dims) if node.which == "min" else larger(*dims)
            case Round():
                return self.rounded(node, power)
            case Two(at, "+" | "-" as sign, one, other):
                left = self.reckon(one, power)
                right = self.alike(at, self.reckon(other, left.power), left.power)
                return left + right if sign == "+" else left - right
            case Two(at, sign, one, other):
                return self.product(at, sign, one, other, power)

    def number(self, node: Number, power: int) -> Dim:
        if power == 0:
            return number(node.number.value)
        try:
            value = as_length(node.text, node.number, self.bare)
        except Misread as wrong:
            raise Misread(wrong.value, wrong.expected, wrong.nearest, node.at) from None
        place = column_of(self.scalar, node.at)
        return given(node.text, value, str(place), place)

    def alike(self, at: int, dim: Dim, power: int) -> Dim:
        if dim.power == power:
            return dim
        says = {0: "a plain number", 1: "a length", 2: "an area"}
        met = f"{says.get(power, 'something else')} and {says.get(dim.power, 'something else')} are brought together"
        raise Misread(self.scalar.text, f"a sum that comes out: {met}", "", at)

    def product(self, at: int, sign: str, one: Node, other: Node, power: int) -> Dim:
        left, right = self.power(one), self.power(other)
        wants = (0, 0)
        if left in (None, 0) and right in (None, 0):
            right_is_part = right == 0 or sign == "/" or (isinstance(other, Number) and other.number.fraction)
            wants = (power, 0) if left is None and right_is_part else (0, power)
        elif left is None and sign == "/":
            wants = (right or 0, 0)
        a, b = self.reckon(one, wants[0]), self.reckon(other, wants[1])
        if sign == "*":
            return a * b
        if b.value == 0:
            raise Misread(self.scalar.text, "a sum that comes out: it divides by nothing", "", at)
        return a / b

    def rounded(self, node: Round, power: int) -> Dim:
        of = self.reckon(node.of, power)
        step = self.alike(node.at, self.reckon(node.step, of.power), of.power)
        if step.value <= 0:
            expected = "a sum: a length is rounded to a step of more than nothing"
            raise Misread(self.scalar.text, expected, "1/16 in or 1 mm", node.at)
        place = column_of(self.scalar, node.at)
        way = "to the nearest" if node.way == "nearest" else f"{node.way} to"
        said = f"{way} {step.name or _shown(step.value)}"
        leaf = Leaf("", "chosen", f"rounded {said} ({place})", None, place, practice("as the plan says"), None, (of,))
        return Dim(_ROUND[node.way](of.value, step.value), leaf, of.power)


_ROUND: dict[str, Callable[[Fraction, Fraction], Fraction]] = {"nearest": nearest, "down": down_to, "up": up_to}


def _shown(value: Fraction) -> str:
    return str(value) if value.denominator == 1 else show_number(value)
