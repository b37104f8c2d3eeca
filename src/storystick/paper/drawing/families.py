"""Cuts of one part that are alike, taken together: one number on the card, one row in its table."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.dim import Dim
from storystick.ground.length import Manner
from storystick.model.cut import Bevel, Bore, Channel, Cut, Notch, Side
from storystick.model.part import Part
from storystick.paper.lettering import bit, both, said
from storystick.shapes.rounding import fitted_radii


@dataclass(frozen=True, eq=False)
class Family:
    """Cuts that are alike but for their place."""

    number: int
    side: Side
    cuts: tuple[Cut, ...]
    called: str
    size: str
    depth: str
    reach: tuple[Fraction, Fraction]  # of the part's side, along both of its coordinates [mm]


def families(part: Part, manner: Manner) -> tuple[Family, ...]:
    """The cuts of a part by likeness, in the order in which the part has them."""
    found: dict[tuple[object, ...], list[Cut]] = {}
    for cut in part.cuts:
        found.setdefault(_likeness(cut), []).append(cut)
    return tuple(
        Family(
            number,
            side_of(cuts[0]),
            tuple(cuts),
            cuts[0].called,
            size_said(cuts[0], manner),
            depth_said(cuts[0], manner),
            reach_of(part, side_of(cuts[0])),
        )
        for number, cuts in enumerate(found.values(), 1)
    )


def side_of(cut: Cut) -> Side:
    """The side that a cut is made from; the face for what is sawn right through."""
    return Side.FACE if isinstance(cut, Notch) else cut.side


def _likeness(cut: Cut) -> tuple[object, ...]:
    match cut:
        case Channel():
            return ("channel", cut.called, cut.side, cut.size[0].value, cut.size[1].value, cut.depth.value, cut.runs)
        case Bore():
            more = (_value(cut.depth), _value(cut.sink), tuple(d.value for d in cut.step or ()), cut.lean, cut.toward)
            return ("bore", cut.called, cut.side, cut.diameter.value, *more)
        case Bevel():
            return ("bevel", cut.called, cut.side, cut.degrees, cut.from_back)
        case Notch():
            return ("notch", cut.name)


def reach_of(part: Part, side: Side) -> tuple[Fraction, Fraction]:
    """How far a side of a part reaches along both of its coordinates [mm]."""
    first, second = (part.size[axis].value for axis in side.axes)
    return first, second


def _value(length: Dim | None) -> Fraction | None:
    return None if length is None else length.value


def size_said(cut: Cut, manner: Manner) -> str:
    """Width x length, or diameter, in the build's manner."""
    match cut:
        case Channel():
            return f"{both(cut.width, manner, fits=True)} x {said(cut.length, manner)}"
        case Bore():
            words = [f"{bit(cut.diameter, manner)} dia."]
            if cut.sink is not None:
                words.append(f"sunk to {said(cut.sink, manner)}")
            if cut.step is not None:
                words.append(f"counterbored {said(cut.step[0], manner)}, {said(cut.step[1], manner)} deep")
            if cut.lean:
                words.append(f"{cut.lean:g}° from square")
            return ", ".join(words)
        case Bevel():
            return f"{cut.degrees:g}°" + (", leaning in at the face" if cut.from_back else ", leaning in at the back")
        case Notch():
            return ", ".join(f"corners rounded {said(radius, manner)}" for radius in sorted(set(radii_of(cut))))


def radii_of(notch: Notch) -> Iterable[Fraction]:
    """The radius of each rounded corner of a notch as it comes out [mm]: one that has no room is smaller than asked."""
    given = [corner.radius.value if corner.radius else Fraction(0) for corner in notch.corners]
    fitted = fitted_radii([(float(c.u), float(c.v)) for c in notch.corners], [float(radius) for radius in given])
    for asked, made in zip(given, fitted, strict=True):
        if made > 0:
            yield asked if float(asked) - made < HAIR else Fraction(made).limit_denominator(1000)


HAIR = 1e-6  # a radius less than this off is the one that was asked for [mm]


def depth_said(cut: Cut, manner: Manner) -> str:
    """How deep; through where it goes through."""
    match cut:
        case Channel():
            return both(cut.depth, manner)
        case Bore():
            return "through" if cut.depth is None else said(cut.depth, manner)
        case _:
            return "through" if isinstance(cut, Notch) else ""


def places(family: Family) -> Iterable[tuple[tuple[Dim, ...], tuple[Dim, ...]]]:
    """Where the cuts of a family are: rows of distances along its two coordinates that belong together."""
    match family.cuts[0]:
        case Notch(corners=corners):
            long, wide = family.reach  # an outline may go past the board's edge, where there is nothing to saw
            yield (
                _each_once(c.u for c in corners if 0 <= c.u.value <= long),
                _each_once(c.v for c in corners if 0 <= c.v.value <= wide),
            )
        case Bevel():
            yield (), ()
        case _:
            spots = [cut.at for cut in family.cuts if isinstance(cut, Channel | Bore)]
            rows: dict[tuple[Fraction, ...], list[Dim]] = {}
            firsts: dict[tuple[Fraction, ...], tuple[Dim, ...]] = {}
            for second in _each_once(at[1] for at in spots):
                along = _each_once(at[0] for at in spots if at[1].value == second.value)
                key = tuple(length.value for length in along)
                rows.setdefault(key, []).append(second)
                firsts[key] = along
            yield from ((firsts[key], tuple(seconds)) for key, seconds in rows.items())


def _each_once(lengths: Iterable[Dim]) -> tuple[Dim, ...]:
    found = {length.value: length for length in lengths}
    return tuple(found[value] for value in sorted(found))
