"""Plans that between them use every kind and every joint, and what holds for any piece: told as plain functions."""

from collections.abc import Iterator

from storystick.craft.joints import kinds as joint_kinds
from storystick.craft.kinds import kinds
from storystick.model.body import own_pose, spot_of, way_in
from storystick.model.build import Build
from storystick.model.cut import Bore
from storystick.model.joining import Fastener
from storystick.model.part import Part
from storystick.shapes.pose import Vector, apply, direct, less

STOCK = """
stock:
  ply18: {sheet: birch plywood, thickness: 18 mm}
  ply12: {sheet: birch plywood, thickness: 12 mm}
  ply6: {sheet: birch plywood, thickness: 6 mm}
  beech: {board: european beech, thickness: 20 mm}
"""
CASE = f"""
title: a cabinet
units: mm
{STOCK}
build:
  cabinet:
    case:
      wide: 800
      deep: 500
      high: 900
      stock: ply18
      back: {{stock: ply6}}
      MORE
"""
SHOP_FURNITURE = f"""
title: everything in one case
units: mm
{STOCK}
build:
  cabinet:
    case:
      wide: 1200
      deep: 500
      high: 900
      stock: ply18
      back: {{stock: ply6}}
      joint: {{dado: {{screws: "4 x 40"}}}}
      stands on: {{base panel: {{stock: ply18, castors: 75 mm}}}}
      drawers: {{stock: ply12, bottom stock: ply6, pull: finger notch}}
      lip: {{stock: beech}}
      bays:
        columns:
          - wide: 400
            rows: [drawer 120, {{drawer: {{front: overlay, joint: dado, pull: knob}}, high: 160}}, open]
          - wide: 300
            rows:
              - {{drawer: {{run past: front and back, runs on: heavy side slide, joint: nails}}, high: 140}}
              - {{tray: {{runs on: runners, bottom: under}}, high: 160}}
              - {{drawer: {{runs on: {{runners: in groove}}, joint: screws}}, high: 140}}
              - open
          - rows: [open, loose shelf, open with lip, fixed shelf, open with lip]
"""
DOORS = {
    "slab": "{stock: ply18, pull: 96 mm pull, banded: yes}",
    "frame and panel": "{made as: frame and panel, stock: beech, panel stock: ply6, pull: knob}",
    "inset": "{set: inset, leaves: one, hinged: right, pull: knob, pull at: top}",
    "on butts": "{set: inset, hinges: butt hinges, pull: 96 mm pull}",
}
FACE = "face frame: {stock: beech, joint: JOINT, overhang: 4}\n      doors: {overhang: 12}\n      stands on: toe kick"
BAYS_WITH_DOORS = """doors: {stock: ply18}
      drawers: {stock: ply12, bottom stock: ply6, front: overlay}
      bays:
        columns:
          - {wide: 300, doors: one, rows: [open, fixed shelf, open]}
          - rows: [drawer 150, fixed shelf, open with doors]
"""
CHEST = f"""
title: a chest
units: mm
{STOCK}
build:
  chest:
    box: {{wide: 800, deep: 450, high: 400, stock: ply18, joint: rabbet}}
  lid:
    slab: {{stock: ply18, covers: chest, overhang: {{front: 15}}, held by: {{hinges: chest}}}}
    sits: {{on: chest, flush: {{left: chest, back: chest}}}}
"""


def case(more: str) -> str:
    """A cabinet of 800 x 500 x 900 mm in 18 mm sheet, with one more line in its case."""
    return CASE.replace("MORE", more)


def samples() -> dict[str, str]:
    """Every plan of this room by name: the kinds' own, one for each joint, and the piece with everything."""
    found = {f"kind {name}": kind.sample for name, kind in kinds().items() if kind.sample}
    for name, kind in joint_kinds().items():
        if "corner" in kind.seats:
            found[f"joint {name}"] = case(f"joint: {name}")
        if "inside" in kind.seats:
            found[f"shelf in {name}"] = case(f"shelf joint: {name}\n      bays: [open, fixed shelf, open]")
    found["everything"] = SHOP_FURNITURE
    found |= {f"doors {word}": case(f"doors: {more}") for word, more in DOORS.items()}
    for joint in ("pocket screws", "dowels", "half lap"):
        found[f"face frame by {joint}"] = case(FACE.replace("JOINT", joint))
    found["face frame by stub tenon"] = case(FACE.replace("JOINT", "{stub tenon: {depth: 12}}"))
    found |= {f"nailers {word}": case(f"nailers: {word}") for word in ("top", "both")}
    found["doors before bays"] = case(BAYS_WITH_DOORS)
    found["a chest with a lid"] = CHEST
    for word in ("castors", "feet", "plinth", "toe kick", "{castors: {size: 100 mm, count: 6, rear: fixed}}"):
        found[f"on {word}"] = case(f"stands on: {word}")
    for back in ("rabbet", "screwed on"):
        found[f"back {back}"] = CASE.replace("back: {stock: ply6}", f"back: {{stock: ply6, joint: {back}}}").replace(
            "MORE", ""
        )
    return found


def bored(build: Build, part: Part) -> Iterator[tuple[Bore, Vector, Vector]]:
    """Every bore of a part with its mouth and its way into the wood, in the axes of the part's assembly."""
    pose = own_pose(part)
    size = (float(part.length), float(part.width), float(part.thickness))
    for cut in part.cuts:
        if isinstance(cut, Bore):
            mouth = spot_of(cut.side, (float(cut.at[0]), float(cut.at[1])), size)
            yield cut, apply(pose, mouth), direct(pose, way_in(cut))


def aside(point: Vector, head: Vector, way: Vector) -> float:
    """How far a point lies from a line [mm]."""
    off = less(point, head)
    along = sum(o * w for o, w in zip(off, way, strict=True))
    return sum((o - along * w) ** 2 for o, w in zip(off, way, strict=True)) ** 0.5


def head_of(one: Fastener) -> Vector:
    """Where a fastener's head is, in the axes of its assembly."""
    return (float(one.at[0]), float(one.at[1]), float(one.at[2]))


def tip_of(one: Fastener) -> Vector:
    """Where its point is."""
    x, y, z = (h + float(one.length) * w for h, w in zip(head_of(one), one.way, strict=True))
    return (x, y, z)


def shifted(build: Build, point: Vector, start: str, end: str) -> Vector:
    """A point of one assembly's axes in those of another; for assemblies that are not turned."""
    return less(_outer(build, point, start), _outer(build, (0.0, 0.0, 0.0), end))


def _outer(build: Build, point: Vector, name: str) -> Vector:
    while name:
        one = build.assembly(name)
        point = (point[0] + float(one.at[0]), point[1] + float(one.at[1]), point[2] + float(one.at[2]))
        name = one.inside_of
    return point
