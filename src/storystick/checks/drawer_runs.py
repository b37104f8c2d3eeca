"""Drawer runs: the room at the sides that its slides want, depth and height of its opening."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from storystick.checks.saying import at_least, at_most, exact, like_it, mm, percent, small
from storystick.checks.slide_room import intruders
from storystick.checks.stated import changes, no_more
from storystick.checks.width_fit import CHANCE
from storystick.ground.dim import spread_of
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import practice
from storystick.model.build import Opening, Slider
from storystick.model.check import Asked, Check
from storystick.model.judged import odds_of
from storystick.model.made import made
from storystick.shop.tables import find, slides

ROOM = practice("slides and runners want the room at each side that their maker says, no less and little more")
ABOVE_MM = Fraction(3)
ABOVE = practice(
    "a drawer box stays 3 mm (1/8 in) below what is above it at least, or it can't be lifted off its slides"
)


def run(asked: Asked) -> Iterator[Finding]:
    """Every drawer and tray; those that have the same room at their sides are told together."""
    openings = {opening.name: opening for opening in asked.build.openings}
    alike: dict[tuple[object, ...], list[Slider]] = {}
    as_made = made(asked.build, asked.shop.errors)
    for slider in asked.build.sliders:
        gap = as_made.as_made(slider.side_gap)
        room = (slider.runs_on, gap.value, *(dim.value for dim in slider.wants))
        alike.setdefault((*room, round(spread_of(gap), 4)), []).append(replace(slider, side_gap=gap))
        opening = openings.get(slider.opening)
        if opening is not None:
            yield from _in_opening(asked, slider, opening)
        yield from _in_the_way(asked, slider)
    for sliders in alike.values():
        yield _sides(asked, sliders)


def _sides(asked: Asked, sliders: list[Slider]) -> Finding:
    manner, slider = asked.build.manner, sliders[0]
    room, sd = slider.side_gap.value, spread_of(slider.side_gap)
    least, most = (dim.value for dim in slider.wants)
    tight, loose = odds_of(room, least, most, sd)
    row = find(slides(), slider.runs_on)
    source = row.comes_from if row else ROOM
    odds = f" Too tight: {percent(tight)}; too loose: {percent(loose)}." if sd else ""
    said = (
        f"{slider.name}{like_it(len(sliders))} has {small(room, manner)} of room at each side; {slider.runs_on} wants "
        f"{small(least, manner)} to {small(most, manner)}.{odds}"
    )
    limit = least if room - least < most - room else most
    about = tuple(one.assembly for one in sliders)
    if max(tight, loose) <= CHANCE:
        return Finding(CHECK.code, Grade.FINE, slider.place, said, "", source, room, limit, "mm", about)
    by = 2 * ((least + most) / 2 - room)
    if abs(by) > Fraction(1, 20):
        advice = f"Make the box {small(abs(by), manner)} {'narrower' if by > 0 else 'wider'}."
    else:
        advice = "Build the case first, measure the opening, and make the box to the reading."
    tries = tuple(changes(slider.side_gap, (least + most) / 2 - room, manner))
    return Finding(CHECK.code, Grade.CARE, slider.place, said, advice, source, room, limit, "mm", about, None, tries)


def _in_the_way(asked: Asked, slider: Slider) -> Iterator[Finding]:
    """What stands where its slides run."""
    found = sorted(intruders(asked, slider), key=lambda each: -each[1])
    if found:
        manner, (name, deep) = asked.build.manner, found[0]
        said = f"{name} reaches {mm(exact(deep), manner)} into the room of the slides of {slider.name}."
        advice = f"Pack the slides out past {name}, or cut it back by {at_least(deep, manner)} or more."
        about = (slider.assembly, name)
        yield Finding(CHECK.code, Grade.STOP, slider.place, said, advice, ROOM, exact(deep), 0, "mm", about)


def _in_opening(asked: Asked, slider: Slider, opening: Opening) -> Iterator[Finding]:
    """The box's depth and height against its opening; the face front has its own gaps and is left out."""
    manner = asked.build.manner
    home = asked.build.assembly(slider.assembly)
    parts = [part for part in asked.build.parts if part.assembly == slider.assembly]
    at, size = opening.at, opening.size
    inner = [part for part in parts if part.role != "drawer face"]
    if not inner:
        return
    about = (slider.assembly,)
    back = max(part.high(1) for part in inner) + home.at[1].value
    end = at[1].value + size[1].value
    said = f"{slider.name} reaches {mm(back - at[1].value, manner)} into {mm(size[1].value, manner)} of depth"
    if back > end:
        advice = f"Make it {at_least(back - end, manner)} shorter or more, or take shorter slides."
        numbers = (back - at[1].value, size[1].value, "mm", about)
        deepest = max(inner, key=lambda part: part.high(1))
        tries = (*changes(deepest.along(1), end - back, manner), *changes(size[1], back - end, manner))
        yield Finding(CHECK.code, Grade.STOP, slider.place, f"{said}.", advice, ROOM, *numbers, None, tries)
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
    tallest = max(inner, key=lambda part: part.high(2))
    mend = None if below < 0 else no_more(tallest.width, most, manner)
    tries = (*changes(tallest.width, most - (top - low), manner), *changes(size[2], (top - low) - most, manner))
    yield Finding(CHECK.code, grade, slider.place, f"{said}.", advice, ABOVE, number, limit, "mm", about, mend, tries)


CHECK = Check("drawer-runs", "Does each drawer fit its opening, with the room at its sides that it runs on?", run, ROOM)
