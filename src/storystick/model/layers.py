"""Parts that are glued face to face into one thick board: they are cut oversize, glued, and trimmed as one."""

from storystick.model.build import Build
from storystick.model.joining import Joined
from storystick.model.part import Part

LIKE = 1  # layers are of one size, within so much [mm]


def layered(build: Build) -> tuple[tuple[Part, ...], ...]:
    """Groups of parts that become one board, and parts made of layers of their own; in the order of the build."""
    groups: dict[str, set[str]] = {p.name: {p.name} for p in build.parts}
    for joint in build.joints:
        if joint.glued and _face_to_face(build, joint):
            both = groups[joint.host] | groups[joint.guest]
            for name in both:
                groups[name] = both
    found: dict[tuple[str, ...], None] = {}
    for part in build.parts:
        if len(groups[part.name]) > 1 or part.layers > 1:
            found[tuple(sorted(groups[part.name]))] = None
    return tuple(tuple(p for p in build.parts if p.name in names) for names in found)


def _face_to_face(build: Build, joint: Joined) -> bool:
    host, guest = build.part(joint.host), build.part(joint.guest)
    across = [axis for axis in range(3) if axis != joint.axis]
    like = all(abs(host.along(a).value - guest.along(a).value) <= LIKE for a in across)
    return host.lies[2] == guest.lies[2] == joint.axis and host.assembly == guest.assembly and like
