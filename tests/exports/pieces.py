"""Pieces to export, each worked out once: the samples, and plans that need arcs, slopes, slanting holes."""

from functools import cache
from pathlib import Path

from storystick.app.pipeline import Job
from storystick.exports import File, shelf
from tests.told import job, sample

SAMPLES = ("lathe-cabinet", "alcove-bookcase", "drawer-tower")
STOCK = "stock: {ply: {sheet: birch plywood, readings: [18 mm], sizes: {2440 x 1220: 90}}}"
BOARDS = f"""
title: Boards that are not rectangles
units: mm
{STOCK}
build:
  shelf:
    board: {{long: 600, wide: 300, stock: ply, rounded: {{right front: 40, left front: 25}}}}
  ring:
    board:
      long: 500
      wide: 200
      stock: ply
      notches: [{{at: left front, long: 100, wide: 50, in by: 150, radius: 20}}]
    sits: {{left at: 0, front at: 600}}
  slope:
    board: {{long: 800, slope: {{from: 300, to: 120}}, stock: ply, lies: upright, cut corners: {{bottom right: 30}}}}
    sits: {{left at: 1000, front at: 0}}
"""
POCKETS = f"""
title: A shelf in pocket screws
units: mm
{STOCK}
build:
  cabinet:
    case: {{wide: 600, deep: 300, high: 700, stock: ply, shelf joint: pocket screws, bays: [open, fixed shelf, open]}}
"""
PLAIN = f"""
title: One board with holes
units: mm
{STOCK}
build:
  cabinet:
    case: {{wide: 600, deep: 300, high: 700, stock: ply, joint: {{dado: {{screws: yes}}}}}}
"""
STRANGER = f"""
title: "A's \\"box\\" <&> Kästchen ½ 木"
units: mm
{STOCK}
build:
  bench:
    board: {{long: 300, wide: 100, stock: ply}}
"""
OWN = {"boards": BOARDS, "pockets": POCKETS, "plain": PLAIN}
ALL = (*SAMPLES, *OWN)


@cache
def piece(name: str) -> Job:
    """A piece by its name."""
    return job(OWN[name] if name in OWN else STRANGER if name == "stranger" else sample(name))


def docs() -> Path:
    """The project's pages."""
    return Path(__file__).parents[2] / "docs"


@cache
def files(of: str, name: str) -> tuple[File, ...]:
    """The files of a piece in a format."""
    return tuple(shelf()[name].make(piece(of)))
