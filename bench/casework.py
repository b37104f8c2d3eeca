"""Cutting lists as they come from casework: sides, bottoms, shelves, rails, drawer boxes and fronts, by the cabinet."""

from fractions import Fraction
from random import Random

from storystick.layout.sheets import SheetProblem
from storystick.model.cutting import Blank, Sheet, Trim, trim_all

INCH = Fraction(254, 10)


def casework(seed: int) -> SheetProblem:
    """One job: one to five cabinets of one depth, in millimetres or in inches; the same seed, the same job."""
    dice = Random(seed)
    metric = dice.random() < 0.6
    thick = Fraction(18) if metric else Fraction(23, 32) * INCH
    blanks: list[Blank] = []

    def measure(low: int, high: int) -> Fraction:
        """A size as it is chosen: tens of millimetres, or quarters of an inch."""
        whole = dice.randint(low, high)
        return Fraction(whole // 10 * 10) if metric else Fraction(round(whole / 25.4 * 4), 4) * INCH

    def add(name: str, long: Fraction, wide: Fraction, copies: int, along_grain: bool | None = True) -> None:
        for _ in range(copies):
            key = f"{name} {len(blanks)}"
            blanks.append(Blank(key, long, wide, along_grain, name, setting_group=name if copies > 1 else ""))

    deep, high = measure(280, 610), measure(700, 900)
    for number in range(dice.randint(1, 5)):
        wide = measure(350, 950)
        inside = wide - 2 * thick
        grooved = inside + 12 if metric else inside + INCH / 2
        tall = measure(1500, 2100) if dice.random() < 0.15 else high
        add(f"side {number}", tall, deep, 2)
        add(f"bottom {number}", grooved, deep, dice.choice((1, 2)))
        if dice.random() < 0.6:
            add(f"rail {number}", inside, measure(80, 100), 2, None)
        shelves = dice.randint(0, 3)
        if shelves:
            add(f"shelf {number}", inside - 2, deep - 20, shelves)
        if dice.random() < 0.4:
            add(f"divider {number}", tall - 2 * thick, deep - 20, 1)
        drawers = dice.choice((0, 0, 2, 3, 4))
        if drawers:
            run = (deep - 50) // 50 * 50
            box, front = measure(90, 200), (tall - 3 * (drawers - 1)) / drawers
            add(f"drawer side {number}", Fraction(run), box, 2 * drawers, None)
            add(f"drawer end {number}", inside - 26 - 2 * thick, box, 2 * drawers, None)
            add(f"front {number}", wide - 3, Fraction(int(front)), drawers, None)
        elif dice.random() < 0.5:
            add(f"door {number}", tall - 4, (wide - 6) / 2, 2)
    size = (Fraction(2440), Fraction(1220)) if metric else (96 * INCH, 48 * INCH)
    sheets = [Sheet("whole", *size, Fraction(80))]
    if dice.random() < 0.4:
        sheets.append(Sheet("half", size[0] / 2, size[1], Fraction(48)))
    if dice.random() < 0.4:
        offcut = Fraction(dice.randint(60, 150) * 10), Fraction(dice.randint(25, 80) * 10)
        sheets.append(Sheet("offcut", *offcut, Fraction(0), 1, on_hand=True, sawn=True))
    kerf = Fraction("3.2") if metric else INCH / 8
    trim = trim_all(Fraction(10)) if dice.random() < 0.5 else Trim()
    return SheetProblem(tuple(blanks), tuple(sheets), kerf, trim)
