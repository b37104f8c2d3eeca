"""Pocket screws out of rails on edge up into the top that lies on them, where there is no flat board to screw from."""

from dataclasses import replace

from storystick.craft.draft import Bench, Draft, Wanted, plus
from storystick.craft.jointing import read_way
from storystick.craft.joints.pocket_screwed import cut
from storystick.craft.kinds import Built
from storystick.ground.arithmetic import Scope
from storystick.ground.finding import Place
from storystick.model.joining import Fastener
from storystick.model.part import Three

LONG = 150  # rails that lie under the top for less than this [mm] are passed over


def pocket_up(
    built: Built, top: Draft, rails: list[Draft], axis: int, scope: Scope, place: Place, shift: Three
) -> tuple[Fastener, ...]:
    """Drill each rail from its hidden side, at a slant up into the top. `shift`: where the rails' axes begin in its."""
    bench: Bench = built.bench
    before = len(bench.piece.fasteners)
    low = [plus(top.low[a], -shift[a]) for a in range(3)]
    there = replace(top, low=low, span=list(top.span), assembly=bench.name, cuts=[], grown={}, sized={})
    way = read_way(None, "pocket screws", scope, bench, "frame", place)
    for rail in rails:
        name = f"{rail.name} to {top.name}"
        cut(Wanted(name, way.kind.work, there, rail, axis, 1, way.options, place, bench), bench)
    return tuple(bench.piece.fasteners[before:])
