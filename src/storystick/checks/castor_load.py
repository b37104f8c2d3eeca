"""Castor load: what stands on castors, shared by three of them, against what one is rated for."""

from collections.abc import Iterator

from storystick.checks.masses import carried, loads_in, masses
from storystick.checks.saying import G_N_PER_KG, kg
from storystick.checks.stated import lighter, worded
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.source import practice
from storystick.model.check import Asked, Check
from storystick.model.joining import Item
from storystick.physics.tipping import castor_load_n
from storystick.shop.tables import castors, find
from storystick.shop.tables.rows import Castor

THREE = practice("on an uneven floor one of four wheels carries little: three must do")


def run(asked: Asked) -> Iterator[Finding]:
    """Every assembly that stands on castors."""
    for one in asked.build.assemblies:
        wheels = [
            (item, row)
            for item in asked.build.items
            if item.assembly == one.name and (row := find(castors(), item.kind)) is not None
        ]
        if wheels:
            yield _finding(asked, one.name, wheels)


def _finding(asked: Asked, name: str, wheels: list[tuple[Item, Castor]]) -> Finding:
    manner, one = asked.build.manner, asked.build.assembly(name)
    total = sum(mass.newtons for mass in masses(asked, carried(asked, one), filled=True))
    each = castor_load_n(total) / G_N_PER_KG
    weakest = min((row for _, row in wheels), key=lambda row: row.rating_kg)
    said = (
        f"{name} weighs {kg(total / G_N_PER_KG, manner)} with what is in it: {kg(each, manner)} on each of three "
        f"castors; a {weakest.name} is good for {kg(weakest.rating_kg, manner)}."
    )
    numbers = (each, weakest.rating_kg)
    if each <= weakest.rating_kg:
        return Finding(CHECK.code, Grade.FINE, one.place, said, "", THREE, *numbers, "kg", (name,))
    advice = f"Take castors good for {kg(float(int(each) + 1), manner)} each or more."
    tries = (*_stronger(name, wheels, each), *lighter(loads_in(asked, one), weakest.rating_kg / each, manner))
    return Finding(CHECK.code, Grade.CARE, one.place, said, advice, THREE, *numbers, "kg", (name,), None, tries)


def _stronger(name: str, wheels: list[tuple[Item, Castor]], each: float) -> Iterator[Mend]:
    """The next castors of the table that are good for it, by the size of their wheel."""
    now = max(row.wheel_mm for _, row in wheels)
    for row in sorted(castors().values(), key=lambda row: row.wheel_mm):
        if row.rating_kg >= each and row.wheel_mm > now and row.kind == wheels[0][1].kind:
            size = " ".join(row.name.split(" ")[:2])
            yield worded(name, ("castors", "casters", "size"), size, f"Take castors of {size}")
            return


CHECK = Check("castor-load", "Can three of its castors carry it with everything in it?", run, THREE)
