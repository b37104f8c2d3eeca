"""Parts wider than any board: glued up, edge to edge, out of staves that the boards do give."""

from collections.abc import Collection, Iterator, Sequence
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
NARROWEST = practice("a stave narrower than 40 mm (1 1/2 in) is more joint than wood; the last two are of one width")
TRIED = 3
"""So many widths of board are tried as the widest that a stave is cut from."""


type _Told = tuple[tuple[Fraction, ...], ...]
"""The widths of the staves of each panel [mm]."""


@dataclass(frozen=True, slots=True)
class GluedUp:
    """Blanks with the wide ones in staves, and which those were."""

    blanks: tuple[Blank, ...]
    staves: tuple[Staves, ...]


@dataclass(frozen=True, slots=True)
class _Custom:
    """What is added to staves and panels, in the units of the plan [mm]. Sources: JOINTED, TRIMMED, NARROWEST."""

    jointed: Fraction
    over: Fraction
    long: Fraction
    least: Fraction

    def length(self, blank: Blank, longest: Fraction) -> Fraction:
        """How long the staves of a panel are cut."""
        return max(blank.long, min(blank.long + self.long, longest))


METRIC = _Custom(Fraction(3), Fraction(6), Fraction(25), Fraction(40))
INCHES = _Custom(INCH / 8, INCH / 4, INCH, INCH * 3 / 2)


def glued_up(
    blanks: Sequence[Blank],
    boards: Sequence[Sheet],
    trim: Fraction,
    inch: bool,
    kerf: Fraction = Fraction(3),
    also: Collection[str] = (),
) -> Iterator[GluedUp]:
    """Ways to glue up the blanks that no board is wide enough for: of wide staves first, then of narrower, more ones.

    Where the boards are counted, also of staves as wide as the boards that are there, each another width.
    trim  taken off each end of a board that is not sawn [mm];  kerf  of the saw [mm]
    also  keys of blanks to be glued up although one board might do: others need it
    Yields the blanks as they are if every one of them comes out of one board. Sources: JOINTED, TRIMMED, NARROWEST.
    """
    custom = INCHES if inch else METRIC
    wide = [one for one in blanks if one.along_grain is not False and _wants(one, boards, trim, also)]
    if not wide:
        yield GluedUp(tuple(blanks), ())
        return
    shortest = min(blank.long for blank in wide)
    widths = sorted({board.wide for board in boards if _long(board, trim) >= shortest}, reverse=True)
    longest = max(_long(board, trim) for board in boards)
    others = [one for one in blanks if one not in wide]
    seen: set[_Told] = set()
    for told in (*_equal(wide, widths, custom), *_from_boards(wide, others, boards, trim, kerf, custom)):
        if told not in seen:
            seen.add(told)
            yield _in_staves(blanks, dict(zip((blank.key for blank in wide), told, strict=True)), longest, custom)


def _wants(blank: Blank, boards: Sequence[Sheet], trim: Fraction, also: Collection[str]) -> bool:
    """Whether a blank is glued up: wider than every board that is as long as it, or asked for."""
    widths = [board.wide for board in boards if blank.long <= _long(board, trim)]
    return bool(widths) and (blank.wide > max(widths) or blank.key in also)


def _long(board: Sheet, trim: Fraction) -> Fraction:
    return board.long - (0 if board.sawn else 2 * trim)


def _unlimited(boards: Sequence[Sheet]) -> bool:
    return all(board.copies is None for board in boards)


def _equal(wide: Sequence[Blank], widths: Sequence[Fraction], custom: _Custom) -> Iterator[_Told]:
    """Staves of one width in each panel, from boards of the widest kinds."""
    for widest in [width for width in widths if width > 4 * custom.jointed][:TRIED]:
        counts = [max(2, ceil((blank.wide + custom.over) / (widest - custom.jointed))) for blank in wide]
        yield tuple(
            (((blank.wide + custom.over) / count + custom.jointed),) * count
            for blank, count in zip(wide, counts, strict=True)
        )


def _from_boards(
    wide: Sequence[Blank],
    others: Sequence[Blank],
    boards: Sequence[Sheet],
    trim: Fraction,
    kerf: Fraction,
    custom: _Custom,
) -> Iterator[_Told]:
    """Staves as wide as the boards that are there; the widest boards first, or the narrowest.

    Boards that others need for themselves are kept for them.
    """
    if _unlimited(boards):
        return
    longest = max(_long(board, trim) for board in boards)
    for widest_first in (True, False):
        left = [
            [_long(board, trim), board.wide] for board in boards
            for _ in range(len(wide) * 8 if board.copies is None else board.copies)
        ]  # fmt: skip
        for blank in sorted(others, key=lambda one: (-one.wide, -one.long, one.key)):
            _keep(blank, left, kerf)
        told = {}
        for blank in sorted(wide, key=lambda one: (-one.long * one.wide, one.key)):
            found = _panel(blank, left, custom.length(blank, longest), kerf, custom, widest_first)
            if found is None:
                break
            told[blank.key] = found
        else:
            yield tuple(told[blank.key] for blank in wide)


def _keep(blank: Blank, left: list[list[Fraction]], kerf: Fraction) -> None:
    """Keep the narrowest board for a blank that takes more than half of its width."""
    there = [one for one in left if one[0] >= blank.long and one[1] >= blank.wide]
    board = min(there, key=lambda one: (one[1], one[0]), default=None)
    if board is not None and 2 * blank.wide > board[1]:
        board[0] -= blank.long + kerf


def _panel(
    blank: Blank, left: list[list[Fraction]], long: Fraction, kerf: Fraction, custom: _Custom, widest_first: bool
) -> tuple[Fraction, ...] | None:
    """The staves of one panel, two or more, out of what is left of the boards; None if that is not enough."""
    whole = need = blank.wide + custom.over
    staves: list[Fraction] = []
    last = Fraction(0)
    while need > 0:
        there = sorted(
            (one for one in left if one[0] >= long and one[1] >= custom.least),
            key=lambda one: one[1], reverse=widest_first,
        )  # fmt: skip
        if not there:
            return None
        enough = [one for one in there if one[1] - custom.jointed >= need]
        board = min(enough, key=lambda one: one[1]) if enough and staves else there[0]
        most = board[1] if staves else min(board[1], whole / 2 + custom.jointed)
        stave = min(board[1], max(need + custom.jointed, custom.least), max(most, custom.least))
        staves.append(stave)
        need -= stave - custom.jointed
        board[0] -= long + kerf
        last = board[1]
    even = sum(staves[-2:], Fraction(0)) / 2
    if staves[-1] < even <= last:  # no narrow stave at an edge where its board gives a wider one
        staves[-2:] = [even, even]
    return tuple(sorted(staves, reverse=True))


def _in_staves(
    blanks: Sequence[Blank], told: dict[str, tuple[Fraction, ...]], longest: Fraction, custom: _Custom
) -> GluedUp:
    out: list[Blank] = []
    staves: list[Staves] = []
    for blank in blanks:
        wides = told.get(blank.key)
        if wides is None:
            out.append(blank)
            continue
        length = custom.length(blank, longest)
        name = blank.key.partition(LAYER)[0]
        staves.append(Staves(name, len(wides), length, wides[0], custom.jointed, wides))
        for number, each in enumerate(wides, 1):
            one = replace(blank, long=length, wide=each, along_grain=True, strip="", place=0, strip_across=False)
            out.append(replace(one, key=f"{blank.key}{LAYER}stave {number}"))
    return GluedUp(tuple(out), tuple(staves))
