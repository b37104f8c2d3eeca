"""Joints: a section through each kind of joint that occurs, enlarged, with its sizes, what it holds and how."""

from collections.abc import Iterator, Sequence

from storystick.ground.dim import Dim, chosen
from storystick.ground.source import practice
from storystick.model.cut import Channel
from storystick.model.joining import Joined
from storystick.paper.blocks import Block, Figure, Heading, Row, Text, Whole
from storystick.paper.drawing.scale import scale_said
from storystick.paper.drawing.section import draw_section
from storystick.paper.folder import Folder
from storystick.paper.lettering import calliper, said
from storystick.paper.pages import Page
from storystick.paper.press import Paper
from storystick.paper.spoken import listed

WORDS = (
    "Each kind of joint once, cut across; which parts it is between stands below it. Hatched is wood that is cut "
    "through. The large number is for the rule, the small ones are the same for the calliper. Make a trial joint in "
    "scrap of the same stock before the first good part."
)
AS_CUT = practice("the width that the bit makes")
HIGH = 62.0
HOLDS = {"captured": "its neighbours", "rests": "its own weight", "slides": "its channels"}


def make(folder: Folder, paper: Paper) -> Iterator[Block]:
    """Two sections side by side."""
    kinds = kinds_of(folder)
    if not kinds:
        return
    wide = (paper.room - 6.0) / 2
    drawn = [block for alike in kinds if (block := one_kind(folder, alike, wide)) is not None]
    for i in range(0, len(drawn), 2):
        pair = drawn[i : i + 2]
        row = Row((*pair, *(Text(""),) * (2 - len(pair))))
        yield Whole((row,)) if i else Whole((Text(WORDS, "quiet"), row), first=True)


def kinds_of(folder: Folder) -> list[list[Joined]]:
    """Joints that are alike: what they are called, thickness of both parts, sizes of their channels, how they hold."""
    found: dict[tuple[object, ...], list[Joined]] = {}
    for joint in folder.build.joints:
        host, guest = folder.build.part(joint.host), folder.build.part(joint.guest)
        channels = sorted(
            (cut.width.value, cut.depth.value)
            for part in (host, guest)
            for cut in part.cuts
            if isinstance(cut, Channel) and cut.joint == joint.name
        )
        alike = (joint.called, host.thickness.value, guest.thickness.value, tuple(channels), joint.holds)
        found.setdefault(alike, []).append(joint)
    return list(found.values())


def one_kind(folder: Folder, alike: Sequence[Joined], wide: float) -> Whole | None:
    """The section of the first of some joints that are alike, and what is to be said of all."""
    drawn = draw_section(folder, alike[0], wide, HIGH)
    if drawn is None:
        return None
    pairs: dict[str, list[str]] = {}
    for joint in alike:
        host, guest = folder.letter_of[joint.host], folder.letter_of[joint.guest]
        if host not in pairs.setdefault(guest, []):
            pairs[guest].append(host)
    between = "; ".join(f"{guest} to {listed(hosts)}" for guest, hosts in pairs.items())
    words = [
        f"{between}.",
        f"Held by {listed(HOLDS.get(word, word) for word in alike[0].holds)}." if alike[0].holds else "Not fixed.",
    ]
    words.extend(fastened(folder, alike))
    gap = room_left(folder, alike[0])
    if gap is not None:
        manner = folder.build.manner
        fine = calliper(gap, manner) or said(gap, manner)
        words.append(f"Room left: {fine.replace('  ', ' or ')}{as_cut(folder, alike[0], gap)}.")
    seen = drawn.alt.partition("seen from ")[2].partition(",")[0]
    figure = Figure(drawn, f"Seen from {seen}, {scale_said(drawn.scale)}. {' '.join(words)}")
    return Whole((Heading(alike[0].called.capitalize()), figure))


def fastened(folder: Folder, alike: Sequence[Joined]) -> Iterator[str]:
    """Screws and nails of these joints: how many of which in each."""
    names = {joint.name for joint in alike}
    counts: dict[tuple[str, str], dict[str, int]] = {}
    for one in folder.build.fasteners:
        if one.joint in names:
            each = counts.setdefault((one.called, said(one.length, folder.build.manner)), {})
            each[one.joint] = each.get(one.joint, 0) + 1
    for (called, long), each in counts.items():
        numbers = sorted(set(each.values()))
        several = called if numbers == [1] or called.endswith("s") else f"{called}s"
        yield f"{' or '.join(map(str, numbers))} x {several}, {long} long, in each."


def as_cut(folder: Folder, joint: Joined, gap: Dim) -> str:
    """What a bit of another width than drawn makes of the room: ", as cut in step 25 0.028"": what the step says."""
    host = folder.build.part(joint.host)
    cut = next((cut for cut in host.cuts if isinstance(cut, Channel) and cut.joint == joint.name), None)
    way = folder.ways.get((host.name, cut.name)) if cut is not None else None
    if way is None or cut is None or not way.off:
        return ""
    made, manner = chosen(gap.value + way.off, AS_CUT, gap), folder.build.manner
    step = folder.made_in.get((host.name, cut.name))
    where = f" in step {step}" if step else ""
    return f" as drawn; {(calliper(made, manner) or said(made, manner)).replace('  ', ' or ')} as cut{where}"


def room_left(folder: Folder, joint: Joined) -> Dim | None:
    """The gap that the joint's channel leaves, where the build says one."""
    host = folder.build.part(joint.host)
    names = {f"{host.name}.{cut.name}" for cut in host.cuts if getattr(cut, "joint", "") == joint.name}
    names |= {cut.name for cut in host.cuts if getattr(cut, "joint", "") == joint.name}
    return next((fit.gap for fit in folder.build.fits if fit.cut in names), None)


PAGE = Page("joints", 71, "Joints", make, follows=True)
