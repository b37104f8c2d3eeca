"""Channel lip: the strip of wood between a channel and the edge beside it must not split off."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.checks.saying import G_N_PER_KG, at_least, at_most, kg, like_it, mm
from storystick.checks.stated import changes, more_of, no_more
from storystick.ground.finding import Finding, Grade
from storystick.ground.length import FOOT
from storystick.ground.source import practice
from storystick.model.check import Asked, Check
from storystick.model.cut import Channel
from storystick.model.part import Part
from storystick.physics.groove_lip import lip_force_n

AS_DEEP = practice("a lip beside a channel is at least as thick as the channel is deep, to half a millimetre")
HAIR = Fraction(1, 2)  # [mm]; the play of what lies in the channel comes off the lip
ACROSS = 0.1  # share of the bending strength that is counted on where a lip may split along the grain or between plies


def run(asked: Asked) -> Iterator[Finding]:
    """The lips of every channel that is cut along an edge or an end and is not open to it; alike ones told together."""
    alike: dict[tuple[str, Fraction, Fraction, str], list[tuple[Part, Channel]]] = {}
    for part in asked.build.parts:
        for cut in part.cuts:
            if isinstance(cut, Channel) and cut.side.normal == 2 and (lip := lip_of(part, cut)):
                alike.setdefault((cut.called, cut.depth.value, lip, part.stock.name), []).append((part, cut))
    for (_, _, lip, _), found in alike.items():
        yield _finding(asked, found, lip)


def lip_of(part: Part, cut: Channel) -> Fraction | None:
    """The thinner lip beside a channel [mm]; None where it is open, or both are thick (three times its depth)."""
    across = 1 - cut.runs
    near = cut.at[across].value
    far = part.size[cut.side.axes[across]].value - near - cut.size[across].value
    lips = [lip for lip in (near, far) if 0 < lip < 3 * cut.depth.value]
    return min(lips, default=None)


def _finding(asked: Asked, found: list[tuple[Part, Channel]], lip: Fraction) -> Finding:
    manner, (part, cut) = asked.build.manner, found[0]
    deep = cut.depth.value
    about = tuple(dict.fromkeys(one.name for one, _ in found))
    strength = ACROSS * (part.stock.strength or 40.0)
    run = FOOT if manner.unit == "inch" else Fraction(100)
    bears = lip_force_n(strength, float(deep), float(lip), float(run)) / G_N_PER_KG
    each = "foot" if manner.unit == "inch" else "100 mm"
    said = (
        f"The {cut.called} {cut.name}{like_it(len(found))} leaves a lip of {mm(lip, manner)} at the edge, "
        f"{mm(deep, manner)} high: good for about {kg(bears, manner)} on each {each} of it"
    )
    if lip >= deep - HAIR:
        return Finding(CHECK.code, Grade.FINE, cut.place, f"{said}.", "", AS_DEEP, lip, deep, "mm", about)
    said += "; it may split off."
    advice = f"Leave a lip of {at_least(deep, manner)} or more, or cut it {at_most(lip, manner)} deep or less."
    mend = more_of(cut.at[1 - cut.runs], "in by", deep - lip, manner) or no_more(cut.depth, lip, manner)
    place, far = cut.at[1 - cut.runs], part.size[cut.side.axes[1 - cut.runs]]
    near = place.value == lip
    tries = (*changes(place if near else far, deep - lip, manner), *changes(cut.depth, lip - deep, manner))
    return Finding(CHECK.code, Grade.CARE, cut.place, said, advice, AS_DEEP, lip, deep, "mm", about, mend, tries)


CHECK = Check("channel-lip", "Is the wood between a channel and the edge beside it thick enough?", run, AS_DEEP)
