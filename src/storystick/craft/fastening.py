"""Driving things through joints: which screw, how many, where; with the holes that they need."""

import re
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from storystick.craft.draft import Bench, Draft, Wanted, minus, plus
from storystick.craft.seat import Stretch, across, common, guest_side, line
from storystick.ground.dim import Dim, chosen, number, rule
from storystick.ground.fields import Field, Filled, Length, Text
from storystick.ground.length import INCH, read_length
from storystick.ground.misread import Misread
from storystick.ground.source import Source, practice
from storystick.model.cut import Bore, Side
from storystick.model.joining import Drives, Fastener, Joined
from storystick.model.part import Three
from storystick.shop.tables import nails, screws
from storystick.shop.tables.rows import Nail, Screw

FASTENED = (
    Field("screws", Text, help="yes, or a size such as #8 x 1 1/4, or 4 x 40 mm"),
    Field("nails", Text, help="yes, or a size such as 18 ga x 1 1/4"),
    Field("spacing", Length, help="no farther apart than this"),
    Field("from ends", Length, help="how far the first and last stand from the ends of the joint"),
)
SPACING = practice("screws along a panel joint no farther apart than 150 mm (6 in)")
NAIL_SPACING = practice("brads along a glued joint no farther apart than 100 mm (4 in)")
ENDS = practice("first and last 40 mm (1 1/2 in) from the ends of the joint, a quarter of it on short ones")
THREE_TIMES = practice("a screw about three times as long as the board under its head is thick, never through the other side")
SPARE = Fraction(3)  # wood left before the point of a screw [mm]


@dataclass(frozen=True, slots=True)
class Driven:
    """What is driven: its row in the table, its length [mm] as asked (None: to be chosen), its kind."""

    kind: Drives
    row: Screw | Nail
    asked: Dim | None


def fastened(wanted: Wanted, bench: Bench, kind: str, *, glued: bool, also: tuple[str, ...] = ()) -> Joined:
    """Drive what the joint's options ask for, and say what holds it."""
    options: Filled = wanted.options
    holds = (("glue",) if glued else ()) + also
    for word in ("screws", "nails"):
        said = options.maybe_text(word)
        if said and said.strip().lower() not in ("no", "none"):
            drive(wanted, bench, read_driven(word, said, bench, wanted), options)
            holds += (word,)
    return Joined(
        wanted.name, kind, kind, wanted.host.name, wanted.guest.name, wanted.axis, wanted.sign, glued, holds,
        wanted.place,
    )  # fmt: skip


def read_driven(word: str, said: str, bench: Bench, wanted: Wanted) -> Driven:
    """`yes`, `#8`, `#8 x 1 1/4`, `4 x 40 mm`, `18 ga x 1 1/4` -> what is driven. A mistake is noted, the usual one used."""
    table: dict[str, Screw] | dict[str, Nail] = screws() if word == "screws" else nails()
    kind: Drives = "screw" if word == "screws" else "brad"
    usual = "#8 wood screw" if bench.manner.unit == "inch" else "4 mm wood screw"
    usual = usual if word == "screws" else next(iter(table))
    if said.strip().lower() in ("yes", "true"):
        return Driven(kind, table[usual], None)
    name, _, long = re.split(r"\s+(x|×|by)\s+", said, maxsplit=1) if re.search(r"\s(x|×|by)\s", said) else (said, "", "")
    row = find_row(table, name)
    if row is None:
        bench.mistakes.append(
            Misread(said, f"a size of {word} such as {usual.split(' wood')[0]} x 1 1/4", f"one of {', '.join(table)}").finding(
                wanted.place
            )
        )
        return Driven(kind, table[usual], None)
    if not long:
        return Driven(kind, row, None)
    try:
        value = read_length(long, bench.manner.unit)
    except Misread as trouble:
        bench.mistakes.append(trouble.finding(wanted.place))
        return Driven(kind, row, None)
    asked = bench.once(f"{row.name} x {long}", lambda: chosen(value, Source(f"the plan asks for {said}", "practice")), "as asked")
    return Driven(kind, row, asked)
