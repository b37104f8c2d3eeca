"""What the trade sells and what is known of it: woods, sheets, screws, slides and the rest, a source on every row.

Each function gives one table, by name. `find` looks a name up as people say it; `nearest` is for when there is none.
"""

import re
from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from typing import cast

from storystick.shop.tables import rows
from storystick.shop.tables.reading import rows_of
from storystick.shop.tables.rows import Row

TABLES: dict[str, type[Row]] = {
    "castors": rows.Castor,
    "cautions": rows.Caution,
    "clamps": rows.Clamp,
    "dowels": rows.Dowel,
    "drills": rows.Drill,
    "edge_bands": rows.EdgeBand,
    "feet": rows.Foot,
    "finishes": rows.Finish,
    "glues": rows.Glue,
    "hinges": rows.Hinge,
    "instruments": rows.Instrument,
    "loads": rows.Load,
    "loose_tenons": rows.LooseTenon,
    "magnet_grades": rows.MagnetGrade,
    "magnets": rows.Magnet,
    "nails": rows.Nail,
    "panels": rows.Panel,
    "pocket_lengths": rows.PocketLength,
    "prices": rows.Price,
    "pulls": rows.Pull,
    "router_bits": rows.RouterBit,
    "saws": rows.Saw,
    "screws": rows.Screw,
    "shelf_pins": rows.ShelfPin,
    "slides": rows.Slide,
    "times": rows.OperationTime,
    "woods": rows.Wood,
    "workmanship": rows.Workmanship,
}
"""Every table and the kind of its rows; the file has the table's name."""


@cache
def table[R: Row](name: str, kind: type[R]) -> Mapping[str, R]:
    """One table by its name and the kind of its rows; `woods()` and the others are easier."""
    text = files(__package__).joinpath(f"{name}.toml").read_text("utf-8")
    return rows_of(text, kind)


def castors() -> Mapping[str, rows.Castor]:
    return table("castors", rows.Castor)


def cautions() -> Mapping[str, rows.Caution]:
    return table("cautions", rows.Caution)


def clamps() -> Mapping[str, rows.Clamp]:
    return table("clamps", rows.Clamp)


def dowels() -> Mapping[str, rows.Dowel]:
    return table("dowels", rows.Dowel)


def drills() -> Mapping[str, rows.Drill]:
    return table("drills", rows.Drill)


def edge_bands() -> Mapping[str, rows.EdgeBand]:
    return table("edge_bands", rows.EdgeBand)


def feet() -> Mapping[str, rows.Foot]:
    return table("feet", rows.Foot)


def finishes() -> Mapping[str, rows.Finish]:
    return table("finishes", rows.Finish)


def glues() -> Mapping[str, rows.Glue]:
    return table("glues", rows.Glue)


def hinges() -> Mapping[str, rows.Hinge]:
    return table("hinges", rows.Hinge)


def instruments() -> Mapping[str, rows.Instrument]:
    return table("instruments", rows.Instrument)


def loads() -> Mapping[str, rows.Load]:
    return table("loads", rows.Load)


def loose_tenons() -> Mapping[str, rows.LooseTenon]:
    return table("loose_tenons", rows.LooseTenon)


def magnet_grades() -> Mapping[str, rows.MagnetGrade]:
    return table("magnet_grades", rows.MagnetGrade)


def magnets() -> Mapping[str, rows.Magnet]:
    return table("magnets", rows.Magnet)


def nails() -> Mapping[str, rows.Nail]:
    return table("nails", rows.Nail)


def panels() -> Mapping[str, rows.Panel]:
    return table("panels", rows.Panel)


def pocket_lengths() -> Mapping[str, rows.PocketLength]:
    return table("pocket_lengths", rows.PocketLength)


def prices() -> Mapping[str, rows.Price]:
    return table("prices", rows.Price)


def pulls() -> Mapping[str, rows.Pull]:
    return table("pulls", rows.Pull)


def router_bits() -> Mapping[str, rows.RouterBit]:
    return table("router_bits", rows.RouterBit)


def saws() -> Mapping[str, rows.Saw]:
    return table("saws", rows.Saw)


def screws() -> Mapping[str, rows.Screw]:
    return table("screws", rows.Screw)


def shelf_pins() -> Mapping[str, rows.ShelfPin]:
    return table("shelf_pins", rows.ShelfPin)


def slides() -> Mapping[str, rows.Slide]:
    return table("slides", rows.Slide)


def times() -> Mapping[str, rows.OperationTime]:
    return table("times", rows.OperationTime)


def woods() -> Mapping[str, rows.Wood]:
    return table("woods", rows.Wood)


def workmanship() -> Mapping[str, rows.Workmanship]:
    return table("workmanship", rows.Workmanship)


def find[R: Row](of: Mapping[str, R], said: str) -> R | None:
    """The row a name means: its own name or another in use, in any case and spacing; None where there is none."""
    return _by_any_name(of).get(_plain(said))


def nearest[R: Row](of: Mapping[str, R], said: str, most: int = 3) -> tuple[str, ...]:
    """Names of the rows that a name may have meant, the likeliest first; for a helpful error."""
    names = _by_any_name(of)
    close = get_close_matches(_plain(said), names, n=3 * most, cutoff=0.6)
    return tuple(dict.fromkeys(names[each].name for each in close))[:most]


def written(name: str) -> str:
    """A name as it is written: a metric thread with a large M (ISO 965-1), small in the tables as all names are."""
    return re.sub(r"^m(?=\d)", "M", name)


def _plain(said: str) -> str:
    return " ".join(said.casefold().replace("-", " ").replace("_", " ").split())


_indexed: dict[int, tuple[Mapping[str, Row], dict[str, Row]]] = {}
"""Each table that was looked into, by its identity, with its rows by every name: tables never change."""


def _by_any_name[R: Row](of: Mapping[str, R]) -> dict[str, R]:
    known = _indexed.get(id(of))
    if known is None or known[0] is not of:
        known = _indexed[id(of)] = (of, dict(_all_names(of)))
    return cast("dict[str, R]", known[1])


def _all_names[R: Row](of: Mapping[str, R]) -> dict[str, R]:
    also = {_plain(name): row for row in of.values() for name in row.also}
    return also | {_plain(name): row for name, row in of.items()}
