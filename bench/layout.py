"""How well and how fast layout does: on casework lists of our own, and on the published instances beside the checkout.

    python bench/layout.py casework [number]
    python bench/layout.py shop | bp500 | cs2d | multisize | stock_limited | furniture | orlib_bp | oned [every [from]]
    python bench/layout.py beside SET | casework [every [from]]     beside the library's own answer, asked plainly
    python bench/layout.py large                                    500 parts on about 40 sheets
"""

import json
import sys
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from statistics import median
from time import process_time as perf_counter
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT / "src"), str(ROOT)]

from bench.casework import casework  # noqa: E402
from storystick.layout.sheets import HASTY, PATIENT, USUAL, LaidOut, Patience, SheetProblem, lay_out_sheets  # noqa: E402
from storystick.layout.sheets.begin import reckon  # noqa: E402
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


def run_published(name: str, every: int, first: int = 0) -> None:
    """A published set: each instance against its known values, patiently where the usual search does not reach it."""
    reached = {"usual": 0, "patient": 0, "missed": 0}
    wrong = 0
    for instance in instances(name)[first::every]:
        if instance["kind"] == "1d":
            begin = perf_counter()
            answer = lay_out_strips(strip_problem(instance))
            values = [value for _, _, value in known(instance)] or [float(answer.least_cost)]
            reached["usual" if len(answer.layout.trees) <= min(values) else "missed"] += 1
            print(f"{instance['name']:28} {len(answer.layout.trees):4} least {float(answer.least_cost):5.0f}", end=" ")
            print(values, f"{perf_counter() - begin:.2f} s", flush=True)
            continue
        for turning, variant, value in list(known(instance)) or [(True, "", 0.0)]:
            problem = sheet_problem(instance, turning)
            answer, _, _ = run_sheets(instance["name"], problem, USUAL)
            how = "usual"
            if float(answer.layout.cost) > value + 1e-6 and float(answer.layout.cost) > float(answer.least_cost):
                answer, _, _ = run_sheets(instance["name"], problem, PATIENT)
                how = "patient"
            if not variant:
                continue
            wrong += float(answer.least_cost) > value + 1e-6
            hit = float(answer.layout.cost) <= value + 1e-6
            reached[how if hit else "missed"] += 1
            print(f"    {variant} known {value:g}: {float(answer.layout.cost) - value:+g}", flush=True)
    print(f"{name}: known value reached by the usual search {reached['usual']}, patiently {reached['patient']}, "
          f"missed {reached['missed']}; bounds above a known value {wrong}")  # fmt: skip


def plainly(problem: SheetProblem, first: str, seconds: float) -> tuple[float, int] | None:
    """Cost and sheets of the library's own answer, asked as its examples do: three stages, so many seconds."""
    import packingsolver.rectangleguillotine as library

    job = reckon(problem)
    builder = library.InstanceBuilder()
    several = len(job.stocks) > 1
    builder.set_objective(library.Objective.VariableSizedBinPacking if several else library.Objective.BinPacking)
    builder.set_number_of_stages(3)
    builder.set_cut_type(library.CutType.NonExact)
    builder.set_first_stage_orientation(getattr(library.CutOrientation, first))
    builder.set_cut_thickness(job.kerf)
    number = sum(job.counts)
    for stock in job.stocks:
        area = stock.kits[0].regions[0].area
        copies = number if stock.copies is None else stock.copies
        builder.add_bin_type(area.long, area.wide, cost=max(float(stock.cost), 0.001), copies=copies)
    for kind in job.kinds:
        fit = kind.fits[0]
        fixed = len(kind.fits) == 1 and fit.long != fit.wide
        builder.add_item_type(fit.long, fit.wide, copies=len(kind.keys), oriented=fixed)
    parameters = library.OptimizeParameters()
    parameters.messages_to_stdout = False
    parameters.verbosity_level = 0
    parameters.time_limit = seconds
    try:
        found = library.optimize(builder.build(), parameters).solution
    except (RuntimeError, ValueError):
        return None
    if found.number_of_items() != number:
        return None
    bins = [found.bin(place) for place in range(found.number_of_different_bins())]
    return float(sum(job.stocks[one.bin_type_id].cost * one.copies for one in bins)), sum(one.copies for one in bins)


def run_beside(name: str, every: int, first: int) -> None:
    """Ours beside the library's own answer, which has ten seconds for each way of the first cut."""
    more, asked, without = 0, 0, 0
    if name == "casework":
        problems = [(f"casework {seed}", casework(seed)) for seed in range(first, 20, every)]
    else:
        some = [one for one in instances(name) if one["kind"] != "1d"][first::every]
        problems = [(one["name"], sheet_problem(one)) for one in some]
    for said, problem in problems:
        answer, _, _ = run_sheets(said, problem, USUAL)
        plain = [found for way in ("Horizontal", "Vertical") if (found := plainly(problem, way, 10.0)) is not None]
        ours = float(answer.layout.cost), len(answer.layout.trees)
        asked += 1
        without += not plain
        worse = bool(plain) and (ours[0] > min(plain)[0] + 1e-6 or ours[1] > min(plain)[1])
        if worse and name != "casework":
            answer, _, _ = run_sheets(said, problem, PATIENT)
            ours = float(answer.layout.cost), len(answer.layout.trees)
            worse = ours[0] > min(plain)[0] + 1e-6
        more += worse
        print(f"    ours {ours}, the library's {plain}{'  MORE' if worse else ''}", flush=True)
    print(f"{name}: {asked} asked, the library has no whole answer for {without}, ours takes more in {more}")


def run_large() -> None:
    """500 parts: casework lists put together until there are so many."""
    blanks: list[Blank] = []
    seed = 0
    while len(blanks) < 500:
        more = casework(100 + seed).blanks
        blanks.extend(replace(one, key=f"{seed} {one.key}", setting_group="") for one in more)
        seed += 1
    sheet = Sheet("whole", Fraction(2440), Fraction(1220), Fraction(80))
    problem = SheetProblem(tuple(blanks[:500]), (sheet,), Fraction("3.2"))
    answer, _, took = run_sheets("500 parts", problem, USUAL)
    cost, least = float(answer.layout.cost), float(answer.least_cost)
    print(f"{len(answer.layout.trees)} sheets, gap {(cost - least) / cost:.1%}, {took:.1f} s of machine time")


if __name__ == "__main__":
    what, *words = sys.argv[1:] or ["casework"]
    if what == "beside":
        run_beside(words[0], *([int(word) for word in words[1:]] + [1, 0][len(words) - 1 :]))
    elif what == "large":
        run_large()
    elif what == "casework":
        run_casework(int(words[0]) if words else 20)
    else:
        run_published(what, *(int(word) for word in words or ["1"]))
