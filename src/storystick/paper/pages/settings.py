"""Settings list: everything to be cut sorted by how the machine is set, so that no setting is made twice."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

from storystick.model.cutting import UNIT, Setting
from storystick.model.work import Cutting, Setup, Step
from storystick.paper.blocks import Blank, Block, Boxes, Cell, Column, Heading, Large, Table, Text
from storystick.paper.folder import Folder
from storystick.paper.lettering import calliper, said, set_to
from storystick.paper.pages import Page
from storystick.paper.pages.sheets import blanks_inside, piece_said
from storystick.paper.pages.steps import BLADE, setting
from storystick.paper.press import Paper
from storystick.paper.remarks import sentence
from storystick.paper.spoken import listed

SAWN = (
    Column("", 0), Column("set to", 0.8), Column("cut: pieces, a box for each", 1.7), Column("came out at", 0.55),
)  # fmt: skip
SET = (
    Column("set to", 0.8, "right"), Column("what is set", 2.0), Column("for", 1.1), Column("proved", 0.42),
)  # fmt: skip


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """The saw's settings stock by stock, then those of the other machines."""
    sawn = [cutting for cutting in folder.cuttings if at_once(folder, cutting)]
    if not sawn and not folder.order.setups:
        return
    yield Text(
        "Make each setting once and cut everything at it before it is lost. Measure the first piece and write it down. "
        "Numbers before the pieces are those of the cuts on the sheet map."
    )
    for cutting in sawn:
        yield Heading(cutting.stock.name)
        rows = tuple(sawn_row(folder, cutting, setting) for setting in at_once(folder, cutting))
        yield Table(SAWN, rows, dense=True)
    told = {setting.size for cutting in sawn for setting in at_once(folder, cutting)}
    used = {setup.key for way in folder.order.ways for setup in way.setups}
    rest = [s for s in folder.order.setups if s.key in used or not is_told(s, told)]
    for machine in dict.fromkeys(setup.machine for setup in rest):
        setups = [setup for setup in rest if setup.machine == machine]
        yield Heading(machine.capitalize())
        yield Table(SET, tuple(setup_row(folder, setup) for setup in setups), dense=True)


def is_told(setup: Setup, told: Iterable[Fraction]) -> bool:
    """The saw is set to it in the list of a stock already: cut once, it stands once."""
    to = setup.to
    return to is not None and setup.tool == BLADE and any(abs(to.value - size) < 2 * UNIT for size in told)


def at_once(folder: Folder, cutting: Cutting) -> list[Setting]:
    """The settings of a stock with the cuts that are made at them: without those that are set to what was measured."""
    name = cutting.stock.name
    left = (
        replace(one, cuts=tuple(number for number in one.cuts if (name, number) not in folder.fitted_in))
        for one in cutting.layout.settings
    )
    return [one for one in left if one.cuts]


def sawn_row(folder: Folder, cutting: Cutting, setting: Setting) -> tuple[Cell, ...]:
    """One setting of the saw: what is freed by each of its cuts, a box for each."""
    words: list[str] = []
    for number in setting.cuts:
        for tree in cutting.layout.trees:
            for cut in tree.cuts:
                if cut.number == number and cut.frees:
                    freed = [piece_said(cut.frees[0], tree, folder.letter_of)]
                    alone = [n for n in cut.frees[1:] if is_blank(tree.pieces, n)]
                    freed.extend(blanks_inside(n, tree, folder.letter_of)[0] for n in alone)
                    words.append(f"{number}: {' and '.join(freed)}")
    return (str(setting.way), Large(said(setting.size, folder.build.manner)), Boxes(tuple(words)), Blank(18))


def is_blank(pieces: tuple[object, ...], number: int) -> bool:
    """True where the piece of that number is a part already."""
    return any(getattr(p, "number", None) == number and getattr(p, "blank", "") for p in pieces)


def setup_row(folder: Folder, setup: Setup) -> tuple[Cell, ...]:
    """One set-up of another machine: what is set, to what, for which cuts, and how it is proved."""
    manner = folder.build.manner
    to: Cell = ""
    if setup.to is not None:
        to = Large(set_to(setup.to, manner), calliper(setup.to, manner) if setup.to.power else "")
    tool = "" if setup.tool == BLADE or setup.says.startswith(setup.tool) else setup.tool
    fits = setup.says.endswith(", or as measured")
    told = setup.says.removesuffix(", or as measured")
    bare = setup.to is not None and told.startswith(setup.name) and len(told) < SAYS_NO_MORE
    name = "" if setup.name in told and not bare else setup.name  # the sentence says it
    head = ", ".join(word for word in (tool, name, "as measured" if fits else "") if word)
    says = " ".join(sentence(text) for text in ("" if bare else told, setup.test) if text)
    return (to, ": ".join(text for text in (head, says) if text), used_for(folder, setup), Blank(13))


SAYS_NO_MORE = 50
"""A set-up's words that begin with its name and are no longer than this say no more than the figure beside them."""


def used_for(folder: Folder, setup: Setup) -> str:
    """The steps it is set in, and the cuts that are made then: each kind with the letters of its parts."""
    kinds: dict[str, dict[str, None]] = {}
    for way in folder.order.ways:
        if any(one.key == setup.key for one in way.setups):
            part = folder.build.parts_by_name.get(way.part)
            called = next((cut.called for cut in part.cuts if cut.name == way.cut), way.cut) if part else way.cut
            purpose = folder.purposes.get((way.part, way.cut))
            named = f"{called} for {purpose.words}" if purpose else called
            kinds.setdefault(named, {})[folder.letter_of.get(way.part, way.part)] = None
    steps = [s for s in folder.order.steps if any(one.key == setup.key for one in s.setups)]
    if kinds:
        when = f"step{'s' if len(steps) > 1 else ''} {listed(str(step.number) for step in steps)}: " if steps else ""
        return when + "; ".join(f"{called} in {', '.join(letters)}" for called, letters in kinds.items())
    return "; ".join(f"step {step.number}: {cut_at(folder, setup, step) or step.title}" for step in steps)


def cut_at(folder: Folder, setup: Setup, step: Step) -> str:
    """What a step cuts at a set-up, in its own words; "" where it says nothing of it."""
    (_, _, remark, _), told = setting(setup, folder, step.does)
    if not told:
        return ""
    where, _, what = remark.removeprefix("as measured; ").rstrip(".").partition(": ")
    letters = dict.fromkeys(word for word in re.findall(r"[A-Z]+", what) if word in folder.letters)
    return f"{where}: {', '.join(letters)}" if letters else where


PAGE = Page("settings", 70, "Settings list", make, follows=True)
