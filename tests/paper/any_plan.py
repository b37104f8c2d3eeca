"""Plans that nobody has drawn up by hand: cases with drawers and doors, boxes, frames and boards of any size."""

from collections.abc import Callable
from random import Random

type Long = Callable[[int, int], str]

INCHES = {"ply": "readings: [.703]", "box": "readings: [.465]", "thin": "readings: [.224]", "soft": "thickness: 3/4"}
METRIC = {"ply": "readings: [17.6]", "box": "readings: [11.8]", "thin": "readings: [5.7]", "soft": "thickness: 20"}


def plan(seed: int) -> str:
    """A plan; the same seed, the same plan. Most of them build, some are told what is wrong with them."""
    dice = Random(seed)
    inch = dice.random() < 0.6
    measures = INCHES if inch else METRIC

    def long(low: int, high: int) -> str:
        """A length between two in millimetres, as somebody would write it."""
        value = dice.randint(low, high)
        if not inch:
            return str(value)
        parts = round(value / 25.4 * 16)
        return f"{parts // 16} {parts % 16}/16" if parts % 16 else str(parts // 16)

    wide, deep, high = long(300, 1500), long(220, 650), long(300, 2000)
    bays = ["open", f"drawer {long(90, 200)}", f"{{drawer: {{front: overlay}}, high: {long(90, 160)}}}"]
    shelves = ["fixed shelf", "loose shelf"]
    columns = []
    for _ in range(dice.randint(1, 3)):
        rows = ["open"]
        for _ in range(dice.randint(0, 3)):
            rows = [dice.choice(bays), dice.choice(shelves), *rows]
        columns.append(f"{{rows: [{', '.join(rows)}]}}")
    joint = dice.choice(["dado", "rabbet", "screws", "dowels", "butt"])
    back = dice.choice(["{stock: thin, joint: groove}", "{stock: thin, joint: rabbet}"])
    stands = dice.choice(["floor", "castors", f"{{plinth: {long(60, 120)}}}"])
    made = dice.choice(["frame and panel", "slab"])
    doors = f"\n      doors: {{made as: {made}, set: overlay, pull: knob}}" if dice.random() < 0.3 else ""
    frame = "\n      face frame: {stock: soft}" if not doors and dice.random() < 0.25 else ""
    first = f"""title: Plan {seed}
units: {"inch" if inch else "mm"}
stock:
  ply: {{sheet: birch plywood, {measures["ply"]}}}
  mid: {{sheet: birch plywood, {measures["box"]}}}
  thin: {{sheet: birch plywood, {measures["thin"]}}}
  soft: {{board: red oak, {measures["soft"]}}}
build:
  cabinet:
    case:
      wide: {wide}
      deep: {deep}
      high: {high}
      stock: ply
      joint: {joint}
      shelf joint: {dice.choice(["dado", "screws", "pocket screws"])}
      back: {back}
      stands on: {stands}{doors}{frame}
      drawers: {{stock: mid, bottom stock: thin, pull: {dice.choice(["knob", "finger notch", "none"])}}}
      bays: {{columns: [{", ".join(columns)}]}}
    sits: floor
"""
    return first + dice.choice(["", _box(long), _frame(long), _board(long), _curved(long), _slab(long)])


def _box(long: Long) -> str:
    return f"""  tub:
    box: {{wide: {long(200, 600)}, deep: {long(100, 400)}, high: {long(60, 300)}, stock: mid, bottom stock: thin}}
    sits: floor
"""


def _frame(long: Long) -> str:
    return f"""  stand:
    frame: {{wide: {long(300, 900)}, deep: {long(300, 600)}, high: {long(400, 900)}, stock: soft}}
    sits: floor
"""


def _board(long: Long) -> str:
    return f"""  lid:
    board: {{long: {long(100, 2000)}, wide: {long(40, 500)}, stock: ply}}
    sits: floor
"""


def _curved(long: Long) -> str:
    return f"""  bracket:
    board: {{long: {long(250, 900)}, wide: {long(150, 300)}, stock: ply, rounded: {{right front: {long(20, 120)}}},
      notches: [{{at: left back, long: {long(30, 100)}, wide: {long(20, 60)}, radius: {long(3, 9)}}}]}}
    sits: floor
"""


def _slab(long: Long) -> str:
    return f"""  top:
    slab: {{stock: ply, covers: cabinet, overhang: {long(5, 40)}, layers: 2, edge: {{stock: soft, corners: mitre}},
      held by: {{screws: cabinet}}}}
    sits: {{on: cabinet, centred: cabinet}}
"""
