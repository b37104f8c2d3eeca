"""Finish, hardware, drawers in, and putting it in place."""

from collections.abc import Callable, Iterator, Mapping, Sequence, Set
from dataclasses import replace

from storystick.model.joining import Fastener, Item
from storystick.model.part import Assembly
from storystick.model.work import Stage
from storystick.shop.tables import castors, feet, hinges, magnets, pulls, screws, shelf_pins, slides
from storystick.work.bench import Bench, caution
from storystick.work.coating import Finished, finish_groups, fixed_pairs, join_key
from storystick.work.fitting_words import (
    ADVICE,
    fit_lines,
    foot_lines,
    gap_lines,
    hinge_lines,
    pin_lines,
    screw_lines,
    shelves_on,
    slide_lines,
    wall_lines,
)
from storystick.work.jobs import Job
from storystick.work.placing import HEAVY, held, is_off_the_floor, stands, tries, weighs
from storystick.work.pull_screws import pull_lines
from storystick.work.saying import cap, spoken, spoken_all
from storystick.work.uniting import drive_lines
from storystick.work.ways import minutes, sets_for

TIPPED = "castors and feet"
SLIDES = "slides"
PINS = "shelf pins"
GLUED = 30
SORTS: tuple[tuple[str, Callable[[str], bool], str, str], ...] = (
    (TIPPED, lambda kind: kind in castors() or kind in feet(), "fit castor", "while the piece can be tipped over"),
    (SLIDES, lambda kind: kind in slides(), "fit slides", "before the drawers, on the finished sides"),
    ("hinges", lambda kind: kind in hinges(), "fit hinge", "after the finish, so that nothing has to be masked"),
    ("pulls", lambda kind: kind in pulls(), "fit pull", "after the finish, so that nothing has to be masked"),
    ("magnets", lambda kind: kind in magnets() or "magnet" in kind, "fit magnet", "when both faces are done"),
    (PINS, lambda kind: kind in shelf_pins(), "drive nail", "when no more finish goes into their holes"),
)  # fmt: skip


def joining(bench: Bench, last: dict[str, str], ready: Mapping[str, Sequence[str]]) -> Iterator[Job]:
    """Assemblies and boards that are fixed to one another for good.

    last  the job that ends each assembly's glue-up;  ready  what must have been done to each part
    """
    for (host, guest), names in fixed_pairs(bench).items():
        between = _between(bench, host, guest)
        key = join_key(host, guest)
        late = {one.part for one in bench.late}
        glued = any(j.glued for j in bench.build.joints if j.name in names)
        parts = tuple(p for p in bench.build.parts if p.assembly in (host, guest) and p.name not in late)
        made = [k for p in parts for k in ready.get(p.name, ())]
        yield Job(
            key,
            Stage.ASSEMBLE,
            f"Fix {spoken(guest)} to {spoken(host)}",
            (_held_there(between, glued),),
            parts,
            lines=tuple(drive_lines(bench, between)),
            after=tuple(dict.fromkeys([*(k for one in (host, guest) if (k := _whole_by(last, key, one))), *made])),
            shows=tuple(p.name for p in parts),
            new=tuple(p.name for p in parts if p.assembly == guest),
            check="It stands where the plan has it before the last screw goes in.",
            hands_on=5 + sum(minutes("drive screw")) + minutes("drive screw")[1] * len(between),
            waits=sets_for("glue-up", GLUED) if glued else 0,
            whole=glued,
            why_here="both have to be whole first",
        )


def _whole_by(last: Mapping[str, str], key: str, assembly: str) -> str:
    """The job after which an assembly is ready to be fixed to another; "" for one that is a board by itself."""
    return last.get(f"{key}, {assembly}") or last.get(assembly, "")


def _held_there(between: Sequence[Fastener], glued: bool) -> str:
    """How it is held while it is fixed."""
    glue = "with glue between the two" if glued else "without glue"
    if any(one.kind not in ("nail", "brad") for one in between):
        return f"Bring its clearance holes over the pilot holes drilled for them and clamp it there, {glue}."
    return f"Mark where it goes from the three views and clamp it there, {glue}."


def _between(bench: Bench, one: str, other: str) -> list[Fastener]:
    of = bench.build.parts_by_name
    return [f for f in bench.between_parts if {of[f.through].assembly, of[f.into].assembly} == {one, other}]


def fitting_hardware(bench: Bench, finished: Finished) -> Iterator[Job]:
    """Hardware by its sort, what needs the piece tipped over first; then everything else that was bought."""
    rest = [item for item in bench.build.items if item.kind not in screws()]  # those go in when it hangs
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
            does=(
                *fit_lines(bench.build, items, parts),
                *slide_lines(bench.build),
                *screw_lines(bench.build, _screws_into(bench, whole, running, False)),
                ADVICE[SLIDES],
            )
            if not is_drawer
            else (
                "The half that comes off the slide goes on the drawer's side, its front end level with the box front.",
                *screw_lines(bench.build, _screws_into(bench, whole, running, True)),
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
            shows=(*in_view(bench, of), *(() if is_drawer else whole.new)),
            why_here="on the finished sides, while the case is empty" if not is_drawer else "before the drawers go in",
        )


def _hardware(bench: Bench, sort: str, items: Sequence[Item], timed: str, because: str, finished: Finished) -> Job:
    of = bench.build.parts_by_name
    touched = {item.assembly for item in items} | {of[n].assembly for item in items for n in item.on if n in of}
    names = {item.name for item in items}
    screws = [f for f in bench.build.fasteners if f.through in names]
    set_up, each = minutes(timed)
    on = dict.fromkeys(name for item in items for name in item.on if name in bench.build.parts_by_name)
    tipped, pins = sort == TIPPED, sort == PINS
    heavy = max((weighs(bench.build, one) for one in bench.build.assemblies if one.name in touched), default=0.0)
    warned = {TIPPED: "heavy lift" if heavy > HEAVY else "", "magnets": "magnets"}.get(sort, "")
    dry = finished.of(one.name for one in bench.build.assemblies if one.name in touched)
    return Job(
        f"fit {sort}",
        Stage.HARDWARE,
        f"Fit the {title_of(sort, items)}",
        (
            *(("Tip the piece onto a blanket, empty and without its drawers.",) if tipped else ()),
            *(pin_lines if pins else fit_lines)(bench.build, items),
            *screw_lines(bench.build, screws),
            *((ADVICE[sort],) if ADVICE.get(sort) else ()),
            *(hinge_lines(items) if sort == "hinges" else ()),
            *(pull_lines(bench.build) if sort == "pulls" else ()),
            *(foot_lines(bench.build, items) if tipped else ()),
        ),
        (*(bench.build.part(name) for name in on), *(shelves_on(bench.build, items) if pins else ())),
        after=dry if tipped else (*dry, f"fit {TIPPED}"),
        shows=in_view(bench, touched) + tuple(item.name for item in items),
        new=tuple(item.name for item in items),
        check={"slides": "Both slides of a pair at one height and square to the front."}.get(sort, ""),
        cautions=(caution(warned),) if warned else (),
        hands_on=each * sum(item.count for item in items),
        laid_out=((f"what the {sort} need", "", set_up),),
        why_here=because,
    )


def in_view(bench: Bench, touched: Set[str], drawers: bool = False) -> tuple[str, ...]:
    """Parts of some assemblies and of what is fixed to them; `drawers` with those that run in them."""
    running = {one.assembly for one in bench.build.sliders}
    named = {name for name in touched if name not in running} or touched
    together = {name for names in finish_groups(bench) if named & set(names) for name in names}
    if drawers:
        together |= {
            name for name in running if bench.build.assembly(name).inside_of in together | named or name in touched
        }
    return tuple(p.name for p in bench.build.parts if p.assembly in together | named)


def title_of(sort: str, items: Sequence[Item]) -> str:
    """What is fitted, for a title: of castors and feet those that there are."""
    if sort != TIPPED:
        return sort.removeprefix("the ")
    kinds = (("castors", castors()), ("feet", feet()))
    return " and ".join(word for word, rows in kinds if any(item.kind in rows for item in items))


def _screws_into(bench: Bench, job: Job, running: set[str], is_drawer: bool) -> list[Fastener]:
    """The screws of some slides that go into the drawers, or those that go into the case."""
    names = set(job.new)
    of = bench.build.parts_by_name
    return [
        one
        for one in bench.build.fasteners
        if one.through in names and one.into in of and (of[one.into].assembly in running) == is_drawer
    ]


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
                *gap_lines(bench.build),
                "Where a gap is uneven, loosen the screws of that front, set it with spacers and drive them again.",
            ),
            parts,
            after=(*finished.of(assemblies), f"fit {TIPPED}", "fit slides", "fit pulls"),
            shows=in_view(bench, {bench.build.assembly(name).inside_of for name in assemblies}, drawers=True),
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
    standing = [one for one in tops if one.stands_on]
    first = True
    for one in (*standing, *(one for one in tops if not one.stands_on)):
        if (one.name in fixed and not one.removable) or _hinged(bench, one):
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
        if not one.stands_on:  # a strip beside or in front of what stands: that comes first
            waits.extend(f"install {other.name}" for other in standing if other.name not in fixed)
        yield _install(bench, one, tuple(waits), first, set() if one.stands_on else {other.name for other in standing})
        first = False


def _hinged(bench: Bench, one: Assembly) -> bool:
    """It hangs on hinges that another piece has too: it is in its place when these are fitted."""
    of = bench.build.parts_by_name
    on = [{of[name].assembly for name in item.on if name in of} for item in bench.build.items if item.kind in hinges()]
    return one.stands_on in bench.build.assemblies_by_name and any({one.name, one.stands_on} <= both for both in on)


def _install(bench: Bench, one: Assembly, waits: tuple[str, ...], first: bool, there: set[str]) -> Job:
    build = bench.build
    on = f" on the {one.stands_on.replace('.', ' ')}" if one.stands_on else ""
    bodies = {body.name for body in build.site}
    wall = "screws" in one.held_by or "cleat" in one.held_by or any("wall" in word for word in one.held_by)
    to_wall = [item for item in build.items if item.assembly == one.name and item.kind in screws()]
    hung = (wall and one.stands_on in bodies) or bool(to_wall)
    inside = {one.name} | {a.name for a in build.assemblies if a.inside_of == one.name}
    parts = tuple(p for p in build.parts if p.assembly in inside)
    thick = tuple(f"{stock.name}." for stock in build.stock)
    drivers = tuple(name for name in build.drivers if not name.startswith(thick)) if first else ()
    where = tuple(stands(build, one, there))
    set_down = f"Set it{on}." if not hung else ""
    heavy = weighs(build, one) > HEAVY
    return Job(
        f"install {one.name}",
        Stage.INSTALL,
        f"{'Lay' if one.removable else 'Put'} {spoken(one.name)} in its place",
        (
            *(("Measure again what it was built to, and compare.",) if drivers else ()),
            *((set_down,) if set_down and on else ()),
            *where,
            *held(build, one),
            *wall_lines(build, to_wall, is_off_the_floor(build, one)),
            *((f"The plan counts on this: {'; '.join(build.accepted.values())}.",) if first and build.accepted else ()),
        ),
        parts,
        after=waits,
        shows=in_view(bench, {one.name, *(w.partition(" ")[2] for w in waits if w.startswith("install "))}, True),
        new=tuple(p.name for p in parts),
        check=tries(build, one),
        cautions=(*((caution("heavy lift"),) if heavy else ()), *((caution("wall fixing"),) if hung else ())),
        reads=drivers,
        hands_on=10.0,
        why_here="last: it is checked against the real thing before anything is loaded",
    )
