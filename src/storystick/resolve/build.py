"""The whole piece from a plan: entries in the order in which they need one another, then parts with letters."""

from collections.abc import Mapping as Readonly
from collections.abc import Sequence
from dataclasses import replace
from itertools import takewhile

from storystick.craft.draft import Bench, Stuck, cut_joints, name_cuts, size_boards, truths
from storystick.craft.fits import GOES_IN
from storystick.craft.kinds import Built, Kind, Task, by_word
from storystick.craft.kinds import kinds as all_kinds
from storystick.ground.dim import Book, Reading
from storystick.ground.fields import fill
from storystick.ground.finding import Finding, Grade, Place, in_order, mistake, worst, wrong
from storystick.ground.marked import Mapping, Marked, Scalar, plain
from storystick.ground.misread import nearest, one_of
from storystick.ground.outcome import Outcome
from storystick.model.build import Build, Keep, SiteBody
from storystick.model.joining import Fit
from storystick.model.part import Assembly
from storystick.model.stock import Stock
from storystick.plan.plan import Plan, Section
from storystick.plan.readings import read_measure
from storystick.resolve.again import Again, Entry, Reader
from storystick.resolve.isles import Isle, Laid, finished, since
from storystick.resolve.loads import read_loads
from storystick.resolve.names import SIZES, Names, RoomView, needs_of
from storystick.resolve.names import in_order as entries_in_order
from storystick.resolve.place import SITS, Between, Placed, read_place
from storystick.resolve.site import read_body
from storystick.resolve.stock import error_of, read_stock
from storystick.shop.shop import Shop

type Readings = Readonly[str, Reading]
ENTRY = ("sits", "note", "removable")


class Resolving:
    """One plan being resolved. What can't be read is noted and left out; everything else goes on.

    anew  whatever is kept from other plans
    """

    def __init__(self, plan: Plan, shop: Shop, readings: Readings | None = None, *, anew: bool = False) -> None:
        self.plan, self.shop, self.anew = plan, shop, anew
        self.mistakes: list[Finding] = []
        self.book = Book(readings or {})
        self.names = Names(plan.units, self.book)
        self.stock: dict[str, Stock] = {}
        self.site: list[SiteBody] = []
        self.benches: list[Bench] = []
        self.assemblies: list[Assembly] = []
        self.keeps: list[Keep] = []
        self.failed: set[str] = set()
        self.built: dict[str, Built] = {}

    def run(self) -> Outcome[Build]:
        """Resolve every entry of the plan; the build is None when nothing could be made."""
        entries: dict[str, Entry] = {}
        written = 0
        for section, read in self._sections():
            for one in self.plan.entries(section):
                entries[one.name] = (one.name, one.node, section, read)
                written += 1
        nodes = {name: node for name, node, _, _ in entries.values()}
        needs = needs_of(nodes)
        order = [entries[name] for name in entries_in_order(nodes, needs, self.mistakes)]
        plainly = written == len({plain(name) for name in nodes}) and not any("." in name for name in nodes)
        again = Again(self, needs if plainly and not self.anew else None)
        around = list(takewhile(lambda entry: entry[2] != "build", order))
        for entry in around:
            again.read(entry)
        build = again.lay(order[len(around) :])
        if build is None:
            return Resolving(self.plan, self.shop, self.book.readings, anew=True).run()
        return Outcome(self._build(build), in_order(self._without_echoes()))

    def _sections(self) -> tuple[tuple[Section, Reader], ...]:
        return (("measure", self.measure), ("stock", self.take_stock), ("site", self.body), ("build", self.entry))

    def attempt(self, read: Reader, name: str, node: Marked) -> None:
        """Read one entry; where that can't be done, note that it failed."""
        before = len(self.mistakes)
        try:
            read(name, node)
        except Stuck:
            pass
        except ZeroDivisionError:
            self.mistakes.append(wrong(node.place, f"A sum of {name} divides by nothing."))
        if worst(self.mistakes[before:]) is Grade.STOP:
            self.failed.add(plain(name))

    def _without_echoes(self) -> list[Finding]:
        """Mistakes less those that only say that a name is unknown whose own entry could not be read."""
        echoes = [f"'{name}" for name in self.failed]
        return [
            f for f in dict.fromkeys(self.mistakes)
            if not (f.grade is Grade.STOP and any(f.says.casefold().startswith(e) for e in echoes) and "name" in f.says)
        ]  # fmt: skip

    def measure(self, name: str, node: Marked) -> None:
        """A named length of the plan."""
        dim = read_measure(name, node, self.names, error_of(self.shop), self.mistakes)
        if dim is not None:
            self.names.settle(name, dim, "as measured" if not isinstance(node, Scalar) else "as the plan says")

    def take_stock(self, name: str, node: Marked) -> None:
        """A stock of the plan."""
        stock = read_stock(name, node, self.names, self.shop, self.mistakes)
        if stock is not None:
            self.stock[plain(name)] = stock

    def body(self, name: str, node: Marked) -> None:
        """A body of the site."""
        body = read_body(name, node, self.names, self.mistakes)
        if body is not None:
            self.site.append(body)

    def entry(self, name: str, node: Marked) -> None:
        """One assembly of the plan: its kind, its size, its place, then its boards."""
        if not isinstance(node, Mapping):
            known = one_of(list(all_kinds()))
            self.mistakes.append(
                wrong(node.place, f"{name} needs a group with its kind: {known}.", "Write case: and what it is like.")
            )
            return
        found = self._kind_of(name, node)
        if found is None:
            return
        kind, inner = found
        bench = Bench(name, self.book.within(name), self.plan.manner, self.stock, self.mistakes)
        ask = fill(kind.fields, inner, self.names, self.mistakes)
        sits = node.get("sits")
        if ask is None:
            if isinstance(sits, Mapping):
                fill(SITS, sits, self.names, self.mistakes)  # its own mistakes are told in the same run
            return
        size = kind.size(ask, self.names, bench)
        if size is None:
            return
        placed = read_place(sits, self.names, size, node.place, self.mistakes)
        if placed is None:  # the rest is worked out all the same, so that its mistakes are told in the same run
            placed = read_place(None, self.names, size, node.place, self.mistakes)
            assert placed is not None
        turned = (size[1], size[0], size[2]) if placed.turns % 2 else size
        self.names.place(name, placed.at, turned)
        at = tuple(self.names.lengths[plain(f"{name}.{word}")] for word in ("left", "front", "bottom"))
        task = Task(
            name,
            ask,
            self.names,
            bench,
            RoomView(self.names, self.built),
            size,
            (at[0], at[1], at[2]),
            placed.turns,
            node.place,
        )
        made = kind.make(task)
        self.built[plain(name)] = Built(bench, task.at, size, placed.turns)
        self._take(made, placed, bench, kind, node)

    def _take(self, made: Assembly, placed: Placed, bench: Bench, kind: Kind, node: Mapping) -> None:
        removable = node.get("removable")
        says_removable = isinstance(removable, Scalar) and plain(removable.text) in ("yes", "true")
        self.assemblies.append(
            replace(
                made, stands_on=placed.carrier, held_by=(*made.held_by, *placed.held_by),
                removable=made.removable or says_removable, comes_in=placed.comes_in,
            )
        )  # fmt: skip
        self.assemblies.extend(bench.piece.assemblies)
        self.keeps.extend(Keep(made.name, body, gap, made.place) for body, gap in placed.clear_of)
        if placed.between is not None:
            bench.piece.fits.append(self._goes_between(made.name, placed.between, placed.turns, made.place))
        self.benches.append(bench)
        for word in kind.lends:
            full = f"{made.name}.{word}"
            if full in self.book.pages:
                self.names.lend(full, self.book.pages[full])

    def _goes_between(self, name: str, between: Between, turns: int, place: Place) -> Fit:
        """The piece between the things around it is a fit too: it must go in, however gap and piece come out."""
        size = self.book.pages[f"{name}.{SIZES[1 - between.axis if turns % 2 else between.axis]}"]
        _, least, most = GOES_IN.dims()
        called, into = f"{name} between {' and '.join(between.bounds)}", between.bounds[0]
        gap = between.gap - size
        return Fit(called, gap, least, most, "goes in between", name, into, "", GOES_IN.source, place)

    def _kind_of(self, name: str, node: Mapping) -> tuple[Kind, Marked] | None:
        words = by_word()
        said = [(key, value) for key, value in node.entries if plain(key.text) not in ENTRY]
        known = [(key, value) for key, value in said if plain(key.text) in words]
        for key, _ in said:
            if plain(key.text) not in words:
                choices = [*words, *ENTRY]
                self.mistakes.append(
                    mistake(
                        key.place,
                        key.text,
                        f"a kind ({one_of(sorted(all_kinds()))}) or sits",
                        nearest(key.text, choices),
                    )
                )
        if len(known) != 1:
            if len(known) > 1 or not said:
                self.mistakes.append(wrong(node.place, f"{name} needs one kind: {one_of(sorted(all_kinds()))}."))
            return None
        key, value = known[0]
        return words[plain(key.text)], value

    def isle(self, entries: Sequence[Entry]) -> Isle:
        """Entries laid anew: first every one, then the sizes of all boards, then their joints, then the names of cuts.

        In this order, since a joint reads the boards' finished sizes, and one entry may drill into another's boards.
        """
        before, failed, pages = len(self.mistakes), set(self.failed), self.book.pages
        laid: dict[str, Laid] = {}
        benches: dict[str, Bench] = {}
        for name, node, _, read in entries:
            some = (self.assemblies, self.keeps, self.names.lengths, self.names.things, pages, self.benches)
            had = [len(each) for each in some]
            self.attempt(read, name, node)
            laid[name] = Laid(
                tuple(self.assemblies[had[0] :]),
                tuple(self.keeps[had[1] :]),
                since(self.names.lengths, had[2]),
                since(self.names.things, had[3]),
                [since(pages, had[4])],
            )
            if len(self.benches) > had[5]:
                benches[name] = self.benches[-1]
        for phase in (size_boards, cut_joints, name_cuts):
            for name, one in laid.items():
                start = len(pages)
                if name in benches:
                    phase(benches[name])
                one.pages.append(since(pages, start))
        found = {} if worst(self.mistakes) is Grade.STOP else truths(list(benches.values()))
        for name, bench in benches.items():
            own = {number: found[number] for number in bench.piece.truths if number in found}
            laid[name] = replace(laid[name], piece=finished(bench.piece), truths=own)
        return Isle(laid, tuple(self.mistakes[before:]), frozenset(self.failed - failed))

    def around(self) -> Build:
        """What stands around the piece, and its stock, as a build without any board."""
        site, stock = tuple(self.site), tuple(self.stock.values())
        return Build("", self.plan.manner, (), (), site=site, stock=stock, pages=dict(self.book.pages))

    def _build(self, build: Build) -> Build:
        on = (one.name for some in (build.parts, build.openings, build.assemblies) for one in some)
        loads = read_loads(self.plan, self.names, on, self.failed, self.mistakes)
        return replace(
            build,
            title=self.plan.title,
            loads=loads,
            truths={} if worst(self.mistakes) is Grade.STOP else build.truths,
            drivers=self._drivers(build),
            about=self.plan.about,
            currency=next((one.currency for one in build.stock if one.currency), self.plan.currency),
            accepted={one.code: one.reason for one in self.plan.accepted},
            place=self.plan.place,
        )

    def _drivers(self, build: Build) -> tuple[str, ...]:
        measured = [e.name for e in self.plan.entries("measure") if e.name in build.pages]
        return (*measured, *(f"{s.name}.thick" for s in build.stock if f"{s.name}.thick" in build.pages))
