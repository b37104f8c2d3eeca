"""Numbers as they will come out at the bench: what is printed, with the errors of the settings and of each piece.

A part is cut to the printed number, so its size no longer moves with the sheet it was reckoned from: it is that number,
an error that all pieces cut at one setting share, and one of its own. Its thickness is the sheet's, known as well as it
was measured, a little different from place to place. `as_made` puts these into any expression; what is shared cancels
as it does in the shop. A number that was measured on the real thing stays what was read.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property, partial

from storystick.ground.dim import Dim, Leaf, Named, Spread, counts, rewritten, walk
from storystick.ground.kept import Kept
from storystick.ground.length import fine, show
from storystick.model.build import Build
from storystick.model.cut import Bore, Channel
from storystick.model.part import Part
from storystick.shop.shop import Error
from storystick.shop.tables import workmanship

NOTHING = Fraction(0)
PLACE_SD = 0.08
"""How a sheet differs from place to place when it was read only once: one standard deviation [mm] (practice)."""


_MADE: "Kept[Made]" = Kept(4)


@dataclass(frozen=True, eq=False)
class Made:
    """A build's numbers as they are made. `errors` by kind of cut; the table of workmanship when the shop has not said.

    to_measure  parts that are best cut to fit are taken off their openings, not cut to the printed number
    """

    build: Build
    errors: Mapping[str, Error]
    to_measure: bool = True

    @cached_property
    def numbers(self) -> dict[str, Dim]:
        """Every size that is cut, by its name: sizes of parts; width, depth and place of channels; place of holes."""
        return {name: self._number(name) for name in self._makers}

    @cached_property
    def _makers(self) -> dict[str, Callable[[], Dim]]:
        """By the name of each such number, how it is put together; most are never asked for."""
        return dict(self._all())

    @cached_property
    def _put_together(self) -> dict[str, Dim]:
        return {}

    def _number(self, name: str) -> Dim:
        found = self._put_together.get(name)
        if found is None:
            found = self._put_together[name] = self._makers[name]()
        return found

    @cached_property
    def provisional(self) -> dict[str, tuple[Dim, Part]]:
        """Sizes that are taken off the opening when the rest stands: by name, the number and its part."""
        if not self.to_measure:
            return {}
        return {
            dim.name: (dim, part)
            for part in self.build.parts
            if part.fit_to
            for dim in part.size[:2]
            if dim.name and not is_fixed(dim)
        }

    def _all(self) -> Iterator[tuple[str, Callable[[], Dim]]]:
        for part in self.build.parts:
            yield from self._part(part)
            for cut in part.cuts:
                if isinstance(cut, Channel):
                    yield from self._channel(part, cut)
                elif isinstance(cut, Bore):
                    for at in cut.at:
                        yield from self._cut(at, "bore place", part)

    def _part(self, part: Part) -> Iterator[tuple[str, Callable[[], Dim]]]:
        for dim, kind in zip(part.size, ("crosscut", "rip"), strict=False):
            if dim.name not in self.provisional:
                yield from self._cut(dim, kind, part)
        thick = part.thickness
        if thick.name and was_read(thick):
            yield thick.name, lambda: thick
        elif thick.name:
            yield thick.name, partial(self._thick, part)

    def _thick(self, part: Part) -> Dim:
        thick, says = part.thickness, f"where on the sheet {part.name} comes from"
        sheet = _printed(thick) if is_fixed(thick) else part.stock.thickness
        return sheet + _error(f"{thick.name}: {PLACE}", part.stock.scatter or PLACE_SD, says)

    def _channel(self, part: Part, cut: Channel) -> Iterator[tuple[str, Callable[[], Dim]]]:
        yield from self._cut(cut.size[1 - cut.runs], "channel width", part)
        yield from self._cut(cut.depth, "channel depth", part)
        for at in cut.at:
            yield from self._cut(at, "channel place", part)

    def _cut(self, dim: Dim, kind: str, part: Part) -> Iterator[tuple[str, Callable[[], Dim]]]:
        """A number as it is cut; and under its own name a number that it only passes on: one depth for all."""
        name = dim.name
        if not name or not dim.value:
            return
        if kind in ("channel width", "channel depth"):
            for shared in passed_on(dim):
                if shared not in self.build.truths and shared not in self._sheets:
                    yield shared, partial(self._as_set, dim, kind, part)
        yield name, partial(self._as_cut, dim, kind, part)

    @cached_property
    def _sheets(self) -> frozenset[str]:
        """Thicknesses of the stock: a channel as wide as its guest is no sheet."""
        return frozenset(stock.thickness.name for stock in self.build.stock)

    def _as_set(self, dim: Dim, kind: str, part: Part) -> Dim:
        if was_read(dim):
            return dim
        return _printed(dim) + self._setting(kind, part, dim.value, self.errors[kind].setting)

    def _as_cut(self, dim: Dim, kind: str, part: Part) -> Dim:
        as_set = self._as_set(dim, kind, part)
        if as_set is dim:  # it was read
            return dim
        return as_set + _error(f"{dim.name}: {OWN}", self.errors[kind].own, f"{dim.name} as this one is cut")

    def _setting(self, kind: str, part: Part, value: Fraction, sd: float) -> Dim:
        word, where = _SETTINGS[kind]
        said = fine if kind in ("channel width", "channel depth") else show
        says = f"the {word} set to {said(value, self.build.manner)} for {part.stock.name}"
        return _error(f"{word}{where} {part.stock.name} set to {float(value):.3f} mm", sd, says)

    def as_made(self, dim: Dim) -> Dim:
        """The same number, from what is really cut and measured."""
        if id(dim) not in self._told:
            self._told[id(dim)] = (dim, self._rewritten(dim, frozenset()))
        return self._told[id(dim)][1]

    @cached_property
    def _told(self) -> dict[int, tuple[Dim, Dim]]:
        """What was asked before, by identity, with the answer."""
        return {}

    def _rewritten(self, dim: Dim, inside: frozenset[str]) -> Dim:
        def swap(one: Dim) -> Dim | None:
            if not isinstance(one.node, Named):
                return None
            name = one.node.name
            if name in self.provisional and name not in inside:
                return self._taken_off(name)
            if name in self._makers:
                return self._number(name)
            if name in self.build.truths and name not in inside and not was_read(one):
                return self._rewritten(self.build.truths[name], inside | {name})
            return None

        return rewritten(dim, swap, self._rewrote.setdefault(inside, {}))

    @cached_property
    def _rewrote(self) -> dict[frozenset[str], dict[int, Dim]]:
        """What was made of the build's numbers inside of some rooms, by which they are."""
        return {}

    def moves(self, dim: Dim) -> Mapping[str, float]:
        """The numbers of pieces that a number comes about from, and how much it moves when one of them grows by 1."""
        names = {*self._makers, *self.provisional}

        def swap(one: Dim, inside: frozenset[str] = frozenset()) -> Dim | None:
            if not isinstance(one.node, Named):
                return None
            name = one.node.name
            if name in names:
                return Dim(one.value, Leaf(name, "given", name), one.power)
            if name in self.build.truths and name not in inside and not was_read(one):
                return rewritten(self.build.truths[name], lambda deeper: swap(deeper, inside | {name}))
            return None

        return {key: weight for key, (_, weight) in counts(rewritten(dim, swap)).items() if key in names and weight}

    @cached_property
    def _taken(self) -> dict[str, Dim]:
        return {}

    def _taken_off(self, name: str) -> Dim:
        """A size that is taken off its opening as that came out, and trimmed until it is right."""
        if name not in self._taken:
            dim, part = self.provisional[name]
            was = adapted(dim)
            by = was if was is not None else dim.node.by if isinstance(dim.node, Named) else dim
            error = self.errors["cut to measure"]
            says = f"what is taken off the opening of {part.fit_to}"
            word = dim.name.rsplit(".", 1)[-1]
            off = _error(f"{part.fit_to}: {word} {float(dim.value):.3f} mm taken off", error.setting, says)
            own = _error(f"{name}: {OWN}", error.own, f"{name} as this one is trimmed")
            taken = self._rewritten(by, self.own_rooms)
            takes_up = NOTHING if was is None else dim.value - taken.value
            self._taken[name] = taken + Dim(takes_up, NO_ERROR, 1) + off + own
        return self._taken[name]

    def cut_to_fit(self, part: Part) -> "Made":
        """The same where one more part is taken off its opening; what else is cut is cut as it is here."""
        parts = tuple(replace(one, fit_to=one.assembly) if one is part else one for one in self.build.parts)
        other = replace(self, build=replace(self.build, parts=parts))
        makers = {name: make for name, make in self._makers.items() if name not in other.provisional}
        other.__dict__.update(_makers=makers, _put_together=self._put_together, _under=self._under)
        return other

    @cached_property
    def own_rooms(self) -> frozenset[str]:
        """Numbers that come about from parts which are cut to fit themselves: not what these parts are taken off."""
        found = {*self.provisional}
        waiting = self._under if found else {}
        while True:
            more = {name for name, names in waiting.items() if not names.isdisjoint(found)}
            if not more:
                return frozenset(found)
            found |= more
            waiting = {name: names for name, names in waiting.items() if name not in more}

    @cached_property
    def _under(self) -> dict[str, frozenset[str]]:
        """For each number that comes about from what is cut, the names of all that it rests on."""
        return {name: frozenset(one.name for one in walk(dim)) for name, dim in self.build.truths.items()}


PLACE, OWN = "where on the sheet", "this one"
NO_ERROR = Leaf("what it takes up", "chosen", "so that what is cut already comes out right")
_SETTINGS = {
    "rip": ("fence", " for"),
    "crosscut": ("stop", " for"),
    "channel width": ("channel width", " in"),
    "channel depth": ("channel depth", " in"),
    "channel place": ("guide", " on"),
    "bore place": ("mark", " on"),
}


def made(build: Build, errors: Mapping[str, Error] | None = None, *, to_measure: bool = True) -> Made:
    """The build's numbers as they are made, with the shop's own errors or those of the table."""
    table = {name: Error(row.setting_mm, row.own_mm) for name, row in workmanship().items()}
    every = {**table, **(errors or {})}
    return _MADE.of((build, tuple(every.items()), to_measure), lambda: Made(build, every, to_measure))


def _printed(dim: Dim) -> Dim:
    return Dim(dim.value, Leaf(f"{dim.name} as printed", "given", "as printed"), dim.power)


def _error(name: str, sd: float, says: str) -> Dim:
    return Dim(NOTHING, Leaf(name, "setting", says, Spread(sd)), 1)


def _seen(dim: Dim) -> Leaf | None:
    """The leaf that overrules this very number, when something does; not one that it only passes on."""
    node = dim.node
    if isinstance(node, Named):
        return node.overruled
    return node if isinstance(node, Leaf) and node.instead_of is not None else None


def was_read(dim: Dim) -> bool:
    """True for a number that a reading of the real thing overrules."""
    seen = _seen(dim)
    return seen is not None and seen.kind == "reading"


def is_fixed(dim: Dim) -> bool:
    """True for a number that is read, or that stays as it was cut or settled: the plan's sums move it no more."""
    seen = _seen(dim)
    return seen is not None and seen.kind != "chosen"


def adapted(dim: Dim) -> Dim | None:
    """What had been reckoned for a number that isn't cut yet and takes up what others are off by; else None."""
    seen = _seen(dim)
    return seen.instead_of if seen is not None and seen.kind == "chosen" else None


def as_reckoned(dim: Dim) -> Dim:
    """A number without what overrules it: what it comes to from the sizes of the pieces."""
    seen = _seen(dim)
    return dim if seen is None or seen.instead_of is None else seen.instead_of


def passed_on(dim: Dim) -> Iterator[str]:
    """Names of the numbers that a named number is without any sum: the shared depth behind one channel's depth.

    Also behind one that is cut or measured by now: what was reckoned before then.
    """
    while isinstance(dim.node, Named):
        by = dim.node.by
        if isinstance(by.node, Leaf) and by.node.instead_of is not None:
            by = by.node.instead_of
        if isinstance(by.node, Named):
            yield by.node.name
        dim = by
