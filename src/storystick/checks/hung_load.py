"""Hung load: the screws of a box that hangs at the side of something, against what hangs on them."""

from collections.abc import Iterator

from storystick.checks.driven import Drive, drives
from storystick.checks.holding_power import allowed_pull_n, allowed_push_n
from storystick.checks.masses import carried, masses, place_of, solids_of
from storystick.checks.on_the_wall import wall_holes
from storystick.checks.saying import G_N_PER_KG, decimal, kg
from storystick.checks.stated import lighter
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.model.part import Assembly

ALLOWED = Source(
    "National Design Specification, eq. 12.2-2 (pulled); building-design handbook, eq. 6.38, wood group IV (sideways)",
    "read",
)


def run(asked: Asked) -> Iterator[Finding]:
    """Every assembly that fasteners hold at the side of what carries it."""
    lines = {drive.of.name: drive for drive in drives(asked)}
    for one in asked.build.assemblies:
        held = [lines[name] for name in one.held_by if name in lines]
        across = [drive for drive in held if abs(drive.way[2]) < 0.5]
        if across and not wall_holes(asked, one.name):  # a cleat does not hang on a thing: the thing hangs on it
            yield _finding(asked, one, across)


def _finding(asked: Asked, one: Assembly, held: list[Drive]) -> Finding:
    manner, within = asked.build.manner, carried(asked, one)
    weights = masses(asked, within, filled=True)
    load = sum(mass.newtons for mass in weights)
    way = held[0].way
    hangs_out = sum(m.newtons * abs(sum((m.at[a] - held[0].head[a]) * way[a] for a in (0, 1))) for m in weights) / load
    low = min((s.bounds[0][2] for s in solids_of(asked, frozenset({one.name}))), default=held[0].head[2])
    arms = [drive.head[2] - low for drive in held]
    top = max(range(len(held)), key=lambda i: arms[i])
    pull = load * hangs_out * max(arms[top], 1.0) / max(1.0, sum(arm * arm for arm in arms))
    push = load / len(held)
    pulls, pushes = allowed_pull_n(asked, held[top]), min(allowed_push_n(asked, drive) for drive in held)
    share = (pull / pulls if pulls else float("inf")) + (push / pushes if pushes else float("inf"))
    said = (
        f"{one.name} hangs with {kg(load / G_N_PER_KG, manner)} on {len(held)} screws: each carries "
        f"{kg(push / G_N_PER_KG, manner)} sideways of {kg(pushes / G_N_PER_KG, manner)} allowed, and the topmost pulls "
        f"with {kg(pull / G_N_PER_KG, manner)} of {kg(pulls / G_N_PER_KG, manner)} allowed"
    )
    about = (one.name,)
    if share <= 1:
        said += f": together {decimal(100 * share, 0)} %."
        return Finding(CHECK.code, Grade.FINE, one.place, said, "", ALLOWED, share, 1, "", about)
    if share == float("inf"):
        advice = (
            f"Screw into the face or the edge of {held[top].of.into}: end grain holds nothing that can be counted on."
        )
        return Finding(CHECK.code, Grade.CARE, one.place, f"{said}.", advice, ALLOWED, about=about)
    count = int(len(held) * share) + 1
    said += f": together {decimal(100 * share, 0)} %."
    most = kg(int(load / share / G_N_PER_KG * 10) / 10, manner)
    advice = f"Use {count} screws of that size or more, spread in the same way, or hang {most} on it or less in all."
    loads = [load for load in asked.build.loads if (at := place_of(asked, load)) and at[0] in within]
    own = load - sum(one.kilograms for one in loads) * G_N_PER_KG
    left = (load / share - own) / (load - own) if load > own else 0.0
    tries = tuple(lighter(loads, left, manner))
    return Finding(CHECK.code, Grade.CARE, one.place, said, advice, ALLOWED, share, 1, "", about, None, tries)


CHECK = Check("hung-load", "Do the screws of what hangs at the side of something hold it, with its load?", run, ALLOWED)
