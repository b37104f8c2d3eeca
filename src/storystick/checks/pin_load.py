"""Pin load: what each pin under a loose shelf carries."""

from collections.abc import Iterator

from storystick.checks.bearing import Bearer, bearers
from storystick.checks.saying import G_N_PER_KG, kg, worth_telling
from storystick.checks.stated import lighter
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import practice
from storystick.model.check import Asked, Check
from storystick.model.joining import Item
from storystick.shop.tables import find, shelf_pins
from storystick.shop.tables.rows import ShelfPin

LEFT_OUT = 1  # a shelf and four holes are never so true that all four pins carry
PIN = practice("of four pins under a stiff shelf three carry; what one pin carries is that of its row in the table")


def run(asked: Asked) -> Iterator[Finding]:
    """Every shelf on pins, with what the plan puts on it or the usual load; of the good ones only the tightest."""
    under = {item.name: (item, row) for item in asked.build.items if (row := find(shelf_pins(), item.kind)) is not None}
    on_pins = ((one, under[f"{one.name} pins"]) for one in bearers(asked) if f"{one.name} pins" in under)
    yield from worth_telling(("", _finding(asked, one, *pins)) for one, pins in on_pins)


def _finding(asked: Asked, one: Bearer, item: Item, row: ShelfPin) -> Finding:
    manner, carry = asked.build.manner, max(1, item.count - LEFT_OUT)
    whole = sum(newtons for newtons, _ in one.shelf.carries()) / G_N_PER_KG
    each = whole / carry
    usual = " (the usual 40 lbf/ft2: the plan gives no load)" if one.usual else ""
    said = (
        f"{one.name} weighs {kg(whole, manner)} with its load{usual} on {item.count} pins, of which {carry} surely "
        f"carry: {kg(each, manner)} on each; a {row.name} carries {kg(row.load_kg, manner)}."
    )
    numbers = (each, row.load_kg, "kg", (one.name,))
    if each <= row.load_kg:
        return Finding(CHECK.code, Grade.FINE, one.place, said, "", PIN, *numbers)
    room = row.load_kg * carry - one.shelf.own_kg
    advice = (
        f"Put {kg(max(0.0, int(room * 10) / 10), manner)} on it or less in all, fix the shelf in its sides, or give it "
        "a divider below."
    )
    loads = sum(load.kilograms for load in one.shelf.loads)
    tries = tuple(lighter(one.asked_for, room / loads if loads else 0.0, manner))
    grade = Grade.NOTE if one.usual else Grade.CARE
    return Finding(CHECK.code, grade, one.place, said, advice, PIN, *numbers, None, tries)


CHECK = Check("pin-load", "Do the pins under each loose shelf carry it with what is on it?", run, PIN)
