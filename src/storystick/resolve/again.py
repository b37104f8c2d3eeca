"""Again: what was resolved for an earlier plan and holds for this one, since all that it was read from is the same.

An entry of `measure`, `stock` or `site` gives the same again where its own words stand as they stood and every entry
that it speaks of gave what it gave then; what is built gives the same where that holds of everything around it. So
after a change of title or load the very same boards are there, and whoever asks about these has the answer already.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from storystick.craft.kinds import Extents
from storystick.ground.dim import Dim
from storystick.ground.finding import Finding, Grade, worst
from storystick.ground.kept import Kept, This
from storystick.ground.marked import Marked
from storystick.model.build import Build, SiteBody
from storystick.model.stock import Stock
from storystick.plan.plan import Section
from storystick.resolve.isles import Isle, isles_of, since, together

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


_GIVEN: Kept[Given] = Kept(256)
_ISLES: Kept[Isle] = Kept(24)
_BUILDS: Kept[Build] = Kept(6)


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

    def lay(self, entries: Sequence[Entry]) -> Build | None:
        """What is built, without its loads and the words of its heading.

        None where entries that were kept stand beside some that can't be read, so that all has to be laid in its order.
        Entries of what is around may be among them, where these speak of what is built: then all is laid anew.
        """
        work, names = self.work, [name for name, _, _, _ in entries]
        around, lengths, things = work.around(), dict(work.names.lengths), dict(work.names.things)
        if self.needs is None or any(section != "build" for _, _, section, _ in entries):
            isle = work.isle(entries)
            whole = replace(work.around(), pages=around.pages)
            return together(whole, [isle.laid[name] for name in names])
        isles = [self._isle([one for one in entries if one[0] in some]) for some in isles_of(names, self.needs)]
        if len(isles) > 1 and any(isle.failed for isle in isles):
            return None
        laid = {name: one for isle in isles for name, one in isle.laid.items()}
        rows = [laid[name] for name in names]
        for row in rows:
            lengths |= row.lengths
            things |= row.things
        work.names.lengths, work.names.things = lengths, things
        words = tuple((name, node) for name, node, _, _ in entries)
        given = tuple(This(one) for one in self.given.values())
        return _BUILDS.of((words, tuple(map(This, isles)), given, self.always), lambda: together(around, rows))

    def _isle(self, entries: Sequence[Entry]) -> Isle:
        assert self.needs is not None
        spoken = {other for name, _, _, _ in entries for other in self.needs[name]}
        given = tuple(This(one) for name, one in self.given.items() if name in spoken or one.stock)
        words = tuple((name, node) for name, node, _, _ in entries)
        anew = _Anew(lambda: self.work.isle(entries))
        isle = _ISLES.of((words, given, self.always), anew, lambda found: not found.failed)
        if not anew.done:
            self.work.mistakes += isle.mistakes
            self.work.failed |= isle.failed
        return isle

    def _recorded(self, entry: Entry) -> Given:
        name, node, _, read = entry
        work, names = self.work, self.work.names
        lengths, things, pages, stock = len(names.lengths), len(names.things), len(work.book.pages), len(work.stock)
        site, mistakes = len(work.site), len(work.mistakes)
        work.attempt(read, name, node)
        return Given(
            since(names.lengths, lengths),
            since(names.things, things),
            since(work.book.pages, pages),
            since(work.stock, stock),
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
