"""Sawing to size: the cuts of the layouts as jobs, one for each stretch of cuts at one setting of the saw."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from itertools import groupby

from storystick.ground.dim import Dim, chosen, rule
from storystick.ground.length import INCH, show, with_unit
from storystick.ground.source import practice
from storystick.model.cutting import UNIT, Cut, CutTree, Piece, Way
from storystick.model.part import Part
from storystick.model.work import Cutting, Setup, Stage
from storystick.shop.shop import Saw
from storystick.work.bench import LAYER, Bench, caution
from storystick.work.breaking import below, cut_lines
from storystick.work.jobs import Job, Line
from storystick.work.narrow import for_narrow, is_strip, narrow_words
from storystick.work.openings import is_measured
from storystick.work.saws import AS_MEASURED, FROM_DRY_FIT, Sawn, saw_for, without_layout
from storystick.work.saying import all_called, and_of, cap, spoken
from storystick.work.ways import minutes, once, setup
from storystick.work.wood import planing

LAID_OUT = practice("the layout of the sheet")
LEFT_ON = practice("what is cut to fit later, or glued up and trimmed, is sawn a little large")
MOST_LEFT = Fraction(15)
EDGE = {Way.RIP: "near edge", Way.CROSSCUT: "left end"}
NARROW = 2 * INCH
SHORT = 12 * INCH
MARK = "Write its letter, the face mark and the edge marks on every part as it leaves the saw."


def sawing(bench: Bench, sawn: Sawn) -> Iterator[Job]:
    """The jobs of all layouts in turn; then of the parts that no layout has."""
    for cutting in bench.cuttings:
        yield from _stock(bench, cutting, sawn)
    missing = [part for part in bench.build.parts if part.name not in sawn.by]
    for name, group in groupby(sorted(missing, key=lambda p: p.stock.name), key=lambda p: p.stock.name):
        yield without_layout(bench, name, list(group), sawn)


def part_of(bench: Bench, blank: str) -> Part | None:
    """The part that a blank becomes; a part made of layers has a blank for each."""
    return bench.build.parts_by_name.get(blank.partition(LAYER)[0]) if blank else None


@dataclass(frozen=True, slots=True)
class Run:
    """Cuts of one stock at one setting, or along lines; `fits` is what those at a measured size have to fit."""

    cuts: tuple[Cut, ...]
    fits: str = ""
    after: tuple[str, ...] = ()
    key: str = ""


def _stock(bench: Bench, cutting: Cutting, sawn: Sawn) -> Iterator[Job]:
    trees = {cut.number: tree for tree in cutting.layout.trees for cut in tree.cuts}
    freed: dict[int, str] = {}  # by piece: the job that frees it
    planed = planing(bench, cutting)
    if planed is not None:
        yield planed
    first = (planed.key if planed is not None else "measure",)
    for run in _runs(bench, cutting.layout.cuts, trees):
        key = f"saw {cutting.stock.name} {run.cuts[0].number}"
        freed.update({number: key for cut in run.cuts for number in cut.frees})
        waits = {freed[cut.piece] for cut in run.cuts if cut.piece in freed} - {key}
        dry = (bench.dry_key(run.fits),) if run.fits else ()
        run = replace(run, after=(*first, *sorted(waits), *dry), key=key)
        job = (_lines if run.cuts[0].setting is None else _setting_job)(bench, cutting, run, trees)
        for part in job.parts:
            sawn.by.setdefault(part.name, []).append(key)
        if run.fits:
            for cut in run.cuts:
                for part, size in _sized(bench, cut, trees[cut.number]):
                    sawn.done.setdefault(part.name, set()).add(size)
                    sawn.by.setdefault(part.name, []).append(key)
        yield job
    for tree in cutting.layout.trees:
        for piece in tree.blanks if not tree.cuts else ():  # a size that is used as it was bought
            found = part_of(bench, piece.blank)
            if found is not None:
                sawn.by.setdefault(found.name, [])


def _runs(bench: Bench, cuts: Sequence[Cut], trees: dict[int, CutTree]) -> Iterator[Run]:
    """Cuts that follow one another at one setting; those along lines together; what is cut to fit by itself."""
    for setting, stretch in groupby(cuts, key=lambda cut: (cut.setting, cut.way if cut.setting is not None else None)):
        by: dict[str, list[Cut]] = {}
        for cut in stretch:
            by.setdefault(_fits(bench, cut, trees[cut.number]) if setting[0] is not None else "", []).append(cut)
        yield from (Run(tuple(some), fits) for fits, some in by.items())


def _fits(bench: Bench, cut: Cut, tree: CutTree) -> str:
    """The assembly that a cut can wait for, so that it is made at the size measured there; "" where it can't.

    It can when all that lies against the fence is cut to fit that assembly, in one size, and so is all that is left.
    """
    if not bench.keeps_on_sheet:
        return ""
    inside = [part for number in cut.frees for part, _ in _blanks(bench, number, tree)]
    targets = {bench.fitted.get(part.name, "") for part in inside}
    layers = {part.name for group in bench.layered for part in group}
    if len(targets) != 1 or any(part.name in layers or part.layers > 1 for part in inside):
        return ""
    sized = _sized(bench, cut, tree)
    sizes = {(part.length if size == "length" else part.width).value for part, size in sized}
    near = {part.name for part, _ in _blanks(bench, cut.frees[0], tree)}
    if len(sizes) != 1 or len(sized) != len(near) or not 0 <= (cut.setting or Fraction(0)) - sizes.pop() <= MOST_LEFT:
        return ""
    return targets.pop()


def _blanks(bench: Bench, number: int, tree: CutTree) -> list[tuple[Part, Piece]]:
    """The parts inside a piece, each with its blank."""
    piece = next(one for one in tree.pieces if one.number == number)
    within = below(piece, tree)
    return [
        (part, one) for one in tree.pieces if one.number in within and (part := part_of(bench, one.blank)) is not None
    ]


def _sized(bench: Bench, cut: Cut, tree: CutTree) -> list[tuple[Part, str]]:
    """The parts that get a size of theirs by a cut: whose blanks are as long or wide as the piece at the fence."""
    near = next(one for one in tree.pieces if one.number == cut.frees[0])
    found = []
    for part, blank in _blanks(bench, near.number, tree):
        across = blank.wide if cut.way is Way.RIP else blank.long
        if abs(across - (near.wide if cut.way is Way.RIP else near.long)) < 2 * UNIT:
            found.append((part, "width" if (cut.way is Way.RIP) != blank.turned else "length"))
    return found


def _lines(bench: Bench, cutting: Cutting, run: Run, trees: dict[int, CutTree]) -> Job:
    """Cuts along lines: factory edges trimmed, and pieces that can be handled."""
    stock, cuts = cutting.stock, run.cuts
    saw = saw_for(bench.shop, None, [_reach(trees[cut.number], cut) for cut in cuts])
    lines = []
    by_tree = {id(trees[cut.number]): trees[cut.number] for cut in cuts}
    for tree in by_tree.values():
        own = [cut for cut in cuts if trees[cut.number] is tree]
        size = f" ({with_unit(tree.sheet.name, bench.build.manner)})" if tree.sheet.name else ""
        which = f", {sheet}" if (sheet := _sheet(cutting, tree)) else ""
        lines.append(Line(f"{stock.name}{which}{size}: " + "; ".join(cut_lines(own, tree, bench.build))))
    parts = _parts(bench, [p for cut in cuts for p in _freed(trees[cut.number], cut)])
    first, each = minutes("break down sheet" if stock.form == "sheet" else "crosscut")
    title = "Break down {}" if stock.form == "sheet" else "Square off the ends of {}"
    return Job(
        run.key,
        Stage.BREAK_DOWN,
        title,
        (_by(saw, stock.form == "sheet"),) if saw else (),
        parts,
        after=run.after,
        new=tuple(p.name for p in parts),
        cautions=_cautions(saw, cuts),
        needs=(saw.name if saw else "a saw",),
        hands_on=first * len(by_tree) + each * len(cuts),
        why_here="straight edges first, and pieces that can be handled",
        kin=f"{title} {saw.name if saw else ''}",
        words=(stock.name,),
        lines=tuple(lines),
        ends=(MARK,) if parts else (),
    )


def _by(saw: Saw, sheet: bool) -> str:
    """With which saw a line is cut, and on what a sheet lies."""
    if saw.kind not in GUIDED:
        return f"With the {saw.name}."
    lies = ", the sheet flat on foam or trestles" if sheet else ""
    lies += ", its best face down" if sheet and saw.kind == "circular saw" else ""
    return f"With the {saw.name} along {'its rail' if saw.kind == 'track saw' else 'a straightedge'}{lies}."


GUIDED = ("track saw", "circular saw")


def _setting_job(bench: Bench, cutting: Cutting, run: Run, trees: dict[int, CutTree]) -> Job:
    """Everything that is cut of one stock at one setting."""
    cuts, way, stock = run.cuts, run.cuts[0].way, cutting.stock
    saw = saw_for(bench.shop, way, [_reach(trees[cut.number], cut) for cut in cuts])
    saw = for_narrow(bench.shop, saw, cuts, trees)
    out = [(cut, [p for p in _freed(trees[cut.number], cut) if p.blank]) for cut in cuts]
    if run.fits:
        part, size = _sized(bench, cuts[0], trees[cuts[0].number])[0]
        to = part.length if size == "length" else part.width
    else:
        to = _dim(bench, cuts[0].setting or Fraction(0), way, out)
    sized = [pair for cut in cuts for pair in _sized(bench, cut, trees[cut.number])] if run.fits else []
    follows = any(is_measured(bench, part, size) for part, size in sized)
    one = _setting(bench, saw, cuts[0], to)
    one = replace(one, says=one.says + AS_MEASURED) if follows else one
    parts = _parts(bench, [p for _, pieces in out for p in pieces])
    strips = _strips(bench, cuts, trees)
    told = and_of(word for word in (all_called(parts, bench.build) if parts else "", strips) if word)
    lies = f", from the {EDGE[way]}, kerf beyond the line" if saw is not None and saw.kind in GUIDED else ""
    line = Line(
        f"{stock.name}, {_where(cutting, cuts, trees)}" + (f": {told}" if told else "") + lies,
        at=f"{cap(one.name)} {show(to.value, bench.build.manner)}" + (AS_MEASURED if follows else ""),
    )
    done = minutes(way.value)
    title = f"{'Rip' if way is Way.RIP else 'Crosscut'} {{}}" + (f" to fit {spoken(run.fits)}" if run.fits else "")
    return Job(
        run.key,
        Stage.SAW,
        title,
        (*((FROM_DRY_FIT,) if follows else ()), *narrow_words(saw, cuts, trees, stock.solid)),
        parts,
        (one,),
        after=run.after,
        new=tuple(p.name for p in parts),
        check="Measure the first piece at each setting before cutting the others.",
        cautions=_cautions(saw, cuts),
        needs=(saw.name if saw else "a saw",),
        hands_on=done[1] * len(cuts) + minutes("mark parts")[1] * len(parts),
        why_here=(
            f"after the dry fit: the real opening of {spoken(run.fits)} is what they must fit"
            if run.fits
            else "everything of one size is cut before the setting is lost"
        ),
        kin=f"{title} {saw.name if saw else ''}",
        words=(stock.name,),
        lines=(line,),
        to_fit=tuple((stock.name, cut.number) for cut in cuts) if run.fits else (),
        ends=(*(() if run.fits else _large(bench, parts)), *((MARK,) if parts else ())),
    )


def _parts(bench: Bench, pieces: Sequence[Piece]) -> tuple[Part, ...]:
    return tuple({p.name: p for one in pieces if (p := part_of(bench, one.blank))}.values())


def _strips(bench: Bench, cuts: Sequence[Cut], trees: dict[int, CutTree]) -> str:
    """Which parts are still in the pieces that lie against the fence: "strips for A, B and C"."""
    letters: list[str] = []
    count = 0
    for cut in cuts:
        tree = trees[cut.number]
        near = next((p for p in _freed(tree, cut) if not p.blank), None)
        if near is None or near.number != cut.frees[0]:
            continue
        inside = [p for p in tree.pieces if p.number in below(near, tree) and p.blank]
        names = [part.letter or part.name for p in inside if (part := part_of(bench, p.blank))]
        count += bool(names)
        letters.extend(names)
    if not letters:
        return ""
    return f"{'a strip' if count == 1 else 'strips'} for {and_of(dict.fromkeys(letters))}"


def _large(bench: Bench, parts: Sequence[Part]) -> Iterator[str]:
    """Parts that leave the saw larger than they will be, and why."""
    layered = {part.name for group in bench.layered for part in group}
    fitted = [part for part in parts if part.fit_to and part.name not in layered]
    layers = [part for part in parts if part.name in layered]
    if fitted:
        yield f"Still a little large, to be cut to fit later: {all_called(fitted, bench.build)}."
    last = [part for part in parts if part.name in bench.last and part.name not in layered]
    if last:
        them = "it" if len(last) == 1 else "them"
        yield (
            f"Better left on the sheet until the rest stands dry: {all_called(last, bench.build)}. Then measure what "
            f"is there and cut {them} to that: the size here is what the plan expects."
        )
    if layers:
        yield f"Oversize, to be trimmed when the layers are glued: {all_called(layers, bench.build)}."


def _freed(tree: CutTree, cut: Cut) -> list[Piece]:
    return [piece for piece in tree.pieces if piece.number in cut.frees]


def _sheet(cutting: Cutting, tree: CutTree) -> str:
    index = next(number for number, one in enumerate(cutting.layout.trees, 1) if one is tree)
    return f"{word_of(cutting)} {index}" if len(cutting.layout.trees) > 1 else ""


def word_of(cutting: Cutting) -> str:
    """Sheet, board, strip or bar."""
    return cutting.stock.form


def _where(cutting: Cutting, cuts: Sequence[Cut], trees: dict[int, CutTree]) -> str:
    """On which sheets, by the numbers of the sheet maps: "sheet 1, cuts 5 to 7"."""
    by_sheet: dict[str, list[int]] = {}
    for cut in cuts:
        by_sheet.setdefault(_sheet(cutting, trees[cut.number]), []).append(cut.number)
    return "; ".join(", ".join(w for w in (sheet, _numbers(numbers)) if w) for sheet, numbers in by_sheet.items())


def _numbers(numbers: Sequence[int]) -> str:
    if len(numbers) == 1:
        return f"cut {numbers[0]}"
    if numbers[-1] - numbers[0] == len(numbers) - 1 and len(numbers) > 2:
        return f"cuts {numbers[0]} to {numbers[-1]}"
    return f"cuts {and_of(str(number) for number in numbers)}"


def _reach(tree: CutTree, cut: Cut) -> tuple[Way, Fraction]:
    """How far a cut goes: across the piece for a crosscut; for a rip, how far the fence is from the blade."""
    piece = next(one for one in tree.pieces if one.number == cut.piece)
    return cut.way, piece.wide if cut.way is Way.CROSSCUT else (cut.setting or Fraction(0))


def _dim(bench: Bench, setting: Fraction, way: Way, out: Sequence[tuple[Cut, Sequence[Piece]]]) -> Dim:
    """The setting as a number that can be asked why: a part's own size where it is one."""
    layers = {part.name for group in bench.layered for part in group}
    size = show(setting, bench.build.manner)
    for piece in (piece for _, pieces in out for piece in pieces):
        part = part_of(bench, piece.blank)
        if part is None:
            continue
        dim = part.length if (way is Way.CROSSCUT) != piece.turned else part.width
        left = setting - dim.value
        if abs(left) < 2 * UNIT:
            return dim
        if (part.fit_to or part.name in layers) and 0 < left <= MOST_LEFT:
            return once(
                bench.book, f"{way.value} {part.name} at {size}", partial(_more, dim, left), "its size comes later"
            )
    return once(bench.book, f"{way.value} at {size}", lambda: chosen(setting, LAID_OUT), "as the sheet is laid out")


def _more(dim: Dim, left: Fraction) -> Dim:
    return dim + rule("left on for now", left, LEFT_ON)


def _setting(bench: Bench, saw: Saw | None, cut: Cut, to: Dim) -> Setup:
    way = cut.way
    guided = saw is not None and saw.kind in GUIDED
    word = "line" if guided else ("fence" if way is Way.RIP else "stop")
    machine = saw.kind if saw else "saw"
    size = show(to.value, bench.build.manner)
    says = f"line {size} from the {EDGE[way]}, kerf on the waste side" if guided else f"{word} {size} from the blade"
    if not guided and is_strip(saw, cut):
        word, says = "stop block", f"stop block {size} from the blade, on the side away from the fence"
    return setup(machine, "saw blade", word, to, says)


def _cautions(saw: Saw | None, cuts: Sequence[Cut]) -> tuple[str, ...]:
    names = []
    if saw is not None and saw.kind == "table saw":
        names.append("spreader")
        settings = [(cut.way, cut.setting) for cut in cuts if cut.setting is not None]
        if any(way is Way.RIP and size < NARROW for way, size in settings):
            names.append("narrow rip")
        if any(way is Way.CROSSCUT and size < SHORT for way, size in settings):
            names.append("short crosscut")
    return tuple(caution(name) for name in names)
