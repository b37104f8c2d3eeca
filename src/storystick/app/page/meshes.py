"""Bodies as bytes: corners, triangles and the edges worth drawing, little-endian, after a heading in JSON.

4 bytes   length of the heading
heading   {"bodies": [{"body": mark, "corners": n, "triangles": n, "edges": n}, ...]}, padded to a multiple of 4
    then for each body: corners (3 floats of 32 bits), triangles (3 counts of 32 bits), edges (2 counts)
"""

import contextlib
import json
import struct
from collections import OrderedDict
from collections.abc import Callable
from typing import Any

from storystick.app.page.picture import Bodies, scene_of
from storystick.app.pipeline import Job
from storystick.shapes.solid import Solid

SEEN_OFF, FEWEST = 0.15, 8
"""How far a side of a round hole may stand off the circle on the page [mm], and how many sides it has at least."""
MOST = 2000  # bodies of one answer
KEPT = 1500

_MADE: "OrderedDict[str, tuple[bytes, bytes, bytes]]" = OrderedDict()  # bodies that were made before, by their marks


def packed(job: Job, wanted: list[str]) -> dict[str, Any]:
    """The bodies with these marks, as bytes. Marks that the job doesn't know are left out."""
    if "bodies" not in job.__dict__ and job.resolved.made is not None:
        scene_of(job, job.resolved.made)
    bodies: Bodies = job.__dict__.get("bodies", {})
    heading: list[dict[str, Any]] = []
    parts: list[bytes] = []
    for mark in wanted[:MOST]:
        if mark not in bodies and mark not in _MADE:
            continue
        try:
            corners, triangles, edges = _made(mark, bodies)
        except (ValueError, ArithmeticError):  # a body that can't be: the check of the plan says why
            continue
        heading.append(
            {"body": mark, "corners": len(corners) // 12, "triangles": len(triangles) // 12, "edges": len(edges) // 8}
        )
        parts += [corners, triangles, edges]
    head = json.dumps({"bodies": heading}).encode()
    head += b" " * (-len(head) % 4)
    return {"bytes": struct.pack("<I", len(head)) + head + b"".join(parts)}


def ahead(job: Job | None, asked: Callable[[], bool]) -> None:
    """Make those bodies of a job that nobody has asked for yet, until somebody asks for something."""
    bodies: Bodies = job.__dict__.get("bodies", {}) if job is not None else {}
    for mark in bodies:
        if asked():
            return
        with contextlib.suppress(ValueError, ArithmeticError):  # one that can't be: the check of the plan says why
            _made(mark, bodies)


def _made(mark: str, bodies: Bodies) -> tuple[bytes, bytes, bytes]:
    if mark in _MADE:
        _MADE.move_to_end(mark)
    else:
        _MADE[mark] = _arrays(bodies[mark]())
        while len(_MADE) > KEPT:
            _MADE.popitem(last=False)
    return _MADE[mark]


def _arrays(solid: Solid) -> tuple[bytes, bytes, bytes]:
    from storystick.shapes.bored import creased

    mesh, edges = creased(solid, SEEN_OFF, FEWEST)
    return (
        mesh.vertices.astype("<f4").tobytes(),
        mesh.triangles.astype("<u4").tobytes(),
        edges.astype("<u4").tobytes(),
    )
