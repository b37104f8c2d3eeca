"""Cup hinges on a door: a bore for each cup in its back, two screws beside it, a plate beside the opening."""

from fractions import Fraction

from storystick.craft.draft import Bench, Draft, X, Y, Z, minus, plus
from storystick.craft.driving import spot_on
from storystick.craft.hinge_screws import screw_through
from storystick.craft.hinging import Hanging, sized
from storystick.ground.dim import Dim, rule
from storystick.ground.finding import mistake
from storystick.ground.length import show
from storystick.ground.source import practice
from storystick.model.cut import Bore
from storystick.model.joining import Item
from storystick.shop.tables import screws
from storystick.shop.tables.rows import Hinge

EDGE = practice("a cup's rim stands between the least and the most that its hinge allows from the door's edge")
WINGS = practice("two screws beside a cup, 45 mm apart and 9.5 mm farther in than its middle")
PLATE = practice("a hinge plate's screws stand 37 mm behind the front edge or the inset door, 32 mm apart")
SCREWS = ("#6 pan head screw", "3.5 mm chipboard screw")  # in a plan in inches, and in one in millimetres
HINGE_KG = 0.1  # a guess
BODY = (
    Fraction(14),
    Fraction(60),
    Fraction(52),
)  # room that arm and plate take: from the board, deep, high [mm]; a guess


def hang_on_cups(bench: Bench, row: Hinge, hang: Hanging, at: list[Dim], sign: int, case: str, *, inset: bool) -> None:
    """Bore the door and screw the hinges on: `sign` -1 where it is hinged at the left, +1 at the right."""
    leaf = hang.leaf
    if inset and hang.fixed.role in ("stile", "mid stile"):
        wanted = "butt hinges for a door within a face frame"
        bench.mistakes.append(mistake(hang.place, row.name, wanted, "butt hinges"))
        return
    across, deep = sized(bench, "cup wide", row.bore_mm, row), sized(bench, "cup deep", row.bore_deep_mm, row)
    if deep.value > leaf.span[Y].value - 1:
        thick = show(leaf.span[Y].value, bench.manner)
        bench.mistakes.append(
            mistake(hang.place, thick, f"a door thicker than a cup is deep: {show(deep.value, bench.manner)}")
        )
        return
    middle = _middle(bench, row, across)
    wings = middle + rule("hinge screws farther in", Fraction("9.5"), WINGS)
    if leaf.span[X].value < wings.value + 5:
        wide = show(leaf.span[X].value, bench.manner)
        least = show(wings.value + 5, bench.manner)
        bench.mistakes.append(mistake(hang.place, wide, f"stiles wide enough for the cups of hinges: {least} or more"))
        return
    for number_, z in enumerate(at, 1):
        _one(
            bench, row, hang, (f"{leaf.assembly} hinge {number_}", z, sign, case, inset), (across, deep, middle, wings)
        )


def _middle(bench: Bench, row: Hinge, across: Dim) -> Dim:
    assert row.edge_least_mm is not None
    assert row.edge_most_mm is not None
    rim = rule("cup from the door's edge", (row.edge_least_mm + row.edge_most_mm) / 2, EDGE)
    return bench.once("cup middle from the edge", lambda: rim + across / 2, "the rim's distance and half the cup")


def _inward(leaf: Draft, sign: int, by: Dim) -> Dim:
    return plus(leaf.lower(X), by) if sign < 0 else minus(leaf.upper(X), by)


def _one(
    bench: Bench,
    row: Hinge,
    hang: Hanging,
    what: tuple[str, Dim, int, str, bool],
    sizes: tuple[Dim, Dim, Dim, Dim],
) -> None:
    name, z, sign, case, inset = what
    across, deep, middle, wings = sizes
    leaf, fixed = hang.leaf, hang.fixed
    side = leaf.side_toward(Y, 1)
    spot = {X: _inward(leaf, sign, middle), Z: z}
    bore = Bore(f"{name} cup", side, spot_on(leaf, side, spot), across, deep, "bore for a cup hinge", place=hang.place)
    leaf.cuts.append(bore)
    screw = screws()[SCREWS[bench.manner.unit == "mm"]]
    half, plate = rule("half of 45", Fraction("22.5"), WINGS), rule("half of 32", 16, PLATE)
    for word, up in (("lower", -1), ("upper", 1)):
        beside = {X: _inward(leaf, sign, wings), Z: z + half if up > 0 else z - half}
        screw_through(bench, f"{name} {word} door screw", name, screw, leaf, Y, -1, beside, Fraction(16), hang.place)
    behind = rule("hinge plate behind the front", 37, PLATE)
    front = plus(hang.shift[Y], leaf.upper(Y)) if inset else fixed.lower(Y)
    y, height = plus(front, behind), plus(hang.shift[Z], z)
    if fixed.role in ("stile", "mid stile"):  # the edge of a face frame
        y = fixed.lower(Y) + fixed.span[Y] / 2
    most = Fraction(13) if fixed.role == "divider" else Fraction(16)
    for word, up in (("lower", -1), ("upper", 1)):
        there = {Y: y, Z: height + plate if up > 0 else height - plate}
        screw_through(bench, f"{name} {word} plate screw", name, screw, fixed, X, sign, there, most, hang.place)
    words = zip(("wide", "deep", "high"), BODY, strict=True)
    size = [rule(f"room for a hinge, {word}", value, PLATE) for word, value in words]
    face = fixed.end(X, -sign)
    low = (face if sign < 0 else minus(face, size[0]), front, height - size[2] / 2)
    bench.piece.items.append(
        Item(
            name, row.name, row.name, 1, case, (leaf.name, fixed.name), (low, (size[0], size[1], size[2])), False,
            HINGE_KG, row.name, carries=leaf.assembly, place=hang.place,
        )
    )  # fmt: skip
