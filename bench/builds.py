"""Builds of the samples with errors drawn at random: in how many does everything fit, with the log and without?

Without: every part is cut to the number printed at the start. With: each piece's thickness is read before; when a part
is cut it is measured and logged, the plan is reckoned anew from the log, and the next part is cut to what it says then;
parts that are best cut to fit are trimmed in their openings. Mended: what is then seen to be broken is put right, once.

    python bench/builds.py [how many builds] [names of samples]
"""

import random
import sys
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path

from storystick.app.pipeline import Job, Texts
from storystick.ground.dim import Dim, Leaf, Named, rewritten
from storystick.model.build import Build
from storystick.model.changed import numbers_of
from storystick.model.cut import Channel
from storystick.model.judged import judge
from storystick.model.made import Error, made
from storystick.model.mending import is_broken, remedies
from storystick.model.part import Part
from storystick.plan.log import HEAD, Entry, written
from storystick.shop.tables import instruments

SAMPLES = Path(__file__).parents[1] / "samples"
WHEN = "2026-01-01 08:00"


class Hands:
    """What really happens: sheets with their own thickness, settings that are off, pieces that differ; by one seed."""

    def __init__(self, build: Build, errors: Mapping[str, Error], seed: int) -> None:
        self.errors, self.seed = errors, seed
        self.sheets = {stock.name: self._sheet(stock.thickness) for stock in build.stock}
        self.scatter = {stock.name: stock.scatter or 0.08 for stock in build.stock}

    def draw(self, of: str, sd: float) -> float:
        """An error that is the same whenever it is asked for under the same name."""
        return random.Random(f"{self.seed}|{of}").gauss(0.0, sd)

    def _sheet(self, thickness: Dim) -> float:
        leaf = thickness.node.by.node if isinstance(thickness.node, Named) else thickness.node
        spread = leaf.spread.sd if isinstance(leaf, Leaf) and leaf.spread else 0.0
        return float(thickness.value) + self.draw(f"sheet {thickness.name}", spread)

    def part(self, part: Part, fitted: bool) -> dict[str, float]:
        """The true sizes of a part that is cut to what is printed for it."""
        here = self.draw(part.thickness.name, self.scatter[part.stock.name])
        true = {part.thickness.name: self.sheets[part.stock.name] + here}
        for dim, kind in zip(part.size, ("crosscut", "rip"), strict=False):
            true[dim.name] = self.cut(dim, "cut to measure" if fitted and part.fit_to else kind, part)
        for cut in part.cuts:
            if isinstance(cut, Channel):
                true[cut.width.name] = self.cut(cut.width, "channel width", part)
                true[cut.depth.name] = self.cut(cut.depth, "channel depth", part)
                for at in cut.at:
                    true[at.name] = self.cut(at, "channel place", part)
        return {name: value for name, value in true.items() if name}

    def cut(self, dim: Dim, kind: str, part: Part) -> float:
        """One number as it comes out: what is printed, the setting's error, its own."""
        if dim.value == 0:
            return 0.0
        error, printed = self.errors[kind], float(dim.value)
        setting = self.draw(f"{kind} {part.stock.name} {part.fit_to} {printed:.3f}", error.setting)
        return printed + setting + self.draw(f"own {dim.name}", error.own)

    def read(self, name: str, true: float, tool: str) -> float:
        """What the tool says of it."""
        row = instruments()[tool]
        return true + self.draw(f"read {name}", (row.sd_mm**2 + (row.sd_per_m_mm * true / 1000) ** 2) ** 0.5)


def real(build: Build, true: Mapping[str, float], dim: Dim, inside: frozenset[str] = frozenset()) -> Dim:
    """A number when every size of the pieces is what it really is."""

    def swap(one: Dim) -> Dim | None:
        if not isinstance(one.node, Named):
            return None
        name = one.node.name
        if name in true:
            return Dim(Fraction(str(round(true[name], 6))), Leaf(name, "given", "as it really is"), one.power)
        if name in build.truths and name not in inside:
            return real(build, true, build.truths[name], inside | {name})
        return None

    return rewritten(dim, swap)


def fits_of(build: Build, true: Mapping[str, float]) -> dict[str, bool]:
    """Whether each fit is as wanted when every number of the pieces is what it really is."""
    return {
        fit.name: fit.least.value <= real(build, true, fit.gap).value <= fit.most.value
        for fit in build.fits
        if fit.goes_in in build.parts_by_name or fit.goes_in in build.assemblies_by_name
    }


def with_passed_on(build: Build, true: dict[str, float]) -> dict[str, float]:
    """Also the numbers that a channel's depth only passes on: the depth that all of a kind share."""
    found = dict(true)
    for name in true:
        dim = build.pages[name]
        while isinstance(dim.node, Named):
            by = dim.node.by
            if isinstance(by.node, Leaf) and by.node.instead_of is not None:
                by = by.node.instead_of
            if isinstance(by.node, Named) and name.endswith(".deep"):
                found.setdefault(by.node.name, true[name])
            dim = by
    return found


def order_of(build: Build) -> list[str]:
    """Cases first, what goes into them after; what is cut to fit last."""
    return [p.name for p in sorted(build.parts, key=lambda p: (bool(p.fit_to), p.role in ("back", "shelf")))]


def tool_for(length: float) -> str:
    """A calliper as far as it opens, then a steel rule."""
    return "calliper" if length <= 150 else "steel rule"


def without_log(job: Job, hands: Hands) -> bool:
    """Cut everything to the first print; does everything fit?"""
    true: dict[str, float] = {}
    for part in job.build.parts:
        true |= hands.part(part, fitted=False)
    return all(fits_of(job.build, with_passed_on(job.build, true)).values())


def logged(text: Texts, lines: list[str]) -> Job:
    """The plan with what the log says so far."""
    return Job(Texts(text.plan, text.plan_file, None, "", HEAD + "".join(lines), "log"))


def with_log(text: Texts, first: Build, hands: Hands) -> tuple[bool, bool]:
    """Measure each piece of sheet, cut part by part, log and reckon anew; does everything fit, and after mending?"""
    true: dict[str, float] = {}
    lines: list[str] = []
    for part in first.parts:
        thick = hands.part(part, fitted=True)[part.thickness.name]
        lines.append(_read(hands, part.thickness.name, thick, "calliper"))
    job = logged(text, lines)
    printed: dict[str, Fraction] = {}
    waiting = order_of(first)
    while waiting:
        build = job.build
        letter = build.part(waiting[0]).letter
        batch = [name for name in waiting if build.part(name).letter == letter]
        if any(build.part(name).fit_to for name in batch):
            lines.extend(_openings(job, true, {build.part(name).fit_to for name in batch}))
            job = logged(text, lines)
            build = job.build
        for name in batch:
            part = build.part(name)
            cut = hands.part(part, fitted=True)
            true |= cut
            numbers = {n: dim.value for n, dim in numbers_of(build, name).items() if n != part.thickness.name}
            lines.append(written(Entry(WHEN, "cut", name, numbers=tuple(numbers.items()))))
            for number, value in cut.items():
                if number != part.thickness.name and build.pages[number].value:
                    lines.append(_read(hands, number, value, tool_for(value)))
            printed |= {n: value for n, value in numbers.items() if n not in cut}
        waiting = [name for name in waiting if name not in batch]
        job = logged(text, lines)
        for name, value in printed.items():  # what is cut never changes
            assert abs(job.build.pages[name].value - value) < Fraction(1, 10**6), name
    fine = all(fits_of(job.build, with_passed_on(job.build, true)).values())
    for _ in range(3):
        for one in judge(made(job.build, job.shop.errors)):
            if is_broken(one):
                open_to = remedies(job.made, one, job.judged, job.log.in_wood)
                best = next((r for r in open_to if r.enough and r.number), None)
                if best is not None and best.number in true:
                    true[best.number] += float(best.by) + hands.draw(f"mend {best.number}", 0.05)
                    lines.append(_read(hands, best.number, true[best.number], tool_for(true[best.number])))
        job = logged(text, lines)
    return fine, all(fits_of(job.build, with_passed_on(job.build, true)).values())


def _openings(job: Job, true: dict[str, float], of: set[str]) -> list[str]:
    """What is taken off the openings, as they really are; how well that is done is in `cut to measure`."""
    build = job.build
    known = with_passed_on(build, true)
    found = []
    for name in build.truths:
        other = not any(name.startswith(f"{one}.") for one in of)
        if other and name not in job.made.own_rooms and name not in job.log.readings:
            value = Fraction(str(round(float(real(build, known, build.pages[name]).value), 3)))
            found.append(written(Entry(WHEN, "read", name, (value,))))
    return found


def _read(hands: Hands, name: str, true: float, tool: str) -> str:
    value = Fraction(str(round(hands.read(name, true, tool), 3)))
    return written(Entry(WHEN, "read", name, (value,), tool=tool))


def main(words: list[str]) -> None:
    """Count the builds in which everything fits."""
    draws = int(words[0]) if words else 20
    for name in words[1:] or ("alcove-bookcase", "drawer-tower", "lathe-cabinet"):
        text = Texts((SAMPLES / f"{name}.yaml").read_text("utf-8"), f"{name}.yaml")
        job = Job(text)
        errors = made(job.build, job.shop.errors).errors
        counts = [0, 0, 0]
        for seed in range(draws):
            hands = Hands(job.build, errors, seed)
            kept, mended = with_log(text, job.build, hands)
            for i, good in enumerate((without_log(job, hands), kept, mended)):
                counts[i] += good
        shares = ", ".join(f"{word} {count}" for word, count in zip(("without", "with", "mended"), counts, strict=True))
        sys.stdout.write(f"{name}: of {draws} builds everything fits in: {shares}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main(sys.argv[1:])
