"""Finish, hardware, drawers in, and putting it in place."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from storystick.ground.length import show
from storystick.model.joining import Fastener, Item
from storystick.model.part import Assembly
from storystick.model.work import Stage
from storystick.shop.tables import castors, feet, hinges, magnets, pulls, shelf_pins, slides
from storystick.work.bench import Bench, caution
from storystick.work.coating import Finished, fixed_pairs
from storystick.work.jobs import Job
from storystick.work.saying import and_of, called, cap, spoken, spoken_all
from storystick.work.ways import minutes

TIPPED = "castors and feet"
SLIDES = "slides"
FEW = 4
SORTS: tuple[tuple[str, Callable[[str], bool], str, str], ...] = (
    (TIPPED, lambda kind: kind in castors() or kind in feet(), "fit castor", "while the piece can be tipped over"),
    (SLIDES, lambda kind: kind in slides(), "fit slides", "before the drawers, on the finished sides"),
    ("hinges", lambda kind: kind in hinges(), "fit hinge", "after the finish, so that nothing has to be masked"),
    ("pulls", lambda kind: kind in pulls(), "fit pull", "after the finish, so that nothing has to be masked"),
    ("magnets", lambda kind: kind in magnets() or "magnet" in kind, "fit magnet", "when both faces are done"),
    ("shelf pins", lambda kind: kind in shelf_pins(), "drive nail", "when no more finish goes into their holes"),
)  # fmt: skip


def joining(bench: Bench, last: dict[str, str], ready: Mapping[str, Sequence[str]]) -> Iterator[Job]:
    """Assemblies and boards that are fixed to one another for good.

    last  the job that ends each assembly's glue-up;  ready  what must have been done to each part
    """
    for (host, guest), names in fixed_pairs(bench).items():
        between = _between(bench, host, guest)
        rows: dict[tuple[str, Fraction], int] = {}
        for one in between:
            rows[one.row, one.length.value] = rows.get((one.row, one.length.value), 0) + 1
        glued = any(j.glued for j in bench.build.joints if j.name in names)
        drive = [f"Drive {n} x {row}, {show(long, bench.build.manner)} long." for (row, long), n in rows.items()]
        parts = tuple(p for p in bench.build.parts if p.assembly in (host, guest))
        made = [k for p in parts for k in ready.get(p.name, ())]
        yield Job(
            f"join {guest} to {host}",
            Stage.ASSEMBLE,
            f"Fix {spoken(guest)} to {spoken(host)}",
            (f"Clamp it in its place, {'with' if glued else 'without'} glue.", *drive),
            parts,
            after=tuple(dict.fromkeys([*(k for k in (last.get(host), last.get(guest)) if k), *made])),
            shows=tuple(p.name for p in parts),
            new=tuple(p.name for p in parts if p.assembly == guest),
            check="It stands where the plan has it before the last screw goes in.",
            hands_on=5 + sum(minutes("drive screw")) + minutes("drive screw")[1] * len(between),
            waits=30 if glued else 0,
            whole=glued,
            why_here="both have to be whole first",
        )


def _between(bench: Bench, one: str, other: str) -> list[Fastener]:
    of = bench.build.parts_by_name
    return [f for f in bench.between_parts if {of[f.through].assembly, of[f.into].assembly} == {one, other}]


def fitting_hardware(bench: Bench, finished: Finished) -> Iterator[Job]:
    """Hardware by its sort, what needs the piece tipped over first; then everything else that was bought."""
    rest = list(bench.build.items)
    for sort, belongs, timed, because in SORTS:
        items = [item for item in rest if belongs(item.kind)]
        rest = [item for item in rest if item not in items]
        if items and sort == SLIDES:
            yield from _slides(bench, items, timed, finished)
        elif items:
            yield _hardware(bench, sort, items, timed, because, finished)
    if rest:
        yield _hardware(
            bench, "the other hardware", rest, "fit hardware", "when nothing more is sanded or coated", finished
        )


def _slides(bench: Bench, items: Sequence[Item], timed: str, finished: Finished) -> Iterator[Job]:
    """The half of each slide that stays in the case, then the half that goes on the drawer."""
    whole = _hardware(bench, SLIDES, items, timed, "before the drawers, on the finished sides", finished)
    running = {one.assembly for one in bench.build.sliders}
    for words, key, is_drawer in (
        ("in the case", f"{whole.key} in the case", False),
        ("on the drawers", whole.key, True),
    ):
        parts = tuple(p for p in whole.parts if (p.assembly in running) == is_drawer)
        if not parts and not is_drawer:
            continue
        of = {p.assembly for p in parts} | (running if is_drawer else set())
        yield replace(
            whole,
            key=key,
            title=f"{whole.title}: {words}",
            does=whole.does
            if not is_drawer
            else (
                "The half that comes off goes on the drawer's sides, level with the bottom edge's line on the card.",
            ),
            parts=parts,
            after=(
                *finished.of(one.name for one in bench.build.assemblies if one.name in of),
                f"fit {TIPPED}",
                f"{whole.key} in the case",
            )
            if key == whole.key
            else (*finished.of(of), f"fit {TIPPED}"),
            check=whole.check if not is_drawer else "Both at one height.",
            hands_on=whole.hands_on / 2,
            new=() if is_drawer else whole.new,
            why_here="on the finished sides, while the case is empty" if not is_drawer else "before the drawers go in",
        )


def _hardware(bench: Bench, sort: str, items: Sequence[Item], timed: str, because: str, finished: Finished) -> Job:
    counts: dict[str, int] = {}
    places: dict[str, dict[str, None]] = {}
    of = bench.build.parts_by_name
    for item in items:
        word = item.said or item.name
        counts[word] = counts.get(word, 0) + item.count
        places.setdefault(word, {}).update(dict.fromkeys(called(of[n], bench.build) for n in item.on if n in of))
    touched = {item.assembly for item in items} | {of[n].assembly for item in items for n in item.on if n in of}
    names = {item.name for item in items}
    screws = [f for f in bench.build.fasteners if f.through in names]
    set_up, each = minutes(timed)
    on = dict.fromkeys(name for item in items for name in item.on if name in bench.build.parts_by_name)
    tipped = sort == TIPPED
    warned = {TIPPED: "heavy lift", "magnets": "magnets"}.get(sort, "")
    dry = finished.of(one.name for one in bench.build.assemblies if one.name in touched)
    return Job(
        f"fit {sort}",
        Stage.HARDWARE,
        f"Fit {sort if sort.startswith('the ') else 'the ' + sort}",
        (
            *(("Tip the piece onto a blanket, empty and without its drawers.",) if tipped else ()),
            *(f"{count} x {word}{_on(places[word])}." for word, count in counts.items()),
            *_screw_lines(bench, screws),
        ),
        tuple(bench.build.part(name) for name in on),
        after=dry if tipped else (*dry, f"fit {TIPPED}"),
        shows=tuple(p.name for p in bench.build.parts) + tuple(item.name for item in items),
        new=tuple(item.name for item in items),
        check={"slides": "Both slides of a pair at one height and square to the front."}.get(sort, ""),
        cautions=(caution(warned),) if warned else (),
        hands_on=each * sum(item.count for item in items),
        laid_out=((f"what the {sort} need", "", set_up),),
        why_here=because,
    )


def _on(places: Iterable[str]) -> str:
    """What something is fitted on, where that is few enough to be said."""
    names = list(places)
    return f" on {and_of(names)}" if 0 < len(names) <= FEW else ""


def _screw_lines(bench: Bench, screws: Sequence[Fastener]) -> Iterator[str]:
    """The screws of some hardware: how many of which."""
    counts: dict[str, int] = {}
    for one in screws:
        row = f"{one.row}, {show(one.length.value, bench.build.manner)} long"
        counts[row] = counts.get(row, 0) + 1
    for row, count in counts.items():
        yield f"Screws: {count} x {row}."


def drawers_in(bench: Bench, finished: Finished) -> Iterator[Job]:
    """Drawers and trays into their openings, and loose shelves."""
    if bench.build.sliders:
        assemblies = {one.assembly for one in bench.build.sliders}
        parts = tuple(p for p in bench.build.parts if p.assembly in assemblies)
        yield Job(
            "drawers in",
            Stage.HARDWARE,
            "Put the drawers in",
            (
                f"{cap(spoken_all([one.assembly for one in bench.build.sliders]))}, from the lowest up.",
                "Set the fronts with spacers of one thickness all round, then drive the last screws.",
            ),
            parts,
            after=(*finished.of(assemblies), f"fit {TIPPED}", "fit slides", "fit pulls"),
            shows=tuple(p.name for p in bench.build.parts),
            new=tuple(p.name for p in parts),
            check="Each runs its whole way without rubbing, and the gaps are even.",
            hands_on=5.0 * len(bench.build.sliders),
            why_here="the case is light while it is empty: castors and slides come first",
        )


def installing(bench: Bench, finished: Finished) -> Iterator[Job]:
    """Each of the plan's own entries into its place, in the order in which one stands on another."""
    fixed = {guest for _, guest in fixed_pairs(bench)}
    tops = [one for one in bench.build.assemblies if not one.inside_of]
    names = {one.name for one in tops}
    for one in tops:
        if one.name in fixed and not one.removable:
            continue
        below = one.stands_on.split(".")[0]
        waits = [
            *finished.of(finished.by),
            "drawers in",
            *(f"fit {sort}" for sort, *_ in SORTS),
            "fit the other hardware",
        ]
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
        cautions=(caution("heavy lift"), *((caution("wall fixing"),) if wall else ())),
        reads=drivers,
        hands_on=10.0,
        why_here="last: it is checked against the real thing before anything is loaded",
    )
