"""Solid wood on the buying list: board feet or cubic metres, what is added for waste, and how much becomes parts."""

from collections.abc import Sequence
from fractions import Fraction
from math import ceil

from storystick.ground.length import Manner, show, show_number
from storystick.ground.source import practice
from storystick.model.build import Build
from storystick.model.cutting import Sheet
from storystick.model.volume import BOARD_FOOT, CUBIC_METRE, UNSEEN, WASTE, rough, unit_of, waste_of
from storystick.model.work import Buy, Cutting, From, Stage
from storystick.shop.shop import Shop
from storystick.work.bench import Bench
from storystick.work.jobs import Job, Line
from storystick.work.prices import cost
from storystick.work.saying import and_of, many, tool_size
from storystick.work.ways import minutes

LITRE = Fraction(1, 1000)
"""The step in which wood is bought by the cubic metre."""
PLANED = practice("a board that is 0.5 mm or more thicker than its parts is planed before it is sawn")
MORE = Fraction(1, 2)
MEASURED = practice("the boards as they are laid out, charged as thick as they were sawn")


def in_volume(volume: Fraction, manner: Manner) -> str:
    """A volume [mm3] as wood is bought: 14.2 board feet, 0.034 m3; never said smaller than it is."""
    if manner.unit == "inch":
        tenths = Fraction(ceil(volume / BOARD_FOOT * 10), 10)
        return f"{show_number(tenths, 1)} board {'foot' if tenths == 1 else 'feet'}"
    return f"{show_number(Fraction(ceil(volume / CUBIC_METRE * 1000), 1000), 3)} m³"


def sawn_volume(cutting: Cutting, sheets: Sequence[Sheet]) -> Fraction:
    """What some boards hold as they were sawn [mm3]. Source: volume.ROUGH."""
    thick = rough(cutting.stock)
    return sum((one.long * one.wide * (one.thick or thick) for one in sheets), Fraction(0))


def taken_volume(cutting: Cutting) -> Fraction:
    """What the boards of a layout hold as they were sawn, without what is left of them worth keeping [mm3]."""
    kept = sum((piece.area for tree in cutting.layout.trees for piece in tree.leftovers), Fraction(0))
    return sawn_volume(cutting, [tree.sheet for tree in cutting.layout.trees]) - kept * rough(cutting.stock)


def parts_volume(cutting: Cutting) -> Fraction:
    """What all blanks of a layout hold, charged as thick as the boards [mm3]."""
    areas = (piece.area for tree in cutting.layout.trees for piece in tree.blanks)
    return sum(areas, Fraction(0)) * rough(cutting.stock)


def share_in_parts(cutting: Cutting, name: str) -> Fraction:
    """How much of the boards of one name ends up in parts, by area: 0 to 1."""
    trees = [tree for tree in cutting.layout.trees if tree.sheet.name == name]
    whole = sum((tree.sheet.long * tree.sheet.wide for tree in trees), Fraction(0))
    return sum((piece.area for tree in trees for piece in tree.blanks), Fraction(0)) / whole if whole else Fraction(0)


def use_of(build: Build, cutting: Cutting, name: str, sheets: Sequence[Sheet]) -> str:
    """What stands behind a line of boards: of which stock, how much wood it is, how much of it becomes parts."""
    share = float(share_in_parts(cutting, name)) * 100
    holds = in_volume(sawn_volume(cutting, sheets), build.manner)
    return f"{cutting.stock.name}: {holds} as sawn, {share:.0f} % of it in parts"


def by_volume(build: Build, cutting: Cutting, sheets: Sequence[Sheet], shop: Shop) -> Buy:
    """The line of wood that nobody has seen yet: so much of it, in random widths and lengths. Source: WASTE."""
    stock, manner = cutting.stock, build.manner
    volume = stock.by_volume
    assert volume is not None
    waste, parts = waste_of(volume), parts_volume(cutting)
    wanted = max(parts * (1 + waste), taken_volume(cutting))
    metric = volume.unit == "m3"
    step = unit_of(volume) * (LITRE if metric else 1)
    count = ceil(wanted / step)
    price = None if volume.price is None else volume.price * (LITRE if metric else 1)
    by, guessed = From("the plan says so", stock.place), False
    if price is None:
        known = cost(shop, (f"{stock.material}, m3" if metric else f"{stock.material}, board foot",))
        price, guessed, by = known.price, known.guessed, known.by
        price = None if price is None else price * (LITRE if metric else 1)
    what = f"{stock.material or stock.name}, {tool_size(stock.nominal.value)}"
    long, wide = min(one.long for one in sheets), min(one.wide for one in sheets)
    longest = max(piece.long for tree in cutting.layout.trees for piece in tree.blanks)
    size = f"random widths from {show(wide, manner)}, {tool_size(rough(stock))} as sawn"
    beyond = float(count * step / parts - 1) * 100
    use = (
        f"{stock.name}: the parts hold {in_volume(parts, manner)}, {beyond:.0f} % more for waste; "
        f"boards at least {show(min(long, longest), manner)} long"
    )
    counted = From(
        f"the parts as thick as the boards are sawn and {float(waste) * 100:.0f} % more, and no less than "
        f"is taken of {many(len(sheets), 'board')} of {show(wide, manner)} x {show(long, manner)}"
        + ("; a dm³ is 0.001 m³" if metric else ""),
        stock.place,
        WASTE if volume.waste is None else MEASURED,
    )
    unit = "dm³" if metric else "board foot"
    return Buy(what, size, count, unit, price, 0, use, guessed, "stock", by, counted)


def planing(bench: Bench, cutting: Cutting) -> Job | None:
    """Boards thicker than their parts planed before they are sawn; None where there are none. Source: PLANED."""
    stock, manner = cutting.stock, bench.build.manner
    thick = stock.thickness.value
    by: dict[Fraction, list[str]] = {}
    for number, tree in enumerate(cutting.layout.trees, 1):
        own = tree.sheet.thick or (rough(stock) if is_unseen(tree.sheet) else thick)
        if own - thick > MORE:
            by.setdefault(own, []).append(str(number))
    if stock.form != "board" or not by:
        return None
    set_up, each = minutes("face plane")
    to = show(thick, manner)
    return Job(
        f"plane {stock.name}",
        Stage.BREAK_DOWN,
        f"Plane the boards of {stock.name} to {to}",
        (
            "Flatten one face and joint one edge square to it; then the other face parallel to the first, a little off "
            "each in turn.",
        ),
        after=("measure",),
        check=f"{to} at both ends and in the middle of every board.",
        needs=("planer or planes",),
        hands_on=set_up + each * sum(map(len, by.values())),
        why_here="before they are sawn: a stock is one thickness, and its edges are straight",
        lines=tuple(
            Line(f"From {show(own, manner)}: board{'s' if len(some) > 1 else ''} {and_of(some)}")
            for own, some in sorted(by.items(), reverse=True)
        ),
    )


def is_unseen(sheet: Sheet) -> bool:
    """Whether a board only stands for boards that nobody has seen."""
    return sheet.name == UNSEEN and not sheet.on_hand
