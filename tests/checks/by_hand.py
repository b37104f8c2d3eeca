"""Small pieces made by hand, straight from the nouns: nothing here has been through a plan."""

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from storystick.checks import run_one, shelf
from storystick.ground.dim import Dim, Spread, given
from storystick.ground.finding import Finding, Grade
from storystick.ground.length import Manner, read_length
from storystick.model.build import Build, Shape, SiteBody
from storystick.model.check import Asked
from storystick.model.cut import Bore, Channel, Cut, Side
from storystick.model.joining import Fastener, Joined
from storystick.model.part import Assembly, Part
from storystick.model.scene import Scene
from storystick.model.stock import SoldAs, Stock
from storystick.shop.shop import Drill, RouterBit, Saw, Shop

METRIC = Manner("mm", decimals=1)
INCH = Manner("inch")
Number = str | int | Fraction
Two = tuple[Number, Number]
Three = tuple[Number, Number, Number]
DOWN, UP, LEFT, RIGHT, BACK, FRONT = (
    (0.0, 0.0, -1.0), (0.0, 0.0, 1.0), (-1.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, -1.0, 0.0),
)  # fmt: skip


def mm(value: Number, sd: float = 0.0, name: str = "") -> Dim:
    """So many millimetres, written down by hand; with a spread when one is given."""
    return given(name or f"{value}", Fraction(value), "by hand", spread=Spread(sd) if sd else None)


def three(values: Three) -> tuple[Dim, Dim, Dim]:
    x, y, z = values
    return (mm(x), mm(y), mm(z))


def ply(thick: Number = 18, name: str = "ply", **more: Any) -> Stock:
    """Birch plywood as it was measured."""
    told = {
        "form": "sheet", "material": "birch plywood", "thickness": mm(thick), "nominal": mm(thick), "density": 680.0,
        "sizes": (SoldAs(Fraction(2440), Fraction(1220)),), "stiffness": (7500.0, 10000.0), "strength": 40.0,
        "measured": True,
    }  # fmt: skip
    return Stock(name, **{**told, **more})  # type: ignore[arg-type]


def board(
    name: str, at: Three, size: Three, lies: str = "xyz", stock: Stock | None = None, cuts: Sequence[Cut] = (),
    role: str = "", **more: Any,
) -> Part:  # fmt: skip
    """A board by its low corner and its size along x, y, z; `lies`: the axes of its length, width and thickness."""
    axes = tuple("xyz".index(letter) for letter in lies)
    along = three(size)
    return Part(
        name=name,
        role=role or name.rsplit(".", 1)[-1],
        assembly=more.pop("assembly", "case"),
        stock=stock or ply(size[axes[2]]),
        size=(along[axes[0]], along[axes[1]], along[axes[2]]),
        lies=(axes[0], axes[1], axes[2]),
        at=three(at),
        datum=more.pop("datum", (1, 1, -1)),
        cuts=tuple(cuts),
        **more,
    )


def assembly(name: str = "case", at: Three = (0, 0, 0), size: Three = (600, 400, 700), **more: Any) -> Assembly:
    return Assembly(name, more.pop("kind", "case"), three(at), three(size), **{"stands_on": "floor", **more})


def piece(*parts: Part, manner: Manner = METRIC, **more: Any) -> Build:
    """A build of some parts in one assembly, unless it is told of others."""
    assemblies = more.pop("assemblies", (assembly(),))
    return Build("by hand", manner, assemblies, parts, **more)


def box(name: str, at: Three, size: Three, **more: Any) -> SiteBody:
    """A plain box that is already there."""
    shape = Shape("box", three(at), three(size))
    return SiteBody(name, (shape,), three(at), three(size), **more)


def channel(
    name: str, at: Two, size: Two, depth: Number, side: Side = Side.FACE, runs: int = 0, called: str = "trough"
) -> Channel:
    """A trough in a side, by its low corner and its size there."""
    return Channel(name, side, (mm(at[0]), mm(at[1])), (mm(size[0]), mm(size[1])), mm(depth), runs, called, name)


def bore(name: str, at: Two, diameter: Number, depth: Number | None, side: Side = Side.FACE) -> Bore:
    deep = None if depth is None else mm(depth)
    return Bore(name, side, (mm(at[0]), mm(at[1])), mm(diameter), deep, "hole", joint=name)


def screw(
    name: str, through: str, into: str, at: Three, way: tuple[float, float, float], long: Number = 40,
    row: str = "4 mm wood screw", thick: Number = 4, **more: Any,
) -> Fastener:  # fmt: skip
    return Fastener(
        name, more.pop("kind", "screw"), row, mm(thick), mm(long), through, into, three(at), way,
        more.pop("assembly", "case"), **more,
    )  # fmt: skip


def joined(guest: str, host: str, *holds: str, axis: int = 0, sign: int = 1) -> Joined:
    return Joined(f"{guest} in {host}", "joint", "joint", host, guest, axis, sign, "glue" in holds, holds)


def asked(build: Build, **shop: Any) -> Asked:
    """The build with its solids, in a small metric shop; `shop` changes what stands in it."""
    return Asked(build, Scene(build), replace(SHOP, **shop))


SHOP = Shop(
    "by hand",
    "mm",
    saws=(Saw("table saw", "table saw", Fraction(3), deep=Fraction(80), rip=Fraction(650)),),
    router=True,
    bits=tuple(RouterBit("straight", Fraction(size)) for size in (3, 6, 8, 12, 18)),
    drills=(
        *(Drill("twist", Fraction(tenths, 10), Fraction(60)) for tenths in range(10, 105, 5)),
        *(Drill("forstner", Fraction(size), Fraction(60)) for size in (15, 20, 25, 30, 35)),
    ),
    countersinks=("12 mm",),
    lift=Fraction(23),
    trim=Fraction(6),
)


def told(code: str, build: Build, **shop: Any) -> list[Finding]:
    """What one check says of a build."""
    found = list(run_one(shelf()[code], asked(build, **shop)))
    assert all(one.code == code for one in found)
    return found


def troubles(code: str, build: Build, least: Grade = Grade.CARE, **shop: Any) -> list[Finding]:
    """What one check finds wrong with a build."""
    return [one for one in told(code, build, **shop) if one.grade >= least]


def carcass(**more: Any) -> Build:
    """A case 600 x 400 x 700 of 18 mm sheet: sides, bottom and top between them in troughs 6 deep, a shelf at 300."""
    sides = []
    for name, x, signs in (("left side", 0, (1, 1, 1)), ("right side", 582, (1, 1, -1))):
        cuts = [channel(f"{flat} in {name}", (z, 0), (Fraction("18.2"), 400), 6, runs=1) for flat, z in FLATS]
        sides.append(board(f"case.{name}", (x, 0, 0), (18, 400, 700), "zyx", cuts=cuts, datum=signs, role="side"))
    flats = [board(f"case.{flat}", (12, 0, z), (576, 400, 18), role=flat) for flat, z in FLATS]
    joints = [
        joined(f"case.{flat}", f"case.{side} side", "glue", "captured", sign=sign)
        for flat, _ in FLATS
        for side, sign in (("left", -1), ("right", 1))
    ]
    return piece(*sides, *flats, **{"joints": tuple(joints), **more})


FLATS = (("bottom", 0), ("shelf", 300), ("top", 682))


def lengths(advice: str) -> list[Fraction]:
    """The lengths that an advice names, in its order [mm]."""
    return [read_length(found, "mm") for found in re.findall(r'\d+(?:[ -]\d+/\d+|\.\d+|/\d+)? ?(?:mm|")', advice)]
