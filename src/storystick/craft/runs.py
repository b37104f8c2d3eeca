"""What a drawer runs on: side-mounted slides, or wooden runners in grooves of its sides or under them.

runs on: slides                                   runs on: {slides: heavy side slide, length: 18}
runs on: runners                                  runs on: {runners: below, stock: beech}
"""

from dataclasses import dataclass
from fractions import Fraction

from storystick.craft.carcass import Room, board
from storystick.craft.draft import NO_LENGTH, Bench, Draft, X, Y, Z, minus, plus
from storystick.craft.driving import pilot_size, spot_on
from storystick.craft.fastening import centre, screw_down, spread_along
from storystick.craft.fits import RUNNING
from storystick.craft.kinds import Task
from storystick.craft.lengths import longest_within
from storystick.craft.seat import Stretch
from storystick.ground.dim import Dim, chosen, rule
from storystick.ground.fields import Choice, Field, Fields, Length, NameOf, Text, fill
from storystick.ground.finding import Place, mistake
from storystick.ground.length import down_to, show
from storystick.ground.marked import Marked, Scalar
from storystick.ground.misread import one_of
from storystick.ground.source import practice
from storystick.model.cut import Bore, Channel
from storystick.model.joining import Fastener, Fit, Item, Joined
from storystick.model.part import Three
from storystick.model.stock import Stock
from storystick.shop.tables import find, nearest, screws, slides
from storystick.shop.tables.rows import Screw, Slide

PLAY = practice("slides get the middle of the room that they allow")
LONGEST = practice("the longest slide sold that goes into the case")
BOX_ROUND = practice("a box on runners is as deep as its room allows, down to the next 5 mm (1/4 in)")
METAL = practice("the plate of a slide is 1.5 mm (1/16 in) thick under the screws")
NEARLY = practice("slide screws are short: their points may come within half a millimetre of a thin side's far face")
HOLES = practice(
    "slides are screwed 37 mm (1 1/2 in) from their ends and in the middle; on the right hand side 32 mm (1 1/4 in) "
    "farther in, so that screws from both sides of a divider miss each other"
)
RUNNER_WIDE = practice("a runner under a drawer's side is 20 mm (3/4 in) wide")
GROOVE = practice("a runner's groove is half the drawer's side deep, rounded down")
FLOOR = practice("a runner stays 1 mm clear of its groove's floor")
SLIDE_KG_PER_M = 2.2  # a pair; a guess
RUNS = Fields(
    "runs on",
    (
        Field("slides", Text, help="yes, or a slide of the table"),
        Field(
            "runners",
            Choice(("in groove", "below")),
            help="wooden runners in a groove of the drawer's sides, or below them",
        ),
        Field("length", Length, help="length of the slides"),
        Field("stock", NameOf("stock"), help="what runners are made of"),
    ),
)


@dataclass(frozen=True, slots=True, eq=False)
class Run:
    """What a drawer runs on, as asked for. `side`: the room at each side; `lift`: the room below a box on runners."""

    kind: str  # slides, in groove, below
    row: Slide
    side: Dim
    wants: tuple[Dim, Dim]
    lift: Dim
    words: str
    stock: Stock | None
    length: Dim | None
    place: Place

    def deep(self, bench: Bench, within: Dim, asked: Dim | None) -> Dim | None:
        """How deep the box is: the slide's length, or what the plan asks for; None when there is no room for any."""
        if asked is not None or (self.length is not None and self.kind == "slides"):
            said = asked or self.length
            assert said is not None
            if said.value > within.value:
                far = show(within.value, bench.manner)
                bench.mistakes.append(
                    mistake(self.place, show(said.value, bench.manner), f"short enough: there is room for {far}", far)
                )
                return None
            return said
        if self.kind != "slides":
            value = down_to(within.value, bench.step("1/4", "5"))
            return chosen(value, BOX_ROUND, within) if value > 0 else None
        fitting = [long for long in self.row.lengths_mm if long <= within.value]
        return chosen(max(fitting), LONGEST, within) if fitting else None

    def travel(self, bench: Bench, deep: Dim) -> Dim:
        """How far the drawer comes out."""
        share = Fraction(self.row.travel_share).limit_denominator(100)
        return bench.settle("travel", deep if share == 1 else deep * share, f"a {self.row.name} comes out so far")


def read_run(task: Task, node: Marked | None, place: Place) -> Run:
    """What `runs on:` asks for; ordinary slides where nothing is said, or it can't be read (a mistake is noted)."""
    kind, name, length, stock = "slides", "full extension side slide", None, None
    if isinstance(node, Scalar):
        word = " ".join(node.text.lower().split())
        if word in ("runners", "wooden runners", "wooden runner"):
            kind = "below"
        elif word not in ("slides", "slide", "yes"):
            name = node.text
    elif node is not None:
        ask = fill(RUNS, node, task.scope, task.bench.mistakes)
        if ask is not None:
            kind = ask.choice("runners") if ask.has("runners") else "slides"
            said = ask.maybe_text("slides") or "yes"
            name = said if said.lower() not in ("yes", "true") else name
            length = ask.maybe_length("length")
            stock = task.bench.stock_of(ask.text("stock"), ask.place("stock")) if ask.has("stock") else None
    at = node.place if node is not None else place
    row = find(slides(), name) if kind == "slides" else slides()["wooden runner"]
    if row is None or (kind == "slides" and row.kind != "side"):
        side_ones = [r.name for r in slides().values() if r.kind == "side"]
        near = nearest(slides(), name)
        known = near[0] if near and near[0] in side_ones else side_ones[0]
        trouble = mistake(at, name, f"runners, slides, or one of {one_of(side_ones)}", known)
        if trouble not in task.bench.mistakes:
            task.bench.mistakes.append(trouble)
        row = slides()["full extension side slide"]
    return _run(task, kind, row, stock, length, at)


def _run(task: Task, kind: str, row: Slide, stock: Stock | None, length: Dim | None, place: Place) -> Run:
    bench = task.bench
    wants = (
        rule(f"least room for a {row.name}", row.side_least_mm, row.comes_from),
        rule(f"most room for a {row.name}", row.side_most_mm, row.comes_from),
    )
    play = bench.once(
        f"play of a {row.name}",
        lambda: rule(f"play of a {row.name}", (row.side_least_mm + row.side_most_mm) / 2 - row.thick_mm, PLAY),
        "the middle of what it allows",
    )
    if kind != "slides":
        made_of = stock or bench.stock_of(task.ask.text("stock"), task.ask.place("stock"))
        lift = made_of.thickness if kind == "below" else NO_LENGTH
        return Run(kind, row, play, wants, lift, "the play of a wooden runner", made_of, None, place)
    thick = bench.once(
        f"{row.name} thick", lambda: rule(f"{row.name} thick", row.thick_mm, row.comes_from), "as the table says"
    )
    side = bench.once(f"room for a {row.name}", lambda: thick + play, "the slide and its play")
    return Run(kind, row, side, wants, NO_LENGTH, "a slide and its play", None, length, place)


def lay_run(
    task: Task,
    own: Task,
    run: Run,
    room: Room,
    at: Three,
    low: tuple[Dim, Dim, Dim],
    size: Three,
    boards: dict[str, Draft],
) -> None:
    """Lay what a drawer runs on: in the case's axes what is fixed to the case, in the drawer's own what is fixed to it.

    at    where the drawer's own axes begin in the case's; low and size are of the box in its own axes
    """
    hosts = {sign: room.bounds[X, sign] for sign in (-1, 1) if (X, sign) in room.bounds}
    if run.kind == "slides":
        _lay_slides(task, own, run, hosts, at, low, size, boards)
    elif run.kind == "in groove":
        _lay_grooved(task, own, run, room, hosts, at, low, size, boards)
    else:
        _lay_below(task, own, run, room, hosts, at, low, size)


def _lay_slides(
    task: Task,
    own: Task,
    run: Run,
    hosts: dict[int, Draft],
    at: Three,
    low: Three,
    size: Three,
    boards: dict[str, Draft],
) -> None:
    bench, row = task.bench, run.row
    deep = size[Y]
    name = f"{own.name} slides"
    sides = {-1: boards["left side"], 1: boards["right side"]}
    on = (*(h.name for h in hosts.values()), *(s.name for s in sides.values()))
    said = f"{row.name}, {show(deep.value, bench.manner)}"
    bench.piece.items.append(
        Item(
            name,
            row.name,
            said,
            1,
            task.name,
            on,
            None,
            False,
            SLIDE_KG_PER_M * float(deep) / 1000,
            row.name,
            "pair",
            own.name,
            run.place,
        )
    )
    screw = find(screws(), row.screws) or screws()["#6 pan head screw"]
    metal = bench.once(
        "slide plate thick",
        lambda: rule("slide plate thick", bench.step("1/16", "3/2"), METAL),
        "under the screws' heads",
    )
    z = plus(low[Z], size[Z] / 2)
    for sign, host in hosts.items():
        for number_, y in enumerate(_along(bench, deep, sign), 1):
            spot = {Y: plus(plus(at[Y], low[Y]), y), Z: plus(at[Z], z)}
            _slide_screw(
                bench,
                f"{name} screw {number_} in {_short(host)}",
                screw,
                metal,
                host,
                -sign,
                spot,
                task.name,
                name,
                run.place,
            )
    for sign, side in sides.items():
        for number_, y in enumerate(_along(bench, deep, -1), 1):
            spot = {Y: plus(low[Y], y), Z: z}
            _slide_screw(
                bench,
                f"{own.name}.slide screw {number_} in {_short(side)}",
                screw,
                metal,
                side,
                sign,
                spot,
                own.name,
                name,
                run.place,
            )


def _short(draft: Draft) -> str:
    return draft.name.rsplit(".", 1)[-1]


def _along(bench: Bench, deep: Dim, sign: int) -> tuple[Dim, Dim, Dim]:
    """Where a slide is screwed along its length; in the right hand board farther in than in the left hand one."""
    first = bench.once(
        "slide screws in", lambda: rule("slide screws in", bench.step("3/2", "37"), HOLES), "from the slide's ends"
    )
    if sign < 0:
        return first, deep / 2, deep - first
    step = bench.once(
        "slide screws stagger",
        lambda: rule("slide screws stagger", bench.step("5/4", "32"), HOLES),
        "so that screws miss each other",
    )
    return first + step, deep / 2 + step, deep - first - step


def _slide_screw(
    bench: Bench,
    name: str,
    screw: Screw,
    metal: Dim,
    into: Draft,
    outward: int,
    spot: dict[int, Dim],
    assembly: str,
    item: str,
    place: Place,
) -> None:
    """One short screw through the slide into a board, from the side that looks along x by `outward`."""
    spare = rule("wood before a slide screw's point", Fraction(1, 2), NEARLY)
    room = into.span[X] + metal - spare
    length = (
        longest_within(bench, screw, room, place, into.name)
        if room.value < min(screw.lengths_mm)
        else chosen(min(screw.lengths_mm), NEARLY, room)
    )
    side = into.side_toward(X, outward)
    into.cuts.append(
        Bore(
            f"{name} pilot",
            side,
            spot_on(into, side, spot),
            pilot_size(bench, screw, into.stock),
            length - metal,
            "pilot hole",
            place=place,
        )
    )
    head = plus(into.end(X, outward), metal) if outward > 0 else minus(into.end(X, outward), metal)
    bench.piece.fasteners.append(
        Fastener(
            name,
            "screw",
            screw.name,
            rule(f"{screw.name} thick", screw.thread_mm, screw.comes_from),
            length,
            item,
            into.name,
            (head, spot[Y], spot[Z]),
            (-float(outward), 0.0, 0.0),
            assembly,
            place=place,
        )
    )


def _lay_grooved(
    task: Task,
    own: Task,
    run: Run,
    room: Room,
    hosts: dict[int, Draft],
    at: Three,
    low: Three,
    size: Three,
    boards: dict[str, Draft],
) -> None:
    """Grooves along the outside of the drawer's sides, and strips screwed to the case that go into them."""
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
        runner = _strip(task, own, sign, room, stock, (plus(at[Y], low[Y]), plus(plus(at[Z], z), slip)), reach, size[Y])
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


def _lay_below(
    task: Task, own: Task, run: Run, room: Room, hosts: dict[int, Draft], at: Three, low: Three, size: Three
) -> None:
    """Strips screwed to the case under the drawer's sides."""
    stock = run.stock
    assert stock is not None
    bench = own.bench
    wide = bench.settle(
        "runner wide",
        run.side + rule("runner under a side", bench.step("3/4", "20"), RUNNER_WIDE),
        "under the drawer's side",
    )
    for sign, host in hosts.items():
        runner = _strip(task, own, sign, room, stock, (plus(at[Y], low[Y]), room.low[Z]), wide, size[Y])
        _screw_on(task, runner, host, sign)


def _strip(
    task: Task, own: Task, sign: int, room: Room, stock: Stock, at: tuple[Dim, Dim], wide: Dim, long: Dim
) -> Draft:
    low_x = room.low[X] if sign < 0 else room.high(X) - wide
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
    ys = spread_along(stretch, task.bench, None)
    screw_down(task.bench, runner.name, runner, host, X, sign, [{Y: y, Z: middle} for y in ys], place=runner.place)
    task.bench.piece.joined.append(
        Joined(
            f"{runner.name} on {_short(host)}",
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
