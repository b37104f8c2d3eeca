"""Putting right: what can be done about a fit that broke, with numbers, the cheapest first.

A remedy changes one number of one part by what the gap lacks. What else hangs on that number is told with it.
"""

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from storystick.ground.dim import Dim, Leaf
from storystick.ground.length import fine, up_to
from storystick.ground.source import Source, practice
from storystick.model.build import Build
from storystick.model.cut import Channel
from storystick.model.judged import Judged
from storystick.model.made import Made, as_reckoned, was_read
from storystick.model.part import Part

type Way = Literal["recut", "plane", "widen", "shim", "anew", "live"]
type Offcut = Callable[[Part], str | None]
"""Where another piece for a part could come from: "offcut B of birch18"; None where there is no room."""

FACE = practice("a sheet's face veneer takes at most 0.3 mm of sanding; solid wood takes a shaving of 1 mm")
FACE_SHEET, FACE_SOLID = Fraction(3, 10), Fraction(1)
SHAVING = practice("a plane takes up to 3 mm off an edge; more than that is sawn")
SHAVING_MOST = Fraction(3)
FLOOR = practice("a quarter of a board stays under a channel, and 6 mm of wood beside it")
WALL = Fraction(6)
SHIM_LEAST, SHIM_MOST = Fraction(1, 10), Fraction(3)
VENEER = practice("a gap of 0.1 to 3 mm is filled with a shim: paper 0.1 mm thick, card 0.3 mm, veneer 0.6 mm and more")
STEP = Fraction(1, 20)
TO_SPARE = practice("the gap is brought a quarter of the room inside what is wanted, in whole steps of 0.05 mm")
MINUTES: Mapping[Way, int] = {"recut": 0, "plane": 8, "widen": 10, "shim": 15, "anew": 40, "live": 90}


@dataclass(frozen=True, slots=True, eq=False)
class Remedy:
    """One thing to do.

    number, by  the number that changes, and by how much [mm]; no number for a shim or for living with it
    part        the part in hand;  enough  whether there is enough left for it
    also        fits that move with it: how far each gap moves [mm]
    """

    way: Way
    says: str
    part: str
    number: str = ""
    by: Fraction = Fraction(0)
    enough: bool = True
    left: str = ""
    also: tuple[tuple[Judged, Fraction], ...] = ()
    source: Source | None = None

    @property
    def spoils(self) -> tuple[str, ...]:
        """Names of fits that are good and would not be any more."""
        return tuple(
            one.fit.name
            for one, by in self.also
            if not is_broken(one) and not one.fit.least.value <= one.gap.value + by <= one.fit.most.value
        )

    @property
    def minutes(self) -> int:
        """A guess at the time it takes."""
        return MINUTES[self.way]


def is_broken(judged: Judged) -> bool:
    """Whether the gap, as far as it is known, is not as wanted."""
    return not judged.fit.least.value <= judged.gap.value <= judged.fit.most.value


def lacks(judged: Judged) -> Fraction:
    """How much the gap is short of what is wanted, with a quarter of the room to spare; under 0: too wide [mm]."""
    gap, least, most = judged.gap.value, judged.fit.least.value, judged.fit.most.value
    room = (most - least) / 4
    if gap < least:
        return up_to(least + room - gap, STEP)
    return -up_to(gap - (most - room), STEP) if gap > most else Fraction(0)


def lack(judged: Judged) -> Dim:
    """The same as a number that can be asked why."""
    name = f"mend of {judged.fit.name}"
    looked_at = (judged.gap, judged.fit.least, judged.fit.most)
    leaf = Leaf(name, "chosen", str(TO_SPARE), source=TO_SPARE, looked_at=looked_at)
    return Dim(lacks(judged), leaf)


def remedies(
    made: Made, broken: Judged, fits: tuple[Judged, ...], cut: Collection[str], offcut: Offcut | None = None
) -> tuple[Remedy, ...]:
    """What can be done about a fit that broke, the cheapest first; what there is not enough wood for comes last.

    cut     names of the parts and numbers that are cut;  offcut  where another piece for a part could come from
    """
    need = lacks(broken)
    if not need:
        return ()
    found = [*_by_number(made, broken, need, fits, cut), *_shim(made, broken, need)]
    if broken.fit.goes_in in cut:
        found.extend(_anew(made, broken, offcut))
    found.append(_live(made, broken))
    mine = broken.fit.goes_in

    def rank(one: Remedy) -> tuple[object, ...]:
        """What there is wood for and spoils nothing first; then the cheapest, in what goes in before the rest."""
        own = one.part == mine or one.part.startswith(f"{mine}.")
        return (not one.enough, len(one.spoils), one.minutes, not own, len(one.also), abs(one.by), one.number)

    return tuple(sorted(found, key=rank))


def _by_number(
    made: Made, broken: Judged, need: Fraction, fits: tuple[Judged, ...], cut: Collection[str]
) -> Iterator[Remedy]:
    """Every number of a part that the gap moves with: changed on paper where it is not cut, cut into where it is."""
    for name, weight in _moves(made, broken).items():
        part = _part_of(made.build, name)
        if part is None or abs(weight) < 0.5:
            continue
        by = need / Fraction(str(round(weight, 3)))
        also = tuple(
            (one, by * Fraction(str(round(other, 3))))
            for one in fits
            if one is not broken and (other := _moves(made, one).get(name))
        )
        is_cut = name in cut or part.name in cut or was_read(made.build.pages[name])
        if not is_cut and name != part.thickness.name:
            yield from _on_paper(made, part, name, by, also)
            continue
        if wood := _into(made, part, name, by):
            yield Remedy(wood.way, wood.says, part.name, name, by, wood.enough, wood.left, also, wood.source)


def _moves(made: Made, judged: Judged) -> Mapping[str, float]:
    """The numbers of pieces that a gap moves with, and how much it moves when one of them grows by 1."""
    return made.moves(as_reckoned(judged.fit.gap))


def _part_of(build: Build, number: str) -> Part | None:
    return next((part for part in build.parts if number.startswith(f"{part.name}.")), None)


def _said(part: Part, number: str) -> str:
    return f"{number.removeprefix(f'{part.name}.')} of {part.name}"


def _on_paper(
    made: Made, part: Part, name: str, by: Fraction, also: tuple[tuple[Judged, Fraction], ...]
) -> Iterator[Remedy]:
    if name.endswith(".long"):
        return
    manner = made.build.manner
    to = made.build.pages[name].value + by
    word = "larger" if by > 0 else "smaller"
    says = f"{part.name} is not cut yet: make {_said(part, name)} {fine(abs(by), manner)} {word}, {fine(to, manner)}"
    yield Remedy("recut", says, part.name, name, by, to > 0, "", also)


@dataclass(frozen=True, slots=True)
class _Cut:
    way: Way
    says: str
    enough: bool
    left: str
    source: Source


def _into(made: Made, part: Part, name: str, by: Fraction) -> _Cut | None:
    """Taking wood off what is cut; None where wood would have to be put on."""
    manner, word = made.build.manner, name.rsplit(".", 1)[-1]
    amount = fine(abs(by), manner)
    if word in ("length", "width") and by < 0:
        enough = -by <= SHAVING_MOST
        says = f"{'plane' if enough else 'saw'} {amount} off the {'end' if word == 'length' else 'edge'} of {part.name}"
        return _Cut("plane", says, True, "", SHAVING)
    if word == "thickness" and by < 0:
        most = FACE_SOLID if part.stock.solid else FACE_SHEET
        if -by > 2 * most:
            return None
        says = f"plane or sand {amount} off {part.name} where it goes in"
        left = f"its face takes {fine(most, manner)}"
        return _Cut("plane", says, -by <= most, left, FACE)
    cut = next((one for one in part.cuts if isinstance(one, Channel) and name.startswith(f"{one.name}.")), None)
    if cut is None or by < 0:
        return None
    if word == "wide":
        over = cut.side.axes[1 - cut.runs]
        start, wide = cut.at[1 - cut.runs].value, cut.width.value
        room = max(start, part.size[over].value - start - wide) if start > 0 else part.size[over].value - wide
        says = f"widen {_said(part, cut.name)} by {amount}"
        return _Cut("widen", says, room - by >= WALL, f"{fine(room - by, manner)} of wood stays beside it", FLOOR)
    if word == "deep":
        thick = part.size[cut.side.normal].value
        stays = thick - cut.depth.value - by
        says = f"deepen {_said(part, cut.name)} by {amount}"
        return _Cut("widen", says, stays >= thick / 4, f"{fine(stays, manner)} stays under it", FLOOR)
    return None


def _shim(made: Made, broken: Judged, need: Fraction) -> Iterator[Remedy]:
    if need < 0:
        amount, enough = fine(-need, made.build.manner), SHIM_LEAST <= -need <= SHIM_MOST
        says = f"glue a shim of {amount} to {broken.fit.goes_in}"
        if broken.fit.for_good == "slides":
            says = f"put {amount} of card behind a slide of {broken.fit.goes_in}"
        yield Remedy("shim", says, broken.fit.goes_in, "", -need, enough, "" if enough else VENEER.text, (), VENEER)


def _anew(made: Made, broken: Judged, offcut: Offcut | None) -> Iterator[Remedy]:
    part = made.build.parts_by_name.get(broken.fit.goes_in)
    if part is None:
        return
    source = offcut(part) if offcut else ""
    says = f"cut another {part.name}" + (f" from {source}" if source else "")
    yield Remedy("anew", says, part.name, "", Fraction(0), source is not None, "" if source else _NO_ROOM)


_NO_ROOM = "no offcut of that stock is known to have room for it: it takes a new sheet"


def _live(made: Made, broken: Judged) -> Remedy:
    manner, fit = made.build.manner, broken.fit
    tight = broken.gap.value < fit.least.value
    off = fit.least.value - broken.gap.value if tight else broken.gap.value - fit.most.value
    says = f"live with it: {fine(off, manner)} {'tighter' if tight else 'looser'} than the trade wants"
    hard = tight and broken.gap.value < 0
    return Remedy("live", says, fit.goes_in, "", Fraction(0), not hard, "it does not go in" if hard else "")
