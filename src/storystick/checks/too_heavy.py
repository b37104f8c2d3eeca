"""Too heavy: what one person must lift, against what one person should lift."""

from collections.abc import Iterator

from storystick.checks.saying import kg
from storystick.checks.stated import changes
from storystick.ground.dim import Dim
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.length import Manner
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.model.part import Assembly

LIFT = Source("Revised NIOSH Lifting Equation, load constant 23 kg (NIOSH 94-110)", "read")


def run(asked: Asked) -> Iterator[Finding]:
    """Each assembly that is put in place as one, and the heaviest part."""
    limit = float(asked.shop.lift)
    for one in asked.build.assemblies:
        if not one.inside_of and any(part.assembly == one.name for part in asked.build.parts):
            yield _assembly(asked, one, limit)
    weights = {part.name: asked.scene.kilograms(part.name) for part in asked.build.parts}
    over = [name for name, weight in weights.items() if weight > limit]
    for name in over or sorted(weights, key=lambda name: (-weights[name], name))[:1]:
        yield _part(asked, name, weights[name], limit)


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


CHECK = Check("too-heavy", "Can one person lift each part, and the piece when it is done?", run, LIFT)
