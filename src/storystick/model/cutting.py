"""Cutting: blanks out of sheets and sticks, as a tree of cuts in the order they are made.

All lengths are exact millimetres (`Fraction`). A sheet lies with its `long` side along x, which is also
the way its grain runs, and its `wide` side along y; the corner between the two near edges is (0, 0).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

UNIT = Fraction(1, 320)
"""The step that layout works in [mm]: 1 mm = 320, 0.1 mm = 32, 1/64 in = 127, all whole."""


def units_up(length: Fraction) -> int:
    """A length [mm] in whole units, rounded up: for blanks and kerfs, which must not come out small."""
    return -int(-length // UNIT)


def units_down(length: Fraction) -> int:
    """A length [mm] in whole units, rounded down: for stock, which must not be reckoned too large."""
    return int(length // UNIT)


def from_units(count: int) -> Fraction:
    """Whole units back to millimetres, exactly."""
    return count * UNIT


class Way(StrEnum):
    """Which way a cut runs: a rip along the sheet's grain, a crosscut across it."""

    RIP = "rip"
    CROSSCUT = "crosscut"


class Purpose(StrEnum):
    """Why a cut is made. Only a sizing cut needs the fence or the stop set to a number."""

    BREAKDOWN = "breakdown"  # a rough first cut, so that one person can lift the pieces and the saw takes them
    TRIM = "trim"  # takes off a factory edge or a rough edge
    SIZE = "size"  # brings a piece to a size


@dataclass(frozen=True, slots=True)
class Blank:
    """A rectangle to be cut, at its size off the saw.

    key             name of the part this blank becomes; one blank, one part
    along_grain     True: `long` lies along the sheet's grain; False: across it; None: it may be turned
    group           name shared by blanks that are copies of one another
    setting_group   blanks of one group get their equal sizes at one setting of the saw
    strip, place    blanks of one strip follow one another in one piece of stock in the order of `place`
    strip_across    they follow one another over their `wide` sides instead of their `long` ones
    sheet_group     blanks of one group come out of the same sheet
    """

    key: str
    long: Fraction
    wide: Fraction
    along_grain: bool | None = None
    group: str = ""
    setting_group: str = ""
    strip: str = ""
    place: int = 0
    strip_across: bool = False
    sheet_group: str = ""


@dataclass(frozen=True, slots=True)
class Defect:
    """A rectangle of a sheet that no blank may touch: a split, a stain, a screw hole."""

    x: Fraction
    y: Fraction
    long: Fraction
    wide: Fraction


@dataclass(frozen=True, slots=True)
class Sheet:
    """A size of sheet, board or stick to cut from; the grain runs along `long`.

    price     of one, in the shop's money; what is on hand costs nothing, whatever it says here
    copies    how many there are; None: as many as wanted
    on_hand   a sheet or offcut that is in the shop already
    sawn      its edges are sawn true already and are not trimmed
    thick     a board's own thickness, where it is another than the parts' [mm]
    """

    name: str
    long: Fraction
    wide: Fraction
    price: Fraction = Fraction(1)
    copies: int | None = None
    on_hand: bool = False
    sawn: bool = False
    defects: tuple[Defect, ...] = ()
    thick: Fraction | None = None

    @property
    def cost(self) -> Fraction:
        """What using one costs: nothing, if it is on hand."""
        return Fraction(0) if self.on_hand else self.price


@dataclass(frozen=True, slots=True)
class Trim:
    """How much is taken off each factory edge of a sheet, kerf included [mm]."""

    left: Fraction = Fraction(0)
    right: Fraction = Fraction(0)
    front: Fraction = Fraction(0)
    back: Fraction = Fraction(0)


def trim_all(amount: Fraction) -> Trim:
    """The same trim on all four edges."""
    return Trim(amount, amount, amount, amount)


@dataclass(frozen=True, slots=True)
class Piece:
    """A rectangle of one sheet at some moment of the cutting; number 0 of a tree's pieces is the whole sheet.

    number   unique over the whole layout
    blank    key of the blank this piece is; "" while it is something else
    turned   the blank's `long` side lies along y
    keep     a leftover worth keeping
    """

    number: int
    x: Fraction
    y: Fraction
    long: Fraction
    wide: Fraction
    blank: str = ""
    turned: bool = False
    keep: bool = False

    @property
    def area(self) -> Fraction:
        """Area [mm2]."""
        return self.long * self.wide


@dataclass(frozen=True, slots=True)
class Cut:
    """One pass of a saw, from edge to edge of one piece.

    number    place in the order of the whole job, from 1
    piece     number of the piece that is cut
    at        where the kerf begins, from the sheet's corner: y for a rip, x for a crosscut [mm]
    kerf      width of the cut [mm]; the kerf may run out over the far edge, and then only one piece is left
    setting   distance of the fence or the stop, which is the size of the piece that lies against it [mm];
              None for a cut along a line (trim, breakdown)
    frees     numbers of the pieces that are left: near one, far one
    """

    number: int
    piece: int
    way: Way
    at: Fraction
    kerf: Fraction
    setting: Fraction | None
    frees: tuple[int, ...]
    purpose: Purpose = Purpose.SIZE


@dataclass(frozen=True, slots=True)
class CutTree:
    """Everything that is cut from one sheet: its pieces, and its cuts in order."""

    sheet: Sheet
    copy: int
    pieces: tuple[Piece, ...]
    cuts: tuple[Cut, ...]

    @property
    def blanks(self) -> tuple[Piece, ...]:
        """The pieces that are blanks."""
        return tuple(piece for piece in self.pieces if piece.blank)

    @property
    def leftovers(self) -> tuple[Piece, ...]:
        """The pieces worth keeping, the largest first."""
        return tuple(sorted((piece for piece in self.pieces if piece.keep), key=lambda p: (-p.area, p.number)))


@dataclass(frozen=True, slots=True)
class Setting:
    """A stretch of work with the fence or the stop in one place.

    way, size   what it is set to [mm]
    cuts        numbers of the cuts made at it, in order
    """

    way: Way
    size: Fraction
    cuts: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Layout:
    """Which blank comes out of which sheet, by which cuts. `unplaced` names blanks that no stock is left for."""

    trees: tuple[CutTree, ...] = ()
    unplaced: tuple[str, ...] = ()

    @property
    def cost(self) -> Fraction:
        """What the sheets cost that have to be bought."""
        return sum((tree.sheet.cost for tree in self.trees), Fraction(0))

    @property
    def cuts(self) -> tuple[Cut, ...]:
        """All cuts of the job in the order they are made, from sheet to sheet."""
        return tuple(sorted((cut for tree in self.trees for cut in tree.cuts), key=lambda cut: cut.number))

    @property
    def settings(self) -> tuple[Setting, ...]:
        """The settings of the job in order; the fence moves between one and the next."""
        return tuple(_stretches(self.cuts))

    @property
    def best_leftover(self) -> Fraction:
        """Area of the largest leftover worth keeping [mm2]."""
        return max((piece.area for tree in self.trees for piece in tree.leftovers), default=Fraction(0))


def _stretches(cuts: tuple[Cut, ...]) -> Iterator[Setting]:
    held: list[Cut] = []
    for cut in cuts:
        if cut.setting is None:
            continue
        if held and (held[0].way, held[0].setting) != (cut.way, cut.setting):
            yield _stretch(held)
            held = []
        held.append(cut)
    if held:
        yield _stretch(held)


def _stretch(held: list[Cut]) -> Setting:
    return Setting(held[0].way, held[0].setting or Fraction(0), tuple(cut.number for cut in held))
