"""Finish, hardware, drawers in, and putting it in place."""

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

from storystick.ground.length import show
from storystick.model.joining import Fastener, Item
from storystick.model.part import Assembly
from storystick.model.work import Stage
from storystick.shop.tables import castors, feet, finishes, hinges, magnets, pulls, shelf_pins, slides
from storystick.work.bench import Bench, caution
from storystick.work.jobs import Job
from storystick.work.saying import and_of, cap, many, spoken
from storystick.work.together import goes
from storystick.work.ways import minutes

FINISH = "water-based varnish"
TIPPED = "castors and feet"
SORTS: tuple[tuple[str, Callable[[str], bool], str, str], ...] = (
    (TIPPED, lambda kind: kind in castors() or kind in feet(), "fit castor", "while the piece can be tipped over"),
    ("slides", lambda kind: kind in slides(), "fit slides", "before the drawers, on the finished sides"),
    ("hinges", lambda kind: kind in hinges(), "fit hinge", "after the finish, so that nothing has to be masked"),
    ("pulls", lambda kind: kind in pulls(), "fit pull", "after the finish, so that nothing has to be masked"),
    ("magnets", lambda kind: kind in magnets() or "magnet" in kind, "fit magnet", "when both faces are done"),
    ("shelf pins", lambda kind: kind in shelf_pins(), "drive nail", "when no more finish goes into their holes"),
)  # fmt: skip


def fixed_pairs(bench: Bench) -> dict[tuple[str, str], list[str]]:
    """Assemblies that are fixed to one another for good, host and guest, with the names of their joints."""
    of = bench.build.parts_by_name
    found: dict[tuple[str, str], list[str]] = {}
    for joint in bench.build.joints:
        host, guest = of[joint.host].assembly, of[joint.guest].assembly
        if host != guest:
            found.setdefault((host, guest), []).append(joint.name)
    order = [one.name for one in bench.build.assemblies]
    for one in bench.between_parts:
        ends = sorted({of[one.through].assembly, of[one.into].assembly}, key=order.index)
        if len(ends) == 2 and (ends[0], ends[1]) not in found and (ends[1], ends[0]) not in found:
            found[ends[0], ends[1]] = []
    return found


def joining(bench: Bench, last: dict[str, str]) -> Iterator[Job]:
    """Assemblies and boards that are fixed to one another for good; `last` is the job that ends each assembly."""
    for (host, guest), names in fixed_pairs(bench).items():
        between = _between(bench, host, guest)
        rows: dict[tuple[str, Fraction], int] = {}
        for one in between:
            rows[one.row, one.length.value] = rows.get((one.row, one.length.value), 0) + 1
        glued = any(j.glued for j in bench.build.joints if j.name in names)
        drive = [f"Drive {n} x {row}, {show(long, bench.build.manner)} long." for (row, long), n in rows.items()]
        parts = tuple(p for p in bench.build.parts if p.assembly in (host, guest))
        yield Job(
            f"join {guest} to {host}",
            Stage.ASSEMBLE,
            f"Fix {spoken(guest)} to {spoken(host)}",
            (f"Clamp it in its place, {'with' if glued else 'without'} glue.", *drive),
            parts,
            after=tuple(k for k in (last.get(host), last.get(guest)) if k),
            shows=tuple(p.name for p in parts),
            new=tuple(p.name for p in parts if p.assembly == guest),
            check="It stands where the plan has it before the last screw goes in.",
            hands_on=5 + sum(minutes("drive screw")) + minutes("drive screw")[1] * len(between),
            waits=30 if glued else 0,
            why_here="both have to be whole first",
        )


def _between(bench: Bench, one: str, other: str) -> list[Fastener]:
    of = bench.build.parts_by_name
    return [f for f in bench.between_parts if {of[f.through].assembly, of[f.into].assembly} == {one, other}]


def finishing(bench: Bench, after: Sequence[str]) -> Iterator[Job]:
    """Sanding the outsides, and the coats."""
    if not bench.build.parts:
        return
    row = finishes()[FINISH]
    set_up, each = minutes("finish coat")
    sand = minutes("sand assembly")
    tops = [one for one in bench.build.assemblies if not one.inside_of]
    yield Job(
        "finish",
        Stage.FINISH,
        "Sand the outsides and finish",
        (
            "Break every edge that a hand meets. Sand the outsides to 180 grit.",
            f"{cap(many(row.coats, 'coat'))} of {FINISH} or another finish, {row.recoat_h:g} hours apart.",
            "No finish where something is still to be glued or to slide on wood: wax there.",
        ),
        tuple(bench.build.parts),
        after=tuple(after),
        shows=tuple(p.name for p in bench.build.parts),
        check="No glue left on show: wet it, glue shows light.",
        caution=caution("dust") + " Rags with oil in them catch fire by themselves: spread them out to dry.",
        hands_on=sum(sand) * max(1, len(tops)) + row.coats * (set_up + each * max(1, len(tops))),
        waits=int(row.recoat_h * 60 * row.coats),
        why_here="after all glue, before any hardware",
    )


def fitting_hardware(bench: Bench) -> Iterator[Job]:
    """Hardware by its sort, what needs the piece tipped over first; then everything else that was bought."""
    rest = list(bench.build.items)
    for sort, belongs, timed, because in SORTS:
        items = [item for item in rest if belongs(item.kind)]
        rest = [item for item in rest if item not in items]
        if items:
            yield _hardware(bench, sort, items, timed, because)
    if rest:
        yield _hardware(bench, "the other hardware", rest, "fit hardware", "when nothing more is sanded or coated")


def _hardware(bench: Bench, sort: str, items: Sequence[Item], timed: str, because: str) -> Job:
    counts: dict[str, int] = {}
    for item in items:
        counts[item.said or item.name] = counts.get(item.said or item.name, 0) + item.count
    names = {item.name for item in items}
    screws = [f for f in bench.build.fasteners if f.through in names]
    set_up, each = minutes(timed)
    on = dict.fromkeys(name for item in items for name in item.on if name in bench.build.parts_by_name)
    tipped = sort == TIPPED
    heavy = caution("heavy lift") if tipped else (caution("magnets") if sort == "magnets" else "")
    return Job(
        f"fit {sort}",
        Stage.HARDWARE,
        f"Fit {sort if sort.startswith('the ') else 'the ' + sort}",
        (
            *(("Tip the piece onto a blanket, empty and without its drawers.",) if tipped else ()),
            *(f"{count} x {said}." for said, count in counts.items()),
            *((f"Screws: {len(screws)} as listed.",) if screws else ()),
        ),
        tuple(bench.build.part(name) for name in on),
        after=("finish",) if tipped else ("finish", f"fit {TIPPED}"),
        shows=tuple(p.name for p in bench.build.parts) + tuple(item.name for item in items),
        new=tuple(item.name for item in items),
        check={"slides": "Both slides of a pair at one height and square to the front."}.get(sort, ""),
        caution=heavy,
        hands_on=set_up + each * sum(item.count for item in items),
        why_here=because,
    )


def drawers_in(bench: Bench) -> Iterator[Job]:
    """Drawers and trays into their openings, and loose shelves."""
    if bench.build.sliders:
        assemblies = {one.assembly for one in bench.build.sliders}
        parts = tuple(p for p in bench.build.parts if p.assembly in assemblies)
        yield Job(
            "drawers in",
            Stage.HARDWARE,
            "Put the drawers in",
            (
                f"{cap(and_of(spoken(one.name) for one in bench.build.sliders))}, from the lowest up.",
                "Set the fronts with spacers of one thickness all round, then drive the last screws.",
            ),
            parts,
            after=("finish", f"fit {TIPPED}", "fit slides", "fit pulls"),
            shows=tuple(p.name for p in bench.build.parts),
            new=tuple(p.name for p in parts),
            check="Each runs its whole way without rubbing, and the gaps are even.",
            hands_on=5.0 * len(bench.build.sliders),
            why_here="the case is light while it is empty: castors and slides come first",
        )


def installing(bench: Bench) -> Iterator[Job]:
    """Each of the plan's own entries into its place, in the order in which one stands on another."""
    fixed = {guest for _, guest in fixed_pairs(bench)}
    tops = [one for one in bench.build.assemblies if not one.inside_of]
    names = {one.name for one in tops}
    for one in tops:
        if one.name in fixed and not one.removable:
            continue
        below = one.stands_on.split(".")[0]
        waits = ["finish", "drawers in", *(f"fit {sort}" for sort, *_ in SORTS), "fit the other hardware"]
        if below in names and below != one.name and below not in fixed:
            waits.append(f"install {below}")
        yield _install(bench, one, tuple(waits))


def _install(bench: Bench, one: Assembly, waits: tuple[str, ...]) -> Job:
    on = f" on the {one.stands_on.replace('.', ' ')}" if one.stands_on else ""
    wall = any("wall" in word for word in one.held_by)
    inside = {one.name} | {a.name for a in bench.build.assemblies if a.inside_of == one.name}
    parts = tuple(p for p in bench.build.parts if p.assembly in inside)
    thick = tuple(f"{stock.name}." for stock in bench.build.stock)
    drivers = tuple(name for name in bench.build.drivers if not name.startswith(thick))
    return Job(
        f"install {one.name}",
        Stage.INSTALL,
        f"{'Lay' if one.removable else 'Put'} {spoken(one.name)} in its place",
        (
            f"Set it{on} where the plan has it."
            + (" It lifts off again: no glue, no screws." if one.removable else ""),
            *(("Measure again what it was built to, and compare.",) if drivers else ()),
        ),
        parts,
        after=waits,
        shows=tuple(p.name for p in bench.build.parts),
        new=tuple(p.name for p in parts),
        check="Everything that swings, slides or tilts nearby goes its whole way; nothing rocks; wheels lock.",
        caution=caution("heavy lift", *(("wall fixing",) if wall else ())),
        reads=drivers,
        hands_on=10.0,
        why_here="last: it is checked against the real thing before anything is loaded",
    )


def ends(bench: Bench) -> dict[str, str]:
    """The last job of each assembly's glue-up."""
    found = {}
    for one in bench.build.assemblies:
        count = len(goes(bench, one.name))
        if count:
            found[one.name] = bench.glue_key(one.name, count)
    return found
