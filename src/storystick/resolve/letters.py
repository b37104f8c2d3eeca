"""Which parts are one and the same, and the letter that each different part gets."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from functools import partial

from storystick.ground.dim import Dim
from storystick.ground.kept import Kept, This
from storystick.model.cut import Bevel, Bore, Channel, Cut, Notch, Side
from storystick.model.part import Part

type Mark = tuple[object, ...]
type Ratio = tuple[int, int]  # a fraction's two numbers: told apart much faster than the fraction

_LETTERED: Kept[Part] = Kept(512)  # a board that is the very same keeps its letter without becoming another
_ACROSS = {Side.EDGE: Side.FAR_EDGE, Side.FAR_EDGE: Side.EDGE}


def lettered(parts: Iterable[Part]) -> tuple[Part, ...]:
    """The parts with their letters: parts that are alike in stock, size and cuts share one, mirrored twins do not."""
    rows = [(part, cuts := Counter(_cut(cut) for cut in part.cuts), _mark(part, cuts)) for part in parts]
    hands: dict[Mark, set[bool]] = {}
    for part, _, mark in rows:
        hands.setdefault(mark, set()).add(part.is_left_handed)
    letters: dict[Mark, str] = {}
    done = []
    for part, cuts, mark in rows:
        twins = len(hands[mark]) > 1 and cuts != Counter(_cut(cut, part.size[1].value) for cut in part.cuts)
        letter = letters.setdefault((mark, part.is_left_handed if twins else None), letter_of(len(letters)))
        done.append(_LETTERED.of((This(part), letter), partial(replace, part, letter=letter)))
    return tuple(done)


def letter_of(index: int) -> str:
    """A, B ... Z, AA, AB ... without I and O, which read as 1 and 0 on wood."""
    alphabet = "ABCDEFGHJKLMNPQRSTUVWXYZ"
    word = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, len(alphabet))
        word = alphabet[rest] + word
    return word


def _mark(part: Part, cuts: Counter[Mark]) -> Mark:
    """Everything that makes a part what it is at the bench, in its own coordinates, but for its hand."""
    alike = frozenset(cuts.items())
    return (part.stock.name, _values(part.size), part.layers, part.match, alike, part.role in ("face", "front"))


def _cut(cut: Cut, flip: Fraction | None = None) -> Mark:
    match cut:
        case Channel():
            sides, at, size = _sides(cut.side, flip), _values(cut.at), _values(cut.size)
            if flip is not None and 1 in cut.side.axes:
                where = cut.side.axes.index(1)
                at = _with(at, where, flip - cut.at[where].value - cut.size[where].value)
            return ("channel", sides, at, size, _value(cut.depth), cut.runs)
        case Bore():
            at, toward = _values(cut.at), cut.toward
            if flip is not None and 1 in cut.side.axes:
                where = cut.side.axes.index(1)
                at = _with(at, where, flip - cut.at[where].value)
                toward = (-toward[0], toward[1]) if where == 0 else (toward[0], -toward[1])
            deep, sink = _value(cut.depth), _value(cut.sink)
            step = _values(cut.step) if cut.step else None
            return ("bore", _sides(cut.side, flip), at, _value(cut.diameter), deep, cut.lean, toward, sink, step)
        case Notch():
            corners = [(c.u.value, c.v.value if flip is None else flip - c.v.value, c.radius) for c in cut.corners]
            return ("notch", tuple(sorted((u, v, radius.value if radius else Fraction(0)) for u, v, radius in corners)))
        case Bevel():
            return ("bevel", _sides(cut.side, flip), cut.degrees, cut.from_back)


def _with(at: tuple[Ratio, ...], where: int, value: Fraction) -> tuple[Ratio, ...]:
    return (*at[:where], value.as_integer_ratio(), *at[where + 1 :])


def _sides(side: Side, flip: Fraction | None) -> str:
    return (_ACROSS.get(side, side) if flip is not None else side).value


def _value(dim: Dim | None) -> Ratio | None:
    return None if dim is None else dim.value.as_integer_ratio()


def _values(dims: Iterable[Dim]) -> tuple[Ratio, ...]:
    return tuple(dim.value.as_integer_ratio() for dim in dims)
