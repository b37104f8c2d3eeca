"""What the planning of a piece looks at: build, layouts, shop, the ways chosen, and what is cut to fit what."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from storystick.ground.dim import Book
from storystick.model.build import Build
from storystick.model.cut import Bore, Channel, Cut
from storystick.model.holes import Purpose, purposes
from storystick.model.joining import Fastener, Joined
from storystick.model.layers import layered
from storystick.model.part import Assembly, Part
from storystick.model.sequence import AssemblyOrder, Late
from storystick.model.work import Cutting
from storystick.shop.shop import Shop
from storystick.shop.tables import cautions
from storystick.work.choosing import Chosen

LAYER = " #"  # stands between a part's name and the number of its layer in the key of a blank


@dataclass(frozen=True, eq=False)
class Bench:
    """One piece in one shop, on its way to an order of work."""

    build: Build
    cuttings: tuple[Cutting, ...]
    shop: Shop
    book: Book
    chosen: Chosen
    sequence: AssemblyOrder | None = None  # in what order the piece goes together, where that was found out
    last: frozenset[str] = frozenset()  # parts that are better cut when the rest stands dry, to what is there
    in_one_go: bool = True  # troughs that run on into an edging are cut when that is on
    keeps_on_sheet: bool = True  # what is cut to fit stays on its sheet until it can be measured, and is cut once

    @cached_property
    def fitted(self) -> dict[str, str]:
        """The assembly whose dry fit a part's last sizes come from, by the part's name; "" for the place itself."""
        openings = {one.name: one.assembly for one in self.build.openings}
        found: dict[str, str] = {}
        for part in self.build.parts:
            to = part.fit_to
            if to:
                near = self.build.parts_by_name.get(to)
                target = openings.get(to) or (near.assembly if near else to)
                known = target in self.build.assemblies_by_name and self._may_wait(part.assembly, target)
                found[part.name] = target if known else ""
        firm = {name: target for name, target in found.items() if target and self._has_firm(target, found)}
        return {name: firm.get(name, "") for name in found}

    @cached_property
    def late(self) -> tuple[Late, ...]:
        """Parts that wait until something that they would hide is fixed; none of a piece that can't be put together."""
        return self.sequence.late if self.sequence is not None and self.sequence.can_be else ()

    @cached_property
    def alike(self) -> tuple[tuple[Assembly, ...], ...]:
        """Assemblies that are made alike, drawers of one case, in groups; the others by themselves."""
        groups: dict[tuple[object, ...], list[Assembly]] = {}
        for one in self.build.assemblies:
            mark = (one.inside_of, one.kind, *sorted(self._made(one.name))) if one.inside_of else (one.name,)
            groups.setdefault(mark, []).append(one)
        return tuple(tuple(group) for group in groups.values())

    def _made(self, assembly: str) -> list[str]:
        """What an assembly is made of, told alike for those that are made alike: joints by the parts' own names."""
        of = self.build.parts_by_name
        found = [f"{part.name.rpartition('.')[2]}" for part in self.parts_of(assembly)]
        for j in self.build.joints:
            if of[j.host].assembly == of[j.guest].assembly == assembly:
                ends = (j.host.rpartition(".")[2], j.guest.rpartition(".")[2])
                found.append(f"{ends} {j.axis} {j.sign} {j.glued}")
        return found

    def those_alike(self, assembly: str) -> tuple[Assembly, ...]:
        """The assemblies that are made like one, itself among them."""
        return next(group for group in self.alike if any(one.name == assembly for one in group))

    def first_alike(self, assembly: str) -> str:
        """The first of the assemblies that are made like one, which may be itself."""
        return self.those_alike(assembly)[0].name

    def dry_key(self, assembly: str) -> str:
        """The key of the job that fits an assembly dry."""
        return f"dry fit {assembly}"

    def glue_key(self, assembly: str, number: int) -> str:
        """The key of the job that is an assembly's glue-up of that number."""
        return f"glue {assembly} {number}"

    def _may_wait(self, own: str, target: str) -> bool:
        """Parts wait for their own assembly or one that is laid earlier, never round in a circle."""
        order = [one.name for one in self.build.assemblies]
        apart = own == target or self.first_alike(own) != self.first_alike(target)
        return apart and order.index(target) <= order.index(own)

    def _has_firm(self, target: str, fitted: dict[str, str]) -> bool:
        """Something is left to dry-fit when the parts that wait for it are put aside."""
        return any(p.assembly == target and fitted.get(p.name) != target for p in self.build.parts)

    @cached_property
    def layered(self) -> tuple[tuple[Part, ...], ...]:
        """Parts that are glued face to face into one, in groups; parts made up of layers of their own."""
        return layered(self.build)

    @cached_property
    def drilled_in_place(self) -> dict[tuple[str, str], str]:
        """Holes drilled through the hole of the other part, held together dry: the assembly, by part and cut."""
        found: dict[tuple[str, str], str] = {}
        for one in self.build.fasteners:
            host, guest = (self.build.parts_by_name.get(name) for name in (one.through, one.into))
            if host is None or guest is None or host.assembly != guest.assembly:
                continue
            said = one.name.removeprefix(f"{one.assembly}.") + " "
            for cut in guest.cuts:
                named = cut.name.removeprefix(f"{guest.name}.").removeprefix(f"{one.assembly}.")
                if isinstance(cut, Bore) and cut.depth is not None and named.startswith(said):
                    found[guest.name, cut.name] = guest.assembly
        return found

    @cached_property
    def purposes(self) -> Mapping[tuple[str, str], Purpose]:
        """What each hole is for, by the names of part and cut."""
        return purposes(self.build)

    @cached_property
    def ways_out(self) -> dict[str, frozenset[tuple[int, int]]]:
        """For joints whose guest lies in a step open to one side: the way out by that side, axis and sign, by joint."""
        found: dict[str, frozenset[tuple[int, int]]] = {}
        for joint in self.build.joints:
            host = self.build.part(joint.host)
            for cut in host.cuts:
                if isinstance(cut, Channel) and cut.joint == joint.name and (way := open_way(cut, host)):
                    found[joint.name] = frozenset({way})
        return found

    @cached_property
    def between_parts(self) -> tuple[Fastener, ...]:
        """Fasteners that go through one part into another; the others hold hardware."""
        of = self.build.parts_by_name
        return tuple(one for one in self.build.fasteners if one.through in of and one.into in of)

    def fasteners_of(self, joints: Iterable[Joined]) -> tuple[Fastener, ...]:
        """The fasteners of some joints."""
        names = {joint.name for joint in joints}
        return tuple(one for one in self.between_parts if one.joint in names)

    def parts_of(self, assembly: str) -> tuple[Part, ...]:
        """The parts of one assembly, without those inside it."""
        return tuple(p for p in self.build.parts if p.assembly == assembly)

    def all_cuts(self) -> Iterator[tuple[Part, Cut]]:
        """Every cut with its part."""
        for part in self.build.parts:
            for cut in part.cuts:
                yield part, cut


def open_way(cut: Channel, host: Part) -> tuple[int, int] | None:
    """The way out of a step along an edge or end, axis and sign in the assembly; None for a trough with two walls."""
    over = cut.side.axes[1 - cut.runs]
    at, far = cut.at[1 - cut.runs].value, cut.at[1 - cut.runs].value + cut.width.value
    near_open, far_open = at <= 0, far >= host.size[over].value
    if near_open == far_open or over > 1:
        return None
    sign = host.datum[over]
    return host.lies[over], -sign if near_open else sign


SHORT = {
    "spreader": "Riving knife on.",
    "narrow rip": "Narrow piece: push block.",
    "short crosscut": "Short piece: sled or stop block, never between fence and blade.",
    "no guard": "No guard on this cut: featherboard or jig.",
    "dust": "Dust: extraction and mask.",
    "heavy lift": "Heavy: not alone over 23 kg (51 lb).",
    "magnets": "Strong magnets: none left lying about.",
    "oily rags": "Oily rags laid out flat.",
}
"""What is enough to say when a caution has been read once."""


def caution(name: str) -> str:
    """A caution of the table by its name, with its source."""
    row = cautions()[name]
    return row.says if row.how == "practice" else f"{row.says} ({row.source}.)"


def reminder(text: str) -> str:
    """A caution that has been told before, in a few words."""
    for name, short in SHORT.items():
        if text == caution(name):
            return short
    first = text if len(text) < MOST else f"{text.partition(';')[0].rstrip('.')}."
    return f"As before: {first[:1].lower()}{first[1:]}"


MOST = 60
