"""The carcass of a case: sides, top and bottom (or rails), back; and the clear room that they leave."""

from dataclasses import dataclass

from storystick.craft.draft import NO_LENGTH, Bench, Draft, Wanted, X, Y, Z, join, minus, plus
from storystick.craft.jointing import Way, read_way
from storystick.craft.kinds import Task
from storystick.craft.truth import between, over_all
from storystick.ground.dim import Dim, rule
from storystick.ground.fields import Filled
from storystick.ground.finding import mistake
from storystick.ground.length import show
from storystick.ground.source import practice
from storystick.model.stock import Stock

RAIL = practice("rails under a loose top are 80 mm (3 in) wide")
BACK_IN = practice("a back in a groove lies 10 mm (3/8 in) in from the rear edges")


@dataclass(frozen=True, slots=True, eq=False)
class Room:
    """A clear room between boards: where it starts, how big it is, and which board bounds it at each end."""

    low: tuple[Dim, Dim, Dim]
    size: tuple[Dim, Dim, Dim]
    bounds: dict[tuple[int, int], Draft]

    def high(self, axis: int) -> Dim:
        """Where it ends along an axis."""
        return plus(self.low[axis], self.size[axis])


@dataclass(frozen=True, slots=True, eq=False)
class Carcass:
    """The boards of a carcass and the clear room inside."""

    left: Draft
    right: Draft
    bottom: Draft
    tops: tuple[Draft, ...]
    back: Draft | None
    room: Room
    stock: Stock
    under: Dim


@dataclass(frozen=True, slots=True, eq=False)
class Around:
    """What a carcass makes room for: what it stands on, a face frame before it, nailers at its back.

    under   height of what it stands on;  kicked: the sides go down to the floor beside a toe kick of that height
    before  thickness of a face frame;  nailer: thickness of the nailers
    """

    under: Dim = NO_LENGTH
    kicked: bool = False
    before: Dim = NO_LENGTH
    nailer: Dim = NO_LENGTH


def board(
    task: Task, name: str, role: str, stock: Stock, lies: tuple[int, int, int], low: list[Dim], span: list[Dim],
    because: dict[int, str], *, faces: int, from_low: tuple[bool, bool] = (True, True),
) -> Draft:  # fmt: skip
    """Lay one board of this assembly on the bench."""
    return task.bench.lay(
        Draft(
            f"{task.name}.{name}", role, task.name, stock, lies, low, span, faces, from_low, because, place=task.place,
        )
    )  # fmt: skip


def joined(bench: Bench, guest: Draft, host: Draft, axis: int, sign: int, way: Way) -> Wanted:
    """Join a guest's end to a host; the joint is called by the two boards."""
    short = guest.name.rsplit(".", 1)[-1] + " in " + host.name.rsplit(".", 1)[-1]
    name = f"{guest.name.rsplit('.', 1)[0]}.{short}"
    return join(bench, Wanted(name, way.kind.work, host, guest, axis, sign, way.options, way.place))


def lay_carcass(task: Task, around: Around) -> Carcass:
    """Lay sides, top, bottom and back, and join them."""
    ask, bench, under, front = task.ask, task.bench, around.under, around.before
    wide, deep, high = task.size
    stock = bench.stock_of(ask.text("stock"), ask.place("stock"))
    thick = stock.thickness
    body = high
    if under is not NO_LENGTH:
        body = bench.settle("body high", minus(high, under), "over all less what it stands on")
    corner = read_way(ask.node("joint"), "dado", task.scope, bench, "corner", task.place)
    lower = corner
    if around.kicked and "inside" not in corner.kind.seats:  # the sides go on below the bottom
        lower = read_way(None, "dado", task.scope, bench, "inside", task.place)
    past = ask.choice("run past") == "sides" or around.kicked
    has_top = ask.choice("top") != "none"
    inside_wide = bench.settle("inside wide", wide - 2 * thick, "two sides stand between the outsides")
    inside_high = bench.settle(
        "inside high", body - (2 * thick if has_top else thick),
        "top and bottom lie between" if has_top else "the bottom lies below",
    )  # fmt: skip
    back = read_back(ask, bench, around.nailer)
    body_deep = _body_deep(bench, deep, back, front)
    inside_deep = body_deep
    if back:
        inside_deep = bench.settle("inside deep", minus(body_deep, back.within), "from the front edges to the back")
    if around.nailer is not NO_LENGTH and (back is None or back.joint != "groove"):
        inside_deep = bench.settle("clear deep", minus(inside_deep, around.nailer), "less the nailers")
    side_high = body if past else inside_high
    side_low = under if past else plus(under, thick)
    if around.kicked:
        side_high, side_low = high, NO_LENGTH
    across = inside_wide if past else wide
    left = board(
        task, "left side", "side", stock, (Z, Y, X), [NO_LENGTH, front, side_low], [thick, body_deep, side_high],
        {X: "the sheet as measured", Y: "front to rear", Z: f"{'runs past' if past else 'between'} top and bottom"},
        faces=1,
    )  # fmt: skip
    right = board(
        task, "right side", "side", stock, (Z, Y, X), [wide - thick, front, side_low],
        [thick, body_deep, side_high], dict(left.because), faces=-1,
    )  # fmt: skip
    low_x = thick if past else NO_LENGTH
    why = {X: "between the sides" if past else "runs past the sides", Y: "front to rear", Z: "the sheet as measured"}
    bottom = board(
        task, "bottom", "bottom", stock, (X, Y, Z), [low_x, front, under], [across, body_deep, thick], why, faces=1,
    )  # fmt: skip
    high_z = plus(under, body) - thick
    tops = _tops(task, stock, (low_x, front), across, body_deep, high_z, why) if has_top else ()
    for flat in (bottom, *tops):
        if past:
            way = lower if flat is bottom else corner
            joined(bench, flat, left, X, -1, way)
            joined(bench, flat, right, X, 1, way)
    if not past:
        for side in (left, right):
            joined(bench, side, bottom, Z, -1, corner)
            for top in tops:
                joined(bench, side, top, Z, 1, corner)
    low_z = plus(under, thick)
    bounds = {(X, -1): left, (X, 1): right, (Z, -1): bottom} | ({(Z, 1): tops[0]} if tops else {})
    panel = _lay_back(task, back, low_z, inside_wide, inside_high, left, right, bottom, tops) if back else None
    if panel:
        bounds[Y, 1] = panel
    room = Room((thick, front, low_z), (inside_wide, inside_deep, inside_high), bounds)
    bench.true("inside wide", lambda: between(bench, bottom, left, right, X))
    bench.true("wide", lambda: over_all(bench, bottom, left, right, X) if past else bottom.whole(X))
    if tops:
        bench.true("inside high", lambda: between(bench, left, bottom, tops[0], Z))
    return Carcass(left, right, bottom, tops, panel, room, stock, under)


def _tops(
    task: Task, stock: Stock, low: tuple[Dim, Dim], across: Dim, deep: Dim, low_z: Dim, why: dict[int, str]
) -> tuple[Draft, ...]:
    thick, (low_x, low_y) = stock.thickness, low
    if task.ask.choice("top") == "board":
        span = [across, deep, thick]
        return (board(task, "top", "top", stock, (X, Y, Z), [low_x, low_y, low_z], span, dict(why), faces=-1),)
    rail = task.bench.settle(
        "rail width", rule("rail width", task.bench.step("3", "80"), RAIL), "wide enough to screw a top to"
    )
    whys = why | {Y: "a rail, not a whole top"}
    front = board(
        task, "front rail", "rail", stock, (X, Y, Z), [low_x, low_y, low_z], [across, rail, thick], whys, faces=-1
    )
    rear = board(
        task, "rear rail", "rail", stock, (X, Y, Z), [low_x, plus(low_y, deep) - rail, low_z], [across, rail, thick],
        whys, faces=-1, from_low=(True, False),
    )  # fmt: skip
    return (front, rear)


@dataclass(frozen=True, slots=True, eq=False)
class Back:
    """A back as asked for: its stock and joint; how much of the depth it takes `within` the body and `behind` it."""

    stock: Stock
    joint: str
    within: Dim
    behind: Dim


def _body_deep(bench: Bench, deep: Dim, back: Back | None, front: Dim) -> Dim:
    """How deep sides, top and bottom are."""
    behind = back.behind if back else NO_LENGTH
    if behind is NO_LENGTH and front is NO_LENGTH:
        return deep
    because = " and ".join(
        word for word, dim in (("the back on its rear", behind), ("the frame before it", front)) if dim is not NO_LENGTH
    )
    return bench.settle("body deep", minus(minus(deep, behind), front), f"over all less {because}")


def read_back(ask: Filled, bench: Bench, nailer: Dim = NO_LENGTH) -> Back | None:
    """The back that a case asks for; nailers lie behind one in a groove."""
    record = ask.maybe_record("back")
    if record is None:
        return None
    stock = bench.stock_of(record.text("stock"), record.place("stock"))
    joint = record.choice("joint")
    if joint == "screwed on":
        return Back(stock, joint, NO_LENGTH, stock.thickness)
    if joint == "rabbet":
        return Back(stock, joint, stock.thickness, NO_LENGTH)
    usual = rule("back in by", bench.step("3/8", "10"), BACK_IN) if nailer is NO_LENGTH else nailer
    asked = record.maybe_length("in by") or usual
    if asked.value < nailer.value:
        least = show(nailer.value, bench.manner)
        said = show(asked.value, bench.manner)
        bench.mistakes.append(mistake(record.place("in by"), said, "room behind the back for the nailers", least))
        asked = nailer
    inset = bench.once("back in by", lambda: asked, "wood left behind the groove")
    return Back(stock, joint, inset + stock.thickness, NO_LENGTH)


def _lay_back(
    task: Task, back: Back, low_z: Dim, inside_wide: Dim, inside_high: Dim, left: Draft, right: Draft, bottom: Draft,
    tops: tuple[Draft, ...],
) -> Draft:  # fmt: skip
    bench, thick = task.bench, back.stock.thickness
    body_deep = plus(left.low[Y], left.span[Y])
    tall = Z if inside_high.value >= inside_wide.value else X
    lies = (Z, X, Y) if tall == Z else (X, Z, Y)
    why = {X: "between the sides", Y: "the sheet as measured", Z: "between top and bottom"}
    if back.joint == "screwed on":
        low = [NO_LENGTH, body_deep, task.bench.book.pages.get(f"{task.name}.room underneath", NO_LENGTH)]
        span = [task.size[X], thick, plus(inside_high, (2 if tops else 1) * left.stock.thickness)]
        why = {X: "over the sides", Y: "the sheet as measured", Z: "over top and bottom"}
        panel = board(task, "back", "back", back.stock, lies, low, span, why, faces=-1)
        way = read_way(None, "screws", task.scope, bench, "panel", task.place)
        for host in (left, right, bottom, *tops[-1:]):
            joined(bench, panel, host, Y, -1, way)
        return panel
    low_y = body_deep - thick if back.joint == "rabbet" else body_deep - back.within
    panel = board(
        task, "back", "back", back.stock, lies, [left.stock.thickness, low_y, low_z],
        [inside_wide, thick, inside_high], why, faces=-1,
    )  # fmt: skip
    way = read_way(None, back.joint, task.scope, bench, "panel", task.place)
    joined(bench, panel, left, X, -1, way)
    joined(bench, panel, right, X, 1, way)
    joined(bench, panel, bottom, Z, -1, way)
    if tops:
        joined(bench, panel, tops[-1], Z, 1, way)
    return panel
