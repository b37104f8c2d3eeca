"""Draft and Bench: a piece while it is being worked out.

A kind of assembly lays drafts of boards on the bench, by their sizes between shoulders, and says which joint takes
which end of which board to which host. Joints then let guests grow into hosts; when all have grown, the cuts are marked
out. Sizes are formulas all along: a draft never holds a bare number.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import lru_cache

from storystick.craft.naming import named_cuts
from storystick.ground.dim import Book, Dim, Named, Op, number, rewritten
from storystick.ground.fields import Filled
from storystick.ground.finding import NOWHERE, Broken, Finding, Grade, Place, mistake
from storystick.ground.length import Manner, Unit, show
from storystick.ground.marked import plain
from storystick.ground.misread import nearest, one_of
from storystick.ground.tidy import tidied
from storystick.model.build import Move, Opening, Slider, Span
from storystick.model.cut import Channel, Cut, Side
from storystick.model.joining import Fastener, Fit, Item, Joined
from storystick.model.part import Assembly, Part, Three
from storystick.model.stock import Stock

X, Y, Z = 0, 1, 2
AXIS_WORDS = ("wide", "deep", "high")
NO_LENGTH = Dim(Fraction(0), Named("nothing", "", number(0)), 1)


def plus(one: Dim, other: Dim) -> Dim:
    """Their sum; no formula is written where one of them is nothing."""
    if other is NO_LENGTH:
        return one
    return other if one is NO_LENGTH else one + other


def minus(one: Dim, other: Dim) -> Dim:
    """Their difference; nothing where they are one and the same number."""
    if one is other:
        return NO_LENGTH
    return one if other is NO_LENGTH else one - other


@dataclass(slots=True)
class Growth:
    """How much a guest goes beyond its shoulder at one end, and why."""

    by: Dim
    because: str


@dataclass(slots=True, eq=False)
class Draft:
    """A board on the bench, in the axes of its assembly. `span` is its size between shoulders, `low` where that starts.

    lies    assembly axis of length (along the grain), width, thickness
    faces   +1 or -1: which way along its thickness the marked face looks
    from_low  whether the reference end and the reference edge are at the low end of their axes
    """

    name: str
    role: str
    assembly: str
    stock: Stock
    lies: tuple[int, int, int]
    low: list[Dim]
    span: list[Dim]
    faces: int = 1
    from_low: tuple[bool, bool] = (True, True)
    because: dict[int, str] = field(default_factory=dict)
    grown: dict[tuple[int, int], Growth] = field(default_factory=dict)
    ends: dict[tuple[int, int], tuple[Dim, Dim, Growth | None, Dim]] = field(default_factory=dict)  # and from what
    sized: dict[int, Dim] = field(default_factory=dict)  # its finished sizes by axis, once they have their names
    cuts: list[Cut] = field(default_factory=list)
    layers: int = 1
    turnable: bool = False
    match: str = ""
    fit_to: str = ""
    banded: tuple[str, ...] = ()
    notes: list[str] = field(default_factory=list)
    place: Place = NOWHERE

    @property
    def thick(self) -> int:
        """The axis of its thickness."""
        return self.lies[2]

    def lower(self, axis: int) -> Dim:
        """Its low end along an axis, with what has grown."""
        return self.end(axis, -1)

    def upper(self, axis: int) -> Dim:
        """Its high end along an axis, with what has grown."""
        return self.end(axis, 1)

    def end(self, axis: int, sign: int) -> Dim:
        """Its high end for +1, its low end for -1: one and the same number until it is laid anew or grows."""
        low, span, growth = self.low[axis], self.span[axis], self.grown.get((axis, sign))
        known = self.ends.get((axis, sign))
        if known is not None and known[0] is low and known[1] is span and known[2] is growth:
            return known[3]
        end = low if sign < 0 else plus(low, span)
        if growth is not None:
            end = plus(end, growth.by) if sign > 0 else minus(end, growth.by)
        self.ends[axis, sign] = low, span, growth, end
        return end

    def grow(self, axis: int, sign: int, by: Dim, because: str) -> None:
        """Let it go beyond its shoulder at one end. Raises Broken when that end has grown already."""
        if (axis, sign) in self.grown:
            raise Broken(f"{self.name} grows twice at one end")
        self.grown[axis, sign] = Growth(by, because)

    def whole(self, axis: int) -> Dim:
        """Its full size along an axis: between shoulders, and what has grown at both ends."""
        if axis in self.sized:
            return self.sized[axis]
        low, high = self.grown.get((axis, -1)), self.grown.get((axis, 1))
        size = self.span[axis]
        if low and high and low.by is high.by:
            return size + 2 * low.by
        for growth in (low, high):
            if growth:
                size = size + growth.by
        return size

    def reason(self, axis: int) -> str:
        """Why it has that size along an axis, in words."""
        whys = [self.because.get(axis, "as laid out")]
        for sign in (-1, 1):
            growth = self.grown.get((axis, sign))
            if growth and growth.because not in whys:
                whys.append(growth.because)
        return "; ".join(whys)

    def datum_low(self, axis: int) -> bool:
        """Whether its own coordinates along an axis start at the low end."""
        if axis == self.thick:
            return self.faces < 0  # w runs from the face into the thickness
        return self.from_low[self.lies.index(axis)]

    def own(self, axis: int, low: Dim, high: Dim) -> tuple[Dim, Dim]:
        """A stretch of the assembly's axis in the board's own coordinate: where it starts, how long it is.

        What goes right through is as long as the board itself, whatever that is read or settled to be.
        """
        start = minus(low, self.lower(axis)) if self.datum_low(axis) else minus(self.upper(axis), high)
        if axis in self.sized and (low.value, high.value) == (self.lower(axis).value, self.upper(axis).value):
            return start, self.sized[axis]
        return start, minus(high, low)

    def own_point(self, axis: int, at: Dim) -> Dim:
        """A point of the assembly's axis in the board's own coordinate."""
        return minus(at, self.lower(axis)) if self.datum_low(axis) else minus(self.upper(axis), at)

    def side_toward(self, axis: int, sign: int) -> Side:
        """Which of its sides looks along an axis, up it for +1."""
        which = self.lies.index(axis)
        if which == 2:
            return Side.FACE if self.faces == sign else Side.BACK
        near = self.from_low[which] == (sign < 0)
        return ((Side.END, Side.FAR_END), (Side.EDGE, Side.FAR_EDGE))[which][0 if near else 1]


@dataclass(slots=True)
class Piece:
    """What one assembly has collected on the bench, before it is frozen."""

    drafts: dict[str, Draft] = field(default_factory=dict)
    assemblies: list[Assembly] = field(default_factory=list)
    parts: list[Part] = field(default_factory=list)
    joints: list["Wanted"] = field(default_factory=list)
    joined: list[Joined] = field(default_factory=list)
    fasteners: list[Fastener] = field(default_factory=list)
    items: list[Item] = field(default_factory=list)
    fits: list[Fit] = field(default_factory=list)
    openings: list[Opening] = field(default_factory=list)
    sliders: list[Slider] = field(default_factory=list)
    spans: list[Span] = field(default_factory=list)
    moves: list[Move] = field(default_factory=list)
    truths: dict[str, Callable[[], Dim | None]] = field(default_factory=dict)  # by full name; asked once all is cut


@dataclass(frozen=True, slots=True, eq=False)
class Wanted:
    """A joint that a kind asks for: which draft goes into which, along which axis, and the way it is to be made."""

    name: str
    kind: "JointWork"
    host: Draft
    guest: Draft
    axis: int
    sign: int  # from the guest toward the host
    options: Filled  # the joint's own fields, as filled
    place: Place = NOWHERE
    bench: "Bench | None" = None  # where it was asked for: a drawer's joints stay in the drawer's chapter


@dataclass(frozen=True, slots=True)
class JointWork:
    """The two moves of a joint: let the guest grow; then, when everything has grown, mark out the cuts."""

    name: str
    grow: Callable[[Wanted, "Bench"], None]
    cut: Callable[[Wanted, "Bench"], Joined]


class Stuck(Exception):
    """A kind gives up on its entry: the mistakes noted say why. Caught where entries are resolved."""


@dataclass(slots=True, eq=False)
class Bench:
    """Where one entry of the plan is worked out: its book, the stock, and what has been laid down so far."""

    name: str
    book: Book
    manner: Manner
    stock: dict[str, Stock]  # by plain name
    mistakes: list[Finding]
    piece: Piece = field(default_factory=Piece)

    def within(self, name: str) -> "Bench":
        """A bench for an assembly inside this one; everything lands in the same piece."""
        return Bench(f"{self.name}.{name}", self.book.within(name), self.manner, self.stock, self.mistakes, self.piece)

    def lay(self, draft: Draft) -> Draft:
        """Put a board on the bench. Its name must be new in the piece; Broken otherwise."""
        if draft.name in self.piece.drafts:
            raise Broken(f"two boards are called {draft.name}")
        self.piece.drafts[draft.name] = draft
        return draft

    def stock_of(self, name: str, place: Place) -> Stock:
        """The stock of that name. Raises Stuck, with a mistake noted, when the plan has none of that name."""
        found = self.stock.get(plain(name))
        if found is None:
            known = [stock.name for stock in self.stock.values()]
            self.mistakes.append(mistake(place, name, f"a stock of this plan: {one_of(known)}", nearest(name, known)))
            raise Stuck(name)
        return found

    def settle(self, name: str, reckoned: Dim, because: str) -> Dim:
        """Name a number in this assembly's chapter of the book."""
        return self.book.settle(name, reckoned, because, tidied)

    def once(self, name: str, reckon: Callable[[], Dim], because: str) -> Dim:
        """A number that several places of this assembly share: settled the first time, the same ever after."""
        full = self.book.scope + name
        return self.book.pages[full] if full in self.book.pages else self.settle(name, reckon(), because)

    def true(self, name: str, really: Callable[[], Dim | None]) -> None:
        """How a number of this assembly comes about in the real thing: from the sizes that are cut."""
        self.piece.truths[self.book.scope + name] = really

    def step(self, inch: str, metric: str) -> Fraction:
        """A round number of the plan's own units [mm]: `inch` as a fraction of an inch, or `metric` millimetres."""
        return _step(inch, metric, self.manner.unit)


@lru_cache(maxsize=512)
def _step(inch: str, metric: str, unit: Unit) -> Fraction:
    return Fraction(inch) * Fraction("25.4") if unit == "inch" else Fraction(metric)


def join(bench: Bench, wanted: Wanted) -> Wanted:
    """Ask for a joint: the guest grows at once, the cuts follow when the whole piece has grown."""
    wanted = replace(wanted, bench=bench)
    wanted.kind.grow(wanted, bench)
    bench.piece.joints.append(wanted)
    return wanted


def size_boards(bench: Bench) -> None:
    """Name the finished sizes of its boards."""
    for draft in bench.piece.drafts.values():
        _size(draft, replace(bench.book, scope=""))
        bench.mistakes.extend(_nothing_left(draft, bench))


def cut_joints(bench: Bench) -> None:
    """Mark out its joints, once every board that they may lie in has its size."""
    for wanted in bench.piece.joints:
        bench.piece.joined.append(wanted.kind.cut(wanted, wanted.bench or bench))


def name_cuts(bench: Bench) -> None:
    """Hand over its boards as parts with every cut named, once all joints are marked out."""
    named: dict[int, Dim] = {}
    for draft in bench.piece.drafts.values():
        part = _part(draft, replace(bench.book, scope=""))
        named |= _new_names(draft.cuts, part.cuts)
        bench.piece.parts.append(part)
    if named:
        made: dict[int, Dim] = {}
        bench.piece.fits[:] = [_renamed(fit, named, made) for fit in bench.piece.fits]


def truths(benches: Sequence[Bench]) -> dict[str, Dim]:
    """Numbers by name as they come about in the real thing; once all is cut. Each has the plan's value."""
    found = {name: really() for bench in benches for name, really in bench.piece.truths.items()}
    pages = {name: dim for bench in benches for name, dim in bench.book.pages.items()}
    wrong = [name for name, dim in found.items() if dim is not None and dim.value != pages[name].value]
    if wrong and not any(bench.book.readings for bench in benches):
        raise Broken("these numbers come out differently when reckoned from what is cut", wrong)
    return {name: dim for name, dim in found.items() if dim is not None}


def _renamed(fit: Fit, named: Mapping[int, Dim], made: dict[int, Dim]) -> Fit:
    return replace(fit, gap=rewritten(fit.gap, lambda dim: named.get(id(dim)), made))


def _new_names(before: Sequence[Cut], after: Sequence[Cut]) -> dict[int, Dim]:
    """The numbers of channels as they are called now, by what they were before they had names of their own."""
    pairs = [
        (old, new)
        for was, now in zip(before, after, strict=True)
        if isinstance(was, Channel) and isinstance(now, Channel)
        for old, new in ((was.size[0], now.size[0]), (was.size[1], now.size[1]), (was.depth, now.depth))
    ]
    return {id(old): new for old, new in pairs if old is not new and not isinstance(old.node, Named)}


def _size(draft: Draft, book: Book) -> None:
    for word, axis in zip(("length", "width", "thickness"), draft.lies, strict=True):
        draft.sized[axis] = book.settle(f"{draft.name}.{word}", draft.whole(axis), draft.reason(axis), tidied)


def _nothing_left(draft: Draft, bench: Bench) -> Iterator[Finding]:
    """A board whose size comes out at nothing or less can't be cut: what it is reckoned from leaves no room for it."""
    for word, axis in zip(("long", "wide", "thick"), draft.lies, strict=True):
        value = draft.whole(axis).value
        if value <= 0:
            says = f"{draft.name} comes out {show(value, bench.manner)} {word}: there is no room for it."
            reason = f"It is reckoned so: {draft.reason(axis)}."
            yield Finding("no-room", Grade.STOP, draft.place, says, f"{reason} Make what it goes into larger.")


def _part(draft: Draft, book: Book) -> Part:
    at: Three = (draft.lower(X), draft.lower(Y), draft.lower(Z))
    ends = tuple(1 if low else -1 for low in draft.from_low)
    return Part(
        name=draft.name,
        role=draft.role,
        assembly=draft.assembly,
        stock=draft.stock,
        size=(draft.sized[draft.lies[0]], draft.sized[draft.lies[1]], draft.sized[draft.lies[2]]),
        lies=draft.lies,
        at=at,
        datum=(ends[0], ends[1], draft.faces),
        cuts=tuple(named_cuts(draft.name, draft.cuts, book)),
        layers=draft.layers,
        turnable=draft.turnable or not draft.stock.grain,
        banded=draft.banded,
        match=draft.match,
        fit_to=draft.fit_to,
        notes=tuple(draft.notes),
        place=draft.place,
    )


def is_sum(dim: Dim) -> bool:
    """True for a number that has no name of its own yet."""
    return isinstance(dim.node, Op)
