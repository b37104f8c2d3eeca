"""The stock of a plan: what it is, how thick it really is, in what sizes it can be had.

birch18: {sheet: birch plywood, sold as: 18 mm, readings: [17.6 mm, 17.7 mm], sizes: {4 ft x 8 ft: 92.00}}
walnut:  {board: black walnut, thickness: 3/4, sizes: {8 x 96: 30}}
lipping: {strip: hard maple, thickness: 1/4, width: 3/4, sizes: {96: 12}}
angle:   {bar: steel angle, thickness: 1/8, width: 1 1/2, sizes: {72: 18}}
oak:     {board: white oak, thickness: 3/4, boards: [7 1/2 x 94, 2 of 6 x 80], per board foot: 9.50}
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.dim import Dim, Leaf, limits, rule
from storystick.ground.fields import Field, Fields, Filled, Flag, ListOf, Money, Size, Table, Text, fill
from storystick.ground.finding import Finding, Grade, Place, wrong
from storystick.ground.length import read_length
from storystick.ground.marked import Marked, Scalar
from storystick.ground.misread import Misread, one_of
from storystick.ground.quantities import Money as MoneyValue
from storystick.ground.source import Source, practice
from storystick.model.stock import Form, SoldAs, Stock
from storystick.plan.readings import READINGS, reading_dim, readings_of
from storystick.resolve.boards import BOARDS, by_volume, own_boards, sized
from storystick.resolve.names import Names
from storystick.shop.shop import Shop
from storystick.shop.tables import find, nearest, panels, woods
from storystick.shop.tables.rows import Panel, Thickness, Wood

FORMS: tuple[Form, ...] = ("sheet", "board", "strip", "bar", "band")
STOCK = Fields(
    "stock",
    (
        Field("sheet", Text, help="a sheet of this material: birch plywood, MDF"),
        Field("board", Text, help="boards of this wood"),
        Field("strip", Text, help="strips of this wood, bought or ripped by length"),
        Field("bar", Text, help="a bar, angle, tube or track, bought by length"),
        Field("band", Text, help="edge band on a roll"),
        Field("sold as", Text, help="the thickness that it is sold under: 18 mm, 3/4"),
        Field("thickness", Size, help="how thick it is, where it was not measured", also=("thick",)),
        Field("width", Size, help="how wide strips and bars are"),
        Field("sizes", Table(Money, "sizes"), help="sizes it is sold in, with the price of one: {4 ft x 8 ft: 92.00}"),
        Field("on hand", ListOf(Text), help="sheets and offcuts in the rack: [30 x 48, 12 x 60]"),
        *BOARDS,
        Field("same sheet", ListOf(Text), help="parts that must be of one thickness: their names, or what they do",
              also=("one sheet",)),
        Field("grain", Flag, help="whether its face has a direction that parts must follow"),
        Field("note", Text, help="a note"),
        *(f for f in READINGS if f.name not in ("readings", "says")),
        Field("readings", ListOf(Size, least=1, most=50), help="thicknesses as read", also=("reading", "read")),
        Field("says", Text, help="where and when it was read"),
    ),
)  # fmt: skip
SHEET_SPREAD = practice("an unmeasured sheet may be anything that its standard allows")
BY_NAME = practice("as it is sold: not measured yet")


@dataclass(frozen=True, slots=True)
class Properties:
    """What the tables know of a material."""

    density: float
    stiffness: tuple[float, float]
    strength: float
    grain: bool
    solid: bool
    row: Panel | Wood | None


def read_stock(name: str, node: Marked, names: Names, shop: Shop, mistakes: list[Finding]) -> Stock | None:
    """One stock of the plan; its thickness is lent to sums as `name.thick`. None when it can't be read."""
    filled = fill(STOCK, node, names, mistakes)
    if filled is None:
        return None
    said = [form for form in FORMS if filled.has(form)]
    if len(said) != 1:
        mistakes.append(
            wrong(
                node.place,
                f"{name} must be one of sheet, board, strip, bar or band, with its material.",
                "Write sheet: birch plywood.",
            )
        )
        return None
    form = said[0]
    material = filled.text(form)
    known = _properties(form, material, filled.place(form), mistakes)
    thickness, nominal = _thickness(name, filled, known, names, shop, mistakes)
    if thickness is None or nominal is None:
        return None
    sizes, currency = _sizes(filled, form, names, mistakes)
    width = filled.maybe_length("width")
    if form in ("strip", "bar", "band") and width is None:
        mistakes.append(wrong(node.place, f"{name} needs the width of the {form}.", "Write width: 3/4."))
        return None
    settled = names.settle(f"{name}.thick", thickness, "the stock as it really is")
    wide = names.settle(f"{name}.wide", width, "the stock as it is bought") if width is not None else None
    volume = by_volume(filled, names, mistakes)
    sizes = (*sizes, *own_boards(filled, form, names, mistakes))
    readings, seen = readings_of(filled), names.book.readings.get(f"{name}.thick")
    scatter = seen.scatter if seen else readings.scatter if readings else 0.0
    return Stock(
        name, form, known.row.name if known.row else material, settled, nominal, sizes, wide,
        filled.flag("grain") if filled.has("grain") else known.grain, known.density, known.stiffness, known.strength,
        known.solid, filled.has("readings") or (seen is not None and not seen.held), scatter, currency, node.place,
        filled.texts("same sheet"), volume, filled.maybe_text("ripped from") or "",
    )  # fmt: skip


@dataclass(frozen=True)
class ErrorOf:
    """How far off the measuring tools of a shop read, and with which one a length was read when nobody says."""

    shop: Shop

    def __call__(self, tool: str, length: Fraction) -> float | None:
        """One standard deviation of a reading of that length [mm]; None for an unknown tool."""
        found = self.shop.measuring_tool(tool)
        return found.sd_at(length) if found else None

    def assumed(self, values: Sequence[Fraction]) -> str:
        """The roughest tool of the shop that could have read such lengths [mm]."""
        return self.shop.assumed_tool(values).name


def error_of(shop: Shop) -> ErrorOf:
    """The errors of a shop's measuring tools."""
    return ErrorOf(shop)


def _properties(form: Form, material: str, place: Place, mistakes: list[Finding]) -> Properties:
    table = {"sheet": panels(), "board": woods(), "strip": woods(), "band": {}, "bar": {}}[form]
    if not table:
        steel = "steel" in material.lower()
        density = 7850.0 if steel else 2700.0 if "alumin" in material.lower() else 0.0
        return Properties(density, (0.0, 0.0), 0.0, False, False, None)
    row = find(table, material)
    if row is None and form == "strip":
        row = find(panels(), material)
    match row:
        case Panel():
            return Properties(
                row.density_kg_m3,
                (row.e_along_low_mpa, row.e_along_mpa),
                row.bending_strength_mpa,
                row.grain,
                False,
                row,
            )
        case Wood():
            density = row.gravity * 1120.0  # 12 % moisture: 1.12 times the weight of its dry substance in that volume
            return Properties(density, (row.e_mpa * 0.8, row.e_mpa), row.bending_strength_mpa, True, True, row)
    near = nearest(table, material)
    mistakes.append(
        Finding(
            "material", Grade.CARE, place, f"{material!r} is in no table: its weight and strength are not known.",
            f"Write {one_of(near)}." if near else "Use the nearest material that the tables know.",
        )
    )  # fmt: skip
    return Properties(0.0, (0.0, 0.0), 0.0, form != "bar", form == "board", None)


def _thickness(
    name: str, filled: Filled, known: Properties, names: Names, shop: Shop, mistakes: list[Finding]
) -> tuple[Dim | None, Dim | None]:
    """Thickness as it counts, and as it is sold."""
    label = f"{name} thickness"
    sold = filled.maybe_text("sold as")
    band = _band(sold, filled, known, names, mistakes)
    stated = filled.maybe_length("thickness")
    nominal = stated
    if sold is not None:
        try:
            value = band.nominal_mm if band else read_length(sold, names.bare)
        except Misread as trouble:
            mistakes.append(trouble.finding(filled.place("sold as")))
            return None, None
        nominal = Dim(value, Leaf(label, "given", f"sold as {sold}", None, filled.place("sold as")))
    readings = readings_of(filled)
    if readings is not None:
        measured = reading_dim(label, readings, error_of(shop))
        return measured, nominal or measured
    if stated is not None:
        return stated, nominal
    if band is not None:
        half = float(max(band.most_mm - band.usual_mm, band.usual_mm - band.least_mm))
        source = Source(
            f"{known.row.source if known.row else ''}; not measured yet", known.row.how if known.row else "practice"
        )
        return rule(label, band.usual_mm, source, spread=limits(half)), nominal
    if nominal is None:
        mistakes.append(
            wrong(filled.place(), f"{name} needs a thickness: readings, sold as or thickness.", "Write sold as: 18 mm.")
        )
        return None, None
    return rule(label, nominal.value, BY_NAME), nominal


def _band(
    sold: str | None, filled: Filled, known: Properties, names: Names, mistakes: list[Finding]
) -> Thickness | None:
    """The row of thickness that a panel is sold under."""
    if sold is None or not isinstance(known.row, Panel):
        return None
    asked = " ".join(sold.lower().split())
    try:
        value: Fraction | None = read_length(sold, names.bare)
    except Misread:
        value = None
    for thickness in known.row.thickness:
        if asked == thickness.sold_as.lower() or (value is not None and value == thickness.nominal_mm):
            return thickness
    return None


def _sizes(filled: Filled, form: Form, names: Names, mistakes: list[Finding]) -> tuple[tuple[SoldAs, ...], str]:
    """Sizes to buy and sizes on hand, and the sign of the money."""
    found: list[SoldAs] = []
    currency = ""
    for key, money in filled.table("sizes", MoneyValue):
        one = sized(key, form, names, mistakes, counted=False)
        if one is not None:
            found.append(SoldAs(one.long, one.wide, money.amount, called=key.text, thick=one.thick))
            currency = currency or money.sign
    node = filled.node("on hand")
    for text in filled.texts("on hand"):
        one = sized(Scalar(text, node.place if node else filled.place()), form, names, mistakes)
        if one is not None:
            found.append(
                SoldAs(one.long, one.wide, Fraction(0), one.count, on_hand=True, called=one.called, thick=one.thick)
            )
    if not currency:
        said = filled.maybe_money("per board foot") or filled.maybe_money("per cubic metre")
        currency = said.sign if said else ""
    return tuple(found), currency
