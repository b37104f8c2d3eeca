"""Wall screws: holes through what is fixed straight to a wall, one at each stud, and the screws that go into them."""

from collections.abc import Sequence
from fractions import Fraction

from storystick.craft.draft import Bench, Draft, X, Y, minus, plus
from storystick.craft.driving import spot_on
from storystick.craft.kinds import Task
from storystick.craft.seat import Stretch
from storystick.ground.dim import Dim, rule
from storystick.ground.fields import Field, Length
from storystick.ground.finding import Place
from storystick.ground.length import show
from storystick.ground.source import practice
from storystick.model.cut import Bore
from storystick.model.joining import Item
from storystick.shop.tables import screws

HOLE = practice("screws into studs go through holes of 6.5 mm (1/4 in)")
APART = practice("studs stand 400 mm (16 in) apart as a rule: a hole for each")
IN_STUD = practice("40 mm (1 1/2 in) of a screw in the stud itself, behind 13 mm (1/2 in) of plaster")
FROM_ENDS = Fraction("38.1")  # [mm]; as for the first and last screw of a joint
CALLED = "hole for a wall screw"
HELD = "screws into the wall"
SCREWS = ("1/4 in lag screw", "6 mm coach screw")  # in a plan in inches, and in one in millimetres
LOCAL = "screws into studs or sound masonry; what your wall holds, and who may fix it there, is for local rules"
STUDS = Field("studs", Length, default=("16 in", "400 mm"), source=APART, help="how far apart the wall's studs are")


def bore_for_wall(task: Task, boards: Sequence[Draft], apart: Dim, across: dict[int, Dim], place: Place) -> int:
    """A hole at each stud through boards that lie on one another before the wall; how many there are.

    boards  the first one is that along which they are spread
    across  where they are on the other axis of its face
    """
    bench, first = task.bench, boards[0]
    wide = bench.once(
        CALLED, lambda: rule(CALLED, bench.step("1/4", "13/2"), HOLE), "a screw into a stud slips through"
    )  # fmt: skip
    xs = _at_studs(bench, first, apart)
    for draft in boards:
        side = draft.side_toward(Y, -1)
        for number_, x in enumerate(xs, 1):
            behind = "" if draft is first else f" at {first.name.rpartition('.')[2]}"
            name = f"{draft.name}{behind} wall screw hole {number_}"
            at = spot_on(draft, side, {X: x, **across})
            draft.cuts.append(Bore(name, side, at, wide, None, CALLED, place=place))
    return len(xs)


def _at_studs(bench: Bench, along: Draft, apart: Dim) -> list[Dim]:
    """As many as studs surely stand behind it, two where two may; about its middle. On a short one a single hole."""
    inner = Stretch(along.lower(X), along.upper(X))
    long = inner.high.value - inner.low.value
    count = max(1, int(long / apart.value), 2 if long - 2 * FROM_ENDS >= apart.value else 1)
    middle = plus(inner.low, minus(inner.high, inner.low) / 2)
    first = middle - apart * Fraction(count - 1, 2) if count > 1 else middle
    return [first + apart * i if i else first for i in range(count)]


def lay_wall_screws(task: Task, boards: Sequence[Draft], count: int, place: Place) -> None:
    """The screws themselves, to be bought: long enough for all that they go through, the plaster and the stud."""
    bench = task.bench
    row = screws()[SCREWS[bench.manner.unit == "mm"]]
    through = sum((draft.span[Y].value for draft in boards), Fraction(0))
    least = through + (Fraction("50.8") if bench.manner.unit == "inch" else Fraction(53))
    long = next((each for each in row.lengths_mm if each >= least), row.lengths_mm[-1])
    said = f"{row.name}, {show(long, bench.manner)} long, with a washer"
    on = tuple(draft.name for draft in boards)
    bench.piece.items.append(
        Item(f"{task.name}.wall screws", row.name, said, count, task.name, on, price_key=row.name, place=place)
    )
