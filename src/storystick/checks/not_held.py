"""Not held: every part, assembly and standing thing hangs together with what it stands on."""

from collections.abc import Iterable, Iterator
from fractions import Fraction

from storystick.checks.saying import listed
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import practice
from storystick.model.build import Build
from storystick.model.check import Asked, Check
from storystick.model.part import Assembly, Part

HELD = practice("a part is held by glue, by fasteners, or because it can't get out once its neighbours are on")
LOOSE = frozenset({"rests"})


def run(asked: Asked) -> Iterator[Finding]:
    """Parts that nothing ties to the rest of their assembly; assemblies that nothing carries."""
    build = asked.build
    tied, resting = ties(build), ties(build, with_resting=True)
    troubles = [*_loose_parts(build, tied, resting), *_loose_assemblies(build, tied)]
    yield from troubles
    if not any(one.grade > Grade.NOTE for one in troubles) and build.parts:
        said = f"All {len(build.parts)} parts hang together with what they stand on."
        yield Finding(CHECK.code, Grade.FINE, build.place, said, "", HELD)


def ties(build: Build, with_resting: bool = False) -> dict[str, str]:
    """Which body each part belongs to: parts that are held to one another have the same word."""
    body = {part.name: part.name for part in build.parts}

    def root(name: str) -> str:
        while body[name] != name:
            body[name] = body[body[name]]
            name = body[name]
        return name

    def tie(names: Iterable[str]) -> None:
        known = [root(name) for name in names if name in body]
        for name in known[1:]:
            body[root(name)] = root(known[0])

    for joint in build.joints:
        if joint.holds and (with_resting or not LOOSE.issuperset(joint.holds)):
            tie((joint.host, joint.guest))
    for fit in build.fits if with_resting else ():
        tie((fit.goes_in, fit.into))  # what drops in lies there
    for fastener in build.fasteners:
        tie((fastener.through, fastener.into))
    for item in build.items:
        carried = [part.name for part in build.parts if item.carries and item.carries in (part.assembly, part.name)]
        if with_resting or not item.carries:
            tie((*item.on, *carried[:1]))
    return {name: root(name) for name in body}


def _loose_parts(build: Build, tied: dict[str, str], resting: dict[str, str]) -> Iterator[Finding]:
    for assembly in build.assemblies:
        parts = [part for part in build.parts if part.assembly == assembly.name]
        if not parts:
            continue
        sizes: dict[str, Fraction] = {}
        for part in parts:
            volume = part.length.value * part.width.value * part.thickness.value
            sizes[tied[part.name]] = sizes.get(tied[part.name], Fraction(0)) + volume
        main = max(sizes, key=lambda body: sizes[body])
        rests_on_main = resting[main]
        groups: dict[str, list[Part]] = {}
        for part in parts:
            if tied[part.name] != main:
                groups.setdefault(tied[part.name], []).append(part)
        lying: list[Part] = []
        for group in groups.values():
            if all(resting[part.name] == rests_on_main for part in group):
                lying += group
            else:
                yield _loose(group)
        if lying:
            names = tuple(part.name for part in lying)
            said = f"Only resting on what is below, to be lifted out: {listed(names)}."
            yield Finding(CHECK.code, Grade.NOTE, lying[0].place, said, "", HELD, about=names)


def _loose(group: list[Part]) -> Finding:
    names = tuple(part.name for part in group)
    said = f"Nothing holds {listed(names)} to the rest of {group[0].assembly}."
    advice = f"Give {names[0]} a joint or screws to a board that it touches."
    return Finding(CHECK.code, Grade.STOP, group[0].place, said, advice, HELD, about=names)


def _loose_assemblies(build: Build, tied: dict[str, str]) -> Iterator[Finding]:
    bodies: dict[str, set[str]] = {}
    for part in build.parts:
        bodies.setdefault(part.assembly, set()).add(tied[part.name])
    carried = {item.carries for item in build.items} | {slider.assembly for slider in build.sliders}
    for one in build.assemblies:
        mine = bodies.get(one.name, set())
        shared = any(mine & other for name, other in bodies.items() if name != one.name)
        if one.held_by or shared or one.removable or one.name in carried or not mine:
            continue
        if one.inside_of:
            said = f"Nothing holds {one.name} in {one.inside_of}."
        elif not one.stands_on:
            said = f"{one.name} stands on nothing and is fixed to nothing."
        elif _hangs(build, one):
            said = f"{one.name} hangs at the side of {one.stands_on} and nothing holds it there."
        else:
            continue
        advice = f"Say what {one.name} stands on, or fix it with screws."
        if one.kind == "case" and not one.inside_of and not one.stands_on:
            advice = (
                f"Say what {one.name} stands on, or hang it: with nailers: both it has boards across its back for "
                f"screws into the wall's studs; a back alone is too thin for them. A cleat carries it too."
            )
        yield Finding(CHECK.code, Grade.STOP, one.place, said, advice, HELD, about=(one.name,))


def _hangs(build: Build, one: Assembly) -> bool:
    """True where it is said to be carried by another assembly and does not lie on top of anything of it."""
    carrier = build.assemblies_by_name.get(one.stands_on)
    if carrier is None:
        return False
    low = one.at[2].value
    return low < carrier.at[2].value + carrier.size[2].value


CHECK = Check(
    "not-held", "Is everything held: each part by its neighbours, each assembly by what it stands on?", run, HELD
)
