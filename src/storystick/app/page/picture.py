"""What the drawing needs: which bodies there are, where they lie, how they move. The bodies are sent once each."""

import hashlib
from collections.abc import Callable, Hashable
from functools import partial
from typing import Any

from storystick.app.pipeline import Job
from storystick.ground.kept import Kept
from storystick.model.body import form_of, form_of_shape, solid_of, solid_of_shape
from storystick.model.build import Build, Move, SiteBody
from storystick.model.joining import Item
from storystick.model.scene import Scene
from storystick.shapes.pose import Pose, compose, direct, facing, shifted
from storystick.shapes.solid import Solid, box, cylinder, moved, union

type Answer = dict[str, Any]
type Bodies = dict[str, Callable[[], Solid]]

MARK = 20  # letters of a body's print that are enough to know it by
_MARKS: Kept[str] = Kept(2048)
HERE = shifted((0.0, 0.0, 0.0))


def scene_of(job: Job, build: Build) -> Answer:
    """Parts, hardware, surroundings and moves. No body is made for it: each has a mark, which says how it would be."""
    scene = Scene(build)
    poses, part_poses = scene.poses, scene.part_poses
    bodies: Bodies = job.__dict__.setdefault("bodies", {})

    def mark(shape: Hashable, make: Callable[[], Solid]) -> str:
        found = _MARKS.of(shape, lambda: hashlib.sha256(repr(shape).encode()).hexdigest()[:MARK])
        bodies[found] = make
        return found

    return {
        "parts": [
            {
                "name": part.name, "letter": part.letter, "role": part.role, "assembly": part.assembly,
                "form": part.stock.form, "solid": part.stock.solid, "pose": rows(part_poses[part.name]),
                "body": mark(form_of(part), partial(solid_of, part)),
                "size": [round(float(d), 3) for d in part.size],
            }
            for part in build.parts
        ],
        "site": [
            {
                "name": body.name, "free": body.stays_free,
                "body": mark(tuple(map(form_of_shape, body.shapes)), partial(_site_body, body)),
            }
            for body in build.site
        ],
        "hardware": [one for item in build.items if (one := _item(item, poses, mark)) is not None],
        "moves": moves_of(build, scene),
    }  # fmt: skip


def moves_of(build: Build, scene: Scene) -> list[Answer]:
    """Everything that moves: what goes with it, and its way."""
    return [*_drawers(build, scene.poses), *_other_moves(build, scene)]


def _site_body(body: SiteBody) -> Solid:
    return union([solid_of_shape(shape) for shape in body.shapes])


def rows(pose: Pose) -> list[float]:
    """Twelve numbers: three columns of the turn, then the origin."""
    (a, b, c), origin = pose.turn, pose.origin
    return [round(v, 6) for v in (a[0], b[0], c[0], a[1], b[1], c[1], a[2], b[2], c[2], *origin)]


def _item(item: Item, poses: dict[str, Pose], mark: Callable[[Hashable, Callable[[], Solid]], str]) -> Answer | None:
    if item.box is None:
        return None
    at, size = item.box
    wide, deep, high = (float(d) for d in size)
    if min(wide, deep, high) <= 0:
        return None
    pose = compose(poses[item.assembly], shifted((float(at[0]), float(at[1]), float(at[2]))))
    kind = "castor" if "castor" in item.kind else "round" if item.round else "box"
    body = mark((kind, wide, deep, high), lambda: _hardware(kind, wide, deep, high))
    return {"name": item.name, "assembly": item.assembly, "body": body, "pose": rows(pose), "says": item.said}


def _hardware(kind: str, wide: float, deep: float, high: float) -> Solid:
    if kind == "castor":
        return _castor(wide, deep, high)
    if kind == "round":
        return moved(cylinder(min(wide, deep), high), shifted((wide / 2, deep / 2, 0.0)))
    return box(wide, deep, high)


def _castor(wide: float, deep: float, high: float) -> Solid:
    """A castor in its box, drawn plainly: a plate, a fork's block and a wheel."""
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


def _other_moves(build: Build, scene: Scene) -> list[Answer]:
    """Lids, doors and things of the site, with all that is in them, on them, or carried along."""
    bodies = {body.name for body in build.site}
    on = {body.name: _standing_on(build, scene, body.name) for body in build.site}
    moves: list[Move] = [*build.moves, *(body.move for body in build.site if body.move is not None)]
    found = []
    for move in moves:
        names: list[str] = []
        for name in move.names:
            inside = scene.inside(name) if name in build.assemblies_by_name else frozenset()
            names += _all_of(build, inside) or [name]
            names += on.get(name, [])
        about = [round(float(d), 3) for d in move.about] if move.about else None
        found.append(
            {
                "name": move.name, "kind": move.kind, "of": "site" if set(move.names) <= bodies else "piece",
                "names": names, "way": list(move.way), "far": round(float(move.far), 3) if move.far else 0.0,
                "about": about, "axis": move.axis, "degrees": list(move.degrees),
            }
        )  # fmt: skip
    return found


def _all_of(build: Build, assemblies: frozenset[str]) -> list[str]:
    """Parts and hardware of some assemblies."""
    parts = [part.name for part in build.parts if part.assembly in assemblies]
    return parts + [item.name for item in build.items if item.assembly in assemblies]


def _standing_on(build: Build, scene: Scene, body: str) -> list[str]:
    """What stands on a thing of the site, and what stands on that: it goes where the thing goes."""
    stands = {body}
    for one in build.assemblies:
        if not one.inside_of and one.stands_on.split(".")[0] in stands:
            stands.add(one.name)
    return _all_of(build, frozenset(name for one in stands - {body} for name in scene.inside(one)))
