"""What goes into what when parts are put together, in words: guests into the troughs of their hosts, what is driven."""

from collections.abc import Iterable, Iterator, Sequence

from storystick.ground.length import show
from storystick.model.cut import Channel
from storystick.model.joining import Fastener, Joined
from storystick.model.part import Part
from storystick.work.bench import Bench
from storystick.work.clamping import Clamped
from storystick.work.jobs import Line
from storystick.work.peeling import Closing
from storystick.work.saying import all_called, and_of, called, many, plural

ACROSS = ("from side to side", "from front to back", "from top to bottom")
NUMBERS = {2: "both", 3: "all three", 4: "all four"}
FLUSH = "flush"


def go_lines(bench: Bench, go: Closing) -> Iterator[Line]:
    """What is glued into or onto what; then what goes in without glue."""
    glued = [joint for joint in go.joints if joint.glued]
    dry = [joint for joint in go.joints if not joint.glued]
    for verb, joints in (("Glue", glued), ("Without glue:", dry) if glued else ("Put", dry)):
        clauses = list(_clauses(bench, joints, set(go.parts), "on" if verb == "Put" else "to"))
        if clauses:
            yield Line(f"{verb} {'; '.join(clauses)}")


def _clauses(bench: Bench, joints: Sequence[Joined], new: set[str], onto: str) -> Iterator[str]:
    """A clause for guests that go the same way to the same hosts: "C bottom and D top into the rabbets of A and B"."""
    hosts: dict[tuple[str, str], list[str]] = {}
    for joint in joints:
        trough = _trough(bench, joint)
        turned = not trough and joint.host in new and joint.guest not in new  # what is there already goes nowhere
        guest, host = (joint.host, joint.guest) if turned else (joint.guest, joint.host)
        hosts.setdefault((guest, trough), []).append(host)
    alike: dict[tuple[str, tuple[str, ...]], list[Part]] = {}
    for (guest, trough), names in hosts.items():
        alike.setdefault((trough, tuple(names)), []).append(bench.build.part(guest))
    for (trough, those), guests in alike.items():
        whom = _letters(bench, those)
        many_troughs = len(those) > 1 or len(guests) > 1
        where = f"into the {plural(trough) if many_troughs else trough} of {whom}" if trough else f"{onto} {whom}"
        yield f"{all_called(guests, bench.build)} {where}"


def _trough(bench: Bench, joint: Joined) -> str:
    """What the host has for the guest, as the trade calls it; "" where the two only meet."""
    cuts = bench.build.part(joint.host).cuts
    return next((cut.called for cut in cuts if isinstance(cut, Channel) and cut.joint == joint.name), "")


def _letters(bench: Bench, names: Iterable[str]) -> str:
    """Parts by their letters, a letter that stands for several once: "A and B", "both X"."""
    counts: dict[str, int] = {}
    for name in dict.fromkeys(names):
        part = bench.build.part(name)
        word = part.letter or called(part, bench.build)
        counts[word] = counts.get(word, 0) + 1
    ordered = sorted(counts.items(), key=lambda pair: (len(pair[0]), pair[0]))
    return and_of(word if n == 1 else f"{NUMBERS.get(n, f'all {n}')} {word}" for word, n in ordered)


def clamp_line(bench: Bench, go: Closing, wants: Clamped, fasteners: Sequence[Fastener]) -> Iterator[str]:
    """How it is held until the glue has set."""
    if wants.count:
        way = f" {ACROSS[wants.axis]}" if wants.axis is not None else ""
        yield (
            f"Clamp it{way}: {many(wants.count, 'clamp')} that open {show(wants.opening, bench.build.manner)}, "
            "with cauls under their jaws."
        )
    elif fasteners:
        kinds = dict.fromkeys("nails" if one.kind in ("nail", "brad") else "screws" for one in fasteners)
        yield f"The {and_of(kinds)} clamp it until the glue has set."


def dry_against(bench: Bench, go: Closing, on: Sequence[str]) -> Iterator[str]:
    """Parts that are glued on in a later go, and till then only stand there dry for the clamps to press against."""
    lone: dict[str, None] = {}
    for joint in go.joints:
        if not joint.glued or joint.holds != ("glue",):
            continue
        others = [j for j in bench.build.joints if j.guest == joint.guest and j.axis == joint.axis and j.glued]
        facing = [j.host for j in others if j.sign != joint.sign]
        if len({j.axis for j in bench.build.joints if j.guest == joint.guest and j.glued}) == 1:
            lone.update(dict.fromkeys(host for host in facing if host not in on))
    if lone:
        it = "it comes" if len(lone) == 1 else "they come"
        yield (
            f"Set {all_called([bench.build.part(name) for name in lone], bench.build)} dry at the other end, for the "
            f"clamps to press against and to keep it square; {it} off again when the glue has set."
        )


def trim_line(bench: Bench, parts: Sequence[Part]) -> Iterator[str]:
    """What stands proud when it is glued on, and is trimmed."""
    proud = [part for part in parts if any(FLUSH in note for note in part.notes)]
    if proud:
        yield (
            f"Keep the reference edge of {_letters(bench, [part.name for part in proud])} level with the board, and "
            "trim what stands proud at the other edge flush when the glue has set."
        )


def drive_lines(bench: Bench, fasteners: Sequence[Fastener]) -> Iterator[Line]:
    """What is driven: so many, which, through what into what."""
    counts: dict[tuple[str, str, str], int] = {}
    for one in fasteners:
        word = "Drive" if one.kind in ("screw", "pocket screw", "lag screw", "nail", "brad") else "Put in"
        ends = [bench.build.part(name) for name in (one.through, one.into)]
        way = " into ".join(part.letter or called(part, bench.build) for part in ends)
        rows = one.row if one.row.endswith("s") else f"{one.row}s"
        key = (word, f"{rows}, {show(one.length.value, bench.build.manner)} long", way)
        counts[key] = counts.get(key, 0) + 1
    by_row: dict[tuple[str, str], list[str]] = {}
    for (word, row, way), count in counts.items():
        by_row.setdefault((word, row), []).append(f"{count} through {way}")
    for (word, row), ways in by_row.items():
        yield Line(f"{word} {row}: ", and_of(ways))
