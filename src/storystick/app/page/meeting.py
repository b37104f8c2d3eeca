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
BOTH = 10  # and along each way where two move
LEAST = 1.0  # what is smaller than this is only touching [mm3]


def where(job: Job, one: str, other: str) -> Answer:
    """The place that two named things share: its body, and how far on its way what moves has come by then.

    At rest first, then one of them moving, then both. Nothing (`{}`) where they don't meet, or where either is no
    single thing.
    """
    known = _solids(job, {one, other})
    if len(known) < 2:
        return {}
    ways = {name: _ways(job, name, other if name == one else one) for name in (one, other)}
    for steps in (0, STEPS, BOTH):
        if found := _first(job, known, one, other, ways, steps):
            return found
    return {}


def _ways(job: Job, name: str, other: str) -> list[Answer]:
    """What moves one thing without the other."""
    return [move for move in moves_of(job.build, job.scene) if name in move["names"] and other not in move["names"]]


def _first(
    job: Job, known: dict[str, Solid], one: str, other: str, ways: dict[str, list[Answer]], steps: int
) -> Answer:  # fmt: skip
    """The first of some looks at which they share a place: neither moved, either, or (`steps` as BOTH) both."""
    here = [(known[one], dict[str, float]())], [(known[other], dict[str, float]())]
    if steps == 0:
        looks = [(a, b) for a in here[0] for b in here[1]]
    else:
        went = [
            [_gone(known[name], move, n / steps) for move in ways[name] for n in range(1, steps + 1)]
            for name in (one, other)
        ]
        if steps == BOTH:
            looks = sorted(
                ((a, b) for a in went[0] for b in went[1]), key=lambda ab: sum((ab[0][1] | ab[1][1]).values())
            )
        else:
            looks = [(a, here[1][0]) for a in went[0]] + [(here[0][0], b) for b in went[1]]
    for (a, went_a), (b, went_b) in looks:
        shared = _shared(a, b)
        if shared is not None:
            return _told(job, shared, went_a | went_b)
    return {}


def _gone(solid: Solid, move: Answer, share: float) -> tuple[Solid, dict[str, float]]:
    return moved(solid, _after(move, share)), {move["name"]: share}


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


def _told(job: Job, shared: Solid, went: dict[str, float]) -> Answer:
    mark = "meet" + shared.digest[:16]
    job.__dict__.setdefault("bodies", {})[mark] = lambda: shared
    return {"body": mark, "pose": rows(HERE), "moves": {name: round(share, 4) for name, share in went.items()}}
