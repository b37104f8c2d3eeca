"""Pulls and knobs: the row of the table, the holes through what they hold to, and the room that they take."""

from collections.abc import Sequence

from storystick.craft.draft import Draft, X, Y, Z, plus
from storystick.craft.driving import spot_on
from storystick.craft.kinds import Task
from storystick.ground.dim import Dim, rule
from storystick.ground.fields import Filled
from storystick.ground.finding import mistake
from storystick.ground.misread import one_of
from storystick.model.cut import Bore
from storystick.model.joining import Item
from storystick.shop.tables import find, nearest, pulls, screws
from storystick.shop.tables.rows import Pull

PULL_KG = 0.06  # a guess


def pull_of(task: Task, ask: Filled, other: str = "") -> Pull | None:
    """The pull that `pull:` names; None, with a mistake noted, when the table has none. `other` would do as well."""
    said = ask.text("pull").strip()
    row = find(pulls(), " ".join(said.lower().split()))
    if row is None:
        near = nearest(pulls(), said)
        known = f"{other} or a pull: {one_of(pulls())}" if other else f"a pull: {one_of(pulls())}"
        trouble = mistake(ask.place("pull"), said, known, near[0] if near else (other or "knob"))
        if trouble not in task.bench.mistakes:
            task.bench.mistakes.append(trouble)
    return row


def fix_pull(task: Task, row: Pull, boards: Sequence[Draft], middle: dict[int, Dim], along: int) -> None:
    """Bore through the boards behind one another and put the pull on the first, lying `along` x or upright along z."""
    bench, face = task.bench, boards[0]
    screw = screws()[row.screws_in(bench.manner.unit)]
    wide = bench.settle(
        "hole for the pull",
        rule("hole for the pull", screw.clearance_bit_mm, screw.comes_from),
        f"{screw.name} goes through",
    )
    apart = rule(f"{row.name}, screw to screw", row.centres_mm, row.comes_from) if row.centres_mm else None
    at = middle[along]
    spots = [{**middle, along: at - apart / 2}, {**middle, along: at + apart / 2}] if apart else [middle]
    for draft in boards:
        if not draft.lower(Z).value < middle[Z].value < draft.upper(Z).value:
            continue
        side = draft.side_toward(Y, -1)
        for number_, spot in enumerate(spots, 1):
            name = f"{draft.name} pull hole {number_}"
            at_spot = spot_on(draft, side, spot)
            draft.cuts.append(Bore(name, side, at_spot, wide, None, "hole for a pull", place=task.place))
    out = rule(f"{row.name} stands out", row.stands_out_mm, row.comes_from)
    over = plus(apart, wide) if apart else out
    size = {X: out, Y: out, Z: out} | {along: over}
    low = (middle[X] - size[X] / 2, face.lower(Y) - out, middle[Z] - size[Z] / 2)
    bench.piece.items.append(
        Item(
            f"{task.name}.pull", row.name, row.name, 1, task.name, (face.name,), (low, (size[X], out, size[Z])), False,
            PULL_KG, row.name, place=task.place,
        )
    )  # fmt: skip
