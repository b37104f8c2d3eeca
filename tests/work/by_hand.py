"""Small pieces made by hand, straight from the nouns: nothing here has been through a plan."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from storystick.ground.dim import Book, Dim, Spread, given
from storystick.ground.length import Manner, read_length
from storystick.model.build import Build
from storystick.model.cut import Bevel, Bore, Channel, Corner, Cut, Notch, Side
from storystick.model.joining import Fastener, Fit, Joined
from storystick.model.part import Assembly, Part
from storystick.model.stock import SoldAs, Stock
from storystick.model.work import WorkOrder
from storystick.shop.read import default_shop
from storystick.shop.shop import Drill, RouterBit, Saw, Shop
from storystick.work.steps import plan_work

METRIC = Manner("mm", decimals=2)
Number = str | int | Fraction


def mm(value: Number, sd: float = 0.0, name: str = "") -> Dim:
    """So many millimetres, written down by hand; with a spread when one is given."""
    return given(name or f"{value}", Fraction(value), "by hand", spread=Spread(sd) if sd else None)


def inches(text: str) -> Fraction:
    return read_length(text, "inch")


def ply(thick: Number = 18, name: str = "ply", **more: Any) -> Stock:
    """Birch plywood as it was measured."""
    told = {
        "form": "sheet",
        "material": "birch plywood",
        "thickness": mm(thick),
        "nominal": mm(18),
        "density": 680.0,
        "sizes": (SoldAs(Fraction(2440), Fraction(1220), Fraction(80), called="2440 x 1220"),),
        "measured": True,
    }
    return Stock(name, **{**told, **more})  # type: ignore[arg-type]


PLY = ply()


def board(
    name: str, at: Sequence[Number], size: Sequence[Number], lies: str = "xyz", cuts: Sequence[Cut] = (), **more: Any
) -> Part:
    """A board by its low corner and size along x, y, z; `lies`: the axes of its length, width and thickness."""
    axes = ["xyz".index(letter) for letter in lies]
    along = [mm(s) for s in size]
    return Part(
        name=name,
        role=more.pop("role", name.rsplit(".", 1)[-1]),
        assembly=more.pop("assembly", name.rpartition(".")[0]),
        stock=more.pop("stock", PLY),
        size=(along[axes[0]], along[axes[1]], along[axes[2]]),
        lies=(axes[0], axes[1], axes[2]),
        at=(mm(at[0]), mm(at[1]), mm(at[2])),
        datum=more.pop("datum", (1, 1, -1)),
        cuts=tuple(cuts),
        **more,
    )


def assembly(name: str, size: Sequence[Number] = (600, 400, 700), **more: Any) -> Assembly:
    x, y, z = (mm(s) for s in size)
    return Assembly(name, more.pop("kind", "case"), (mm(0), mm(0), mm(0)), (x, y, z), **{"stands_on": "floor", **more})


def channel(
    name: str,
    at: tuple[Number, Number],
    size: tuple[Number | Dim, Number | Dim],
    depth: Number,
    side: Side = Side.FACE,
    runs: int = 1,
) -> Channel:
    """A trough in a side, by its low corner and size there; it runs across the board unless told otherwise."""
    a, b = (one if isinstance(one, Dim) else mm(one) for one in size)
    return Channel(name, side, (mm(at[0]), mm(at[1])), (a, b), mm(depth), runs, "trough", name)


def bore(
    name: str, at: tuple[Number, Number], diameter: Number, depth: Number | None, side: Side = Side.FACE, **more: Any
) -> Bore:
    return Bore(
        name,
        side,
        (mm(at[0]), mm(at[1])),
        mm(diameter),
        None if depth is None else mm(depth),
        more.pop("called", "hole"),
        **more,
    )


def notch(name: str, low: tuple[Number, Number], high: tuple[Number, Number], radius: Number | None = None) -> Notch:
    """A rectangle sawn out, its corners rounded where a radius is given."""
    round_ = None if radius is None else mm(radius)
    (u0, v0), (u1, v1) = [(mm(a), mm(b)) for a, b in (low, high)]
    corners = (Corner(u0, v0, round_), Corner(u1, v0, round_), Corner(u1, v1, round_), Corner(u0, v1, round_))
    return Notch(name, corners, "notch")


def bevel(name: str, degrees: float, side: Side = Side.FAR_END) -> Bevel:
    return Bevel(name, side, degrees, "bevel")


def joined(guest: str, host: str, axis: int, sign: int, glued: bool = True) -> Joined:
    holds = ("glue",) if glued else ("captured",)
    return Joined(f"{guest} in {host}", "joint", "joint", host, guest, axis, sign, glued, holds)


def screw(name: str, through: str, into: str, joint: str = "", assembly: str = "case", long: Number = 50) -> Fastener:
    return Fastener(
        name,
        "screw",
        "4.0 mm chipboard screw",
        mm(4),
        mm(long),
        through,
        into,
        (mm(0), mm(0), mm(0)),
        (1.0, 0.0, 0.0),
        assembly,
        joint,
    )


def housed(thick: Dim, slip: Number = "0.15") -> tuple[Channel, Fit]:
    """A trough 300 mm up a side for a board of that thickness and a slip, and the fit that is wanted: 0 to 0.4 mm."""
    cut = channel("shelf in side", (300, 0), (thick + mm(slip, name="slip"), 400), 6)
    fit = Fit("width", cut.width - thick, mm(0), mm("0.4"), "by hand", "case.shelf", "case.side", cut.name)
    return cut, fit


def shop_with(*bits: RouterBit, **more: Any) -> Shop:
    """A metric shop with these router bits and no other, no saws to cut joints on, no guide bushings."""
    told: dict[str, Any] = {"bits": bits, "saws": (), "bushings": (), "router": True, "dado_set": None}
    return replace(default_shop("mm"), **{**told, **more})


def bit(size: Number, profile: str = "straight", cuts: Number | None = 25) -> RouterBit:
    return RouterBit(profile, Fraction(size), None if cuts is None else Fraction(cuts), profile != "straight")


def drill(kind: str, size: Number, reach: Number | None = 60) -> Drill:
    return Drill(kind, Fraction(size), None if reach is None else Fraction(reach))


TABLE_SAW = Saw(
    "table saw", "table saw", Fraction(3), Fraction(80), Fraction(55), Fraction(630), Fraction(600), Fraction(50)
)


def piece(*parts: Part, manner: Manner = METRIC, **more: Any) -> Build:
    """A build of some parts; each assembly that they name is there unless told otherwise."""
    names = dict.fromkeys(part.assembly for part in parts)
    assemblies = more.pop("assemblies", tuple(assembly(name) for name in names))
    stock = more.pop("stock", tuple({part.stock.name: part.stock for part in parts}.values()))
    return Build("by hand", manner, assemblies, parts, stock=stock, **more)


def order_of(build: Build, shop: Shop | None = None, cuttings: Sequence[Any] = ()) -> WorkOrder:
    return plan_work(build, tuple(cuttings), shop or default_shop("mm"), Book())


def case(**more: Any) -> Build:
    """A case 600 x 400 x 700 of 18 mm sheet: bottom, top and a shelf in troughs 6 deep in the sides, and screws."""
    flats = {"bottom": 0, "shelf": 300, "top": 682}
    sides = []
    for name, x, datum in (("left side", 0, (1, 1, 1)), ("right side", 582, (1, 1, -1))):
        cuts: list[Cut] = []
        for flat, z in flats.items():
            cuts.append(channel(f"{flat} in {name}", (z, 0), ("18.2", 400), 6))
            cuts.append(bore(f"{flat} in {name} screw clearance", (z + 9, 200), "4.5", None, Side.BACK))
        sides.append(board(f"case.{name}", (x, 0, 0), (18, 400, 700), "zyx", cuts, datum=datum, role="side"))
    boards = []
    for flat, z in flats.items():
        pilots = [
            bore(f"{flat} in left side screw pilot", (200, 9), 3, 30, Side.END),
            bore(f"{flat} in right side screw pilot", (200, 9), 3, 30, Side.FAR_END),
        ]
        boards.append(board(f"case.{flat}", (12, 0, z), (576, 400, 18), "xyz", pilots, role=flat))
    joints = tuple(
        joined(f"case.{flat}", f"case.{side}", 0, sign)
        for flat in flats
        for side, sign in (("left side", -1), ("right side", 1))
    )
    screws = tuple(
        screw(f"case.{flat} in {side} screw", f"case.{side}", f"case.{flat}", f"case.{flat} in case.{side}")
        for flat in flats
        for side in ("left side", "right side")
    )
    return piece(*sides, *boards, **{"joints": joints, "fasteners": screws, **more})
