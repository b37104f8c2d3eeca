"""Tool sizes: for each hole a bit of its size, for each channel a cutter that is small enough."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.checks.driven import is_for_a_fastener
from storystick.checks.saying import listed, mm
from storystick.checks.stated import changes, worded
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.source import practice
from storystick.model.check import Asked, Check
from storystick.model.cut import Bore, Channel
from storystick.model.part import Part
from storystick.shop.shop import Drill, Shop
from storystick.shop.tables import magnets

NEAR_ENOUGH = Fraction(1, 10)
SAME = practice(
    "a bit within 0.1 mm of a hole is that size; pilot holes take 0.25 mm either way, clearance holes 0.5 mm more"
)
PILOT, CLEARANCE = Fraction(1, 4), Fraction(1, 2)
CUTTER = practice("a channel is cut with a router bit or blade no wider than itself")


def run(asked: Asked) -> Iterator[Finding]:
    """Each size of hole, its depth against the bit's reach, and each width of channel."""
    holes: dict[tuple[Fraction, Fraction, Fraction], list[tuple[Part, Bore, Fraction]]] = {}
    widths: dict[Fraction, list[tuple[Part, Channel]]] = {}
    for part in asked.build.parts:
        for cut in part.cuts:
            if isinstance(cut, Bore):
                through = part.size[cut.side.normal].value
                deep = cut.depth.value if cut.depth else through
                holes.setdefault((cut.diameter.value, *give(cut)), []).append((part, cut, deep))
                if cut.step is not None:
                    near = (NEAR_ENOUGH, NEAR_ENOUGH)
                    holes.setdefault((cut.step[0].value, *near), []).append((part, cut, cut.step[1].value))
            elif isinstance(cut, Channel):
                widths.setdefault(cut.width.value, []).append((part, cut))
    for size in sorted(holes):
        yield from _hole(asked, size, holes[size])
    for width in sorted(widths):
        yield from _channel(asked, width, widths[width])


def give(cut: Bore) -> tuple[Fraction, Fraction]:
    """How much smaller and how much larger a bit may be than the hole [mm]."""
    if not is_for_a_fastener(cut):
        return NEAR_ENOUGH, NEAR_ENOUGH
    return (NEAR_ENOUGH, CLEARANCE) if cut.depth is None else (PILOT, PILOT)


def _hole(
    asked: Asked, size: tuple[Fraction, Fraction, Fraction], found: list[tuple[Part, Bore, Fraction]]
) -> Iterator[Finding]:
    diameter, less, more = size
    manner, drills = asked.build.manner, asked.shop.drills
    cut = found[0][1]
    about = tuple(dict.fromkeys(one.name for one, _, _ in found))
    said = f"{len(found)} x {cut.called} of {mm(diameter, manner)} in {listed(about)}"
    least, most = diameter - less, diameter + more
    fits = [drill for drill in drills if least <= drill.diameter <= most]
    if not fits:
        by_nearness = sorted(drills, key=lambda drill: abs(drill.diameter - diameter))
        nearest = by_nearness[0].diameter if by_nearness else None
        has = f"the nearest is {mm(nearest, manner)}" if nearest is not None else "there is none at all"
        advice = f"Get a bit of {mm(diameter, manner)}" + (
            f", or make the holes {mm(nearest, manner)} where that will do." if nearest is not None else "."
        )
        off = abs(nearest - diameter) if nearest is not None else None
        yield Finding(
            CHECK.code, Grade.CARE, cut.place, f"{said}: no bit of that size in the shop; {has}.", advice, SAME, off,
            NEAR_ENOUGH, "mm", about, None, tuple(_other_bits(asked, cut, by_nearness)),
        )  # fmt: skip
        return
    deepest = max(deep for _, _, deep in found)
    reach = max((drill.reach for drill in fits if drill.reach is not None), default=None)
    if reach is not None and all(drill.reach is not None for drill in fits) and reach < deepest:
        deep, far = mm(deepest, manner), mm(reach, manner)
        said += f": up to {deep} deep, the bit reaches {far}."
        advice = f"Get a bit that reaches {deep}, or drill from both sides."
        yield Finding(CHECK.code, Grade.CARE, cut.place, said, advice, SAME, deepest, reach, "mm", about)


def _channel(asked: Asked, width: Fraction, found: list[tuple[Part, Channel]]) -> Iterator[Finding]:
    manner, narrowest = asked.build.manner, narrowest_cut(asked.shop)
    cut = found[0][1]
    about = tuple(dict.fromkeys(one.name for one, _ in found))
    if narrowest is not None and narrowest <= width:
        return
    has = (
        f"the narrowest cut is {mm(narrowest, manner)}" if narrowest is not None else "there is nothing to cut it with"
    )
    yield Finding(
        CHECK.code, Grade.CARE, cut.place,
        f"{len(found)} x {cut.called} {mm(width, manner)} wide in {listed(about)}: {has}.",
        f"Get a router bit of {mm(width, manner)} or smaller.", CUTTER, narrowest, width, "mm", about, None,
        tuple(changes(cut.width, narrowest - width, manner)) if narrowest is not None else (),
    )  # fmt: skip


def _other_bits(asked: Asked, cut: Bore, by_nearness: list[Drill]) -> Iterator[Mend]:
    """The hole in the size of a bit that there is: by its number, or by the thing that is let into it."""
    for drill in by_nearness[:2]:
        yield from changes(cut.diameter, drill.diameter - cut.diameter.value, asked.build.manner)
    discs = {row.diameter_mm: row for row in sorted(magnets().values(), key=lambda row: -row.thick_mm)}
    item = next((i for i in asked.build.items if i.kind in magnets() and i.box and i.box[1][0].value), None)
    for drill in by_nearness[:3] if item is not None else ():
        row = discs.get(drill.diameter)
        if item is not None and row is not None:
            yield worded(item.assembly, ("disc",), row.name.removesuffix(" disc"), f"Take a {row.name}")


def narrowest_cut(shop: Shop) -> Fraction | None:
    """The narrowest channel that the shop can cut [mm]: its smallest straight bit, or the kerf of its table saw."""
    cuts = [bit.size for bit in shop.bits_of("straight", "spiral")] + [saw.kerf for saw in shop.saws_of("table saw")]
    return min(cuts, default=None)


CHECK = Check(
    "tool-sizes", "Has the shop a bit for every hole, and a cutter small enough for every channel?", run, SAME
)
