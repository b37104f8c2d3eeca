"""Parts wider than any board: glued up, edge to edge, out of staves that the boards do give."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from storystick.ground.length import INCH
from storystick.ground.source import practice
from storystick.layout.blanks import LAYER
from storystick.model.cutting import Blank, Sheet
from storystick.model.work import Staves

JOINTED = practice("a stave is ripped 3 mm (1/8 in) wide, and its two edges are jointed")
TRIMMED = practice("a panel of staves is glued up 25 mm (1 in) long and 6 mm (1/4 in) wide, and trimmed when it is dry")
TRIED = 3
"""So many widths of board are tried as the widest that a stave is cut from."""


@dataclass(frozen=True, slots=True)
class GluedUp:
    """Blanks with the wide ones in staves, and which those were."""

    blanks: tuple[Blank, ...]
    staves: tuple[Staves, ...]


def glued_up(blanks: Sequence[Blank], boards: Sequence[Sheet], trim: Fraction, inch: bool) -> Iterator[GluedUp]:
    """Ways to glue up the blanks that no board is wide enough for: of wide staves first, then of narrower, more ones.

    trim  taken off each end of a board that is not sawn [mm]
    Yields the blanks as they are if every one of them comes out of one board. Sources: JOINTED, TRIMMED.
    """
    widths = sorted({board.wide for board in boards}, reverse=True)
    wide = [blank for blank in blanks if widths and blank.wide > widths[0] and blank.along_grain is not False]
    if not wide:
        yield GluedUp(tuple(blanks), ())
        return
    jointed, over, long = (INCH / 8, INCH / 4, INCH) if inch else (Fraction(3), Fraction(6), Fraction(25))
    longest = max(board.long - (0 if board.sawn else 2 * trim) for board in boards)
    seen: set[tuple[int, ...]] = set()
    for widest in [width for width in widths if width > 4 * jointed][:TRIED]:
        counts = tuple(ceil((blank.wide + over) / (widest - jointed)) for blank in wide)
        if counts in seen:
            continue
        seen.add(counts)
        number = {blank.key: count for blank, count in zip(wide, counts, strict=True)}
        out: list[Blank] = []
        staves: list[Staves] = []
        for blank in blanks:
            count = number.get(blank.key, 0)
            if not count:
                out.append(blank)
                continue
            each = (blank.wide + over) / count + jointed
            length = max(blank.long, min(blank.long + long, longest))
            staves.append(Staves(blank.key.partition(LAYER)[0], count, length, each, jointed))
            one = replace(blank, long=length, wide=each, along_grain=True, strip="", place=0, strip_across=False)
            out.extend(replace(one, key=f"{blank.key}{LAYER}stave {n}") for n in range(1, count + 1))
        yield GluedUp(tuple(out), tuple(staves))
