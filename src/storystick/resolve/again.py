"""Again: what was resolved for an earlier plan and holds for this one, since all that it was read from is the same.

An entry of `measure`, `stock` or `site` gives the same again where its own words stand as they stood and every entry
that it speaks of gave what it gave then; what is built gives the same where that holds of everything around it. So
after a change of title or load the very same boards are there, and whoever asks about these has the answer already.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import TYPE_CHECKING

from storystick.craft.kinds import Extents
from storystick.ground.dim import Dim
from storystick.ground.finding import Finding, Grade, worst
from storystick.ground.kept import Kept, This
from storystick.ground.marked import Marked
from storystick.model.build import Build, SiteBody
from storystick.model.stock import Stock
from storystick.plan.plan import Section

if TYPE_CHECKING:
    from storystick.resolve.build import Resolving

type Reader = Callable[[str, Marked], None]
type Entry = tuple[str, Marked, Section, Reader]


@dataclass(frozen=True, slots=True, eq=False)
class Given:
    """What one entry gave: its numbers, where it lies, its stock or its body, and what there was to say of it."""

    lengths: Mapping[str, Dim]
    things: Mapping[str, Extents]
    pages: Mapping[str, Dim]
    stock: Mapping[str, Stock]
    site: tuple[SiteBody, ...]
    mistakes: tuple[Finding, ...]

    @property
    def is_sound(self) -> bool:
        """Whether it could be read."""
        return worst(self.mistakes) is not Grade.STOP


@dataclass(frozen=True, slots=True, eq=False)
class Laid:
    """What is built: a build without its loads and the words of its heading. Names, mistakes, entries that failed."""

    build: Build
    lengths: Mapping[str, Dim]
    things: Mapping[str, Extents]
    mistakes: tuple[Finding, ...]
    failed: frozenset[str]


_GIVEN: Kept[Given] = Kept(256)
_LAID: Kept[Laid] = Kept(6)


class Again:
    """One plan's entries, read anew where they have to be. `needs`: what each speaks of; None: all are read anew."""

    def __init__(self, work: "Resolving", needs: Mapping[str, set[str]] | None) -> None:
        self.work, self.needs = work, needs
        self.given: dict[str, Given] = {}
        plan = work.plan
        self.always = (plan.units, plan.manner, This(work.shop), frozenset(work.book.readings.items()))

    def read(self, entry: Entry) -> None:
        """An entry of what is around the piece: numbers, stock, things that stand there."""
        name, node, section, read = entry
        if self.needs is None or not self.needs[name] <= self.given.keys():
            self.needs = None
            self.work.attempt(read, name, node)
            return
        spoken = tuple(This(given) for other, given in self.given.items() if other in self.needs[name])
        anew = _Anew(lambda: self._recorded(entry))
        given = _GIVEN.of((section, name, node, spoken, self.always), anew)
        if not anew.done:
            self._take(given) if given.is_sound else self.work.attempt(read, name, node)
        if not given.is_sound:  # what it would have given is not there to be spoken of
            self.needs = None
        self.given[name] = given

    def lay(self, entries: Sequence[Entry]) -> Laid:
        """What is built; entries of what is around it among them where these speak of it, and then all is laid anew."""
        if self.needs is None or any(section != "build" for _, _, section, _ in entries):
            return self.work.lay(entries)
        around = tuple(This(given) for given in self.given.values())
        words = tuple((name, node) for name, node, _, _ in entries)
        anew = _Anew(lambda: self.work.lay(entries))
        laid = _LAID.of((words, around, self.always), anew)
        if not anew.done:
            self.work.mistakes += laid.mistakes
            self.work.failed |= laid.failed
            self.work.names.lengths.update(laid.lengths)
            self.work.names.things.update(laid.things)
        return laid

    def _recorded(self, entry: Entry) -> Given:
        name, node, _, read = entry
        work, names = self.work, self.work.names
        lengths, things, pages, stock = len(names.lengths), len(names.things), len(work.book.pages), len(work.stock)
        site, mistakes = len(work.site), len(work.mistakes)
        work.attempt(read, name, node)
        return Given(
            dict(islice(names.lengths.items(), lengths, None)),
            dict(islice(names.things.items(), things, None)),
            dict(islice(work.book.pages.items(), pages, None)),
            dict(islice(work.stock.items(), stock, None)),
            tuple(work.site[site:]),
            tuple(work.mistakes[mistakes:]),
        )

    def _take(self, given: Given) -> None:
        work = self.work
        work.names.lengths.update(given.lengths)
        work.names.things.update(given.things)
        work.book.pages.update(given.pages)
        work.stock.update(given.stock)
        work.site += given.site
        work.mistakes += given.mistakes


class _Anew[R]:
    """What is reckoned when it is not kept, and whether it was."""

    def __init__(self, reckon: Callable[[], R]) -> None:
        self.reckon, self.done = reckon, False

    def __call__(self) -> R:
        self.done = True
        return self.reckon()
