"""The fullest sheet where there are many of each blank, against trying every edge-to-edge cut."""

from fractions import Fraction
from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.layout.sheets import SheetProblem, lay_out_sheets
from storystick.layout.sheets.begin import reckon
from storystick.layout.sheets.raster import Raster
from storystick.layout.sheets.refute import refute
from storystick.layout.sheets.tree import blanks_of
from storystick.model.cutting import Blank, Sheet

Sort = tuple[int, int, bool, int]
"""A sort of blank: long, wide, whether it may be turned, and what it is worth."""


def problem(sorts: list[Sort], long: int, wide: int, kerf: int, copies: int = 1) -> SheetProblem:
    blanks = tuple(
        Blank(f"{n} {copy}", Fraction(a), Fraction(b), None if turns else True, str(n))
        for n, (a, b, turns, _) in enumerate(sorts)
        for copy in range(copies)
    )
    return SheetProblem(blanks, (Sheet("whole", Fraction(long), Fraction(wide), Fraction(10)),), Fraction(kerf))


def most_worth(sorts: list[Sort], long: int, wide: int, kerf: int) -> int:
    """What a piece is worth at most: as one blank, or sawn in two at any whole millimetre either way."""

    @cache
    def most(long: int, wide: int) -> int:
        best = 0
        for a, b, turns, worth in sorts:
            if (a <= long and b <= wide) or (turns and b <= long and a <= wide):
                best = max(best, worth)
        for at in range(1, long - kerf):
            best = max(best, most(at, wide) + most(long - at - kerf, wide))
        for at in range(1, wide - kerf):
            best = max(best, most(long, at) + most(long, wide - at - kerf))
        return best

    return most(long, wide)


@given(
    st.lists(
        st.tuples(st.integers(2, 9), st.integers(2, 9), st.booleans(), st.integers(1, 30)), min_size=1, max_size=4
    ),
    st.integers(6, 14),
    st.integers(6, 14),
    st.integers(0, 2),
)
@settings(max_examples=80, deadline=None)
def test_the_fullest_sheet_is_worth_what_trying_every_cut_gives(sorts: list[Sort], long: int, wide: int, kerf: int):
    job = reckon(problem(sorts, long, wide, kerf))
    raster = Raster(job)
    if not job.kinds:
        return
    assert raster.serves
    # Kinds are put in another order, and blanks that are alike are one kind: each is worth what its dearest is.
    worth = [max(sorts[int(key.split()[0])][3] for key in kind.keys) for kind in job.kinds]
    asked = [(f[0].long, f[0].wide, len(f) > 1, w) for f, w in zip((k.fits for k in job.kinds), worth, strict=True)]
    (sheet,) = raster.filled([float(one) for one in worth])
    assert sheet is not None
    held = sum(worth[blank.kind] for node in sheet.nodes if node is not None for blank in blanks_of(node))
    in_mm = [(a // 320, b // 320, turns, w) for a, b, turns, w in asked]
    assert held == most_worth(in_mm, long, wide, kerf)


def test_many_alike_take_as_many_sheets_as_is_reckoned_by_hand():
    # By hand: a sheet of 100 x 60 gives 4 of 50 x 30, or 2 of 50 x 60; 600 and 200 of them take 150 + 100 sheets.
    asked = problem([(50, 30, False, 0), (50, 60, False, 0)], 100, 60, 0, copies=0)
    blanks = tuple(Blank(f"a {n}", Fraction(50), Fraction(30), True) for n in range(600))
    blanks += tuple(Blank(f"b {n}", Fraction(50), Fraction(60), True) for n in range(200))
    asked = SheetProblem(blanks, asked.sheets, asked.kerf)
    answer = lay_out_sheets(asked)
    assert len(answer.layout.trees) == 250
    assert answer.layout.cost == answer.least_cost
    assert list(refute(answer.layout, asked)) == []
