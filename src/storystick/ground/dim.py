"""`Dim` and `Book`: every number knows why it is what it is.

A `Dim` is an exact value (a Fraction; millimetres to some power, 0 for a plain number) with the expression that made
it. The leaves of the expression are givens (a line of the plan), readings (of the real thing), rules, choices and
settings; a leaf may carry a spread. Leaves are shared by name: what two numbers have in common cancels in the
arithmetic as it does in the shop. A `Book` names the numbers and lets a reading of the real thing overrule the
reckoned value.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from storystick.ground.finding import NOWHERE, Broken, Place
from storystick.ground.records import quickly_made
from storystick.ground.source import Source

type Kind = Literal["given", "reading", "rule", "chosen", "setting"]
type Shape = Literal["normal", "rectangular", "triangular"]
type Sign = Literal["+", "-", "*", "/", "min", "max", "sqrt", "sin", "cos", "tan"]


@dataclass(frozen=True, slots=True)
class Spread:
    """How far a leaf may be off: standard deviation `sd` (same unit as the leaf) and the shape of the chance.

    For limits of +-a of equal chance, sd = a/sqrt(3) and shape "rectangular". Source: JCGM 100:2008 (GUM), 4.3.7.
    """

    sd: float
    shape: Shape = "normal"


def limits(a: float) -> Spread:
    """Anything within +-a, every value as likely as another. Source: JCGM 100:2008 (GUM), 4.3.7."""
    return Spread(a / math.sqrt(3), "rectangular")


@quickly_made
@dataclass(frozen=True, slots=True, eq=False)
class Leaf:
    """Where a number starts: its name, what kind of start it is, and in words where it comes from."""

    name: str
    kind: Kind
    says: str
    spread: Spread | None = None
    place: Place = NOWHERE
    source: Source | None = None
    instead_of: "Dim | None" = None  # what had been reckoned before the real thing was measured
    looked_at: tuple["Dim", ...] = ()  # what a choice was made from: told by why, not moved by it

    @property
    def key(self) -> str:
        """Leaves with one key are one and the same cause."""
        return self.name if not self.place.line else f"{self.name} @{self.place.line}:{self.place.column}"


@quickly_made
@dataclass(frozen=True, slots=True, eq=False)
class Op:
    """Arithmetic on other numbers."""

    sign: Sign
    terms: tuple["Dim", ...]


class Named:
    """A number that has been given a name and a reason. `by`: how it was reckoned, as `told` puts it.

    Most numbers are never asked how; so `told` is called when the first one asks. It may change no value.
    """

    __slots__ = ("_by", "_told", "because", "name")

    def __init__(self, name: str, because: str, by: "Dim", told: "Callable[[Dim], Dim] | None" = None) -> None:
        self.name, self.because, self._by, self._told = name, because, by, told

    @property
    def by(self) -> "Dim":
        """The number that was given the name, with its formula."""
        if self._told is not None:
            self._by, self._told = _called(self._told(self._by), self.name), None
        return self._by

    @property
    def overruled(self) -> Leaf | None:
        """The leaf that was put in place of what had been reckoned, where one was."""
        leaf = self._by.node
        return leaf if isinstance(leaf, Leaf) and leaf.instead_of is not None and leaf.name == self.name else None


@quickly_made
@dataclass(frozen=True, slots=True, eq=False)
class Dim:
    """An exact value with its reason. `power` is that of the millimetre: 1 length, 2 area, 0 plain number."""

    value: Fraction
    node: Leaf | Op | Named
    power: int = 1

    def __add__(self, other: "Dim") -> "Dim":
        return _join("+", self, other)

    def __sub__(self, other: "Dim") -> "Dim":
        return _join("-", self, other)

    def __mul__(self, other: "Dim | int | Fraction") -> "Dim":
        other = other if isinstance(other, Dim) else number(other)
        return Dim(self.value * other.value, Op("*", (self, other)), self.power + other.power)

    __rmul__ = __mul__

    def __truediv__(self, other: "Dim | int | Fraction") -> "Dim":
        other = other if isinstance(other, Dim) else number(other)
        if not other.value:
            raise ZeroDivisionError("a number can't be divided by nothing")
        return Dim(self.value / other.value, Op("/", (self, other)), self.power - other.power)

    def __neg__(self) -> "Dim":
        return self * -1

    def __float__(self) -> float:
        value = self.value  # as float(value), and at once
        return value.numerator / value.denominator

    @property
    def name(self) -> str:
        """The name it was settled under, or that of its leaf; "" for a sum without a name."""
        return "" if isinstance(self.node, Op) else self.node.name


def _join(sign: Literal["+", "-"], one: Dim, other: Dim) -> Dim:
    if one.power != other.power:
        raise Broken(f"can't add mm^{one.power} and mm^{other.power}")
    value = one.value + other.value if sign == "+" else one.value - other.value
    return Dim(value, Op(sign, (one, other)), one.power)


@lru_cache(maxsize=1024)
def number(value: int | Fraction) -> Dim:
    """A plain number that needs no reason, as the 2 in `2 x side thickness`."""
    value = Fraction(value)
    return Dim(value, Leaf(str(value), "given", ""), 0)


def given(name: str, value: Fraction | int, says: str, place: Place = NOWHERE, *, spread: Spread | None = None) -> Dim:
    """A length that the plan states [mm]."""
    return Dim(_exact(value), Leaf(name, "given", says, spread, place))


def rule(name: str, value: Fraction | int, source: Source, *, spread: Spread | None = None) -> Dim:
    """A length that a rule of the trade states [mm]."""
    return Dim(_exact(value), Leaf(name, "rule", str(source), spread, source=source))


def chosen(value: Fraction | int, source: Source, *looked_at: Dim) -> Dim:
    """A length picked by a rule after looking at others [mm]; it counts by itself: you set the bit to it."""
    return Dim(_exact(value), Leaf("", "chosen", str(source), None, source=source, looked_at=looked_at))


def _exact(value: int | Fraction) -> Fraction:
    return value if isinstance(value, Fraction) else Fraction(value)


def smaller(*dims: Dim) -> Dim:
    """The smallest of some numbers of one power."""
    return Dim(min(d.value for d in dims), Op("min", dims), dims[0].power)


def larger(*dims: Dim) -> Dim:
    """The largest of some numbers of one power."""
    return Dim(max(d.value for d in dims), Op("max", dims), dims[0].power)


_CURVES: dict[str, Callable[[float], float]] = {"sqrt": math.sqrt, "sin": math.sin, "cos": math.cos, "tan": math.tan}


def curve(sign: Literal["sqrt", "sin", "cos", "tan"], of: Dim) -> Dim:
    """Square root, or sine, cosine, tangent of a plain number in radians."""
    power = of.power // 2 if sign == "sqrt" else 0
    return Dim(Fraction(_CURVES[sign](float(of.value))), Op(sign, (of,)), power)


def total(dims: Iterable[Dim], nothing: Dim) -> Dim:
    """The sum of some lengths; `nothing` where there are none."""
    found = list(dims)
    if not found:
        return nothing
    answer = found[0]
    for dim in found[1:]:
        answer = answer + dim
    return answer


# --- what a number rests on -------------------------------------------------------------------------------------------


def terms(dim: Dim) -> tuple[Dim, ...]:
    """The numbers that a number was made from directly."""
    node = dim.node
    if isinstance(node, Op):
        return node.terms
    return (node.by,) if isinstance(node, Named) else ()


def walk(*dims: Dim) -> Iterator[Dim]:
    """Everything that the given numbers rest on and they themselves, each once, causes before what they cause."""
    seen: set[int] = set()
    stack: list[Dim | None] = [*reversed(dims)]
    opened: list[Dim] = []
    while stack:
        one = stack.pop()
        if one is None:  # all that the last one opened rests on was there
            yield opened.pop()
        elif id(one) not in seen:
            seen.add(id(one))
            if below := terms(one):
                opened.append(one)
                stack += (None, *reversed(below))
            else:
                yield one


_SLOPES: dict[Sign, tuple[float, float]] = {"+": (1.0, 1.0), "-": (1.0, -1.0)}


def _slopes(op: Op) -> tuple[float, ...]:
    """Derivative of any other operation by each of its terms."""
    values = [float(t.value) for t in op.terms]
    match op.sign:
        case "*":
            return (values[1], values[0])
        case "/":
            return (1 / values[1], -values[0] / values[1] ** 2)
        case "min" | "max":
            pick = values.index(min(values) if op.sign == "min" else max(values))
            return tuple(float(i == pick) for i in range(len(values)))
        case "sqrt":
            return (0.5 / math.sqrt(values[0]) if values[0] else 0.0,)
        case "sin":
            return (math.cos(values[0]),)
        case "cos":
            return (-math.sin(values[0]),)
        case _:
            return (1 / math.cos(values[0]) ** 2,)


def counts(dim: Dim) -> dict[str, tuple[Leaf, float]]:
    """How often each leaf counts: by key, the leaf and the derivative of `dim` by it (plain numbers left out).

    First order, by the chain rule. Source: JCGM 100:2008 (GUM), 5.1.3.
    """
    order = list(walk(dim))
    by_id = dict.fromkeys(map(id, order), 0.0)
    by_id[id(dim)] = 1.0
    leaves: dict[str, tuple[Leaf, float]] = {}
    for one in reversed(order):
        weight = by_id[id(one)]
        node = one.node
        if isinstance(node, Op):
            for term, slope in zip(node.terms, _SLOPES.get(node.sign) or _slopes(node), strict=True):
                by_id[id(term)] += weight * slope
        elif isinstance(node, Named):
            by_id[id(node.by)] += weight
        elif one.power or node.spread or node.says:
            before = leaves.get(node.key, (node, 0.0))[1]
            leaves[node.key] = (node, before + weight)
    return {key: leaves[key] for key in sorted(leaves)}


def spread_of(dim: Dim) -> float:
    """Standard deviation of a number from its leaves, to first order, shared leaves counted once.

    Source: JCGM 100:2008 (GUM), 5.1.2, eq. 10, after shared causes have been collected.
    """
    return math.sqrt(covariance(dim, dim))


def covariance(one: Dim, other: Dim) -> float:
    """Covariance of two numbers through the leaves they share. Source: JCGM 100:2008 (GUM), F.1.2.3."""
    a = counts(one)
    b = a if other is one else counts(other)
    shared = a.keys() & b.keys()
    return math.fsum(a[k][1] * b[k][1] * s.sd**2 for k in sorted(shared) if (s := a[k][0].spread))


def sample(dims: Mapping[str, Dim], draws: int, seed: int = 0) -> "dict[str, object]":
    """Draw every leaf `draws` times and reckon each number anew: arrays of floats by name, in the numbers' own units.

    A leaf's draws depend on its key and the seed alone. Source: JCGM 101:2008 (GUM supplement 1), clause 7.
    """
    from storystick.ground.draws import drawn  # numpy, only when asked for

    return drawn(dims, draws, seed)


def rewritten(dim: Dim, swap: Callable[[Dim], Dim | None], made: dict[int, Dim] | None = None) -> Dim:
    """The same expression with some numbers replaced: `swap` gives the new one, or None to keep it and look inside.

    made  what was made of the numbers of other expressions by the same swap, by which they are; more is put in

    A replaced number is not looked into. Parts of the expression in which nothing changed are kept as they are.
    """
    made = {} if made is None else made
    stack = [(dim, False)]
    while stack:
        one, ready = stack.pop()
        if id(one) in made:
            continue
        if ready:
            made[id(one)] = _rebuilt(one, made)
        elif (fresh := swap(one)) is not None:
            made[id(one)] = fresh
        else:
            stack.append((one, True))
            stack.extend((term, False) for term in terms(one))
    return made[id(dim)]


def _rebuilt(one: Dim, made: Mapping[int, Dim]) -> Dim:
    node = one.node
    if isinstance(node, Named):
        by = made[id(node.by)]
        return one if by is node.by else Dim(by.value, Named(node.name, node.because, by), one.power)
    if isinstance(node, Op):
        inner = tuple(made[id(term)] for term in node.terms)
        if all(new is old for new, old in zip(inner, node.terms, strict=True)):
            return one
        return Dim(_reckoned(node.sign, [term.value for term in inner]), Op(node.sign, inner), one.power)
    return one


def _reckoned(sign: Sign, values: list[Fraction]) -> Fraction:
    match sign:
        case "+":
            return values[0] + values[1]
        case "-":
            return values[0] - values[1]
        case "*":
            return values[0] * values[1]
        case "/":
            return values[0] / values[1]
        case "min":
            return min(values)
        case "max":
            return max(values)
        case _:
            return Fraction(_CURVES[sign](float(values[0])))


def as_it_is(dim: Dim) -> Dim:
    """The number itself."""
    return dim


def _called(dim: Dim, name: str) -> Dim:
    """The number; a leaf that has no name of its own yet under this one."""
    if isinstance(dim.node, Leaf) and not dim.node.name:
        return replace(dim, node=replace(dim.node, name=name))
    return dim


# --- the book ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Reading:
    """A measured value [mm] of something that has a name: what was read, with what, when, and how far to trust it.

    held     not measured: the number stays what it was when it was printed and cut, or as somebody settled it
    scatter  how the thing differs from place to place: standard deviation of several readings [mm], 0 for one
    adapts   neither measured nor cut: what the number comes to, so that something comes out right that was
    """

    value: Fraction
    says: str
    spread: Spread | None = None
    place: Place = NOWHERE
    held: bool = False
    scatter: float = 0.0
    adapts: bool = False


@dataclass(slots=True)
class Book:
    """Where lengths are named. Pages are shared between the books of one piece; `scope` goes before each name."""

    readings: Mapping[str, Reading] = field(default_factory=dict)
    pages: dict[str, Dim] = field(default_factory=dict)
    scope: str = ""

    def within(self, scope: str) -> "Book":
        """The same book, opened at a narrower chapter."""
        return Book(self.readings, self.pages, f"{self.scope}{scope}.")

    def settle(self, name: str, reckoned: Dim, because: str, told: Callable[[Dim], Dim] = as_it_is) -> Dim:
        """Name a number, say why, and let a reading of the real thing overrule it.

        told  gives the same number with the formula that is to be told of it

        Raises Broken when the name is taken by another number.
        """
        full = self.scope + name
        if full in self.pages:
            raise Broken(f"{full} was settled twice")
        value, node = reckoned.value, Named(full, because, reckoned, told)
        if seen := self.readings.get(full):
            kind: Kind = "chosen" if seen.adapts else "given" if seen.held else "reading"
            leaf = Leaf(full, kind, seen.says, seen.spread, seen.place, instead_of=node.by)
            value, node = seen.value, Named(full, because, Dim(seen.value, leaf, reckoned.power))
        self.pages[full] = settled = Dim(value, node, reckoned.power)
        return settled


# --- why --------------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Because:
    """One line of an answer to *why*: how deep it stands, the number's name, the number, its formula, its reason."""

    depth: int
    name: str
    dim: Dim
    formula: str
    because: str


_SIGNS = {"+": " + ", "-": " - ", "*": " x ", "/": " / "}


def formula(dim: Dim, show: Callable[[Dim], str], *, inside: bool = False) -> str:
    """The expression that ran, with names for what has a name: `outside width - 2 x side thickness`."""
    node = dim.node
    if isinstance(node, Named):
        return node.name
    if isinstance(node, Leaf):
        return node.name if node.name and dim.power else show(dim)
    if node.sign not in _SIGNS:
        said = {"min": "the smaller of ", "max": "the larger of "}.get(node.sign, node.sign + " of ")
        return said + " and ".join(formula(t, show, inside=True) for t in node.terms)
    if (taken := _taken_away(dim)) is not None:
        return f"-{formula(taken, show, inside=True)}"
    ordered, sign = node.terms, node.sign
    if sign == "*" and node.terms[0].power and not node.terms[1].power:
        ordered = (node.terms[1], node.terms[0])
    if sign in "+-" and (taken := _taken_away(node.terms[1])) is not None:
        ordered, sign = (node.terms[0], taken), "-" if sign == "+" else "+"
    tight = sign in "*/"
    words = [formula(t, show, inside=tight or (sign == "-" and i > 0 and _is_sum(t))) for i, t in enumerate(ordered)]
    text = _SIGNS[sign].join(words)
    return f"({text})" if inside and sign != "*" else text


def _is_sum(dim: Dim) -> bool:
    return isinstance(dim.node, Op) and dim.node.sign in "+-"


def _taken_away(dim: Dim) -> Dim | None:
    """What is taken away, where a number is minus one times another."""
    node = dim.node
    if isinstance(node, Op) and node.sign == "*" and node.terms[1].value == -1 and not node.terms[1].power:
        return node.terms[0]
    return None


def _named_below(dim: Dim) -> list[Dim]:
    """The nearest named numbers and leaves with a story that a number rests on, in the order of its formula."""
    found: list[Dim] = []
    stack = list(reversed(terms(dim)))
    while stack:
        one = stack.pop()
        if isinstance(one.node, Op):
            stack.extend(reversed(one.node.terms))
        elif isinstance(one.node, Named) or one.power or one.node.says:
            found.append(one)
    return found


def why(dim: Dim, show: Callable[[Dim], str]) -> tuple[Because, ...]:
    """The whole answer to *why this number?*, a line for each number it rests on, each number told once."""
    lines: list[Because] = []
    told: set[int] = set()

    def tell(one: Dim, depth: int) -> None:
        node = one.node
        made = node.by if isinstance(node, Named) else one
        below = _named_below(made)
        text, reason = "", node.because if isinstance(node, Named) else ""
        if isinstance(made.node, Leaf):
            reason = "; ".join(w for w in (reason, made.node.says) if w)
            if made.node.instead_of is not None:
                reason += f"; reckoned {show(made.node.instead_of)}"
            below = list(made.node.looked_at)
        elif isinstance(made.node, Named):
            text, below = made.node.name, [made]
        else:
            text = formula(made, show)
        if id(one) in told and below:
            lines.append(Because(depth, one.name, one, text, "told above"))
            return
        told.add(id(one))
        lines.append(Because(depth, one.name, one, text, reason))
        seen_here: set[int] = set()
        for lower in below:
            if id(lower) not in seen_here:
                seen_here.add(id(lower))
                tell(lower, depth + 1)

    tell(dim, 0)
    return tuple(lines)
