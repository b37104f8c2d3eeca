"""Isles: entries of what is built that hang together, and what each of them came to; one isle knows nothing of another.

A cabinet, the box on its back and the lid on its top are one isle; a bench across the room is another. Whichever of
them were laid anew, they are put together in the order of the plan, and nothing of it can be seen in the build.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import islice

from storystick.craft.draft import Piece
from storystick.craft.kinds import Extents
from storystick.ground.dim import Dim
from storystick.ground.finding import Broken, Finding
from storystick.model.build import Build, Keep
from storystick.model.part import Assembly
from storystick.resolve.letters import lettered

PHASES = 4
"""An entry is laid, its boards are sized, its joints marked out, its cuts named: each time numbers get their names."""


@dataclass(frozen=True, slots=True, eq=False)
class Laid:
    """What one entry came to. `pages`: the numbers that were named in each phase."""

    assemblies: tuple[Assembly, ...]
    keeps: tuple[Keep, ...]
    lengths: Mapping[str, Dim]
    things: Mapping[str, Extents]
    pages: list[Mapping[str, Dim]]
    piece: Piece = field(default_factory=Piece)  # its parts, joints, fasteners and so on; no drafts
    truths: Mapping[str, Dim] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, eq=False)
class Isle:
    """Entries by name with what they came to, what there was to say of them, and which could not be read."""

    laid: Mapping[str, Laid]
    mistakes: tuple[Finding, ...]
    failed: frozenset[str]


def since[K, V](some: Mapping[K, V], start: int) -> dict[K, V]:
    """What was added to it after so many."""
    return dict(islice(some.items(), start, None))


def finished(piece: Piece) -> Piece:
    """A piece without its drafts, and without what only marks out its joints."""
    return replace(piece, drafts={}, joints=[], truths={})


def isles_of(names: Sequence[str], needs: Mapping[str, set[str]]) -> list[list[str]]:
    """Entries that speak of one another, or of one that others speak of, together; each in the order given."""
    leader = {name: name for name in names}
    for name in names:
        for other in needs[name] & leader.keys():
            one, two = leader[name], leader[other]
            leader = {each: (two if head == one else head) for each, head in leader.items()}
    return [[n for n in names if leader[n] == head] for head in dict.fromkeys(leader[n] for n in names)]


def together(build: Build, rows: Sequence[Laid]) -> Build:
    """A build that has what is around it, with all that was laid."""
    pieces = [row.piece for row in rows]
    pages = dict(build.pages)
    for phase in range(PHASES):
        for row in rows:
            pages |= row.pages[phase]
    return Build(
        title="",
        manner=build.manner,
        assemblies=_outer_first([one for row in rows for one in row.assemblies]),
        parts=lettered(part for p in pieces for part in p.parts),
        joints=tuple(j for p in pieces for j in p.joined),
        fasteners=tuple(f for p in pieces for f in p.fasteners),
        items=tuple(i for p in pieces for i in p.items),
        fits=tuple(f for p in pieces for f in p.fits),
        openings=tuple(o for p in pieces for o in p.openings),
        sliders=tuple(s for p in pieces for s in p.sliders),
        spans=tuple(s for p in pieces for s in p.spans),
        moves=tuple(m for p in pieces for m in p.moves),
        site=build.site,
        keeps=tuple(keep for row in rows for keep in row.keeps),
        stock=build.stock,
        pages=pages,
        truths={name: dim for row in rows for name, dim in row.truths.items()},
    )


def _outer_first(assemblies: Iterable[Assembly]) -> tuple[Assembly, ...]:
    """Assemblies so that each comes after the one that it is inside of."""
    done: list[Assembly] = []
    waiting = list(assemblies)
    while waiting:
        names = {a.name for a in done} | {""}
        ready = [a for a in waiting if a.inside_of in names]
        if not ready:
            raise Broken("assemblies inside one another in a circle", [a.name for a in waiting])
        done.extend(ready)
        waiting = [a for a in waiting if a not in ready]
    return tuple(done)
