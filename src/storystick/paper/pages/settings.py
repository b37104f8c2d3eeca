"""Settings list: everything to be cut sorted by how the machine is set, so that no setting is made twice."""

from collections.abc import Iterator

from storystick.model.cutting import Setting
from storystick.model.work import Cutting, Setup
from storystick.paper.blocks import Blank, Block, Boxes, Cell, Column, Heading, Large, Table, Text
from storystick.paper.folder import Folder
from storystick.paper.lettering import said, set_to
from storystick.paper.pages import Page
from storystick.paper.pages.sheets import blanks_inside, piece_said
from storystick.paper.press import Paper

COLUMNS = (
    Column("set", 0),
    Column("to", 0.9),
    Column("cuts", 0.7),
    Column("pieces, a box for each", 1.9),
    Column("came out at", 0.8),
)


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """The saw's settings stock by stock, then those of the other machines."""
    sawn = [cutting for cutting in folder.cuttings if cutting.layout.settings]
    if not sawn and not folder.order.setups:
        return
    yield Text(
        "Make each setting once and cut everything at it before it is lost. Measure the first piece and write it down."
    )
    for cutting in sawn:
        yield Heading(cutting.stock.name)
        yield Table(COLUMNS, tuple(sawn_row(folder, cutting, setting) for setting in cutting.layout.settings))
    told = {setting.size for cutting in sawn for setting in cutting.layout.settings}
    used = {setup.key for way in folder.order.ways for setup in way.setups}
    rest = [s for s in folder.order.setups if s.key in used or s.to is None or s.to.value not in told]
    for machine in dict.fromkeys(setup.machine for setup in rest):
        setups = [setup for setup in rest if setup.machine == machine]
        yield Heading(f"{machine.capitalize()}")
        yield Table(
            (Column("set", 1.8), Column("to", 0.8), Column("for", 1.5), Column("proved on scrap", 1.2)),
            tuple(setup_row(folder, setup) for setup in setups),
        )


def sawn_row(folder: Folder, cutting: Cutting, setting: Setting) -> tuple[Cell, ...]:
    """One setting of the saw: what is freed by each of its cuts, a box for each."""
    words: list[str] = []
    for number in setting.cuts:
        for tree in cutting.layout.trees:
            for cut in tree.cuts:
                if cut.number == number and cut.frees:
                    words.append(piece_said(cut.frees[0], tree, folder.letter_of))
                    far = cut.frees[1:]
                    alone = [blanks_inside(n, tree, folder.letter_of) for n in far if is_blank(tree.pieces, n)]
                    words.extend(letters[0] for letters in alone if letters)
    cuts = ", ".join(str(number) for number in setting.cuts)
    return (str(setting.way), Large(said(setting.size, folder.build.manner)), cuts, Boxes(tuple(words)), Blank(22))


def is_blank(pieces: tuple[object, ...], number: int) -> bool:
    """True where the piece of that number is a part already."""
    return any(getattr(p, "number", None) == number and getattr(p, "blank", "") for p in pieces)


def setup_row(folder: Folder, setup: Setup) -> tuple[Cell, ...]:
    """One set-up of another machine: what is set, to what, for which cuts, and how it is proved."""
    to: Cell = Large(set_to(setup.to, folder.build.manner)) if setup.to is not None else ""
    cuts: dict[str, None] = {}
    for way in folder.order.ways:
        if any(one.key == setup.key for one in way.setups):
            part = folder.build.parts_by_name.get(way.part)
            called = next((cut.called for cut in part.cuts if cut.name == way.cut), way.cut) if part else way.cut
            cuts[f"{folder.letter_of.get(way.part, way.part)}: {called}"] = None
    what: Cell = (
        (f"{setup.name} ({setup.tool})" if setup.tool else setup.name, setup.says) if setup.says else setup.name
    )
    if not cuts:
        for step in folder.order.steps:
            if any(one.key == setup.key for one in step.setups):
                cuts[step.title] = None
    return (what, to, "; ".join(cuts), (setup.test, Blank(24)) if setup.test else Blank(24))


PAGE = Page("settings", 70, "Settings list", make)
