"""Joint load: whether screws, nails or dowels alone hold up the ends of a board with what is on it."""

from collections.abc import Iterator
from dataclasses import replace
from math import ceil, dist

from storystick.checks.bearing import Bearer, bearers
from storystick.checks.driven import Drive, drives
from storystick.checks.holding_power import allowed_push_n
from storystick.checks.saying import G_N_PER_KG, at_most, decimal, kg, worth_telling
from storystick.checks.stated import lighter, worded
from storystick.craft.joints import kinds
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.model.cut import Channel
from storystick.model.joining import Joined

HALF_AT_EACH = 0.5  # each end carries half, a load in the middle too
LETS_IN = "a channel across"  # the words by which the shelf of joints tells one that carries what it takes
ALLOWED = Source(
    "screws: building-design handbook, eq. 6.38, wood group IV; nails: Wood Handbook, Table 8-4, over 1.6; "
    "glued dowels: a quarter of their shear strength, practice; glue on an end is not counted",
    "memory",
)


def run(asked: Asked) -> Iterator[Finding]:
    """Each end of a loaded board that lies on nothing and is let into nothing."""
    lines: dict[str, list[Drive]] = {}
    for drive in drives(asked):
        lines.setdefault(drive.of.joint, []).append(drive)
    yield from worth_telling(("", one) for one in _all(asked, lines))


def _all(asked: Asked, lines: dict[str, list[Drive]]) -> Iterator[Finding]:
    """Ends that carry alike are told by the first."""
    alike: dict[tuple[object, ...], list[Finding]] = {}
    for one in _each(asked, lines):
        share = None if one.number is None else round(float(one.number), 3)
        alike.setdefault((one.grade, one.place, share, one.number is None and one.about), []).append(one)
    for group in alike.values():
        first = group[0]
        more = f" So it is at {len(group) - 1} more {'end' if len(group) == 2 else 'ends'}." if len(group) > 1 else ""
        about = tuple(dict.fromkeys(name for one in group for name in one.about))
        yield replace(first, says=first.says + more, about=about)


def _each(asked: Asked, lines: dict[str, list[Drive]]) -> Iterator[Finding]:
    for one in bearers(asked):
        if one.shelf.ends != "rests" or not one.shelf.loads:
            continue
        for joint in asked.build.joints:
            held = lines.get(joint.name, [])
            if joint.guest in one.about and joint.axis != 2 and held and not _let_in(asked, joint):
                yield _finding(asked, one, joint, held)


def _let_in(asked: Asked, joint: Joined) -> bool:
    """Whether the host has a channel for the guest, or holds it from below: then what is driven carries nothing."""
    return any(isinstance(cut, Channel) and cut.joint == joint.name for cut in asked.build.part(joint.host).cuts)


def _finding(asked: Asked, one: Bearer, joint: Joined, held: list[Drive]) -> Finding:
    manner = asked.build.manner
    load = sum(newtons for newtons, _ in one.shelf.carries()) * HALF_AT_EACH
    allowed = sum(allowed_push_n(asked, drive) for drive in held)
    what = {"nail": "nails", "brad": "nails", "dowel": "dowels"}.get(held[0].of.kind, "screws")
    said = (
        f"{one.name} brings {kg(load / G_N_PER_KG, manner)} to {joint.host}, where {len(held)} {what} alone hold "
        f"it up: {kg(allowed / G_N_PER_KG, manner)} is allowed"
    )
    about = (one.name, joint.host)
    if not allowed:
        advice = f"Let it into {joint.host}, or put a cleat under its end."
        return Finding(CHECK.code, Grade.CARE, one.place, f"{said}.", advice, ALLOWED, about=about)
    share = load / allowed
    said += f", so {decimal(100 * share, 0)} % of it is used."
    if share <= 1:
        return Finding(CHECK.code, Grade.FINE, one.place, said, "", ALLOWED, share, 1, "", about)
    count = ceil(len(held) * share)
    row = max(dist(a.head, b.head) for a in held for b in held) or one.shelf.wide
    close = at_most(row / max(1, count - 1), manner)
    instead = f"let it into {joint.host}, or put a cleat under its end"
    advice = f"Use {count} {what} or more there, {close} apart or less, {instead}."
    grade = Grade.NOTE if one.usual else Grade.CARE
    own = one.shelf.own_kg * G_N_PER_KG * HALF_AT_EACH
    tries = (
        *worded_joint(asked, one), *lighter(one.asked_for, (allowed - own) / max(load - own, 1e-9), manner)
    )  # fmt: skip
    return Finding(CHECK.code, grade, one.place, said, advice, ALLOWED, share, 1, "", about, None, tries)


def worded_joint(asked: Asked, one: Bearer) -> Iterator[Mend]:
    """A joint that lets it in, in place of what holds it up now, where the plan says that in a word."""
    part = asked.build.parts_by_name.get(one.about[0])
    if part is not None:
        for kind in kinds().values():
            if "inside" in kind.seats and LETS_IN in kind.says:
                yield worded(part.assembly, ("shelf joint", "joint"), kind.name, f"Let it in with a {kind.name}")


CHECK = Check(
    "joint-load", "Do screws, nails or dowels that alone hold up a board hold it with what is on it?", run, ALLOWED
)
