"""A lid: a top with hinges along one edge, to the board of a box or a case that it lies on. It swings up."""

from collections.abc import Sequence

from storystick.craft.butt_hinges import Seam, hang_on_butts
from storystick.craft.draft import NO_LENGTH, Draft, X, Y, Z, minus, plus
from storystick.craft.hinging import Hanging, along_edge, hinge_of
from storystick.craft.kinds import Built, Task
from storystick.craft.neighbours import beside, over_of
from storystick.craft.swinging import swing
from storystick.ground.fields import Angle, Choice, Count, Field, Fields, Filled, Text
from storystick.ground.finding import wrong
from storystick.model.part import Three

SIDES = {"back": (Y, 1), "front": (Y, -1), "left": (X, -1), "right": (X, 1)}
LID = Fields(
    "hinges",
    (
        Field("on", Text, required=True, help="the box or case that it closes", also=("to",)),
        Field("edge", Choice(tuple(SIDES)), default="back", help="where its hinges are"),
        Field("hinges", Text, default="butt hinges", help="butt hinges, a continuous hinge, or one of the table"),
        Field("hinge count", Count, help="how many; by length and weight if not said"),
        Field("opens", Angle, default="95 deg", help="how far it opens: a chain or a stay stops it there"),
    ),
    short="on",
)
THICK = 9  # boards thinner than this [mm] carry no hinge


def hang_lid(task: Task, ask: Filled, layers: Sequence[Draft]) -> None:
    """Recess and screw its hinges, and let it swing about the outer upper edge of the board that carries them."""
    bench, name, lowest = task.bench, ask.text("on"), layers[0]
    if beside(task, name, ask.place("on")) is None:
        return
    built = over_of(task, name)
    axis, sign = SIDES[ask.choice("edge")]
    along = X if axis == Y else Y
    fixed = _carrier(task, built, lowest, axis, sign) if built is not None else None
    if built is None or fixed is None:
        says = f"No board of {name} ends under the {ask.choice('edge')} edge of {task.name} to carry its hinges."
        bench.mistakes.append(wrong(ask.place("on"), says, "Let it lie on the box: sits: {on: ..., centred: ...}."))
        return
    row = hinge_of(bench, ask, ask.text("hinges"), covers=False, thick=task.size[Z], kinds=("butt", "continuous"))
    if row is None:
        return
    theirs: Three = (
        minus(built.at[X], task.at[X]), minus(built.at[Y], task.at[Y]), minus(built.at[Z], task.at[Z])
    )  # fmt: skip
    back = [minus(NO_LENGTH, by) if by is not NO_LENGTH else by for by in theirs]
    low = max((lowest.lower(along), plus(theirs[along], fixed.lower(along))), key=lambda d: d.value)
    high = min((lowest.upper(along), plus(theirs[along], fixed.upper(along))), key=lambda d: d.value)
    weight = float(task.size[X].value * task.size[Y].value * task.size[Z].value) * 1e-9 * (lowest.stock.density or 650)
    hang = Hanging(lowest, fixed, (back[X], back[Y], back[Z]), low, minus(high, low), weight, ask.place())
    spots = along_edge(bench, hang, ask.maybe_count("hinge count"), along)
    pin = plus(theirs[axis], fixed.end(axis, sign))
    hang_on_butts(bench, row, hang, spots, Seam(Z, -1, axis, sign, along), task.name, pin=pin)
    about = [NO_LENGTH, NO_LENGTH, NO_LENGTH]
    about[axis] = pin
    degrees = float(ask.angle("opens").degrees)
    up = -sign if axis == Y else sign
    swing(task, task.name, task.name, (about[X], about[Y], about[Z]), along, up * degrees)


def _carrier(task: Task, built: Built, lowest: Draft, axis: int, sign: int) -> Draft | None:
    """The board that the lid lies on nearest to its hinged edge: the outermost with enough wood."""
    level = lowest.lower(Z).value + task.at[Z].value - built.at[Z].value
    along = X if axis == Y else Y
    found = [
        draft
        for draft in built.bench.piece.drafts.values()
        if draft.assembly == built.bench.name
        and abs(draft.upper(Z).value - level) < 1
        and draft.whole(axis).value >= THICK
        and draft.whole(along).value >= 3 * THICK
        and draft.lies[2] != along
    ]
    return max(found, key=lambda d: (sign * d.end(axis, sign).value, d.whole(along).value), default=None)
