"""Where two things meet: the very place in the room, at rest or on the way of whatever moves, as a body to be drawn."""

from typing import Any

from storystick.app.page.picture import HERE, moves_of, rows
from storystick.app.pipeline import Job
from storystick.checks import moving
from storystick.model.body import solid_of_shape
from storystick.model.check import Asked
from storystick.shapes.clash import clashes
from storystick.shapes.pose import Pose, shifted, turned
from storystick.shapes.solid import Solid, boxes_apart, meet, moved, union

type Answer = dict[str, Any]

STEPS = 24  # looks along the way of a thing that moves
LEAST = 1.0  # what is smaller than this is only touching [mm3]


def where(job: Job, one: str, other: str) -> Answer:
    """The place that two named things share: its body, and the move and share of its way at which they do.

    Nothing (`{}`) where they don't meet, or where either is no single thing.
    """
    known = _solids(job, {one, other})
    if len(known) < 2:
        return {}
    shared = _shared(known[one], known[other])
    if shared is not None:
        return _told(job, shared, "", 0.0)
    for move in moves_of(job.build, job.scene):
        goes = set(move["names"]) & {one, other}
        if len(goes) != 1:
            continue
        (mover,) = goes
        stays = known[other if mover == one else one]
        for step in range(1, STEPS + 1):
            shared = _shared(moved(known[mover], _after(move, step / STEPS)), stays)
            if shared is not None:
                return _told(job, shared, move["name"], step / STEPS)
    return {}


def _solids(job: Job, names: set[str]) -> dict[str, Solid]:
    asked = Asked(job.build, job.scene, job.shop)
    found = {name: solid for name, solid in moving.bodies_of(asked) if name in names and not solid.is_empty}
    found |= {b.name: union([solid_of_shape(s) for s in b.shapes]) for b in job.build.site if b.name in names}
    return found


def _shared(one: Solid, other: Solid) -> Solid | None:
    if boxes_apart(one.bounds, other.bounds) > 0 or not clashes([("one", one), ("other", other)]):
        return None
    found = meet(one, other)
    return found if not found.is_empty and found.volume > LEAST else None


def _after(move: Answer, share: float) -> Pose:
    """Where a thing is after a share of its way, as the browser moves it."""
    if move["kind"] == "slide":
        x, y, z = (w * move["far"] * share for w in move["way"])
        return shifted((x, y, z))
    low, high = move["degrees"]
    axis = move["axis"]
    x, y, z = move["about"] or (0.0, 0.0, 0.0)
    return turned((float(axis == 0), float(axis == 1), float(axis == 2)), low + (high - low) * share, (x, y, z))


def _told(job: Job, shared: Solid, move: str, share: float) -> Answer:
    mark = "meet" + shared.digest[:16]
    job.__dict__.setdefault("bodies", {})[mark] = lambda: shared
    return {"body": mark, "pose": rows(HERE), "move": move, "share": share}
