"""The whole piece from a plan: entries in the order in which they need one another, then parts with letters."""

from collections.abc import Callable
from collections.abc import Mapping as Readonly
from dataclasses import replace

from storystick.craft.draft import Bench, Stuck, freeze, truths
from storystick.craft.fits import GOES_IN
from storystick.craft.kinds import Built, Kind, Task, by_word
from storystick.craft.kinds import kinds as all_kinds
from storystick.ground.dim import Book, Reading
from storystick.ground.fields import Choice, Field, Fields, Flag, Text, Weight, fill
from storystick.ground.finding import Broken, Finding, Grade, Place, in_order, mistake, worst, wrong
from storystick.ground.marked import Mapping, Marked, Scalar, plain
from storystick.ground.misread import nearest, one_of
from storystick.ground.outcome import Outcome
from storystick.model.build import Build, How, Keep, Load, SiteBody
from storystick.model.joining import Fit
from storystick.model.part import Assembly
from storystick.model.stock import Stock
from storystick.plan.plan import Plan
from storystick.plan.readings import read_measure
from storystick.resolve.letters import lettered
from storystick.resolve.names import SIZES, Names, RoomView
from storystick.resolve.names import in_order as entries_in_order
from storystick.resolve.place import SITS, Between, Placed, read_place
from storystick.resolve.site import read_body
from storystick.resolve.stock import error_of, read_stock
from storystick.shop.shop import Shop

type Readings = Readonly[str, Reading]
ENTRY = ("sits", "note", "removable")
LOAD = Fields(
    "load",
    (
        Field("weight", Weight, required=True, help="how much it carries"),
        Field("how", Choice(("evenly", "in the middle")), default="evenly", help="spread over it, or in the middle"),
        Field("lasting", Flag, default="yes", help="stays there for months"),
        Field("note", Text),
    ),
    short="weight",
)


class Resolving:
    """One plan being resolved. What can't be read is noted and left out; everything else goes on."""

    def __init__(self, plan: Plan, shop: Shop, readings: Readings | None = None) -> None:
        self.plan, self.shop = plan, shop
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
        readers: dict[str, Callable[[str, Marked], None]] = {}
        nodes: dict[str, Marked] = {}
        for section, read in (
            ("measure", self.measure),
            ("stock", self.take_stock),
            ("site", self.body),
            ("build", self.entry),
        ):
            for entry in self.plan.entries(section):  # type: ignore[arg-type]
                readers[entry.name], nodes[entry.name] = read, entry.node
        for name in entries_in_order(nodes, self.mistakes):
            before = len(self.mistakes)
            self._attempt(readers[name], name, nodes[name])
            if any(f.grade is Grade.STOP for f in self.mistakes[before:]):
                self.failed.add(plain(name))
        build = self._build()
        findings = in_order(self._without_echoes())
        return Outcome(build, findings)

    def _attempt(self, read: Callable[[str, Marked], None], name: str, node: Marked) -> None:
        try:
            read(name, node)
        except Stuck:
            pass
        except ZeroDivisionError:
            self.mistakes.append(wrong(node.place, f"A sum of {name} divides by nothing."))

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

    def _build(self) -> Build | None:
        parts = list(freeze(self.benches))
        pieces = [bench.piece for bench in self.benches]
        loads = self._loads({p.name for p in parts} | {o.name for piece in pieces for o in piece.openings})
        currency = next((s.currency for s in self.stock.values() if s.currency), self.plan.currency)
        return Build(
            title=self.plan.title,
            manner=self.plan.manner,
            assemblies=_outer_first(self.assemblies),
            parts=lettered(parts),
            joints=tuple(j for p in pieces for j in p.joined),
            fasteners=tuple(f for p in pieces for f in p.fasteners),
            items=tuple(i for p in pieces for i in p.items),
            fits=tuple(f for p in pieces for f in p.fits),
            openings=tuple(o for p in pieces for o in p.openings),
            sliders=tuple(s for p in pieces for s in p.sliders),
            spans=tuple(s for p in pieces for s in p.spans),
            moves=tuple(m for p in pieces for m in p.moves),
            site=tuple(self.site),
            keeps=tuple(self.keeps),
            stock=tuple(self.stock.values()),
            loads=loads,
            pages=dict(self.book.pages),
            truths={} if worst(self.mistakes) is Grade.STOP else truths(self.benches),
            drivers=self._drivers(),
            about=self.plan.about,
            currency=currency,
            accepted={a.code: a.reason for a in self.plan.accepted},
            place=self.plan.place,
        )

    def _drivers(self) -> tuple[str, ...]:
        measured = [e.name for e in self.plan.entries("measure") if e.name in self.book.pages]
        return (*measured, *(f"{s.name}.thick" for s in self.stock.values() if f"{s.name}.thick" in self.book.pages))

    def _loads(self, known: set[str]) -> tuple[Load, ...]:
        names = {plain(n): n for n in (*known, *(a.name for a in self.assemblies))}
        found: list[Load] = []
        for entry in self.plan.entries("loads"):
            filled = fill(LOAD, entry.node, self.names, self.mistakes)
            on = names.get(plain(entry.name))
            if on is None:
                if plain(entry.name).split(".")[0] not in self.failed:
                    near = nearest(entry.name, {**names, **{e.name: e.name for e in self.plan.entries("build")}})
                    self.mistakes.append(
                        mistake(
                            entry.place, entry.name, "a part, a bay or an assembly of this plan", names.get(near, near)
                        )
                    )
                continue
            if filled is not None:
                weight = filled.maybe_weight("weight")
                middle = filled.choice("how") == "in the middle"
                if weight is not None:
                    how: How = "in the middle" if middle else "evenly"
                    weighs = filled.place("weight")
                    found.append(Load(on, float(weight.kg), how, filled.flag("lasting"), entry.place, weighs))
        return tuple(found)


def _outer_first(assemblies: list[Assembly]) -> tuple[Assembly, ...]:
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
