"""Sawing to size: the cuts of the layouts as jobs, a run of one sort of cut in each, by the settings of the saw."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from itertools import groupby

from storystick.ground.dim import Dim, chosen, rule
from storystick.ground.length import INCH, show
from storystick.ground.source import practice
from storystick.model.cutting import UNIT, Cut, CutTree, Piece, Way
from storystick.model.part import Part
from storystick.model.work import Cutting, Setup, Stage
from storystick.shop.shop import Saw, Shop
from storystick.work.bench import LAYER, Bench, caution
from storystick.work.jobs import Job
from storystick.work.saying import all_called, and_of, called, cap, many
from storystick.work.ways import minutes, once, setup

LAID_OUT = practice("the layout of the sheet")
LEFT_ON = practice("what is cut to fit later, or glued up and trimmed, is sawn a little large")
MOST_LEFT = Fraction(15)
NARROW = 2 * INCH
SHORT = 12 * INCH
MARK = "Write its letter, the face mark and the edge marks on every part as it leaves the saw."
BEGINS = {"sheet": "Break down"}
BREAKING = ("track saw", "circular saw", "table saw")


@dataclass(slots=True)
class Sawn:
    """Which job frees which part, filled while the jobs are made."""

    by: dict[str, list[str]] = field(default_factory=dict)


def sawing(bench: Bench, sawn: Sawn) -> Iterator[Job]:
    """The jobs of all layouts in turn; then of the parts that no layout has."""
    for cutting in bench.cuttings:
        yield from _stock(bench, cutting, sawn)
    missing = [part for part in bench.build.parts if part.name not in sawn.by]
    for name, group in groupby(sorted(missing, key=lambda p: p.stock.name), key=lambda p: p.stock.name):
        yield _without_layout(bench, name, list(group), sawn)


def part_of(bench: Bench, blank: str) -> Part | None:
    """The part that a blank becomes; a part made of layers has a blank for each."""
    return bench.build.parts_by_name.get(blank.partition(LAYER)[0]) if blank else None


def _stock(bench: Bench, cutting: Cutting, sawn: Sawn) -> Iterator[Job]:
    trees = {cut.number: tree for tree in cutting.layout.trees for cut in tree.cuts}
    whole = [p for tree in cutting.layout.trees if not tree.cuts for p in tree.blanks]
    before: tuple[str, ...] = ()
    for number, run in groupby(_begun(cutting.layout.cuts), key=lambda pair: pair[0]):
        cuts = [cut for _, cut in run]
        key = f"saw {cutting.stock.name} {number}"
        job = _run(bench, cutting, cuts, trees, key, before, number == 0)
        for part in job.parts:
            sawn.by.setdefault(part.name, []).append(key)
        before = (key,)
        yield job
    for piece in whole:  # a size that is used as it was bought
        found = part_of(bench, piece.blank)
        if found is not None:
            sawn.by.setdefault(found.name, [])


def _begun(cuts: Sequence[Cut]) -> Iterator[tuple[int, Cut]]:
    """Cuts with the number of their run: 0 while sheets are broken down and trimmed, then rip and crosscut."""
    run, way, begun = 0, None, False
    for cut in cuts:
        begun = begun or cut.setting is not None
        if begun and cut.setting is not None and cut.way != way:
            run, way = run + 1, cut.way
        yield run, cut


def _run(
    bench: Bench,
    cutting: Cutting,
    cuts: Sequence[Cut],
    trees: dict[int, CutTree],
    key: str,
    before: tuple[str, ...],
    breaks_down: bool,
) -> Job:
    stock = cutting.stock
    saw = saw_for(bench.shop, None if breaks_down else _way(cuts), [_reach(trees[cut.number], cut) for cut in cuts])
    does: list[str] = []
    setups: list[Setup] = []
    freed: list[Piece] = []
    for setting, group in groupby(cuts, key=lambda cut: cut.setting):
        at_once = list(group)
        out = [(cut, [p for p in _freed(trees[cut.number], cut) if p.blank]) for cut in at_once]
        freed.extend(p for _, pieces in out for p in pieces)
        where = _where(cutting, at_once, trees)
        gives = [part for _, pieces in out for p in pieces if (part := part_of(bench, p.blank))]
        frees = f" gives {all_called(gives, bench.build)}" if gives else ""
        if setting is None:
            does.append(f"{cap(where)}: saw along the line{frees}.")
        else:
            to = _dim(bench, setting, at_once[0].way, out)
            setups.append(_setting(bench, saw, at_once[0].way, to))
            does.append(
                f"{cap(setups[-1].name)} at {show(setting, bench.build.manner)}: {where}{frees or ', a strip'}."
            )
    parts = tuple({p.name: p for piece in freed if (p := part_of(bench, piece.blank))}.values())
    words = BEGINS.get(stock.form, "Trim the ends of") if breaks_down else cap(_way(cuts).value)
    sheets = len({id(trees[cut.number]) for cut in cuts})
    done = minutes("break down sheet" if breaks_down else ("rip" if _way(cuts) is Way.RIP else "crosscut"))
    per_setting = minutes("set rip fence")[0] * len(setups)
    return Job(
        key,
        Stage.BREAK_DOWN if breaks_down else Stage.SAW,
        f"{words} {stock.name}",
        (
            *does,
            *_large(bench, parts),
            *((MARK,) if parts else ()),
        ),
        parts,
        tuple({one.key: one for one in setups}.values()),
        after=before or ("measure",),
        new=tuple(p.name for p in parts),
        check="Measure the first piece at each setting before cutting the others." if setups else "",
        caution=_caution(saw, cuts),
        needs=(saw.name if saw else "a saw",),
        hands_on=done[0] + done[1] * len(cuts) + per_setting + minutes("mark parts")[1] * len(parts),
        why_here=(
            f"{many(sheets, word_of(cutting))} of {stock.name}: straight edges first, and pieces that can be handled"
            if breaks_down
            else "everything of one size is cut before the setting is lost"
        ),
    )


def _large(bench: Bench, parts: Sequence[Part]) -> Iterator[str]:
    """Parts that leave the saw larger than they will be, and why."""
    layered = {part.name for group in bench.layered for part in group}
    fitted = [part for part in parts if part.fit_to and part.name not in layered]
    layers = [part for part in parts if part.name in layered]
    if fitted:
        yield f"Still a little large, to be cut to fit later: {all_called(fitted, bench.build)}."
    if layers:
        yield f"Oversize, to be trimmed when the layers are glued: {all_called(layers, bench.build)}."


def _way(cuts: Sequence[Cut]) -> Way:
    return next((cut.way for cut in cuts if cut.setting is not None), cuts[0].way)


def _freed(tree: CutTree, cut: Cut) -> list[Piece]:
    return [piece for piece in tree.pieces if piece.number in cut.frees]


def _sheet(cutting: Cutting, tree: CutTree) -> str:
    index = next(number for number, one in enumerate(cutting.layout.trees, 1) if one is tree)
    return f"{word_of(cutting)} {index}"


def word_of(cutting: Cutting) -> str:
    """Sheet, board, strip or bar."""
    return cutting.stock.form


def _where(cutting: Cutting, cuts: Sequence[Cut], trees: dict[int, CutTree]) -> str:
    """On which sheets, by the numbers of the sheet maps: "sheet 1, cuts 5 to 7"."""
    by_sheet: dict[str, list[int]] = {}
    for cut in cuts:
        by_sheet.setdefault(_sheet(cutting, trees[cut.number]), []).append(cut.number)
    return "; ".join(f"{sheet}, {_numbers(numbers)}" for sheet, numbers in by_sheet.items())


def _numbers(numbers: Sequence[int]) -> str:
    if len(numbers) == 1:
        return f"cut {numbers[0]}"
    if numbers[-1] - numbers[0] == len(numbers) - 1:
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


def _setting(bench: Bench, saw: Saw | None, way: Way, to: Dim) -> Setup:
    guided = saw is not None and saw.kind in ("track saw", "circular saw")
    word = "line" if guided else ("fence" if way is Way.RIP else "stop")
    machine = saw.kind if saw else "saw"
    size = show(to.value, bench.build.manner)
    says = f"line {size} from the edge, kerf on the waste side" if guided else f"{word} {size} from the blade"
    return setup(machine, "saw blade", word, to, says)


def saw_for(shop: Shop, way: Way | None, reaches: Sequence[tuple[Way, Fraction]] = ()) -> Saw | None:
    """The saw for a run of cuts: what breaks sheets down for None, else what rips or crosscuts to a setting.

    reaches  how far each cut goes, so that no sheet is pushed through a saw that can't take it
    """
    kinds: tuple[str, ...] = BREAKING
    if way is not None:
        kinds = ("table saw", *BREAKING) if way is Way.RIP else ("table saw", "mitre saw", *BREAKING)
    saws = [saw for kind in kinds for saw in shop.saws_of(kind)]
    fitting = [saw for saw in saws if all(_takes(saw, one, far) for one, far in reaches)]
    return next(iter(fitting or saws or shop.saws), None)


def _takes(saw: Saw, way: Way, far: Fraction) -> bool:
    most = saw.rip if way is Way.RIP else saw.crosscut
    return most is None or far <= most


def _caution(saw: Saw | None, cuts: Sequence[Cut]) -> str:
    names = []
    if saw is not None and saw.kind == "table saw":
        names.append("spreader")
        settings = [(cut.way, cut.setting) for cut in cuts if cut.setting is not None]
        if any(way is Way.RIP and size < NARROW for way, size in settings):
            names.append("narrow rip")
        if any(way is Way.CROSSCUT and size < SHORT for way, size in settings):
            names.append("short crosscut")
    return caution(*names)


def _without_layout(bench: Bench, name: str, parts: list[Part], sawn: Sawn) -> Job:
    manner, key = bench.build.manner, f"saw {name} to size"
    does = []
    for part in {p.letter or p.name: p for p in parts}.values():
        like = [p for p in parts if (p.letter or p.name) == (part.letter or part.name)]
        size = f"{show(part.length.value, manner)} x {show(part.width.value, manner)}"
        does.append(f"{cap(called(part, bench.build))}: {size}" + (f", {len(like)} of them." if len(like) > 1 else "."))
    for part in parts:
        sawn.by[part.name] = [key]
    first, each = minutes("crosscut")
    return Job(
        key,
        Stage.SAW,
        f"Saw {name} to size",
        tuple(does),
        tuple(parts),
        after=("measure",),
        new=tuple(p.name for p in parts),
        check="Measure the first piece at each setting before cutting the others.",
        caution=caution("spreader"),
        hands_on=first + 2 * each * len(parts),
        why_here="parts of like size are cut at one setting",
    )
