"""Sanding the outsides, and the coats: each thing that is finished by itself, while others are still being made."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from storystick.model.part import Assembly
from storystick.model.work import Stage
from storystick.shop.tables import finishes
from storystick.work.bench import Bench, caution
from storystick.work.jobs import Job
from storystick.work.laid_out import SANDER
from storystick.work.ways import minutes, sets_for

FINISH = "water-based varnish"
SINGLE = 0.25
"""A board by itself takes a quarter of the time of a piece."""
DRAWERS = 0.4
"""Of a piece with drawers, its drawers take two fifths."""


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


def join_key(host: str, guest: str) -> str:
    """The key of the job that fixes one assembly to another for good."""
    return f"join {guest} to {host}"


def finish_groups(bench: Bench) -> tuple[tuple[str, ...], ...]:
    """Names of the assemblies that are finished together: what is fixed to one another; the drawers of each piece."""
    running = {one.assembly for one in bench.build.sliders}
    group = {
        one.name: (one.inside_of or one.name, "drawers") if one.name in running else (_top(bench, one), "")
        for one in bench.build.assemblies
    }
    alone = [name for name in group if [n for n in group if group[n] == group[name]] == [name]]
    fixed = {name for pair in fixed_pairs(bench) for name in pair}
    boards = [name for name in alone if len(bench.parts_of(name)) == 1 and name not in fixed]
    group |= dict.fromkeys(boards, ("", "boards"))
    for host, guest in fixed_pairs(bench):
        kept, gone = group[host], group[guest]
        if not kept[1] and not gone[1]:
            group = {name: kept if one == gone else one for name, one in group.items()}
    found: dict[tuple[str, str], list[str]] = {}
    for name, one in group.items():
        if bench.parts_of(name):
            found.setdefault(one, []).append(name)
    return tuple(tuple(names) for names in found.values())


def _top(bench: Bench, one: Assembly) -> str:
    while one.inside_of in bench.build.assemblies_by_name:
        one = bench.build.assembly(one.inside_of)
    return one.name


@dataclass(slots=True)
class Finished:
    """The job that ends the finish of each assembly, filled while the jobs are made."""

    by: dict[str, str] = field(default_factory=dict)

    def of(self, assemblies: Iterable[str]) -> tuple[str, ...]:
        """The jobs after which some assemblies are dry."""
        return tuple(dict.fromkeys(self.by[name] for name in assemblies if name in self.by))


def finishing(bench: Bench, after: Mapping[str, Sequence[str]], finished: Finished) -> Iterator[Job]:
    """Outsides sanded, then the coats, for each thing that is finished by itself; `after` by assembly."""
    row = finishes()[FINISH]
    _, each = minutes("finish coat")
    between = sets_for("finish coat", row.recoat_h * 60)
    sand_up, sand = minutes("sand assembly")
    for names in finish_groups(bench):
        parts = tuple(p for p in bench.build.parts if p.assembly in names)
        shows = tuple(p.name for p in parts)
        share = _share(bench, names)
        key = f"sand outside {names[0]}"
        called = tuple(n for n in names if _own(bench, n, names))
        yield Job(
            key,
            Stage.FINISH,
            "Sand the outside of {}",
            ("Break every edge that a hand meets. Sand the outsides to 180 grit.",),
            parts,
            after=tuple(dict.fromkeys(k for name in names for k in after.get(name, ()))),
            shows=shows,
            check="No glue left on show: wet it, glue shows light.",
            cautions=(caution("dust"),),
            hands_on=sand * share,
            laid_out=((SANDER, "outside", sand_up),),
            why_here="after the last glue on it, before any finish",
            kin="sand outside",
            words=called,
        )
        for coat in range(1, row.coats + 1):
            before, key = key, f"finish {names[0]} {coat}"
            does = [
                f"{FINISH.capitalize()} or another finish; {between / 60:g} hours until it is coated again or handled."
            ]
            if coat == 1:
                does.append("Keep it off what is still to be glued. Where wood slides on wood, wax it instead.")
            else:
                does.append("Rub it down lightly first, 320 grit, and wipe off the dust.")
            yield Job(
                key,
                Stage.FINISH,
                f"Finish {{}}: coat {coat} of {row.coats}",
                tuple(does),
                parts,
                after=(before,),
                shows=shows,
                cautions=(caution("oily rags"),) if row.oily_rags else (),
                hands_on=each * share,
                needs=("brush or cloth",),
                waits=between,
                why_here="before any hardware, so that nothing has to be masked"
                if coat == 1
                else "when the coat before is dry",
                kin=f"finish {coat}",
                words=called,
                bench=True,
                whole=True,
            )
        finished.by.update(dict.fromkeys(names, key))


def _share(bench: Bench, names: Sequence[str]) -> float:
    """How much of the time for a whole piece some assemblies take. Source: practice."""
    parts = [p for p in bench.build.parts if p.assembly in names]
    if all(len(bench.parts_of(name)) == 1 for name in names):
        return SINGLE * len(parts)
    running = {one.assembly for one in bench.build.sliders}
    if names[0] in running:
        return DRAWERS
    return 1 - DRAWERS if any(bench.build.assembly(name).inside_of in names for name in running) else 1.0


def _own(bench: Bench, name: str, names: Sequence[str]) -> bool:
    """An assembly that is worth naming: not one that stands in another of the same group."""
    return bench.build.assembly(name).inside_of not in names
