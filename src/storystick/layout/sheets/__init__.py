"""Sheets: which blank is cut from which sheet, by which cuts, and in what order.

problem.py    the question, in millimetres and in whole units      begin.py   trims, defects, first breakdown
search.py     looks for a good plan, and is never trusted          refute.py  says what is wrong with a layout
table.py      the best answer so far                             on_hand.py  what is on hand comes first
construct.py  our own layouts, of strips                           engine.py  layouts by a library
varying.py    these with other tastes, or in part anew
patterns.py   the cheapest mix of filled sheets                    mixing.py  what each blank is worth in a mix
grouped.py    groups that share a sheet                          raster.py  the fullest sheet of many alike
settings.py   the order of cuts with the fewest settings           bound.py   what no layout can beat
tree.py, plan.py, write.py   a plan on its way to being a layout
"""

from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.finding import Broken
from storystick.layout.sheets.problem import Limits, SheetProblem
from storystick.layout.sheets.refute import refute, refute_groups
from storystick.layout.sheets.search import HASTY, PATIENT, USUAL, Patience, Stop, Tell, search
from storystick.layout.sheets.write import write
from storystick.model.cutting import Layout

__all__ = ["HASTY", "PATIENT", "USUAL", "LaidOut", "Limits", "Patience", "SheetProblem", "lay_out_sheets"]


@dataclass(frozen=True, slots=True)
class LaidOut:
    """A layout, what it can be measured by, and what is worth saying about it.

    least_cost      no layout of all blanks costs less
    least_settings  the blanks' sizes ask for so many different settings, as they lie in this layout
    notes           sentences for the woodworker
    """

    layout: Layout
    least_cost: Fraction
    least_settings: int
    notes: tuple[str, ...] = ()


def lay_out_sheets(
    problem: SheetProblem, *, patience: Patience = USUAL, tell: Tell | None = None, stop: Stop | None = None
) -> LaidOut:
    """Cut every blank out of the sheets: cheapest first, then the fewest sheets, settings, and the best leftover.

    The same question and patience give the same layout. Blanks that the stock has no room for are named in the
    layout's `unplaced`. Raises Broken if the search gives a layout that cannot be cut, which is a fault of ours.
    """
    found = search(problem, patience=patience, tell=tell, stop=stop)
    layout = write(problem, found.job, found.judged.plan, found.judged.turns)
    if faults := list(refute(layout, problem)):
        raise Broken("the search gave a layout that cannot be cut", faults)
    different = {(setting.way, setting.size) for setting in layout.settings}
    return LaidOut(layout, found.least_cost, len(different), tuple(_notes(problem, layout, found.job.too_large)))


def _notes(problem: SheetProblem, layout: Layout, too_large: tuple[str, ...]) -> list[str]:
    notes = []
    if too_large:
        notes.append(f"no sheet is large enough for {', '.join(too_large)}.")
    short = [key for key in layout.unplaced if key not in too_large]
    if short:
        notes.append(f"the sheets are used up before {', '.join(short)}.")
    notes.extend(refute_groups(layout, problem))
    return notes
