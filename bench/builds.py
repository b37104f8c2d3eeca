"""Builds of the samples with errors drawn at random: in how many does everything fit, with the log and without?

Without: every part is cut to the number printed at the start. With: each piece's thickness is read before; when a part
is cut it is measured and logged, the plan is reckoned anew from the log, and the next part is cut to what it says then;
parts that are best cut to fit are trimmed in their openings. Mended: then every piece is held in where it goes, gaps
that may be wrong are read, and what is seen to be broken is put right by what the tool puts first, one thing after the
other. Parts that don't hang on one another are cut in one turn; `--each` reckons anew after every single part instead.

    python bench/builds.py [--each] [how many builds] [names of samples]
"""

import random
import sys
from collections.abc import Iterator, Mapping
from fractions import Fraction
from pathlib import Path

from storystick.app.entries import chose
from storystick.app.pipeline import Job, Texts
from storystick.ground.dim import Dim, Leaf, Named, rewritten
from storystick.model.build import Build
from storystick.model.changed import numbers_of
from storystick.model.closing import turns
from storystick.model.cut import Channel
from storystick.model.joining import Fit
from storystick.model.judged import Judged
from storystick.model.made import as_reckoned, made
from storystick.model.mending import Remedy, is_broken, remedies
from storystick.model.part import Part
from storystick.plan.log import HEAD, Entry, written
from storystick.shop.shop import Error
from storystick.shop.tables import instruments

SAMPLES = Path(__file__).parents[1] / "samples"
WHEN = "2026-01-01 08:00"
DOUBT = 0.02
"""A gap that goes wrong in more than one build in fifty is read with the piece held in."""
MENDS = 40
MEND_SD = 0.05
"""How well wood is taken off, or put on, by hand: one standard deviation [mm] (practice)."""


class Hands:
    """What really happens: sheets with their own thickness, settings that are off, pieces that differ; by one seed.

    shims  what was put in beside each fit [mm]
    """

    def __init__(self, build: Build, errors: Mapping[str, Error], seed: int) -> None:
        self.errors, self.seed = errors, seed
        self.shims: dict[str, float] = {}
        self.count = 0
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
        self.count += 1
        sd = (row.sd_mm**2 + (row.sd_per_m_mm * true / 1000) ** 2) ** 0.5
        return true + self.draw(f"read {name} {self.count}", sd)


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


def gap_of(build: Build, true: Mapping[str, float], hands: Hands, fit: Fit) -> float:
    """The gap as it really is [mm]."""
    return float(real(build, true, as_reckoned(fit.gap)).value) - hands.shims.get(fit.name, 0.0)


def fits_of(build: Build, true: Mapping[str, float], hands: Hands) -> dict[str, bool]:
    """Whether each fit is as wanted when every number of the pieces is what it really is."""
    return {
        fit.name: fit.least.value <= gap_of(build, true, hands, fit) <= fit.most.value
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


def without_log(job: Job, hands: Hands) -> bool:
    """Cut everything to the first print; does everything fit?"""
    true: dict[str, float] = {}
    for part in job.build.parts:
        true |= hands.part(part, fitted=False)
    return all(fits_of(job.build, with_passed_on(job.build, true), hands).values())


def logged(text: Texts, lines: list[str]) -> Job:
    """The plan with what the log says so far."""
    return Job(Texts(text.plan, text.plan_file, None, "", HEAD + "".join(lines), "log"))


def with_log(text: Texts, first: Build, hands: Hands, *, each: bool = False) -> tuple[bool, bool]:
    """Measure each piece of sheet, cut part by part, log and reckon anew; does everything fit, and after mending?"""
    true: dict[str, float] = {}
    lines: list[str] = []
    for part in first.parts:
        thick = hands.part(part, fitted=True)[part.thickness.name]
        lines.append(_read(hands, part.thickness.name, thick))
    job = logged(text, lines)
    printed: dict[str, Fraction] = {}
    rounds = turns(job.made)
    for batch in ((one,) for turn in rounds for one in turn) if each else rounds:
        of = {part.fit_to for part in map(job.build.part, batch) if part.fit_to}
        if of and (fresh := _openings(job, true, of)):
            lines.extend(fresh)
            job = logged(text, lines)
        for name in batch:
            cut = _cut(job, hands, name, lines)
            true |= cut
            printed |= {n: dim.value for n, dim in numbers_of(job.build, name).items() if n not in cut}
        job = logged(text, lines)
        for name, value in printed.items():  # what is cut never changes
            assert abs(job.build.pages[name].value - value) < Fraction(1, 10**6), name
    fine = all(fits_of(job.build, with_passed_on(job.build, true), hands).values())
    job = _put_right(text, job, hands, true, lines)
    return fine, all(fits_of(job.build, with_passed_on(job.build, true), hands).values())


def _cut(job: Job, hands: Hands, name: str, lines: list[str]) -> dict[str, float]:
    """Cut a part to what is printed for it, log it, measure it."""
    build = job.build
    part = build.part(name)
    cut = hands.part(part, fitted=True)
    numbers = {n: dim.value for n, dim in numbers_of(build, name).items() if n != part.thickness.name}
    lines.append(written(Entry(WHEN, "cut", name, numbers=tuple(numbers.items()))))
    lines.extend(
        _read(hands, number, value)
        for number, value in cut.items()
        if number != part.thickness.name and build.pages[number].value
    )
    return cut


def _put_right(text: Texts, job: Job, hands: Hands, true: dict[str, float], lines: list[str]) -> Job:
    """Hold every piece in, read the gaps that may be wrong, mend what is broken: one thing after the other."""
    lines.extend(_gap(job, hands, true, one.fit) for one in job.judged if one.trouble > DOUBT or is_broken(one))
    job = logged(text, lines)
    for _ in range(MENDS):
        found = next(_mends(job, true), None)
        if found is None:
            break
        broken, best = found
        lines.extend(written(entry) for entry in chose(job, broken, best))
        if best.number:
            true[best.number] += float(best.by) + hands.draw(f"mend {len(lines)} {best.number}", MEND_SD)
        else:
            before = hands.shims.get(broken.fit.name, 0.0)
            hands.shims[broken.fit.name] = before + float(best.by) + hands.draw(f"shim {len(lines)}", MEND_SD)
        touched = {broken.fit.name, *(one.fit.name for one, _ in best.also)}
        lines.extend(_gap(job, hands, true, one.fit) for one in job.judged if one.fit.name in touched)
        job = logged(text, lines)
    return job


def _mends(job: Job, true: Mapping[str, float]) -> Iterator[tuple[Judged, Remedy]]:
    """Each fit that is broken, with the first remedy that there is wood for."""
    for one in job.judged:
        if is_broken(one):
            for best in remedies(job.made, one, job.judged, job.log.in_wood):
                if best.enough and (best.way == "shim" or best.number in true):
                    yield one, best
                    break


def _gap(job: Job, hands: Hands, true: Mapping[str, float], fit: Fit) -> str:
    """A gap as it is read with the piece held in."""
    return _read(hands, fit.gap_name, gap_of(job.build, with_passed_on(job.build, dict(true)), hands, fit))


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


def _read(hands: Hands, name: str, true: float) -> str:
    tool = "feeler gauge" if abs(true) < 1 else "calliper" if abs(true) <= 150 else "steel rule"
    value = Fraction(str(round(hands.read(name, true, tool), 3)))
    return written(Entry(WHEN, "read", name, (value,), tool=tool))


def main(words: list[str]) -> None:
    """Count the builds in which everything fits."""
    each, words = "--each" in words, [word for word in words if word != "--each"]
    draws = int(words[0]) if words else 20
    for name in words[1:] or ("alcove-bookcase", "drawer-tower", "lathe-cabinet"):
        text = Texts((SAMPLES / f"{name}.yaml").read_text("utf-8"), f"{name}.yaml")
        job = Job(text)
        errors = made(job.build, job.shop.errors).errors
        counts = [0, 0, 0]
        for seed in range(draws):
            plain = without_log(job, Hands(job.build, errors, seed))
            kept, mended = with_log(text, job.build, Hands(job.build, errors, seed), each=each)
            for i, good in enumerate((plain, kept, mended)):
                counts[i] += good
            if (seed + 1) % 10 == 0 or seed + 1 == draws:
                each_way = zip(("without", "with", "mended"), counts, strict=True)
                shares = ", ".join(f"{word} {count}" for word, count in each_way)
                sys.stdout.write(f"{name}: of {seed + 1} builds everything fits in: {shares}\n")
                sys.stdout.flush()


if __name__ == "__main__":
    main(sys.argv[1:])
