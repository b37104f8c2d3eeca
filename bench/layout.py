"""How well and how fast layout does: on casework lists of our own, and on the published instances beside the checkout.

    python bench/layout.py casework [number]
    python bench/layout.py shop | bp500 | cs2d | multisize | stock_limited | furniture | orlib_bp | oned [every]
"""

import json
import sys
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from statistics import median
from time import process_time as perf_counter
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT / "src"), str(ROOT)]

from bench.casework import casework  # noqa: E402
from storystick.layout.sheets import HASTY, USUAL, LaidOut, Patience, SheetProblem, lay_out_sheets  # noqa: E402
from storystick.layout.strips import StripProblem, lay_out_strips  # noqa: E402
from storystick.model.cutting import Blank, Layout, Sheet  # noqa: E402

DATA = ROOT.parent / "shared" / "data" / "cutting"


def instances(name: str) -> list[dict[str, Any]]:
    """The instances of one published set."""
    found: list[dict[str, Any]] = json.loads((DATA / f"{name}.json").read_text(encoding="utf-8"))["instances"]
    return found


def sheet_problem(instance: dict[str, Any], turning: bool = True, most_copies: int | None = None) -> SheetProblem:
    """A published instance as a question of ours. Without `turning` no blank may be turned."""
    blanks = []
    for number, part in enumerate(instance["parts"]):
        grain = None if turning and part["rotatable"] else True
        for copy in range(part["copies"]):
            blanks.append(Blank(f"{number}.{copy}", Fraction(part["w"]), Fraction(part["h"]), grain, str(number)))
    sheets = tuple(
        Sheet(f"sheet {n}", Fraction(s["w"]), Fraction(s["h"]), Fraction(str(s["cost"])), s["copies"])
        for n, s in enumerate(instance["sheets"])
    )
    return SheetProblem(tuple(blanks), sheets, Fraction(instance["kerf"]))


def strip_problem(instance: dict[str, Any]) -> StripProblem:
    """A published one-dimensional instance as a question of ours."""
    blanks = tuple(
        Blank(f"{n}.{copy}", Fraction(part["w"]), Fraction(1))
        for n, part in enumerate(instance["parts"])
        for copy in range(part["copies"])
    )
    sticks = tuple(
        Sheet(f"stick {n}", Fraction(s["w"]), Fraction(1), Fraction(str(s["cost"])), s["copies"])
        for n, s in enumerate(instance["sheets"])
    )
    return StripProblem(blanks, sticks, Fraction(instance["kerf"]))


def finished_sizes(problem: SheetProblem) -> tuple[int, int]:
    """How many different measures the blanks have, and how many different rectangles."""
    measures = {("long", b.long) for b in problem.blanks} | {("wide", b.wide) for b in problem.blanks}
    return len(measures), len({(b.long, b.wide) for b in problem.blanks})


def sheet_by_sheet(layout: Layout) -> int:
    """Changes of setting when each sheet is cut to the end before the next, piece after piece."""
    changes = 0
    for tree in layout.trees:
        cuts = {cut.piece: cut for cut in tree.cuts}
        held = None
        stack = [tree.pieces[0].number]
        while stack:
            cut = cuts.get(stack.pop())
            if cut is None:
                continue
            if cut.setting is not None:
                changes += (cut.way, cut.setting) != held
                held = (cut.way, cut.setting)
            stack.extend(reversed(cut.frees))
    return changes


def run_sheets(name: str, problem: SheetProblem, patience: Patience) -> tuple[LaidOut, float, float]:
    """One question: its answer, the share of settings to measures, and the seconds it took."""
    begin = perf_counter()
    answer = lay_out_sheets(problem, patience=patience)
    took = perf_counter() - begin
    measures, sizes = finished_sizes(problem)
    settings = len(answer.layout.settings)
    ratio = settings / measures if measures else 1.0
    print(
        f"{name:26} blanks {len(problem.blanks):3} cost {float(answer.layout.cost):9.1f} least "
        f"{float(answer.least_cost):9.1f} settings {settings:3} measures {measures:3} sizes {sizes:3} "
        f"ratio {ratio:4.2f} sheet by sheet {sheet_by_sheet(answer.layout):3} {took:5.2f} s",
        flush=True,
    )
    return answer, ratio, took


def run_casework(number: int) -> None:
    """Our own casework lists: first answer and final answer."""
    ratios, times, first = [], [], []
    for seed in range(number):
        problem = casework(seed)
        begin = perf_counter()
        lay_out_sheets(problem, patience=HASTY)
        first.append(perf_counter() - begin)
        _, ratio, took = run_sheets(f"casework {seed}", problem, USUAL)
        ratios.append(ratio)
        times.append(took)
    print(f"median ratio {median(ratios):.2f} worst {max(ratios):.2f}; first answer at most {max(first):.2f} s")
    print(f"final median {median(times):.2f} s, most {max(times):.2f} s")


def known(instance: dict[str, Any]) -> Iterator[tuple[bool, str, float]]:
    """Known values of an instance: with turning or not, for which cuts, the value."""
    for value in instance["known"]:
        if value["best_known"] is not None:
            yield "|R" in value["variant"], value["variant"], float(value["best_known"])


def run_published(name: str, every: int) -> None:
    """A published set: each instance against its known values."""
    total, best = 0.0, 0.0
    for instance in instances(name)[::every]:
        if instance["kind"] == "1d":
            begin = perf_counter()
            answer = lay_out_strips(strip_problem(instance))
            print(f"{instance['name']:28} {len(answer.layout.trees):4} least {float(answer.least_cost):5.0f}", end=" ")
            print([value for _, _, value in known(instance)], f"{perf_counter() - begin:.2f} s", flush=True)
            continue
        asked = list(known(instance)) or [(True, "", 0.0)]
        for turning, variant, value in asked:
            answer, _, _ = run_sheets(instance["name"], sheet_problem(instance, turning), USUAL)
            total, best = total + float(answer.layout.cost), best + value
            print(f"    {variant} known {value:g}: {float(answer.layout.cost) - value:+g}" if variant else "")
    print(f"in all {total:g}, known {best:g}")


if __name__ == "__main__":
    what, *numbers = sys.argv[1:] or ["casework"]
    if what == "casework":
        run_casework(int(numbers[0]) if numbers else 20)
    else:
        run_published(what, int(numbers[0]) if numbers else 1)
