"""Numbers as they will come out at the bench: what is printed, with the errors of the settings and of each piece.

A part is cut to the printed number, so its size no longer moves with the sheet it was reckoned from: it is that number,
an error that all pieces cut at one setting share, and one of its own. Its thickness is the sheet's, known as well as it
was measured, a little different from place to place. `as_made` puts these into any expression; what is shared cancels
as it does in the shop. A number that was measured on the real thing stays what was read.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from storystick.ground.dim import Dim, Leaf, Named, Spread, rewritten
from storystick.model.build import Build
from storystick.model.cut import Bore, Channel
from storystick.model.part import Part
from storystick.shop.tables import workmanship

NOTHING = Fraction(0)
PLACE_SD = 0.08
"""How a sheet differs from place to place when it was read only once: one standard deviation [mm] (practice)."""


@dataclass(frozen=True, slots=True)
class Error:
    """How well one kind of cut comes out: standard deviations of the setting and of each piece alone [mm]."""

    setting: float
    own: float


@dataclass(frozen=True, eq=False)
class Made:
    """A build's numbers as they are made. `errors` by kind of cut; those of the table where the shop has not said."""

    build: Build
    errors: Mapping[str, Error]

    @cached_property
    def numbers(self) -> dict[str, Dim]:
        """Every size that is cut, by name: length, width, thickness of parts; width, depth, place of channels."""
        return dict(self._all())

    def _all(self) -> Iterator[tuple[str, Dim]]:
        for part in self.build.parts:
            yield from self._part(part)
            for cut in part.cuts:
                if isinstance(cut, Channel):
                    yield from self._channel(part, cut)
                elif isinstance(cut, Bore):
                    for at in cut.at:
                        yield from self._cut(at, "bore place", f"{cut.name}")

    def _part(self, part: Part) -> Iterator[tuple[str, Dim]]:
        sawn = f" of {part.stock.name}"
        yield from self._cut(part.length, "crosscut", part.name, sawn)
        yield from self._cut(part.width, "rip", part.name, sawn)
        if part.thickness.name and not _was_read(part.thickness):
            sd = part.stock.scatter or PLACE_SD
            own = _error(f"{part.name}: where on the sheet it comes from", sd)
            yield part.thickness.name, part.stock.thickness + own

    def _channel(self, part: Part, cut: Channel) -> Iterator[tuple[str, Dim]]:
        across = cut.size[1 - cut.runs]
        yield from self._cut(across, "channel width", cut.name, f" into {part.stock.name}")
        yield from self._cut(cut.depth, "channel depth", cut.name, f" into {part.stock.name}")
        for at in cut.at:
            yield from self._cut(at, "channel place", cut.name, f" on {part.stock.name}")

    def _cut(self, dim: Dim, kind: str, own: str, where: str = "") -> Iterator[tuple[str, Dim]]:
        """A number as it is cut; and under its own name a number that it only passes on: one depth for all."""
        if not dim.name or _was_read(dim) or dim.value == 0:
            return
        error = self.errors[kind]
        printed = Dim(dim.value, Leaf(f"{dim.name} as printed", "given", "as printed"), dim.power)
        setting = printed + _error(f"{_SETTINGS[kind]}{where} set to {float(dim.value):.2f} mm", error.setting)
        if kind in ("channel width", "channel depth"):
            for name in _passed_on(dim):
                yield name, setting
        yield dim.name, setting + _error(f"{dim.name}: this one cut", error.own)

    def as_made(self, dim: Dim) -> Dim:
        """The same number, from what is really cut and measured."""
        return self._rewritten(dim, frozenset())

    def _rewritten(self, dim: Dim, inside: frozenset[str]) -> Dim:
        def swap(one: Dim) -> Dim | None:
            if not isinstance(one.node, Named):
                return None
            name = one.node.name
            if name in self.numbers:
                return self.numbers[name]
            if name in self.build.truths and name not in inside and not _was_read(one):
                return self._rewritten(self.build.truths[name], inside | {name})
            return None

        return rewritten(dim, swap)


_SETTINGS = {
    "rip": "fence",
    "crosscut": "stop",
    "channel width": "channel width",
    "channel depth": "channel depth",
    "channel place": "guide",
    "bore place": "mark",
}


def made(build: Build, errors: Mapping[str, Error] | None = None) -> Made:
    """The build's numbers as they are made, with the shop's own errors or those of the table."""
    table = {name: Error(row.setting_mm, row.own_mm) for name, row in workmanship().items()}
    return Made(build, {**table, **(errors or {})})


def _error(name: str, sd: float) -> Dim:
    return Dim(NOTHING, Leaf(name, "setting", "", Spread(sd)), 1)


def _was_read(dim: Dim) -> bool:
    """True for a number that a reading of the real thing overrules."""
    node = dim.node
    while isinstance(node, Named):
        dim, node = node.by, node.by.node
    return isinstance(node, Leaf) and node.kind == "reading" and node.instead_of is not None


def _passed_on(dim: Dim) -> Iterator[str]:
    """Names of the numbers that a named number is without any sum: the shared depth behind one channel's depth."""
    node = dim.node
    while isinstance(node, Named) and isinstance(node.by.node, Named):
        node = node.by.node
        yield node.name
