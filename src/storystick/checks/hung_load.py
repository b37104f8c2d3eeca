"""Hung load: the screws of a box that hangs at the side of something, against what hangs on them."""

from collections.abc import Iterator

from storystick.checks.driven import Drive, drives, inside
from storystick.checks.masses import carried, gravity_of, masses, solids_of
from storystick.checks.saying import G_N_PER_KG, decimal, kg
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.model.part import Assembly
from storystick.physics.screws import (
    allowable_withdrawal_n,
    old_allowable_lateral_n,
    penetration_share,
    thread_in_receiver_mm,
)

GROUP = "IV"  # the weakest of the wood groups that were read: on the safe side for every wood and panel
THIN_DIAMETERS = 20.0  # in a panel under six diameters thick the table gives nothing: half in proportion is practice
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
        if across:
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
    return Finding(CHECK.code, Grade.CARE, one.place, said, advice, ALLOWED, share, 1, "", about)


def allowed_pull_n(asked: Asked, drive: Drive) -> float:
    """What a screw may be pulled with [N]; nothing in end grain."""
    part = asked.build.parts_by_name.get(drive.of.into)
    where = inside(asked, drive, drive.of.into)
    if part is None or where is None or (where.into == 0 and part.stock.solid):
        return 0.0
    held = thread_in_receiver_mm(drive.long, where.enters, drive.thread)
    held = min(held, where.leaves - where.enters)
    return allowable_withdrawal_n(gravity_of(part.stock), float(drive.of.diameter), held)


def allowed_push_n(asked: Asked, drive: Drive) -> float:
    """What a screw may carry across its line [N]."""
    where = inside(asked, drive, drive.of.into)
    if where is None:
        return 0.0
    thick = float(drive.of.diameter)
    deep = max(0.0, min(drive.long, where.leaves) - where.enters)
    share = penetration_share(deep, thick) or deep / (THIN_DIAMETERS * thick)
    return old_allowable_lateral_n(GROUP, thick) * share


CHECK = Check("hung-load", "Do the screws of what hangs at the side of something hold it, with its load?", run, ALLOWED)
