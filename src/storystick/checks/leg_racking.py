"""Leg racking: what keeps a frame on legs square when it is pushed sideways, both ways across."""

from collections.abc import Iterator

from storystick.checks.driven import drives
from storystick.checks.holding_power import allowed_pull_n
from storystick.checks.racking import PUSH_N
from storystick.checks.saying import at_least, decimal, exact, listed, mm
from storystick.checks.stated import changes
from storystick.ground.finding import Finding, Grade
from storystick.ground.length import Manner
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.model.joining import Joined
from storystick.model.part import Assembly, Part
from storystick.physics.racking import corner_moment_nmm

LOW_MM = 400
MORE = 1.05  # a little more than in proportion: screws stay off a higher rail's edges as far as off a low one's
LET_IN_MM = 3.0  # a rail's end that goes into the leg by less than this stands against it
WAYS = ("from side to side", "from front to back")
PORTAL = Source(
    "textbook mechanics, a portal frame on feet that turn, for a push of 200 N at the top; each corner turns about its "
    "rail's edge, its screws or dowels pulled in proportion; glue on end grain counts for nothing",
    "practice",
)


def run(asked: Asked) -> Iterator[Finding]:
    """Every assembly on four legs or more that is higher than 400 mm, both ways."""
    for one in asked.build.assemblies:
        parts = [part for part in asked.build.parts if part.assembly == one.name]
        legs = [part for part in parts if part.role == "leg"]
        if len(legs) >= 4 and one.size[2].value >= LOW_MM:
            for way in (0, 1):
                yield _finding(asked, one, parts, legs, way)


def _finding(asked: Asked, one: Assembly, parts: list[Part], legs: list[Part], way: int) -> Finding:
    """One way across: the moment at each corner against what its weakest corner may carry."""
    names = {leg.name for leg in legs}
    rails = [part for part in parts if part.role == "rail" and part.lies[0] == way]
    corners = _corners(asked, parts, names, way)
    about = (one.name, *(rail.name for rail in rails))
    if not corners:
        said = f"No rail ties the legs of {one.name} together {WAYS[way]}: nothing keeps it from folding."
        advice = "Join rails to its legs, or screw a board across them."
        return Finding(CHECK.code, Grade.STOP, one.place, said, advice, PORTAL, about=about)
    manner, high = asked.build.manner, float(one.size[2])
    moment = corner_moment_nmm(PUSH_N, high, len(corners)) / 1000
    allowed = {joint.name: moment_nm(asked, rail, joint.host) for rail, joint in corners}
    known = [value for value in allowed.values() if value is not None]
    said = (
        f"A push of {decimal(PUSH_N, 0)} N at the top of {one.name}, {WAYS[way]}, puts {decimal(moment)} N m on each "
        f"of the {len(corners)} corners of {listed(rail.name for rail in rails)}, {mm(high, manner)} high"
    )
    if not known and any(_overlap_mm(asked, rail, joint.host) < LET_IN_MM for rail, joint in corners):
        said += "; glue on end grain alone is no hold against that."
        advice = "Join its rails with dowels, pocket screws or tenons."
        return Finding(CHECK.code, Grade.CARE, one.place, said, advice, PORTAL, moment, None, "N m", about)
    if not known:
        said += ": glued joints hold them; how much such joints carry is not reckoned."
        return Finding(CHECK.code, Grade.NOTE, one.place, said, "", PORTAL, moment, None, "N m", about)
    least = min(known)
    said += f"; {decimal(least)} N m is allowed."
    if moment <= least:
        return Finding(CHECK.code, Grade.FINE, one.place, said, "", PORTAL, moment, least, "N m", about)
    share = max(needed for other in (0, 1) for needed in _shares(asked, one, parts, names, other))
    more = MORE * float(rails[0].along(2)) * (share - 1)
    lower = high * (1 / share - 1)
    changed = (None, (*changes(rails[0].along(2), more, manner), *changes(one.size[2], lower, manner)))
    advice = _advice(one, rails, more, manner)
    return Finding(CHECK.code, Grade.CARE, one.place, said, advice, PORTAL, moment, least, "N m", about, *changed)


def _shares(asked: Asked, one: Assembly, parts: list[Part], legs: set[str], way: int) -> Iterator[float]:
    """For each corner across one way how much of what it may carry it carries; twice where that is nothing."""
    corners = _corners(asked, parts, legs, way)
    for rail, joint in corners:
        allowed = moment_nm(asked, rail, joint.host)
        if allowed is not None:
            yield corner_moment_nmm(PUSH_N, float(one.size[2]), len(corners)) / 1000 / allowed if allowed else 2.0


def _corners(asked: Asked, parts: list[Part], legs: set[str], way: int) -> list[tuple[Part, Joined]]:
    """Where rails along one axis meet legs."""
    rails = {part.name: part for part in parts if part.role == "rail" and part.lies[0] == way}
    return [(rails[j.guest], j) for j in asked.build.joints if j.guest in rails and j.host in legs]


def _overlap_mm(asked: Asked, rail: Part, leg: str) -> float:
    """How far a rail's end goes into a leg [mm]."""
    way, other = rail.lies[0], asked.build.part(leg)
    return float(min(rail.high(way), other.high(way)) - max(rail.low(way), other.low(way)))


def _advice(one: Assembly, rails: list[Part], more: float, manner: Manner) -> str:
    high = at_least(exact(float(rails[0].along(2)) + more), manner)
    low = "" if len({rail.low(2) for rail in rails}) > 1 else f"Give {one.name} low rails, or "
    said = f"make its rails {high} high with screws up to their edges, or screw a board from leg to leg across them."
    return low + said if low else said[0].upper() + said[1:]


def moment_nm(asked: Asked, rail: Part, leg: str) -> float | None:
    """What a corner may be turned with [N m]: its fasteners pulled about the rail's edge, whichever way is worse.

    None where no screw or dowel goes through it.
    """
    lines = [d for d in drives(asked) if {d.of.through, d.of.into} == {rail.name, leg}]
    if not lines:
        return None
    low, high = float(rail.low(2)), float(rail.high(2))
    pulls = [(float(drive.of.at[2]), allowed_pull_n(asked, drive)) for drive in lines]
    ways = []
    for edge in (low, high):
        arms = [(abs(z - edge), pull) for z, pull in pulls]
        far = max(arm for arm, _ in arms)
        ways.append(min(pull for _, pull in arms) * sum(arm * arm for arm, _ in arms) / far if far else 0.0)
    return min(ways) / 1000


CHECK = Check("leg-racking", "Do the corners of a frame on legs keep it square when it is pushed?", run, PORTAL)
