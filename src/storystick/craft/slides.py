"""Side-mounted slides: the pair that is bought, and the short screws that hold it to the case and to the drawer."""

from fractions import Fraction

from storystick.craft.draft import Bench, Draft, X, Y, Z, minus, plus
from storystick.craft.driving import pilot_size, spot_on
from storystick.craft.kinds import Task
from storystick.craft.lengths import longest_within
from storystick.craft.runs import Run
from storystick.ground.dim import Dim, chosen, rule
from storystick.ground.finding import Place
from storystick.ground.length import show
from storystick.ground.source import practice
from storystick.model.cut import Bore
from storystick.model.joining import Fastener, Item
from storystick.model.part import Three
from storystick.shop.tables import find, screws
from storystick.shop.tables.rows import Screw

METAL = practice("the plate of a slide is 1.5 mm (1/16 in) thick under the screws")
NEARLY = practice("slide screws are short: their points may come within half a millimetre of a thin side's far face")
HOLES = practice(
    "slides are screwed 37 mm (1 1/2 in) from their ends and in the middle; on the left of a divider 32 mm (1 1/4 in) "
    "farther in, so that screws from both sides of it miss each other"
)
SLIDE_KG_PER_M = 2.2  # a pair; a guess


def lay_slides(
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
    screw = find(screws(), row.screws_in(bench.manner.unit)) or screws()["#6 pan head screw"]
    metal = bench.once(
        "slide plate thick",
        lambda: rule("slide plate thick", bench.step("1/16", "3/2"), METAL),
        "under the screws' heads",
    )
    z = plus(low[Z], size[Z] / 2)
    for sign, host in hosts.items():
        for number_, y in enumerate(_along(bench, deep, sign > 0 and host.role == "divider"), 1):
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
        for number_, y in enumerate(_along(bench, deep), 1):
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


def _along(bench: Bench, deep: Dim, staggered: bool = False) -> tuple[Dim, Dim, Dim]:
    """Where a slide is screwed along its length; `staggered` farther in, on one of the two faces of a divider."""
    first = bench.once(
        "slide screws in", lambda: rule("slide screws in", bench.step("3/2", "37"), HOLES), "from the slide's ends"
    )
    if not staggered:
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
    room, least = into.span[X] + metal - spare, min(screw.lengths_mm)
    length = (
        longest_within(bench, screw, room, place, into.name)
        if room.value < least
        else chosen(least, NEARLY, room)
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
