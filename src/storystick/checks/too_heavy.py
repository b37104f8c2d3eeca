"""Too heavy: what one person must lift, against what one person should lift."""

from collections.abc import Iterator

from storystick.checks.saying import kg, listed
from storystick.checks.stated import changes
from storystick.ground.dim import Dim
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.length import Manner
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.model.part import Assembly
from storystick.model.sequence import Coming

LIFT = Source("Revised NIOSH Lifting Equation, load constant 23 kg (NIOSH 94-110)", "read")


def run(asked: Asked) -> Iterator[Finding]:
    """Each assembly that is put in place as one, the heaviest part, and what is lifted together in between."""
    limit = float(asked.shop.lift)
    weights = {part.name: asked.scene.kilograms(part.name) for part in asked.build.parts}
    lone = {one.name for one in asked.build.assemblies if sum(p.assembly == one.name for p in asked.build.parts) == 1}
    alone = {part.name for part in asked.build.parts if part.assembly in lone and weights[part.name] > limit}
    for one in asked.build.assemblies:
        mine = [part.name for part in asked.build.parts if part.assembly == one.name]
        if mine and not one.inside_of and not alone.intersection(mine):
            yield _assembly(asked, one, limit)
    over = [name for name, weight in weights.items() if weight > limit]
    heaviest = max(_lifts(asked), key=lambda lift: lift[0], default=None)
    if heaviest is not None and heaviest[0] > limit:
        yield _together(asked, heaviest[1], heaviest[0], limit)
    for name in over or sorted(weights, key=lambda name: (-weights[name], name))[:1]:
        yield _part(asked, name, weights[name], limit)


def _lifts(asked: Asked) -> Iterator[tuple[float, Coming]]:
    """Weight of everything that comes to something else as one, of several parts, from above or along; in order."""
    weights = {item.name: item.kilograms * item.count for item in asked.build.items}
    weights |= {part.name: asked.scene.kilograms(part.name) for part in asked.build.parts}
    for coming in asked.sequence.comings if asked.sequence is not None else ():
        if coming.meets and len(coming.moves) > 1:
            yield sum(weights.get(name, 0.0) for name in coming.moves), coming


def _together(asked: Asked, one: Coming, weight: float, limit: float) -> Finding:
    """What is lifted as one while the piece is put together."""
    manner = asked.build.manner
    place = next((p.place for p in asked.build.parts if p.name in one.moves), asked.build.place)
    said = (
        f"{listed(one.moves)} come as one to {listed(one.meets)} with {kg(weight, manner)}; one person lifts "
        f"{kg(limit, manner)}."
    )
    advice = "Lift it with two people, or stand what it meets on its side so that it slides on."
    return Finding(CHECK.code, Grade.NOTE, place, said, advice, LIFT, weight, limit, "kg", one.moves)


def _assembly(asked: Asked, one: Assembly, limit: float) -> Finding:
    manner, weight = asked.build.manner, asked.scene.weight_of(one.name)
    said = f"{one.name} weighs {kg(weight, manner)} when it is done, empty; one person lifts {kg(limit, manner)}"
    if weight <= limit:
        return Finding(CHECK.code, Grade.FINE, one.place, f"{said}.", "", LIFT, weight, limit, "kg", (one.name,))
    if one.swivels:
        said += ", but it rolls on its castors."
        advice = f"Set it on its wheels with two people; tipping it up over one edge takes {kg(weight / 2, manner)}."
        return Finding(CHECK.code, Grade.NOTE, one.place, said, advice, LIFT, weight, limit, "kg", (one.name,))
    advice = "Put it in place with two people, give it castors, or put it together where it stands."
    if one.held_by and not one.stands_on:  # on a wall
        advice = "Lift it with two people, its doors and loose shelves off, onto a board screwed to the wall below it."
    tries = tuple(_smaller(sorted(one.size, key=lambda dim: dim.value), weight, limit, manner))
    numbers = (LIFT, weight, limit, "kg", (one.name,), None, tries)
    return Finding(CHECK.code, Grade.CARE, one.place, f"{said}.", advice, *numbers)


def _smaller(size: list[Dim], weight: float, limit: float, manner: Manner) -> Iterator[Mend]:
    """Each of its sizes brought down in proportion, and a little more for what does not shrink with it."""
    for share in (limit / weight, (limit / weight) ** 2.5):
        for dim in size:
            yield from changes(dim, -float(dim) * (1 - share), manner)


def _part(asked: Asked, name: str, weight: float, limit: float) -> Finding:
    manner, place = asked.build.manner, asked.build.part(name).place
    if weight <= limit:
        said = f"The heaviest part, {name}, weighs {kg(weight, manner)}; one person lifts {kg(limit, manner)}."
        return Finding(CHECK.code, Grade.FINE, place, said, "", LIFT, weight, limit, "kg", (name,))
    said = f"{name} alone weighs {kg(weight, manner)}; one person lifts {kg(limit, manner)}."
    advice = "Handle it with two people, or make it from two pieces."
    part = asked.build.part(name)
    tries = tuple(_smaller([part.width, part.length], weight, limit, manner))
    return Finding(CHECK.code, Grade.CARE, place, said, advice, LIFT, weight, limit, "kg", (name,), None, tries)


CHECK = Check("too-heavy", "Can one person lift each part, and the piece when it is done?", run, LIFT, looks="bodies")
