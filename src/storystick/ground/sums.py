"""The words of a sum put together: sums of products of parts, with the rounding outermost."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Literal, Protocol

from storystick.ground.dim import Dim, number
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.length import Unit, Written
from storystick.ground.marked import Scalar, column_of, plain
from storystick.ground.misread import Misread, nearest, one_of
from storystick.ground.tokens import Token, What, misspelt_unit, tokens

LONGEST_SUM = 400
MOST_WORDS = 120
DEEPEST = 20


class Scope(Protocol):
    """The names that a sum may use, and the unit of a number that stands alone."""

    @property
    def bare(self) -> Unit:
        """The plan's unit."""
        ...

    def find(self, name: str) -> Dim | None:
        """The number of that name (small letters, single blanks); None where there is none."""
        ...

    def names(self) -> Iterable[str]:
        """Every name, for the nearest thing that works."""
        ...


@dataclass(frozen=True, slots=True)
class Names:
    """The plainest scope: a table of numbers by name."""

    bare: Unit = "inch"
    known: tuple[tuple[str, Dim], ...] = ()

    def find(self, name: str) -> Dim | None:
        """The number of that name."""
        return next((dim for other, dim in self.known if plain(other) == name), None)

    def names(self) -> Iterable[str]:
        """Every name."""
        return (name for name, _ in self.known)


@dataclass(frozen=True, slots=True)
class Number:
    """A number as written."""

    at: int
    text: str
    number: Written


@dataclass(frozen=True, slots=True)
class Known:
    """A name, and what it stands for."""

    at: int
    dim: Dim


@dataclass(frozen=True, slots=True)
class Two:
    """Two parts and the sign between them."""

    at: int
    sign: Literal["+", "-", "*", "/"]
    one: "Node"
    other: "Node"


@dataclass(frozen=True, slots=True)
class Minus:
    """The other way round."""

    at: int
    of: "Node"


@dataclass(frozen=True, slots=True)
class Pick:
    """The smaller or the larger of some."""

    at: int
    which: str
    among: "tuple[Node, ...]"


@dataclass(frozen=True, slots=True)
class Round:
    """Rounded down, up or to the nearest step."""

    at: int
    way: str
    of: "Node"
    step: "Node"


type Node = Number | Known | Two | Minus | Pick | Round


class Parser:
    """Words to a tree: sums of products of parts, the rounding outermost."""

    def __init__(self, scalar: Scalar, scope: Scope, mistakes: list[Finding]) -> None:
        if len(scalar.text) > LONGEST_SUM:
            raise Misread(scalar.text[:20] + "...", f"a sum: it is {len(scalar.text)} characters long", "a shorter one")
        self.scalar, self.scope, self.mistakes = scalar, scope, mistakes
        self.words = list(tokens(scalar.text))
        if len(self.words) > MOST_WORDS:
            raise Misread(scalar.text[:20] + "...", "a sum that anyone can follow", "it in parts, each with a name")
        self.next, self.depth = 0, 0

    @property
    def here(self) -> Token:
        return self.words[self.next]

    def meets(self, what: What) -> bool:
        return self.here.what == what

    def go(self) -> Token:
        token = self.here
        self.next = min(self.next + 1, len(self.words) - 1)
        return token

    def whole(self) -> Node:
        if self.meets("end"):
            raise Misread(self.scalar.text, "a length: nothing is written here", '23 5/8, 600 mm or "opening - 1/4"')
        node = self.rounded()
        if not self.meets("end"):
            raise self.unexpected()
        return node

    def unexpected(self) -> Misread:
        here, text = self.here, self.scalar.text
        before = self.words[self.next - 1] if self.next else None
        if here.what in ("number", "name", "(", "of", "pick") and before and before.what in ("number", "name", ")"):
            unit = misspelt_unit(here.text) if here.what == "name" and before.what == "number" else ""
            one, other = text[before.at : before.end], text[here.at : here.end]
            advice = f"{one} {unit}" if unit else f"{one} + {other}, {one} - {other} or {one} x {other}"
            return Misread(text, f"a sum: there is no sign between {one} and {other}", advice, here.at)
        if here.what == "end":
            return Misread(
                text, "a whole sum: it ends where a number or a name should follow", "", before.at if before else 0
            )
        if here.what == ")":
            return Misread(text, "a sum: a bracket is closed that was not opened", "", here.at)
        what = text[here.at : here.end]
        return Misread(text, f"a sum: {what!r} can't stand here", "", here.at)

    def deeper(self) -> None:
        self.depth += 1
        if self.depth > DEEPEST:
            raise Misread(self.scalar.text[:20] + "...", f"a sum: its brackets are more than {DEEPEST} deep",
                          "it in parts, each with a name")  # fmt: skip

    def rounded(self) -> Node:
        self.deeper()
        node = self.added()
        while self.meets("round"):
            way = self.go()
            node = Round(way.at, way.text, node, self.one())
        self.depth -= 1
        return node

    def added(self) -> Node:
        node = self.multiplied()
        while self.meets("sign") and self.here.text in "+-":
            before, sign = self.words[self.next - 1], self.go()
            other = self.multiplied()
            if sign.text == "-" and before.what == "number":
                self.feet_less_inches(node, sign, other)
            node = Two(sign.at, "+" if sign.text == "+" else "-", node, other)
        return node

    def feet_less_inches(self, one: Node, sign: Token, other: Node) -> None:
        """5' - 3 1/2" is written for both a length and a subtraction: ask which."""
        if isinstance(one, Number) and isinstance(other, Number) and one.number.feet and other.text[-1:] in "\"″”'":
            text = self.scalar.text
            if text[one.at : one.at + len(one.text)][-1:] in "'′’":
                raise Misread(text, "clear: it can be read as feet and inches or as a subtraction",
                              f"{one.text} {other.text} or ({one.text}) - {other.text}", sign.at)  # fmt: skip

    def multiplied(self) -> Node:
        node = self.signed()
        while (self.meets("sign") and self.here.text in "*/") or self.meets("of"):
            token = self.go()
            if token.number is not None:
                self.next -= 1
                raise self.unexpected()
            node = Two(token.at, "/" if token.text == "/" else "*", node, self.signed())
        return node

    def signed(self) -> Node:
        if self.meets("sign") and self.here.text in "+-":
            self.deeper()
            sign = self.go()
            node = self.signed()
            self.depth -= 1
            return Minus(sign.at, node) if sign.text == "-" else node
        return self.one()

    def one(self) -> Node:
        token = self.here
        match token.what:
            case "number" if token.number is not None:
                self.go()
                return Number(token.at, token.text, token.number)
            case "name":
                self.go()
                return self.known(token)
            case "of" if token.number is not None:
                self.go()
                part = Number(token.at, token.text, token.number)
                return Two(token.at, "*", part, self.nested(self.signed))
            case "pick":
                return self.pick()
            case "(":
                return self.bracket()
        raise self.unexpected()

    def nested(self, read: Callable[[], Node]) -> Node:
        self.deeper()
        node = read()
        self.depth -= 1
        return node

    def bracket(self) -> Node:
        opened = self.go()
        node = self.rounded()
        if not self.meets(")"):
            if self.meets("end"):
                raise Misread(self.scalar.text, "a sum: a bracket is opened and not closed", "", opened.at)
            raise self.unexpected()
        self.go()
        return node

    def pick(self) -> Node:
        token = self.go()
        called = self.meets("(") and self.scalar.text[token.at : token.end].lower() in ("min", "max")
        if called:
            self.go()
        among = [self.nested(self.added)]
        while self.meets(","):
            self.go()
            among.append(self.nested(self.added))
        if called and self.go().what != ")":
            raise Misread(self.scalar.text, "a sum: a bracket is opened and not closed", "", token.at)
        if len(among) < 2:
            raise Misread(self.scalar.text, "a choice between two or more", "the smaller of depth, 18", token.at)
        return Pick(token.at, token.text, tuple(among))

    def known(self, token: Token) -> Node:
        dim = self.scope.find(plain(token.text))
        if dim is None:
            self.mistakes.append(self.unknown(token))
            dim = number(1)
        return Known(token.at, dim)

    def unknown(self, token: Token) -> Finding:
        names = list(self.scope.names())
        guess = nearest(token.text, names)
        apart = token.text.replace("-", " - ")
        if "-" in token.text and all(self.scope.find(plain(part)) for part in apart.split(" - ")):
            guess = f"{apart}, with blanks around the minus"
        says = f"{token.text!r} is not a name that is known here, nor a length."
        some = f" Known names: {one_of(sorted(names)[:8])}." if names and not guess else ""
        place = column_of(self.scalar, token.at)
        mend = None
        long = len(token.text)
        if guess in names and place.line and place.line == place.end_line and place.column + long <= place.end_column:
            mend = Mend(replace(place, end_column=place.column + long), guess, f"Write {guess}")
        return Finding("unknown-name", Grade.STOP, place, says + some, f"Write {guess}." if guess else "", mend=mend)
