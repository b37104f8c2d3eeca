"""Drawer runs: the room at the sides that its slides want, depth and height of its opening."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.checks.saying import at_least, at_most, mm, percent
from storystick.ground.dim import spread_of
from storystick.ground.finding import Finding, Grade
from storystick.ground.length import show_number
from storystick.ground.source import practice
from storystick.model.build import Opening, Slider
from storystick.model.check import Asked, Check
from storystick.model.part import Part
from storystick.physics.tolerance import chance_below
from storystick.shop.tables import find, slides

ROOM = practice("slides and runners want the room at each side that their maker says, no less and little more")
ABOVE_MM = Fraction(3)
ABOVE = practice("a drawer box stays 3 mm (1/8 in) below what is above it at least")
CHANCE = 0.10


def run(asked: Asked) -> Iterator[Finding]:
    """Every drawer and tray."""
    openings = {opening.name: opening for opening in asked.build.openings}
    for slider in asked.build.sliders:
        yield _sides(asked, slider)
        opening = openings.get(slider.opening)
        if opening is not None:
            yield from _in_opening(asked, slider, opening)


def _sides(asked: Asked, slider: Slider) -> Finding:
    room, sd = slider.side_gap.value, spread_of(slider.side_gap)
    least, most = (dim.value for dim in slider.wants)
    tight = chance_below(float(least), float(room), sd) if sd else float(room < least)
    loose = 1 - chance_below(float(most), float(room), sd) if sd else float(room > most)
    row = find(slides(), slider.runs_on)
    source = row.comes_from if row else ROOM
    odds = f" Too tight: {percent(tight)}; too loose: {percent(loose)}." if sd else ""
    said = (
        f"{slider.name} has {small(room)} of room at each side; {slider.runs_on} wants {small(least)} to {small(most)}."
        + odds
    )
    limit = least if room - least < most - room else most
    if max(tight, loose) <= CHANCE:
        return Finding(CHECK.code, Grade.FINE, slider.place, said, "", source, room, limit, "mm", (slider.assembly,))
    middle = (least + most) / 2
    by = 2 * (middle - room)
    if abs(by) > Fraction(1, 20):
        advice = f"Make the box {small(abs(by))} {'narrower' if by > 0 else 'wider'}."
    else:
        advice = "Build the case first, measure the opening, and make the box to the reading."
    return Finding(CHECK.code, Grade.CARE, slider.place, said, advice, source, room, limit, "mm", (slider.assembly,))


def _in_opening(asked: Asked, slider: Slider, opening: Opening) -> Iterator[Finding]:
    """The box's depth and height against its opening; of the parts, what lies behind the front edge of the opening."""
    manner = asked.build.manner
    home = asked.build.assembly(slider.assembly)
    parts = [part for part in asked.build.parts if part.assembly == slider.assembly]
    at, size = opening.at, opening.size
    inner = [part for part in parts if _centre(part, 1) + home.at[1].value > at[1].value]
    if not inner:
        return
    about = (slider.assembly,)
    back = max(part.high(1) for part in inner) + home.at[1].value
    end = at[1].value + size[1].value
    said = f"{slider.name} reaches {mm(back - at[1].value, manner)} into {mm(size[1].value, manner)} of depth"
    if back > end:
        advice = f"Make it {at_least(back - end, manner)} shorter or more, or take shorter slides."
        numbers = (back - at[1].value, size[1].value)
        yield Finding(CHECK.code, Grade.STOP, slider.place, f"{said}.", advice, ROOM, *numbers, "mm", about)
    top = max(part.high(2) for part in inner) + home.at[2].value
    low = min(part.low(2) for part in inner) + home.at[2].value
    above, below = at[2].value + size[2].value - top, low - at[2].value
    said = f"{slider.name} has {mm(above, manner)} of room above and {mm(below, manner)} below its box"
    if above >= ABOVE_MM and below >= 0:
        yield Finding(CHECK.code, Grade.FINE, slider.place, f"{said}.", "", ABOVE, above, ABOVE_MM, "mm", about)
        return
    grade = Grade.STOP if above < 0 or below < 0 else Grade.CARE
    most = size[2].value - ABOVE_MM - max(below, Fraction(0))
    advice = f"Make its box {at_most(most, manner)} high or less" + (" and set it higher." if below < 0 else ".")
    number, limit = (below, Fraction(0)) if below < 0 else (above, ABOVE_MM)
    yield Finding(CHECK.code, grade, slider.place, f"{said}.", advice, ABOVE, number, limit, "mm", about)


def _centre(part: Part, axis: int) -> Fraction:
    return (part.low(axis) + part.high(axis)) / 2


def small(value: Fraction) -> str:
    """A room at the side of a drawer: in tenths of a millimetre whatever the plan's units are, as slides are made."""
    return show_number(value, 2) + " mm"


CHECK = Check("drawer-runs", "Does each drawer fit its opening, with the room at its sides that it runs on?", run, ROOM)
