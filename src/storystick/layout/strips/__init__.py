"""Strips: what is cut by length alone, from boards, edging, tracks and rods.

problem.py  the question      search.py  looks for a good answer      refute.py  says what is wrong with one
columns.py  the cheapest mix of filled sticks      diving.py  from a mix in fractions to whole sticks
"""

from storystick.ground.finding import Broken
from storystick.layout.sheets import LaidOut
from storystick.layout.sheets.search import Stop, Tell
from storystick.layout.sheets.write import write
from storystick.layout.strips.problem import StripProblem, as_sheets
from storystick.layout.strips.refute import refute
from storystick.layout.strips.search import HASTY, USUAL, Patience, search

__all__ = ["HASTY", "USUAL", "Patience", "StripProblem", "lay_out_strips"]


def lay_out_strips(
    problem: StripProblem, *, patience: Patience = USUAL, tell: Tell | None = None, stop: Stop | None = None
) -> LaidOut:
    """Cut every blank out of the sticks: cheapest first, then with the longest leftover; one stop for each length.

    The same question and patience give the same layout. Raises Broken if the
    search gives a layout that cannot be cut, which is a fault of ours.
    """
    found = search(problem, patience=patience, tell=tell, stop=stop)
    layout = write(as_sheets(problem), found.job, found.judged.plan, found.judged.turns)
    if faults := list(refute(layout, problem)):
        raise Broken("the search gave a way of cutting sticks that cannot be cut", faults)
    notes = []
    if found.job.too_large:
        notes.append(f"no stick is long enough for {', '.join(found.job.too_large)}.")
    if short := [key for key in layout.unplaced if key not in found.job.too_large]:
        notes.append(f"the sticks are used up before {', '.join(short)}.")
    different = {setting.size for setting in layout.settings}
    return LaidOut(layout, found.least_cost, len(different), tuple(notes))
