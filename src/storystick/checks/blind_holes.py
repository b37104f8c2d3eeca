"""Blind holes: a hole that is not to come through leaves wood before the far side, and before what is cut there."""

from collections.abc import Iterator
from fractions import Fraction
from math import cos, hypot, radians

from storystick.checks.driven import is_for_a_fastener
from storystick.checks.saying import at_most, like_it, mm
from storystick.checks.stated import changes, no_more, thicker
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import practice
from storystick.model.check import Asked, Check
from storystick.model.cut import Bore, Channel
from storystick.model.part import Part

LEAVE = Fraction(2)
SKIN = practice("a blind hole leaves 2 mm (1/16 in) of wood at least; bits have points")


def run(asked: Asked) -> Iterator[Finding]:
    """Every hole of some depth but those of screws; alike ones told together, of the good ones the thinnest."""
    alike: dict[tuple[str, Fraction, Fraction], list[tuple[Part, Bore, Bore | Channel | None]]] = {}
    for part in asked.build.parts:
        for cut in part.cuts:
            if isinstance(cut, Bore) and cut.depth is not None and not is_for_a_fastener(cut):
                left, other = _left(part, cut, cut.depth.value)
                alike.setdefault((cut.called, cut.depth.value, left), []).append((part, cut, other))
    good = [key for key in alike if key[2] >= LEAVE]
    shown = {min(good, key=lambda key: key[2])} if good else set()
    for key, found in alike.items():
        if key[2] < LEAVE or key in shown:
            yield _finding(asked, found, key[2])


def _left(part: Part, cut: Bore, depth: Fraction) -> tuple[Fraction, Bore | Channel | None]:
    """Wood left under a hole [mm], and the cut from the other side that it is left before, if any."""
    deep = depth * Fraction(str(round(cos(radians(cut.lean)), 9)))
    left = part.size[cut.side.normal].value - deep
    ends = [
        (left - other.depth.value, other)
        for other in part.cuts
        if isinstance(other, Bore | Channel) and other.depth is not None and _opposite(cut, other) and _over(cut, other)
    ]
    return min(ends, key=lambda end: end[0]) if ends else (left, None)


def _opposite(cut: Bore, other: Bore | Channel) -> bool:
    return other.side.normal == cut.side.normal and other.side is not cut.side


def _over(cut: Bore, other: Bore | Channel) -> bool:
    """Whether a cut from the other side lies over a hole."""
    if isinstance(other, Bore):
        reach = float(cut.diameter + other.diameter) / 2
        return hypot(float(cut.at[0] - other.at[0]), float(cut.at[1] - other.at[1])) < reach
    half = cut.diameter.value / 2
    return all(
        other.at[i].value - half < cut.at[i].value < other.at[i].value + other.size[i].value + half for i in (0, 1)
    )


def _finding(asked: Asked, found: list[tuple[Part, Bore, Bore | Channel | None]], left: Fraction) -> Finding:
    manner, (part, cut, other) = asked.build.manner, found[0]
    deep = cut.depth.value if cut.depth else Fraction(0)
    about = tuple(dict.fromkeys(one.name for one, _, _ in found))
    before = f" before {other.name}" if other is not None else ""
    said = f"The {cut.called} {cut.name}{like_it(len(found))} is {mm(deep, manner)} deep in {part.name}"
    if left >= LEAVE:
        said += f" and leaves {mm(left, manner)}{before}."
        return Finding(CHECK.code, Grade.FINE, cut.place, said, "", SKIN, left, LEAVE, "mm", about)
    said += (
        f" and comes through{before.replace('before', 'into')}."
        if left <= 0
        else f" and leaves {mm(left, manner)}{before}."
    )
    most = deep - (LEAVE - left)
    advice = f"Bore it {at_most(most, manner)} deep or less." if most > 0 else "Move one of the two."
    grade = Grade.STOP if left <= 0 else Grade.CARE
    mend = no_more(cut.depth, most, manner) if cut.depth and not cut.lean else None
    tries = tuple(changes(cut.depth, most - deep, manner)) if cut.depth and not cut.lean else ()
    tries += tuple(thicker(asked, part, float(part.thickness.value + LEAVE - left), ("stock",)))
    if isinstance(other, Channel | Bore) and other.depth is not None:
        tries += tuple(changes(other.depth, left - LEAVE, manner))
    return Finding(CHECK.code, grade, cut.place, said, advice, SKIN, left, LEAVE, "mm", about, mend, tries)


CHECK = Check("blind-holes", "Do holes that are not to come through leave wood before the far side?", run, SKIN)
