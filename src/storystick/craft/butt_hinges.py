"""Butt hinges, and continuous ones: let into the two boards that meet at the hinged edge, the pin outside."""

from dataclasses import dataclass
from fractions import Fraction

from storystick.craft.draft import Bench, Draft, X, minus, plus
from storystick.craft.hinge_screws import screw_through
from storystick.craft.hinging import Hanging, ends_of, recess_width, sized
from storystick.ground.dim import Dim
from storystick.model.cut import Channel, Spot
from storystick.model.joining import Item
from storystick.shop.tables import screws
from storystick.shop.tables.rows import Hinge

SCREWS = ("#6 wood screw", "3.5 mm chipboard screw")  # in a plan in inches, and in one in millimetres
HINGE_KG = 0.06  # a guess
FAR = Fraction(13, 20)  # screws sit a little behind the middle of a leaf, away from the edge of the wood
STAGGER = Fraction(1, 16)  # the holes of the two leaves miss each other by twice this share of their length


@dataclass(frozen=True, slots=True, eq=False)
class Seam:
    """Where leaf and fixed board meet: from the leaf to the board up `axis` for sign +1; the pin at the end `pin` of
    `deep`; hinges one behind another along `along`."""

    axis: int
    sign: int
    deep: int
    pin: int
    along: int


def hang_on_butts(
    bench: Bench, row: Hinge, hang: Hanging, at: list[Dim], seam: Seam, case: str, pin: Dim | None = None
) -> None:
    """Cut the recesses in both boards, and put the hinges and their screws in.

    pin  where the pin is along `deep` in the leaf's axes, where it is not at the leaf's own end
    """
    leaf, fixed = hang.leaf, hang.fixed
    wide = bench.once(
        "hinge recess wide", lambda: recess_width(bench, row, leaf.span[seam.deep], fixed.span[seam.deep]), "a leaf"
    )
    deep = sized(bench, "hinge recess deep", row.leaf_thick_mm, row)
    whole = row.kind == "continuous"
    long = hang.long if whole else sized(bench, "hinge recess long", row.leaf_long_mm, row)
    for number_, middle in enumerate(at[:1] if whole else at, 1):
        centre = plus(hang.low, hang.long / 2) if whole else middle
        name = f"{leaf.assembly} hinge" if whole else f"{leaf.assembly} hinge {number_}"
        bench.piece.items.append(
            Item(
                name, row.name, row.name, 1, case, (leaf.name, fixed.name), None, False, HINGE_KG, row.name,
                carries=leaf.assembly, place=hang.place,
            )
        )  # fmt: skip
        shifted = plus(hang.shift[seam.along], centre)
        ends = (pin or leaf.end(seam.deep, seam.pin), fixed.end(seam.deep, seam.pin))
        for word, board, sign, where, end in (
            ("leaf", leaf, seam.sign, centre, ends[0]), ("fixed", fixed, -seam.sign, shifted, ends[1])
        ):  # fmt: skip
            if not whole:
                board.cuts.append(_recess(hang, board, name, (seam.axis, sign), seam, (where, end), (long, wide, deep)))
            size = (long, wide, deep)
            _screws(bench, hang, board, (f"{name} {word}", name), (seam.axis, sign), seam, (where, end), size, whole)


def _recess(
    hang: Hanging,
    board: Draft,
    name: str,
    toward: tuple[int, int],
    seam: Seam,
    where: tuple[Dim, Dim],
    size: tuple[Dim, Dim, Dim],
) -> Channel:
    long, wide, deep = size
    middle, end = where
    across = (minus(end, wide), end) if seam.pin > 0 else (end, plus(end, wide))
    start = ends_of(middle, long)
    spots = {
        board.lies.index(seam.along): (board.own(seam.along, *start)[0], long),
        board.lies.index(seam.deep): (board.own(seam.deep, *across)[0], wide),
    }
    first, second = sorted(spots)
    at: Spot = (spots[first][0], spots[second][0])
    both: Spot = (spots[first][1], spots[second][1])
    runs = 0 if first == board.lies.index(seam.along) else 1
    return Channel(f"{name} recess", board.side_toward(*toward), at, both, deep, runs, "hinge recess", place=hang.place)


def _screws(
    bench: Bench,
    hang: Hanging,
    board: Draft,
    names: tuple[str, str],
    toward: tuple[int, int],
    seam: Seam,
    where: tuple[Dim, Dim],
    size: tuple[Dim, Dim, Dim],
    whole: bool,
) -> None:
    """Two screws to a leaf, three to a long one; along a continuous hinge one about every 100 mm."""
    long, wide, deep = size
    end = where[1]
    far = wide * FAR
    middle = minus(end, far) if seam.pin > 0 else plus(end, far)
    beside = long * STAGGER if board is hang.leaf else -(long * STAGGER)
    count = max(2, int(long.value / 100) + 1) if whole else (3 if long.value > 60 else 2)
    first = ends_of(where[0], long)[0]
    for number_ in range(count):
        at = first + long * Fraction(2 * number_ + 1, 2 * count) + beside
        spot = {seam.along: at, seam.deep: middle}
        sunk = None if whole else deep
        name = f"{names[0]} screw {number_ + 1}"
        axis, sign = toward
        most = Fraction(32) if board.thick != axis else Fraction(20)
        screw = screws()[SCREWS[bench.manner.unit == "mm"]]
        screw_through(bench, name, names[1], screw, board, axis, -sign, spot, most, hang.place, sunk)


DOOR_LEFT, DOOR_RIGHT = Seam(X, -1, 1, -1, 2), Seam(X, 1, 1, -1, 2)
