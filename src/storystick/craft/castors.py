"""Castors: which, how many, where they sit under a board, and the screws that hold their plates."""

from dataclasses import dataclass
from fractions import Fraction

from storystick.craft.draft import NO_LENGTH, Bench, Draft, X, Y, Z, plus
from storystick.craft.driving import pilot_size, spot_on
from storystick.craft.kinds import Task
from storystick.craft.lengths import longest_within, spare
from storystick.ground.arithmetic import Scope, read_sum
from storystick.ground.dim import Dim, rule
from storystick.ground.fields import Choice, Count, Field, Fields, Length, Text, fill
from storystick.ground.finding import Finding, Place, mistake
from storystick.ground.length import show
from storystick.ground.marked import Marked, Scalar
from storystick.ground.misread import one_of
from storystick.ground.source import practice
from storystick.model.cut import Bore
from storystick.model.joining import Fastener, Item
from storystick.shop.tables import castors as table
from storystick.shop.tables import find, nearest, screws
from storystick.shop.tables.rows import Castor

INSET = practice("castor plates stay 6 mm (1/4 in) clear of the sides' end grain")
PLATE = practice("a castor's plate is 2.5 mm (3/32 in) thick")
CORNER = practice("screws through a castor's plate sit at the corners of its hole pattern")
CASTORS = Fields(
    "castors",
    (
        Field("size", Text, help="its wheel, or its name in the table"),
        Field("count", Count, default="4", help="four or six"),
        Field("inset", Length, help="how far the plates stand in from the outsides"),
        Field("rear", Choice(("swivel", "fixed")), default="swivel", help="what the rear ones do"),
        Field("high", Length, help="overall height as measured, instead of the table's"),
        Field("screws", Text, help="the screws through their plates"),
    ),
    short="size",
)
USUAL = {"inch": "3 inch", "mm": "75 mm"}
SCREWS = ("#10 pan head screw", "4.8 mm pan head screw")  # in a plan in inches, and in one in millimetres
KG_PER_WHEEL_MM = 0.006  # a guess: a 75 mm castor weighs half a kilogram


@dataclass(frozen=True, slots=True, eq=False)
class Castors:
    """Castors as asked for: rows for front and rear, overall height, how many, their distance in."""

    front: Castor
    rear: Castor
    high: Dim
    count: int
    inset: Dim | None
    screws: str | None
    place: Place


def read_castors(node: Marked, scope: Scope, bench: Bench, mistakes: list[Finding]) -> Castors | None:
    """`75 mm`, `3`, `3 inch locking castor`, or a group of lines; None with a mistake noted when it can't be read."""
    ask = fill(CASTORS, node, scope, mistakes)
    if ask is None:
        return None
    said = ask.maybe_text("size") or USUAL[bench.manner.unit]
    rear_word = "swivel" if ask.choice("rear") == "swivel" else "fixed"
    front = _row(said, "locking", scope, ask.place("size"), mistakes)
    if front is None:
        return None
    rear = find(table(), f"{_size_of(front)} {rear_word} castor") or front
    if ask.count("count") not in (4, 6):
        mistakes.append(mistake(ask.place("count"), str(ask.count("count")), "four or six castors", "4"))
        return None
    high = ask.maybe_length("high") or rule(f"{front.name} high", front.high_mm, front.comes_from)
    return Castors(
        front, rear, high, ask.count("count"), ask.maybe_length("inset"), ask.maybe_text("screws"), ask.place()
    )


def _row(said: str, sort: str, scope: Scope, place: Place, mistakes: list[Finding]) -> Castor | None:
    """A castor by its name, or by the size of its wheel."""
    named = find(table(), said)
    if named is not None and said.strip().lower() not in ("castor", "caster"):
        return (
            named
            if "swivel" in said or "fixed" in said or "locking" in said
            else find(table(), f"{_size_of(named)} {sort} castor") or named
        )
    trouble: list[Finding] = []
    wheel = read_sum(Scalar(said, place), scope, trouble)
    if wheel is None or trouble:
        near = nearest(table(), said)
        mistakes.append(
            mistake(
                place, said, f"a castor: the size of its wheel, or {one_of(list(table())[:3])}", near[0] if near else ""
            )
        )
        return None
    for row in table().values():
        if row.wheel_mm == wheel.value and f" {sort} " in row.name:
            return row
    like = [row for row in table().values() if (" mm " in row.name) == (scope.bare == "mm")]
    example = min(like, key=lambda row: abs(row.wheel_mm - wheel.value)).name
    mistakes.append(mistake(place, said, "the wheel of a castor in the table", _size_of(table()[example])))
    return None


def _size_of(row: Castor) -> str:
    """`3 inch` of `3 inch locking castor`."""
    return " ".join(row.name.split()[:2])


def place_castors(
    task: Task, castors: Castors, under: Draft, outline: tuple[tuple[Dim, Dim], tuple[Dim, Dim]], wall: Dim
) -> tuple[tuple[tuple[Dim, Dim], ...], float]:
    """Put castors under a board and bore for their screws: the spots of their plates, how far the wheels swing [mm].

    outline  low and high of the board's underside along x and y
    wall     thickness of what stands at the outsides and takes no screws
    """
    bench = task.bench
    row = castors.front
    plate = {
        X: _named(bench, "plate wide", row.plate_wide_mm, row),
        Y: _named(bench, "plate deep", row.plate_long_mm, row),
    }
    usual = bench.once(
        "castors in",
        lambda: plus(wall, rule("clear of the end grain", bench.step("1/4", "6"), INSET)),
        "their plates are screwed to the board",
    )
    inset = castors.inset or usual
    (left, right), (front, back) = outline
    xs = [plus(left, inset) + plate[X] / 2, right - inset - plate[X] / 2]
    ys = [plus(front, inset) + plate[Y] / 2, back - inset - plate[Y] / 2]
    if castors.count == 6:
        xs.insert(1, (xs[0] + xs[1]) / 2)
    spots = [(x, y) for y in ys for x in xs]
    if xs[0].value + plate[X].value > xs[1].value or ys[0].value + plate[Y].value > ys[1].value:
        room = show(right.value - left.value, bench.manner)
        bench.mistakes.append(
            mistake(
                castors.place, castors.front.name, f"castors that fit beside each other under {room}", "a smaller wheel"
            )
        )
    for number_, (x, y) in enumerate(spots, 1):
        row = castors.front if number_ <= len(xs) else castors.rear
        _place_one(task, castors, row, f"{task.name}.castor {number_}", under, (x, y), plate)
    swing = float(max(castors.front.offset_mm, castors.rear.offset_mm))
    return tuple(spots), swing


def _named(bench: Bench, word: str, value: Fraction, row: Castor) -> Dim:
    """A size of a castor from the table, named once for the assembly."""
    name = f"{row.name} {word}"
    return bench.once(name, lambda: rule(name, value, row.comes_from), "as the table says")


def _place_one(
    task: Task, castors: Castors, row: Castor, name: str, under: Draft, at: tuple[Dim, Dim], plate: dict[int, Dim]
) -> None:
    bench, (x, y) = task.bench, at
    box = ((x - plate[X] / 2, y - plate[Y] / 2, NO_LENGTH), (plate[X], plate[Y], castors.high))
    kilograms = KG_PER_WHEEL_MM * float(row.wheel_mm)
    bench.piece.items.append(
        Item(
            name, row.name, row.name, 1, task.name, (under.name,), box, False, kilograms, row.name, place=castors.place
        )
    )
    screw = find(screws(), castors.screws or "") or screws()[SCREWS[bench.manner.unit == "mm"]]
    metal = bench.once(
        "castor plate thick",
        lambda: rule("castor plate thick", bench.step("3/32", "5/2"), PLATE),
        "what lies under the heads",
    )
    room = under.span[Z] + metal - spare(bench)
    length = bench.once(
        "castor screws long",
        lambda: longest_within(bench, screw, room, castors.place, under.name),
        "as long as the board lets them",
    )
    side = under.side_toward(Z, -1)
    far = {X: row.holes_wide_mm, Y: row.holes_long_mm}
    number_ = 0
    for sign_x in (-1, 1):
        for sign_y in (-1, 1):
            number_ += 1
            spot = {
                X: x + sign_x * rule("castor holes across", far[X], row.comes_from) / 2,
                Y: y + sign_y * rule("castor holes along", far[Y], row.comes_from) / 2,
            }
            called = f"{name} screw {number_}"
            under.cuts.append(
                Bore(
                    f"{called} pilot",
                    side,
                    spot_on(under, side, spot),
                    pilot_size(bench, screw, under.stock),
                    length - metal,
                    "pilot hole",
                    place=castors.place,
                )
            )
            bench.piece.fasteners.append(
                Fastener(
                    called,
                    "screw",
                    screw.name,
                    rule(f"{screw.name} thick", screw.thread_mm, screw.comes_from),
                    length,
                    name,
                    under.name,
                    (spot[X], spot[Y], under.lower(Z) - metal),
                    (0.0, 0.0, 1.0),
                    task.name,
                    place=castors.place,
                )
            )
