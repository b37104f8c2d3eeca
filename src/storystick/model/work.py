"""The order of work: operations, the settings that they share, and steps as one person does them."""

from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction

from storystick.ground.dim import Dim
from storystick.ground.finding import NOWHERE, Finding, Place
from storystick.ground.source import Source
from storystick.model.cutting import Layout
from storystick.model.stock import Stock


class Stage(StrEnum):
    """What part of the job a step belongs to, in the order in which a job goes through them."""

    MEASURE = "measure"
    BREAK_DOWN = "break down the sheets"
    SAW = "saw to size"
    MACHINE = "cut the joints"
    DRILL = "drill"
    SAND = "sand"
    DRY_FIT = "dry fit"
    GLUE = "glue up"
    ASSEMBLE = "assemble"
    FINISH = "finish"
    HARDWARE = "fit the hardware"
    INSTALL = "put in place"


@dataclass(frozen=True, slots=True, eq=False)
class Setup:
    """One setting of one machine, and everything that is done at it.

    machine  "table saw", "router", "drill" ...;  tool  the blade or bit in it
    name     "fence", "bit height", "stop", "guide offset"
    to       what it is set to, a number that can be asked why; None where there is nothing to set
    test     how it is proved before good wood is cut
    """

    key: str
    machine: str
    tool: str
    name: str
    to: Dim | None
    says: str
    test: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class MadeBy:
    """The way chosen to make one cut: the method in words, its set-ups, why this one, and what else would do."""

    part: str
    cut: str
    method: str
    setups: tuple[Setup, ...]
    why: str
    others: tuple[str, ...] = ()
    source: Source | None = None
    off: Fraction = Fraction(0)  # how much wider than drawn it comes out [mm]


@dataclass(frozen=True, slots=True, eq=False)
class Step:
    """One step at the bench.

    does      sentences, in order;  parts  full names of the parts in hand;  new  what this step adds to the picture
    shows     names of all parts in the picture after it (empty: no picture)
    check     what to check before going on;  caution  what can hurt or spoil
    reads     names of numbers to measure and write down now
    hands_on, waits  minutes
    """

    number: int
    stage: Stage
    title: str
    does: tuple[str, ...]
    parts: tuple[str, ...] = ()
    setups: tuple[Setup, ...] = ()
    shows: tuple[str, ...] = ()
    new: tuple[str, ...] = ()
    check: str = ""
    caution: str = ""
    reads: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    hands_on: int = 0
    waits: int = 0
    after: tuple[int, ...] = ()
    why_here: str = ""
    cuts: tuple[tuple[str, str], ...] = ()  # names of part and cut that this step makes
    set_up: int = 0
    begins: int = 0
    to_fit: tuple[tuple[str, int], ...] = ()  # cuts of the sheet maps set to what was measured: stock and number

    @property
    def day(self) -> int:
        """On which working day it begins, from 1."""
        return self.begins // (24 * 60) + 1


@dataclass(frozen=True, slots=True)
class Reckoned:
    """What an order comes to, in minutes, and what no order can better.

    hands_on  at work, setting up included;  set_up  of that;  ends  from the first morning, nights and all
    least_set_up, least_end  lower bounds;  gap  by what share the order may be worse than the best (0: it is the best)
    """

    hands_on: float
    set_up: float
    ends: float
    least_set_up: float
    least_end: float
    gap: float
    hours: float = 8.0

    @property
    def days(self) -> int:
        """On which working day it is done."""
        return int(self.ends // (24 * 60)) + 1


@dataclass(frozen=True, slots=True)
class Wish:
    """An order that somebody wants: steps whose title has the words of `first` before those with the words of `then`.

    first, then  one of them "" for a step that is to be as late, or as early, as it can be
    firm   kept whatever it costs; else only where it costs no more than `worth` minutes
    said   as it was said, for what is told of it;  place  where, if in a file
    """

    first: str
    then: str
    firm: bool = True
    worth: float = 30.0
    said: str = ""
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True, eq=False)
class WorkOrder:
    """Everything to do, in order; how each cut is made; the set-ups in the order they are used; tools needed."""

    steps: tuple[Step, ...]
    ways: tuple[MadeBy, ...]
    setups: tuple[Setup, ...]
    tools: tuple[str, ...]
    cautions: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
    reckoned: Reckoned | None = None


@dataclass(frozen=True, slots=True, eq=False)
class From:
    """Where a number of the buying list comes from: in words, a line of the plan or shop, a rule, other numbers."""

    says: str = ""
    place: Place = NOWHERE
    source: Source | None = None
    looked_at: tuple[Dim, ...] = ()


@dataclass(frozen=True, slots=True)
class Buy:
    """One line of the buying list. `have` of the `count` are on hand; price is for one `unit`, None when unknown."""

    what: str
    size: str
    count: int
    unit: str
    price: Fraction | None
    have: int = 0
    used_for: str = ""
    guessed: bool = False  # the price is a practice guess, not one the plan or the shop gives
    kind: str = ""  # stock, fasteners, hardware, glue and finish
    priced: From = field(default=From(), compare=False)
    counted: From = field(default=From(), compare=False)

    @property
    def total(self) -> Fraction | None:
        """Price of what has to be bought."""
        return None if self.price is None else self.price * max(0, self.count - self.have)


@dataclass(frozen=True, slots=True)
class Staves:
    """A part glued up edge to edge: how many staves, their size off the saw, and what jointing takes off each [mm].

    wide   of the widest;  wides  of each, where boards of several widths are used
    """

    part: str
    count: int
    long: Fraction
    wide: Fraction
    jointed: Fraction
    wides: tuple[Fraction, ...] = ()

    @property
    def comes_to(self) -> Fraction:
        """How wide the panel is when all edges are jointed and it is glued up [mm]."""
        return sum(self.wides or (self.wide,) * self.count, Fraction(0)) - self.count * self.jointed


@dataclass(frozen=True, slots=True, eq=False)
class Cutting:
    """The layout of one stock: its sheets or lengths as cut trees, the lower bound, notes, and what is glued up."""

    stock: Stock
    layout: Layout
    kerf: Fraction
    least: Fraction | None = None  # no layout can cost less (or use fewer) than this
    notes: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = field(default=())
    staves: tuple[Staves, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Buying:
    """The whole buying list; `total` only of what has a price, `unpriced` lines counted."""

    lines: tuple[Buy, ...]
    currency: str = ""

    @property
    def total(self) -> Fraction:
        """Sum of all lines with a price."""
        return sum((line.total for line in self.lines if line.total is not None), Fraction(0))
