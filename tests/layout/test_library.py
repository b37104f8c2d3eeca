"""The library that fills sheets is not trusted: whatever it does wrong, the answer is whole and can be cut."""

import sys
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from storystick.layout.sheets import SheetProblem, lay_out_sheets
from storystick.layout.sheets.begin import reckon
from storystick.layout.sheets.engine import FIRST, ask, fill
from storystick.layout.sheets.mixing import Pattern, cheapest_mix
from storystick.layout.sheets.patterns import by_patterns
from storystick.layout.sheets.refute import refute
from storystick.model.cutting import Blank, Sheet

SHEET = Sheet("whole", Fraction(2440), Fraction(1220), Fraction(80))
BLANKS = tuple(
    Blank(f"{name} {copy}", Fraction(long), Fraction(wide), True)
    for name, long, wide, copies in (("side", 800, 560, 6), ("shelf", 764, 540, 7), ("rail", 764, 90, 8))
    for copy in range(copies)
)
PROBLEM = SheetProblem(BLANKS, (SHEET,), Fraction("3.2"))
ENGINE = sys.modules["storystick.layout.sheets.engine"]


class _Found:
    """An answer of the library with a fault in it."""

    def __init__(self, found: Any, fault: str) -> None:
        self.found, self.fault = found, fault

    def number_of_different_bins(self) -> int:
        number: int = self.found.number_of_different_bins()
        return number - 1 if self.fault == "a sheet left out" else number

    def bin(self, position: int) -> Any:
        return _Bin(self.found.bin(position), self.fault)


class _Bin:
    def __init__(self, one: Any, fault: str) -> None:
        self.bin_type_id, self.copies = one.bin_type_id, one.copies + (fault == "a sheet too often")
        self.nodes = [_Node(node, fault) for node in one.nodes]


class _Node:
    def __init__(self, node: Any, fault: str) -> None:
        self.d, self.item_type_id, self.children = node.d, node.item_type_id, node.children
        self.l, self.r, self.b, self.t = node.l, node.r, node.b, node.t
        if fault == "blanks too large":
            self.r += 1
        if fault == "blanks outside":
            self.l, self.r = self.l + 10**6, self.r + 10**6
        if fault == "blanks on one another":
            self.l, self.r, self.b, self.t = 0, self.r - self.l, 0, self.t - self.b
        if fault == "blanks of no kind" and self.item_type_id >= 0:
            self.item_type_id += 1000


def faulty(fault: str, plain: Callable[..., Any]) -> Callable[..., Any]:
    def optimize(*words: Any) -> Any:
        if fault == "it gives up":
            raise RuntimeError("no solution builder")
        return _Found(plain(*words), fault)

    return optimize


@pytest.mark.parametrize(
    "fault",
    ["it gives up", "a sheet left out", "a sheet too often", "blanks too large", "blanks outside",
     "blanks on one another", "blanks of no kind"],
)  # fmt: skip
def test_a_library_at_fault_leaves_an_answer_that_is_whole(fault: str, monkeypatch: pytest.MonkeyPatch) -> None:
    job = reckon(PROBLEM)
    assert ask(job, FIRST[2])
    monkeypatch.setattr(ENGINE, "_optimize", faulty(fault, ENGINE._optimize))
    assert ask(job, FIRST[2]) == []
    answer = lay_out_sheets(PROBLEM)
    assert list(refute(answer.layout, PROBLEM)) == []
    assert answer.layout.unplaced == ()


def test_the_cheapest_mix_costs_what_is_reckoned_by_hand() -> None:
    # Two of a on one sheet, or one a and one b: 4 a and 2 b take 2 of the second and 1 of the first, 3 in all.
    mix = cheapest_mix([Pattern((2, 0), 0, 1.0), Pattern((1, 1), 0, 1.0)], [4, 2], [])
    assert mix.cost == pytest.approx(3.0, abs=1e-4)
    assert mix.amounts == pytest.approx((1.0, 2.0), abs=1e-4)
    assert mix.worth == pytest.approx((0.5, 0.5), abs=1e-4)


def test_a_cheap_sheet_of_which_there_are_few_has_its_rent() -> None:
    # One cheap sheet only: the second blank has to come from the dear one; one more cheap sheet would save 3.
    mix = cheapest_mix([Pattern((1,), 0, 1.0), Pattern((1,), 1, 4.0)], [2], [(0, 1)])
    assert mix.cost == pytest.approx(5.0, abs=1e-4)
    assert mix.rent == pytest.approx((3.0,), abs=1e-4)


def test_a_sheet_is_filled_with_no_more_than_there_is() -> None:
    job = reckon(PROBLEM)
    counts = [1, 0, 2]
    sheet = fill(job, 0, FIRST[2], counts, [1.0, 5.0, 1.0])
    assert sheet is not None
    told = [kind for node in sheet.nodes if node for kind in _kinds(node)]
    assert sorted(told) == [0, 2, 2]


def _kinds(node: Any) -> list[int]:
    return [node.kind] if node.leaf else [kind for child in node.row for kind in _kinds(child)]


def test_layouts_out_of_patterns_hold_each_blank_once() -> None:
    job = reckon(PROBLEM)
    seeds = ask(job, FIRST[2])
    for _, sheets in by_patterns(job, seeds, 80.0 * (len(seeds) + 1), most=60):
        if sheets:
            told = [kind for sheet in sheets for node in sheet.nodes if node for kind in _kinds(node)]
            assert sorted(told) == [kind for kind, count in enumerate(job.counts) for _ in range(count)]


def test_the_same_question_has_the_same_answer() -> None:
    assert lay_out_sheets(PROBLEM) == lay_out_sheets(PROBLEM)
