"""Which parts are one and the same, and the letter that each different part gets."""

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from storystick.ground.dim import Dim
from storystick.model.cut import Bevel, Bore, Channel, Cut, Notch, Side
from storystick.model.part import Part

type Mark = tuple[object, ...]


def lettered(parts: Iterable[Part]) -> tuple[Part, ...]:
    """The parts with their letters: parts that are alike in stock, size and cuts share one, mirrored twins do not."""
    letters: dict[Mark, str] = {}
    done = []
    for part in parts:
        mark = marks(part)
        letter = letters.setdefault(mark, letter_of(len(letters)))
        done.append(replace(part, letter=letter))
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


def marks(part: Part) -> Mark:
    """Everything that makes a part what it is at the bench, in its own coordinates; mirror images differ."""
    size = tuple(dim.value for dim in part.size)
    cuts = tuple(sorted((_cut(cut) for cut in part.cuts), key=repr))
    mirrored = tuple(sorted((_cut(cut, size[1]) for cut in part.cuts), key=repr))
    hand = part.is_left_handed if cuts != mirrored else None
    return (part.stock.name, size, part.layers, part.match, cuts, hand, part.role in ("face", "front"))


def _cut(cut: Cut, flip: Fraction | None = None) -> Mark:
    match cut:
        case Channel():
            sides = _sides(cut.side, flip)
            at, size = _values(cut.at), _values(cut.size)
            if flip is not None and 1 in cut.side.axes:
                where = cut.side.axes.index(1)
                at = tuple(flip - a - s if i == where else a for i, (a, s) in enumerate(zip(at, size, strict=True)))
            return ("channel", sides, at, size, cut.depth.value, cut.runs)
        case Bore():
            at = _values(cut.at)
            toward: tuple[int, ...] = cut.toward
            if flip is not None and 1 in cut.side.axes:
                where = cut.side.axes.index(1)
                at = tuple(flip - a if i == where else a for i, a in enumerate(at))
                toward = tuple(-t if i == where else t for i, t in enumerate(toward))
            deep = cut.depth.value if cut.depth else None
            sink = cut.sink.value if cut.sink else None
            step = _values(cut.step) if cut.step else None
            return ("bore", _sides(cut.side, flip), at, cut.diameter.value, deep, cut.lean, toward, sink, step)
        case Notch():
            corners = [(c.u.value, c.v.value, c.radius.value if c.radius else 0) for c in cut.corners]
            if flip is not None:
                corners = [(u, flip - v, r) for u, v, r in corners]
            return ("notch", tuple(sorted(corners)))
        case Bevel():
            return ("bevel", _sides(cut.side, flip), cut.degrees, cut.from_back)


def _sides(side: Side, flip: Fraction | None) -> str:
    other = {Side.EDGE: Side.FAR_EDGE, Side.FAR_EDGE: Side.EDGE}
    return (other.get(side, side) if flip is not None else side).value


def _values(dims: Iterable[Dim]) -> tuple[Fraction, ...]:
    return tuple(dim.value for dim in dims)
