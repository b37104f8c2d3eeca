"""What a drawer runs on: side-mounted slides, or wooden runners in grooves of its sides or under them.

runs on: slides                                   runs on: {slides: heavy side slide, length: 18}
runs on: runners                                  runs on: {runners: below, stock: beech}
"""

from dataclasses import dataclass, replace
from fractions import Fraction

from storystick.craft.draft import NO_LENGTH, Bench
from storystick.craft.kinds import Task
from storystick.ground.dim import Dim, chosen, rule
from storystick.ground.fields import Choice, Field, Fields, Length, NameOf, Text, fill
from storystick.ground.finding import Place, mistake
from storystick.ground.length import down_to, show
from storystick.ground.marked import Marked, Scalar
from storystick.ground.misread import one_of
from storystick.ground.source import practice
from storystick.model.stock import Stock
from storystick.shop.tables import find, nearest, slides
from storystick.shop.tables.rows import Slide

PLAY = practice("slides get the middle of the room that they allow")
LONGEST = practice("the longest slide sold that goes into the case")
BOX_ROUND = practice("a box on runners is as deep as its room allows, down to the next 5 mm (1/4 in)")
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
    """What a drawer runs on, as asked for. `side`: the room at each side; `lift`: the room below a box on runners.

    out  by how much of that room it stands in from the boards beside it, on strips
    """

    kind: str  # slides, in groove, below
    row: Slide
    side: Dim
    wants: tuple[Dim, Dim]
    lift: Dim
    words: str
    stock: Stock | None
    length: Dim | None
    place: Place
    out: Dim = NO_LENGTH

    def packed_out(self, by: Dim) -> "Run":
        """The same on strips, which let a tray pass an open door."""
        return replace(self, side=self.side + by, out=by)

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
        fitting = [long for long in self.row.sold(bench.manner.unit) if long <= within.value]
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
