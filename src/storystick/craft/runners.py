"""Wooden runners: strips screwed to the case, in grooves of the drawer's sides or below them."""

from collections.abc import Mapping

from storystick.craft.carcass import Room, board
from storystick.craft.draft import NO_LENGTH, Draft, X, Y, Z, minus, plus
from storystick.craft.fastening import centre, screw_down, spread_along
from storystick.craft.fits import RUNNING
from storystick.craft.kinds import Task
from storystick.craft.runs import Run
from storystick.craft.seat import Stretch
from storystick.ground.dim import Dim, chosen, rule
from storystick.ground.length import down_to
from storystick.ground.source import practice
from storystick.model.cut import Channel
from storystick.model.joining import Fit, Joined
from storystick.model.part import Three
from storystick.model.stock import Stock

RUNNER_WIDE = practice("a runner under a drawer's side is 20 mm (3/4 in) wide")
GROOVE = practice("a runner's groove is half the drawer's side deep, rounded down")
STAGGER = practice("screws of runners on the two sides of a divider stand 32 mm (1 1/4 in) apart, so that they miss")
FLOOR = practice("a runner stays 1 mm clear of its groove's floor")


def lay_grooved(
    task: Task,
    own: Task,
    run: Run,
    room: Room,
    hosts: dict[int, Draft],
    back: Mapping[int, Dim],
    at: Three,
    low: Three,
    size: Three,
    boards: dict[str, Draft],
) -> None:
    """Grooves along the outside of the drawer's sides, and strips screwed to the case that go into them.

    back  how far each host stands back behind the opening, with a face frame
    """
    bench, stock = own.bench, run.stock
    assert stock is not None
    strip = stock.thickness
    side_thick = boards["left side"].span[X]
    deep = bench.settle(
        "runner groove deep",
        chosen(down_to(side_thick.value / 2, bench.step("1/32", "1/2")), GROOVE, side_thick),
        "half the side",
    )
    slip, least, most = RUNNING.dims()
    wide = bench.settle("runner groove wide", strip + slip, "the runner and its play")
    floor = rule("clear of the groove's floor", 1, FLOOR)
    reach = bench.settle("runner wide", run.side + deep - floor, "the play and the groove, clear of its floor")
    bottom = bench.settle("runner groove up", (size[Z] - wide) / 2, "in the middle of the side")
    for sign, side in ((-1, boards["left side"]), (1, boards["right side"])):
        z = plus(low[Z], bottom)
        which = side.side_toward(X, sign)
        along, up = side.own(Y, side.lower(Y), side.upper(Y)), side.own(Z, z, z + wide)
        cut = Channel(
            f"{side.name} runner groove", which, (along[0], up[0]), (along[1], wide), deep, 0, "groove", place=run.place
        )
        side.cuts.append(cut)
        host = hosts.get(sign)
        if host is None:
            continue
        runner = _strip(
            task, own, sign, room, stock, (plus(at[Y], low[Y]), plus(plus(at[Z], z), slip)), reach, size[Y], back
        )
        _screw_on(task, runner, host, sign)
        bench.piece.fits.append(
            Fit(
                f"{runner.name} in its groove",
                wide - runner.whole(Z),
                least,
                most,
                "slides",
                runner.name,
                side.name,
                cut.name,
                RUNNING.source,
                run.place,
            )
        )


def lay_below(
    task: Task, own: Task, run: Run, room: Room, hosts: dict[int, Draft], back: Mapping[int, Dim], at: Three,
    low: Three, size: Three,
) -> None:  # fmt: skip
    """Strips screwed to the case under the drawer's sides; `back` as for those in grooves."""
    stock = run.stock
    assert stock is not None
    bench = own.bench
    wide = bench.settle(
        "runner wide",
        run.side + rule("runner under a side", bench.step("3/4", "20"), RUNNER_WIDE),
        "under the drawer's side",
    )
    for sign, host in hosts.items():
        runner = _strip(task, own, sign, room, stock, (plus(at[Y], low[Y]), room.low[Z]), wide, size[Y], back)
        _screw_on(task, runner, host, sign)


def _strip(
    task: Task, own: Task, sign: int, room: Room, stock: Stock, at: tuple[Dim, Dim], wide: Dim, long: Dim,
    back: Mapping[int, Dim],
) -> Draft:  # fmt: skip
    by = back.get(sign, NO_LENGTH)
    low_x = minus(room.low[X], by) if sign < 0 else room.high(X) - wide
    wide = plus(wide, by)
    word = "left" if sign < 0 else "right"
    why = {X: "as far as it reaches", Y: "as deep as the drawer's box", Z: "the sheet as measured"}
    short = own.name.rsplit(".", 1)[-1]
    strip = board(
        task,
        f"{short} {word} runner",
        "runner",
        stock,
        (Y, X, Z),
        [low_x, at[0], at[1]],
        [wide, long, stock.thickness],
        why,
        faces=1,
        from_low=(True, sign < 0),
    )
    strip.place = own.place
    return strip


def _screw_on(task: Task, runner: Draft, host: Draft, sign: int) -> None:
    middle = centre(runner, Z)
    stretch = Stretch(runner.lower(Y), runner.upper(Y))
    if host.role == "divider":  # those on its other side stand where these do not
        stagger = rule("stagger of runner screws", task.bench.step("5/8", "16"), STAGGER)
        by = (minus(stretch.low, stagger), minus(stretch.high, stagger))
        stretch = Stretch(*by) if sign > 0 else Stretch(plus(stretch.low, stagger), plus(stretch.high, stagger))
    ys = spread_along(stretch, task.bench, None)
    screw_down(task.bench, runner.name, runner, host, X, sign, [{Y: y, Z: middle} for y in ys], place=runner.place)
    task.bench.piece.joined.append(
        Joined(
            f"{runner.name} on {host.name.rsplit('.', 1)[-1]}",
            "screws",
            "screwed on",
            host.name,
            runner.name,
            X,
            sign,
            False,
            ("screws",),
            runner.place,
        )
    )
