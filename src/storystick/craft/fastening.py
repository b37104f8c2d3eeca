"""Driving things through joints: which screw, how many, where; with the holes that they need."""

import re
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from storystick.craft.draft import Bench, Draft, Wanted, minus, plus
from storystick.craft.driving import Course, place_one
from storystick.craft.lengths import NO_SHIFT, Shift, long_enough
from storystick.craft.seat import Stretch, across, common, line
from storystick.ground.dim import Dim, given, rule
from storystick.ground.fields import Field, Filled, Length, Text
from storystick.ground.finding import NOWHERE, Place, mistake
from storystick.ground.length import Unit, read_length
from storystick.ground.misread import Misread
from storystick.ground.source import practice
from storystick.model.joining import Drives, Fastener, Joined
from storystick.shop.tables import find, nails, screws
from storystick.shop.tables.rows import Nail, Screw

FASTENED = (
    Field("screws", Text, help="yes, or a size such as #8 x 1 1/4, or 4 x 40 mm"),
    Field("nails", Text, help="yes, or a size such as 18 gauge x 1 1/4"),
    Field("spacing", Length, help="no farther apart than this"),
    Field("from ends", Length, help="how far the first and last stand from the ends of the joint"),
)
SPACING = practice("screws along a panel joint no farther apart than 150 mm (6 in)")
FACE_SPACING = practice("screws that draw one broad face onto another no farther apart than 300 mm (12 in)")
NAIL_SPACING = practice("brads along a glued joint no farther apart than 100 mm (4 in)")
ENDS = practice("first and last 40 mm (1 1/2 in) from the ends of the joint, a quarter of it on short ones")
FAR_IN = practice("75 mm (3 in) from ends that hold screws of their own, so that the two do not meet")
BRAD = "18 gauge brad"
USUAL: dict[Unit, tuple[str, ...]] = {
    "inch": ("#8 wood screw", "#6 wood screw", "#4 wood screw"),
    "mm": ("4.0 mm chipboard screw", "3.5 mm chipboard screw", "3.0 mm chipboard screw"),
}


@dataclass(frozen=True, slots=True)
class Driven:
    """What is driven: its kind, its row in the table, its length [mm] as asked (None: to be chosen)."""

    kind: Drives
    row: Screw | Nail
    asked: Dim | None = None


def fastened(wanted: Wanted, bench: Bench, kind: str, *, glued: bool, also: tuple[str, ...] = ()) -> Joined:
    """Drive what the joint's options ask for, and say what holds it."""
    options = wanted.options
    holds = (("glue",) if glued else ()) + also
    for word in ("screws", "nails"):
        said = options.maybe_text(word)
        if said and said.strip().lower() not in ("no", "none"):
            driven = read_driven(word, said, bench, options.place(word), _edge(wanted))
            drive(wanted, bench, driven, options)
            holds += (word,)
    return Joined(
        wanted.name,
        kind,
        kind,
        wanted.host.name,
        wanted.guest.name,
        wanted.axis,
        wanted.sign,
        glued,
        holds,
        wanted.place,
    )


def drive(wanted: Wanted, bench: Bench, driven: Driven, options: Filled) -> tuple[Fastener, ...]:
    """Place fasteners along a joint: through the host into the guest's end, or through a guest that lies on the host.

    The first and last stand in from the ends of the joint, the others between at equal distances.
    """
    flat = wanted.guest.thick == wanted.axis
    through, into = (wanted.guest, wanted.host) if flat else (wanted.host, wanted.guest)
    sign = wanted.sign if flat else -wanted.sign
    over, along = across(wanted), line(wanted)
    middle = centre(into, over) if not flat else _beside(wanted, over)
    stretch = common(wanted.host, wanted.guest, along)
    spots = []
    for at in spread_along(stretch, bench, options, nailed=isinstance(driven.row, Nail)):
        spots.append({over: middle, along: at})
    return driven_at(
        bench,
        driven,
        through,
        into,
        wanted.axis,
        sign,
        spots,
        name=wanted.name,
        joint=wanted.name,
        place=wanted.place,
        assembly=wanted.host.assembly,
    )


def screw_down(
    bench: Bench,
    name: str,
    through: Draft,
    into: Draft,
    axis: int,
    sign: int,
    spots: list[dict[int, Dim]],
    *,
    said: str = "yes",
    said_at: Place = NOWHERE,
    joint: str = "",
    place: Place,
    shift: Shift = NO_SHIFT,
) -> tuple[Fastener, ...]:
    """Screws that belong to no joint: through one board into another, heads on `through`, going up `axis` for sign +1.

    spots  where, along the two other axes, in the axes of the assembly
    said   `yes` or a size as a plan writes it;  said_at  where it stands, if not at `place`
    shift  where the axes of the second board's assembly begin in those of the first one's
    """
    driven = read_driven("screws", said, bench, said_at if said_at.line else place)
    return driven_at(
        bench,
        driven,
        through,
        into,
        axis,
        sign,
        spots,
        name=name,
        joint=joint,
        place=place,
        shift=shift,
        assembly=through.assembly,
    )


def driven_at(
    bench: Bench,
    driven: Driven,
    through: Draft,
    into: Draft,
    axis: int,
    sign: int,
    spots: list[dict[int, Dim]],
    *,
    name: str,
    joint: str,
    place: Place,
    assembly: str,
    shift: Shift = NO_SHIFT,
) -> tuple[Fastener, ...]:
    """One fastener at each spot, all of one length, with their holes; they are laid down in the piece."""
    row = driven.row
    length = driven.asked or long_enough(bench, row, through, into, axis, sign, place, shift)
    made = []
    for number_, spot in enumerate(spots, 1):
        course = Course(f"{name} {driven.kind} {number_}", through, into, axis, sign, spot, joint, place, shift)
        made.append(place_one(bench, course, driven.kind, row, length, assembly))
    bench.piece.fasteners.extend(made)
    return tuple(made)


def spread_along(
    stretch: Stretch,
    bench: Bench,
    options: Filled | None,
    *,
    nailed: bool = False,
    far_in: bool = False,
    broad: bool = False,
) -> list[Dim]:
    """Places along a stretch: first and last in from its ends, the rest at equal distances; one on a very short one.

    far_in  for screws through a board whose ends hold screws of their own: out of their way
    broad   for screws all over one face that lies on another
    """
    long = minus(stretch.high, stretch.low)
    asked = options.maybe_length("from ends") if options else None
    usual = rule("from the ends", bench.step("3/2", "40"), ENDS)
    if far_in:
        usual = rule("from the ends", bench.step("3", "75"), FAR_IN)
    ends = asked or (usual if 4 * usual.value <= long.value else long / 4)
    far = (options.maybe_length("spacing") if options else None) or (
        rule("brads apart", bench.step("4", "100"), NAIL_SPACING)
        if nailed
        else rule("screws apart", bench.step("12", "300"), FACE_SPACING)
        if broad
        else rule("screws apart", bench.step("6", "150"), SPACING)
    )
    clear = long.value - 2 * ends.value
    if clear < far.value / 8 or far.value <= 0:
        return [plus(stretch.low, long / 2)]
    gaps = max(1, ceil(clear / far.value))
    step = (long - 2 * ends) / gaps
    first = plus(stretch.low, ends)
    return [first if i == 0 else first + step * i for i in range(gaps + 1)]


def centre(draft: Draft, axis: int) -> Dim:
    """The middle of a board along an axis."""
    return plus(draft.lower(axis), draft.whole(axis) / 2)


def _beside(wanted: Wanted, over: int) -> Dim:
    """Where screws go that hold a board lying on the host: the middle of the host's thickness, or what they share."""
    if wanted.host.thick == over:
        return centre(wanted.host, over)
    shared = common(wanted.host, wanted.guest, over)
    return plus(shared.low, minus(shared.high, shared.low) / 2)


def _edge(wanted: Wanted) -> Dim | None:
    """Thickness of the board that is screwed into, where that is into its edge or end; None into a face."""
    into = wanted.host if wanted.guest.thick == wanted.axis else wanted.guest
    return into.span[into.thick] if into.thick != wanted.axis else None


def _usual(word: str, bench: Bench, edge: Dim | None) -> Screw | Nail:
    """What is driven where the plan only says yes: into an edge the thickest with two diameters on either side."""
    if word == "nails":
        return nails()[BRAD]
    rows = [screws()[name] for name in USUAL[bench.manner.unit]]
    fitting = [row for row in rows if edge is None or 4 * row.thread_mm <= edge.value]
    return fitting[0] if fitting else rows[-1]


def read_driven(word: str, said: str, bench: Bench, place: Place, edge: Dim | None = None) -> Driven:
    """`yes`, `#8`, `#8 x 1 1/4`, `4 x 40 mm`, `18 gauge x 1 1/4` -> what is driven.

    A mistake is noted, and the usual one used. `edge` is the thickness of a board that is screwed into from its edge.
    """
    table: dict[str, Screw] | dict[str, Nail] = dict(screws()) if word == "screws" else dict(nails())
    kind: Drives = "screw" if word == "screws" else "brad"
    usual = _usual(word, bench, edge)
    if said.strip().lower() in ("yes", "true"):
        return Driven(kind, usual)
    parts = re.split(r"\s+(?:x|×|by)\s+", said.strip(), maxsplit=1)
    row = _row(table, parts[0], bench.manner.unit)
    if row is None:
        example = "#8 x 1 1/4" if word == "screws" else "18 gauge x 1 1/4"
        bench.mistakes.append(mistake(place, said, f"a size of {word} such as {example}", usual.name))
        return Driven(kind, usual)
    kind = _kind(row)
    if len(parts) == 1:
        return Driven(kind, row)
    try:
        value = read_length(parts[1], bench.manner.unit)
    except Misread as trouble:
        bench.mistakes.append(trouble.finding(place))
        return Driven(kind, row)
    asked = bench.once(f"{row.name} x {parts[1]}", lambda: given(said.strip(), value, str(place), place), "as asked")
    return Driven(kind, row, asked)


def _kind(row: Screw | Nail) -> Drives:
    if isinstance(row, Nail):
        return "brad" if row.kind in ("brad", "pin") else "nail"
    return {"pocket screw": "pocket screw", "lag screw": "lag screw"}.get(row.kind, "screw")  # type: ignore[return-value]


def _row(table: dict[str, Screw] | dict[str, Nail], name: str, bare: Unit) -> Screw | Nail | None:
    """A row by the name a plan gives it: `#8`, `no 8`, `8`, `4 mm`, `4.5`, `18 gauge`, `18 ga`, `6d`.

    A number alone is millimetres in a metric plan and a gauge in an inch one, where there is such a screw.
    """
    plain = " ".join(name.lower().split()).replace("ga.", "gauge")
    plain = re.sub(r"\bga\b", "gauge", plain)
    found = find(table, plain)
    if isinstance(found, Screw | Nail):
        return found
    size = re.fullmatch(r"(?:#|no\.? ?)?(\d+(?:\.\d+)?)( mm| ?gauge|d)?", plain)
    if size is None:
        return None
    number_, unit = Fraction(size[1]), (size[2] or "").strip()
    gauge_said, metric_said = unit == "gauge" or plain.startswith(("#", "no")), unit == "mm"
    first = metric_said or (bare == "mm" and not gauge_said)
    ways = ((_metric, _gauge) if first else (_gauge, _metric))[: 1 if gauge_said or metric_said else 2]
    rows: list[Screw | Nail] = list(table.values())
    for fits in (*ways, _nail):
        for row in rows:
            if fits(row, number_, unit):
                return row
    return None


def _gauge(row: Screw | Nail, number_: Fraction, unit: str) -> bool:
    return isinstance(row, Screw) and row.gauge == number_ and row.kind == "wood screw" and unit != "d"


def _metric(row: Screw | Nail, number_: Fraction, unit: str) -> bool:
    return isinstance(row, Screw) and row.gauge is None and row.thread_mm == number_ and row.kind == "chipboard screw"


def _nail(row: Screw | Nail, number_: Fraction, unit: str) -> bool:
    if not isinstance(row, Nail):
        return False
    return (row.penny == number_ and unit == "d") or (unit == "gauge" and row.name.startswith(f"{number_} gauge "))
