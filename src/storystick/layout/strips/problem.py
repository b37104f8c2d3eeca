"""The question for stock cut by length: boards, edging, tracks, rods. Each blank takes the stock's whole width."""

from dataclasses import dataclass, replace
from fractions import Fraction

from storystick.layout.sheets.problem import SheetProblem
from storystick.model.cutting import Blank, Defect, Sheet, Trim


@dataclass(frozen=True, slots=True)
class StripProblem:
    """Blanks of one section and the sticks there are of it.

    blanks, sticks   only `long` counts; `wide` is the section's and the same for all
    kerf             width of one cut [mm]
    end_trim         taken off each end of sticks that are not `sawn`, kerf included [mm]
    keep_long        a leftover of at least this length is worth keeping [mm]
    """

    blanks: tuple[Blank, ...]
    sticks: tuple[Sheet, ...]
    kerf: Fraction
    end_trim: Fraction = Fraction(0)
    keep_long: Fraction = Fraction(300)


def as_sheets(problem: StripProblem) -> SheetProblem:
    """The same question for sheets as wide as the blanks, so that all that is known of sheets holds for sticks."""
    wide = problem.sticks[0].wide if problem.sticks else Fraction(1)
    return SheetProblem(
        tuple(replace(blank, wide=wide, along_grain=True, strip_across=False) for blank in problem.blanks),
        tuple(_stick(stick, wide) for stick in problem.sticks),
        problem.kerf,
        Trim(left=problem.end_trim, right=problem.end_trim),
        keep_long=problem.keep_long,
        keep_wide=wide,
    )


def _stick(stick: Sheet, wide: Fraction) -> Sheet:
    """A stick as a sheet: a defect spoils its whole width."""
    defects = tuple(Defect(spot.x, Fraction(0), spot.long, wide) for spot in stick.defects)
    return replace(stick, wide=wide, defects=defects)
