"""Gaps close: solid wood that swells must not fill the gap that it moves in, nor shrink out of what holds it."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.checks.saying import at_least, mm, small, worth_telling
from storystick.checks.stated import changes
from storystick.checks.wood_movement import season_change_mm
from storystick.ground.dim import Named, walk
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.model.joining import Fit
from storystick.model.part import Part

SEASONS = Source(
    "Wood Handbook FPL-GTR-190, eqs. 4-5, 13-2 and 13-3, flat sawn; made in the driest time of the shop's year", "read"
)


def run(asked: Asked) -> Iterator[Finding]:
    """Every gap that a board of solid wood lies in with its width: a front in its opening, a panel in its grooves."""
    parts = asked.build.parts_by_name
    found = [(fit, parts[fit.goes_in]) for fit in asked.build.fits if fit.goes_in in parts]
    yield from worth_telling(
        ("", _finding(asked, fit, part)) for fit, part in found if part.stock.solid and is_across(fit, part)
    )


def is_across(fit: Fit, part: Part) -> bool:
    """Whether what goes in goes in with its width, across its grain: the gap is reckoned from that number."""
    wide = part.width.value
    return any(isinstance(one.node, Named) and one.power == 1 and one.value == wide for one in walk(fit.gap))


def _finding(asked: Asked, fit: Fit, part: Part) -> Finding:
    manner, gap = asked.build.manner, fit.gap.value
    swells = season_change_mm(asked, part, float(part.width))
    left = float(gap) - swells
    said = (
        f"{fit.name}: {part.name} is {mm(part.width.value, manner)} across its grain and swells "
        f"{small(swells, manner)} from the driest to the dampest time of the year, in a gap of {small(gap, manner)}"
    )
    about = (part.name, fit.into)
    if left >= 0:
        said += f": {small(left, manner)} stays."
        return Finding(CHECK.code, Grade.FINE, fit.place, said, "", SEASONS, left, 0, "mm", about)
    narrower = Fraction(str(round(-left, 6)))
    advice = (
        f"Make it {at_least(narrower, manner)} narrower or more, or of sheet stock; or fit it in the dampest time of "
        f"the year."
    )
    tries = tuple(changes(fit.gap, narrower, manner))
    numbers = (SEASONS, left, 0, "mm", about, None, tries)
    return Finding(CHECK.code, Grade.CARE, fit.place, f"{said}: it sticks.", advice, *numbers)


CHECK = Check("gaps-close", "Does solid wood leave its gaps open when it swells: fronts, doors, panels?", run, SEASONS)
