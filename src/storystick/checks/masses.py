"""What weighs where: the parts, hardware and loads of a piece that stands as one, each with its place in the room."""

from collections.abc import Iterator
from dataclasses import dataclass

from storystick.checks.moving import drawers
from storystick.checks.saying import G_N_PER_KG
from storystick.model.build import Load, Opening
from storystick.model.check import Asked
from storystick.model.part import Assembly, Three
from storystick.model.stock import Stock
from storystick.physics.tipping import drawer_fill_kg, drawer_volume_mm3
from storystick.shapes.motion import Slide
from storystick.shapes.pose import Vector, apply, plus
from storystick.shapes.solid import Solid
from storystick.shop.tables import find, panels, woods


@dataclass(frozen=True, slots=True)
class Mass:
    """Something heavy: its name, weight [N], place in the room; which drawer it comes out with, if any."""

    name: str
    newtons: float
    at: Vector
    drawer: str = ""
    is_load: bool = False


def solids_of(asked: Asked, within: frozenset[str]) -> tuple[Solid, ...]:
    """The parts of some assemblies as solids in the room; none for a part of which nothing is left."""
    named = (part.name for part in asked.build.parts if part.assembly in within)
    return tuple(solid for name in named if not (solid := asked.scene.parts[name]).is_empty)


def standing(asked: Asked) -> tuple[Assembly, ...]:
    """The assemblies that stand by themselves: on the floor or on something of the site, fixed to nothing."""
    own = asked.build.assemblies_by_name
    parts = {part.assembly for part in asked.build.parts}
    return tuple(
        one
        for one in asked.build.assemblies
        if not one.inside_of and one.stands_on and one.stands_on.split(".")[0] not in own and not one.held_by
        if asked.scene.inside(one.name) & parts and solids_of(asked, asked.scene.inside(one.name))
    )


def carried(asked: Asked, one: Assembly) -> frozenset[str]:
    """Names of an assembly, of all that is inside it and of all that stands or hangs on it."""
    names = {one.name}
    for other in asked.build.assemblies:
        if not other.inside_of and other.stands_on.split(".")[0] in names:
            names.add(other.name)
    return frozenset(name for top in names for name in asked.scene.inside(top))


def masses(asked: Asked, within: frozenset[str], *, filled: bool) -> tuple[Mass, ...]:
    """Everything that weighs in some assemblies; with the loads of the plan, and drawers filled, where asked for."""
    return tuple(_masses(asked, within, filled))


def _masses(asked: Asked, within: frozenset[str], filled: bool) -> Iterator[Mass]:
    build, scene = asked.build, asked.scene
    inside_of = {
        name: slider.name for slider in build.sliders for name in scene.inside(slider.assembly)
    }  # fmt: skip
    for part in build.parts:
        if part.assembly in within and not scene.parts[part.name].is_empty:
            weight = scene.kilograms(part.name) * G_N_PER_KG
            yield Mass(part.name, weight, scene.parts[part.name].centre, inside_of.get(part.assembly, ""))
    for item in build.items:
        if item.assembly in within and item.kilograms:
            assembly = build.assembly(item.assembly)
            box = item.box or ((assembly.at[0] * 0, assembly.at[1] * 0, assembly.at[2] * 0), assembly.size)
            at = apply(scene.poses[item.assembly], middle(*box))
            weight = item.kilograms * item.count * G_N_PER_KG
            yield Mass(item.name, weight, at, inside_of.get(item.assembly, ""))
    if filled:
        yield from _loads(asked, within)


def _loads(asked: Asked, within: frozenset[str]) -> Iterator[Mass]:
    build, scene = asked.build, asked.scene
    openings = {opening.name: opening for opening in build.openings}
    sliders = {slider.name: slider for slider in build.sliders} | {s.opening: s for s in build.sliders}
    loaded: set[str] = set()
    for load in build.loads:
        found = place_of(asked, load)
        if found is None or found[0] not in within:
            continue
        slider = sliders.get(load.on)
        if slider is not None:
            loaded.add(slider.name)
        yield Mass(load.on, load.kilograms * G_N_PER_KG, found[1], slider.name if slider else "", True)
    for slider in build.sliders:
        opening = openings.get(slider.opening)
        if slider.name in loaded or opening is None or opening.assembly not in within:
            continue
        weight = fill_kg(opening) * G_N_PER_KG
        at = apply(scene.poses[opening.assembly], middle(opening.at, opening.size))
        yield Mass(f"what is in {slider.name}", weight, at, slider.name, True)


def fill_kg(opening: Opening) -> float:
    """What a stability test puts into a drawer of that opening [kg]: 8.5 lb for each cubic foot."""
    wide, deep, high = (float(dim) for dim in opening.size)
    return drawer_fill_kg(drawer_volume_mm3(wide, deep, high))


def loads_in(asked: Asked, one: Assembly) -> tuple[Load, ...]:
    """The loads of the plan on an assembly and on all that it carries."""
    within = carried(asked, one)
    return tuple(load for load in asked.build.loads if (found := place_of(asked, load)) and found[0] in within)


def place_of(asked: Asked, load: Load) -> tuple[str, Vector] | None:
    """The assembly that a load bears on, and where it is in the room; None where its place is not known."""
    build, scene = asked.build, asked.scene
    for opening in build.openings:
        if opening.name == load.on:
            return opening.assembly, apply(scene.poses[opening.assembly], middle(opening.at, opening.size))
    if load.on in build.parts_by_name and not scene.parts[load.on].is_empty:
        (x0, y0, _), (x1, y1, z1) = scene.parts[load.on].bounds
        return build.part(load.on).assembly, ((x0 + x1) / 2, (y0 + y1) / 2, z1)
    one = build.assemblies_by_name.get(load.on)
    if one is None:
        return None
    wide, deep, high = (float(dim) for dim in one.size)
    return one.name, apply(scene.poses[one.name], (wide / 2, deep / 2, high))


def pulled_out(asked: Asked, found: tuple[Mass, ...], out: frozenset[str]) -> tuple[Mass, ...]:
    """The same with some drawers all the way out, and what is in them."""
    ways = {mover.name: mover.motion.by for mover in drawers(asked) if isinstance(mover.motion, Slide)}
    return tuple(
        Mass(mass.name, mass.newtons, plus(mass.at, ways[mass.drawer]), mass.drawer, mass.is_load)
        if mass.drawer in out and mass.drawer in ways
        else mass
        for mass in found
    )


def middle(at: Three, size: Three) -> Vector:
    """The middle of a box."""
    x, y, z = (float(low) + float(long) / 2 for low, long in zip(at, size, strict=True))
    return (x, y, z)


def gravity_of(stock: Stock) -> float:
    """Specific gravity to put into the formulas for screws: from the tables, else from its density."""
    panel, wood = find(panels(), stock.material), find(woods(), stock.material)
    if panel:
        return panel.screw_gravity
    return wood.gravity if wood else stock.density / 1000 / 1.12  # 12 % of water in it
