"""Drawer bottom: how far the bottom of a drawer goes down under what is in it."""

from collections.abc import Iterator

from storystick.checks.saying import G_N_PER_KG, at_least, kg, mm, small, worth_telling
from storystick.checks.stated import lighter, thicker
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import Source
from storystick.model.build import Slider
from storystick.model.check import Asked, Check
from storystick.model.part import Part
from storystick.physics.creep import CREEP_RULES, sag_in_the_long_run_mm
from storystick.physics.plate import four_sides_sag_mm
from storystick.physics.sag_limits import allowed_sag_mm
from storystick.shop.tables import find, panels

TEST_KPA = 15 * 0.04788026  # 15 lbf/ft2
KITCHEN = Source(
    "ANSI/KCMA A161.1: 15 lbf/ft2, 1/16 in for each foot and 1/4 in at most; plate held at four sides: Timoshenko",
    "read",
)
CREEP = "european code, plywood"


def run(asked: Asked) -> Iterator[Finding]:
    """Every drawer and tray that has a bottom; of the good ones only the tightest is told."""
    yield from worth_telling(
        ("", _finding(asked, slider, part))
        for slider in asked.build.sliders
        for part in asked.build.parts
        if part.assembly == slider.assembly and part.lies[2] == 2 and "bottom" in part.role
    )


def sag_after_years_mm(part: Part, load_n: float, thick: float) -> float:
    """Sag of a panel held all round under an even load [N], years counted; the lower stiffness of the two ways [mm]."""
    row = find(panels(), part.stock.material)
    e = part.stock.stiffness[0] or (row.e_along_low_mpa if row else 7000.0)
    e *= min(1.0, row.e_across_mpa / row.e_along_mpa) if row else 1.0
    long, wide = float(part.length), float(part.width)
    first = four_sides_sag_mm(load_n / (long * wide), long, wide, thick, e)
    rule = CREEP_RULES.get(row.creep if row else CREEP, CREEP_RULES[CREEP])
    return sag_in_the_long_run_mm(first, 1.0, rule.added)


def _finding(asked: Asked, slider: Slider, part: Part) -> Finding:
    manner = asked.build.manner
    area = float(part.length) * float(part.width)
    found = [load for load in asked.build.loads if load.on in (slider.name, slider.opening, slider.assembly)]
    loads = [load.kilograms for load in found]
    weight = sum(loads) if loads else TEST_KPA * 1e-3 * area / G_N_PER_KG
    usual = "" if loads else " (15 lbf/ft2: the plan gives no load)"
    limit = allowed_sag_mm("kitchen", min(float(part.length), float(part.width)))
    thick = float(part.thickness)
    sag = sag_after_years_mm(part, weight * G_N_PER_KG, thick)
    said = (
        f"{part.name}, {mm(part.thickness.value, manner)} thick, sags {small(sag, manner)} in years under "
        f"{kg(weight, manner)}{usual}; {small(limit, manner)} is allowed."
    )
    if sag <= limit:
        return Finding(CHECK.code, Grade.FINE, slider.place, said, "", KITCHEN, sag, limit, "mm", (part.name,))
    wanted = thick * (sag / limit) ** (1 / 3)
    advice = f"Take a bottom {at_least(wanted, manner)} thick or more, or put a strip under its middle."
    grade = Grade.CARE if loads else Grade.NOTE
    tries = (*thicker(asked, part, wanted, ("bottom stock", "stock")), *lighter(found, limit / sag, manner))
    return Finding(CHECK.code, grade, slider.place, said, advice, KITCHEN, sag, limit, "mm", (part.name,), None, tries)


CHECK = Check("drawer-bottom", "Does the bottom of each drawer stay flat enough under what is in it?", run, KITCHEN)
