"""What the drawing needs: which bodies there are, where they lie, how they move. The bodies themselves are sent once each."""

from typing import Any

from storystick.app.pipeline import Job
from storystick.ground.finding import Broken
from storystick.model.build import Build, Move
from storystick.model.joining import Item
from storystick.shapes.pose import Pose, direct
from storystick.shapes.solid import Solid, box, cylinder, union

type Answer = dict[str, Any]

MARK = 20  # letters of a body's print that are enough to know it by


def scene_of(job: Job, build: Build) -> Answer:
    """Parts, hardware, surroundings and moves; what can't be drawn is left out and named."""
    from storystick.model.scene import Scene

    scene = job.__dict__.get("scene") or Scene(build)
    job.__dict__["scene"] = scene
    bodies: dict[str, Solid] = job.__dict__.setdefault("bodies", {})
    left_out: list[str] = []

    def mark(solid: Solid) -> str:
        found = solid.digest[:MARK]
        bodies[found] = solid
        return found

    parts: list[Answer] = []
    site: list[Answer] = []
    try:
        for part in build.parts:
            pose = scene.part_poses[part.name]
            parts.append(
                {
                    "name": part.name, "letter": part.letter, "role": part.role, "assembly": part.assembly,
                    "form": part.stock.form, "solid": part.stock.solid, "body": mark(scene.own_solids[part.name]),
                    "pose": rows(pose), "size": [round(float(d), 3) for d in part.size],
                }
            )  # fmt: skip
        for body in build.site:
            site.append({"name": body.name, "body": mark(scene.site[body.name]), "free": body.stays_free})
        hardware = [one for item in build.items if (one := _item(item, scene.poses, mark)) is not None]
    except (Broken, ValueError, KeyError, ArithmeticError) as trouble:
        left_out.append(str(trouble)[:200])
        hardware = []
    return {
        "parts": parts,
        "site": site,
        "hardware": hardware,
        "moves": [*_drawers(build, scene.poses), *_other_moves(build)],
        "left_out": left_out,
    }


def rows(pose: Pose) -> list[float]:
    """Twelve numbers: three columns of the turn, then the origin."""
    (a, b, c), origin = pose.turn, pose.origin
    return [round(v, 6) for v in (a[0], b[0], c[0], a[1], b[1], c[1], a[2], b[2], c[2], *origin)]


def _item(item: Item, poses: dict[str, Pose], mark: Any) -> Answer | None:
    if item.box is None:
        return None
    at, size = item.box
    numbers = [float(d) for d in size]
    if min(numbers) <= 0:
        return None
    solid = _castor(*numbers) if "castor" in item.kind else box(*numbers)
    if item.round:
        from storystick.shapes.pose import shifted
        from storystick.shapes.solid import moved

        across = min(numbers[0], numbers[1])
        solid = moved(cylinder(across, numbers[2]), shifted((numbers[0] / 2, numbers[1] / 2, 0.0)))
    from storystick.shapes.pose import compose, shifted

    pose = compose(poses[item.assembly], shifted((float(at[0]), float(at[1]), float(at[2]))))
    return {"name": item.name, "assembly": item.assembly, "body": mark(solid), "pose": rows(pose), "says": item.said}


def _castor(wide: float, deep: float, high: float) -> Solid:
    """A castor in its box, drawn plainly: a plate, a fork's block and a wheel."""
    from storystick.shapes.pose import facing, shifted
    from storystick.shapes.solid import moved

    plate = min(6.0, high / 6)
    across = high - plate - min(8.0, high / 8)
    tread = min(wide, deep) * 0.35
    wheel = moved(cylinder(across, tread), facing((1.0, 0.0, 0.0), (wide / 2 - tread / 2, deep / 2, across / 2)))
    block = moved(
        box(tread + 6, across * 0.45, high - across / 2),
        shifted((wide / 2 - tread / 2 - 3, deep / 2 - across * 0.225, across / 2)),
    )
    return union([moved(box(wide, deep, plate), shifted((0.0, 0.0, high - plate))), block, wheel])


def _drawers(build: Build, poses: dict[str, Pose]) -> list[Answer]:
    """Every drawer and tray: the parts that come out with it, which way, how far."""
    found = []
    for slider in build.sliders:
        inside = {slider.assembly}
        for one in build.assemblies:
            if one.inside_of in inside:
                inside.add(one.name)
        found.append(
            {
                "name": slider.name, "kind": "slide", "of": "piece",
                "names": [p.name for p in build.parts if p.assembly in inside]
                + [i.name for i in build.items if i.assembly in inside],
                "way": list(direct(poses[slider.assembly], (0.0, -1.0, 0.0))), "far": round(float(slider.travel), 3),
            }
        )  # fmt: skip
    return found


def _other_moves(build: Build) -> list[Answer]:
    bodies = {body.name for body in build.site}
    moves: list[Move] = [*build.moves, *(body.move for body in build.site if body.move is not None)]
    found = []
    for move in moves:
        names: list[str] = []
        for name in move.names:
            names += [p.name for p in build.parts if p.name == name or p.assembly == name] or [name]
        about = [round(float(d), 3) for d in move.about] if move.about else None
        found.append(
            {
                "name": move.name, "kind": move.kind, "of": "site" if set(move.names) <= bodies else "piece",
                "names": names, "way": list(move.way), "far": round(float(move.far), 3) if move.far else 0.0,
                "about": about, "axis": move.axis, "degrees": list(move.degrees),
            }
        )  # fmt: skip
    return found
