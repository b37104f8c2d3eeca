"""From the texts to everything that can be asked: each stage run once, when it is first asked for."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from time import process_time
from typing import TYPE_CHECKING

from storystick.ground.dim import Book, Dim, Named
from storystick.ground.finding import Finding, Grade, in_order, worst
from storystick.ground.kept import Kept, This
from storystick.ground.length import Unit
from storystick.ground.outcome import Outcome
from storystick.model.build import Build
from storystick.plan.log import Log, read_log
from storystick.plan.plan import Plan
from storystick.plan.read import read_plan
from storystick.shop.read import default_shop, read_shop
from storystick.shop.shop import OnHand, Shop

if TYPE_CHECKING:
    from storystick.model.check import Looks
    from storystick.model.closing import ToFit
    from storystick.model.judged import Judged
    from storystick.model.made import Made
    from storystick.model.scene import Scene
    from storystick.model.sequence import AssemblyOrder
    from storystick.model.work import Buying, Cutting, Wish, WorkOrder
    from storystick.paper.folder import Folder
    from storystick.work.channel_fits import Channels

GAP = "the gap as it is made: the hole less what goes in"

type Tell = Callable[[str, float], None]
type Stop = Callable[[], bool]


@dataclass(frozen=True)
class Texts:
    """What goes in: the plan, the shop file and the log if there are any; each with the name of its file."""

    plan: str
    plan_file: str
    shop: str | None = None
    shop_file: str = ""
    log: str | None = None
    log_file: str = ""
    units: Unit | None = None  # of the shop that it is made in, where not the plan's own


_SHOPS: Kept[Outcome[Shop]] = Kept(4)
_MADE: Kept[tuple[Finding, ...]] = Kept(2)

LAYOUT_SECONDS = 5.0
"""So much of the machine's own time layouts may take; searches end by their steps long before, but for large jobs."""


def _in_time(stop: Stop | None) -> Stop:
    """Stops when it is asked to, or when the layouts have had their time."""
    end = process_time() + LAYOUT_SECONDS
    return lambda: process_time() > end or (stop is not None and stop())


class CantGoOn(Exception):
    """The plan or the shop has mistakes that leave nothing to go on with; `findings` says which."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        super().__init__("the plan can't be worked out as it stands")
        self.findings = findings


@dataclass(frozen=True, eq=False)
class Job:
    """One plan in one shop. `tell` hears how far long work has come; `stop` is asked whether to give up."""

    texts: Texts
    tell: Tell | None = None
    stop: Stop | None = None
    rack: tuple[OnHand, ...] = ()

    @cached_property
    def plan_read(self) -> Outcome[Plan]:
        """The plan as read."""
        read = read_plan(self.texts.plan, self.texts.plan_file)
        if read.made is None or self.texts.units is None:
            return read
        return replace(read, made=replace(read.made, works_in=self.texts.units))

    @cached_property
    def shop_read(self) -> Outcome[Shop]:
        """The shop as read; the usual one in the plan's units when there is no shop file."""
        text, file = self.texts.shop, self.texts.shop_file
        if text is not None:
            return _SHOPS.of((text, file), lambda: read_shop(text, file))
        plan = self.plan_read.made
        return Outcome(default_shop(plan.manner.unit if plan else "inch"))

    @cached_property
    def log_read(self) -> Outcome[Log]:
        """The log as read; empty when nothing was written yet."""
        plan = self.plan_read.made
        return read_log(self.texts.log or "", self.texts.log_file, plan.units if plan else "mm")

    @property
    def log(self) -> Log:
        """What was measured, cut and done."""
        return self.log_read.made or Log()

    @cached_property
    def resolved(self) -> Outcome[Build]:
        """The build, with everything found wrong in plan and shop. Never raises."""
        from storystick.resolve import resolve

        plan, shop, log = self.plan_read, self.shop_read, self.log_read
        if plan.made is None or shop.made is None:
            return Outcome(None, in_order((*plan.findings, *shop.findings)))
        made = resolve(plan.made, shop.made, log.made)
        return Outcome(made.made, in_order((*plan.findings, *shop.findings, *log.findings, *made.findings)))

    @property
    def plan(self) -> Plan:
        """The plan. Raises CantGoOn when it can't be read."""
        if self.plan_read.made is None:
            raise CantGoOn(self.plan_read.findings)
        return self.plan_read.made

    @property
    def shop(self) -> Shop:
        """The shop. Raises CantGoOn when its file can't be read."""
        if self.shop_read.made is None:
            raise CantGoOn(self.shop_read.findings)
        shop = self.shop_read.made
        return replace(shop, on_hand=(*shop.on_hand, *self.rack)) if self.rack else shop

    @cached_property
    def build(self) -> Build:
        """The build. Raises CantGoOn when the plan has mistakes."""
        made = self.resolved
        if made.made is None or worst(made.findings) is Grade.STOP:
            raise CantGoOn(made.findings)
        return made.made

    @cached_property
    def scene(self) -> "Scene":
        """The solids."""
        from storystick.model.scene import Scene

        return Scene(self.build)

    @cached_property
    def sequence(self) -> "AssemblyOrder":
        """The order in which everything goes together, or what makes that impossible."""
        from storystick.assembly import put_together

        return put_together(self.build, self.scene, self.shop, tell=self.tell, stop=self.stop)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Everything that was checked and found, the worst first; and what the reading had to say."""
        return in_order((*self.of_numbers, *self.of_bodies))

    @cached_property
    def of_numbers(self) -> tuple[Finding, ...]:
        """What the reading had to say, and what was found by those checks that look at sizes, weights and loads."""
        return in_order((*self.resolved.findings, *self._found("numbers")))

    @cached_property
    def of_bodies(self) -> tuple[Finding, ...]:
        """What was found by those checks that look at bodies, how they move and how they come together."""
        return self._found("bodies")

    def _found(self, looks: "Looks") -> tuple[Finding, ...]:
        from storystick.checks import run_all
        from storystick.model.check import Asked

        order = self.sequence if looks == "bodies" else None
        asked = Asked(self.build, self.scene, self.shop, order)
        return run_all(asked, looks=looks, tell=self.tell, stop=self.stop)

    @cached_property
    def laid_out(self) -> "Outcome[tuple[Cutting, ...]]":
        """Which sheet and length gives which part, and by which cuts."""
        from storystick.layout.from_build import lay_out

        return lay_out(self.build, self.shop, tell=self.tell, stop=_in_time(self.stop))

    @property
    def cuttings(self) -> "tuple[Cutting, ...]":
        """The layouts, one a stock."""
        return self.laid_out.made or ()

    @cached_property
    def order(self) -> "WorkOrder":
        """The order of work."""
        return self._order(self._settings, self._wishes)

    def _order(self, book: Book, wishes: "Sequence[Wish]") -> "WorkOrder":
        from storystick.work import plan_work

        return plan_work(
            self.build, self.cuttings, self.shop, book, sequence=self.sequence, wishes=wishes, last=self.better_to_fit
        )

    @property
    def _wishes(self) -> "tuple[Wish, ...]":
        """What the plan itself wants of the order of work."""
        from storystick.work.wishes import wish_of

        return tuple(wish_of(one.sort, one.text, one.place) for one in self.plan.wanted)

    @property
    def order_found(self) -> "tuple[Outcome[tuple[Cutting, ...]], WorkOrder, Book]":
        """Layouts, order of work and the settings it needs: all that `take_order` gives to the same job elsewhere."""
        return self.laid_out, self.order, self._settings

    def take_order(self, laid_out: "Outcome[tuple[Cutting, ...]]", order: "WorkOrder", settings: Book) -> None:
        """Take layouts and order as another process found them for this very job."""
        self.__dict__.update(laid_out=laid_out, order=order, _settings=settings)

    def take_sequence(self, sequence: "AssemblyOrder") -> None:
        """Take the order of putting together as another process found it for this very job."""
        self.__dict__.update(sequence=sequence)

    def untold(self) -> "Job":
        """This job with all that it has found so far, telling nobody how far it has come."""
        return self.going_on(None, self.stop)

    def going_on(self, tell: Tell | None, stop: Stop | None) -> "Job":
        """This job with all that it has found so far; somebody else hears how far it comes, and may stop it."""
        other = replace(self, tell=tell, stop=stop)
        other.__dict__.update({**self.__dict__, "tell": tell, "stop": stop})
        return other

    def order_with(self, wishes: "Sequence[Wish]") -> "WorkOrder":
        """The order of work as somebody wishes it, with what each wish costs among its findings."""
        return self._order(Book(pages=dict(self.build.pages)), (*self._wishes, *wishes))

    @cached_property
    def _settings(self) -> Book:
        return Book(pages=dict(self.build.pages))

    @cached_property
    def made(self) -> "Made":
        """The build's numbers as they come out at the bench."""
        from storystick.model.made import made

        return made(self.build, self.shop.errors)

    @cached_property
    def judged(self) -> "tuple[Judged, ...]":
        """Every fit, judged."""
        from storystick.model.judged import judge

        return judge(self.made)

    @cached_property
    def better_to_fit(self) -> "Mapping[str, ToFit]":
        """Parts that had better be cut when the rest stands dry, by name."""
        from storystick.model.closing import better_to_fit

        return {one.part: one for one in better_to_fit(self.made, self.judged)}

    @property
    def told_last(self) -> Mapping[str, str]:
        """The same, with how often each goes wrong where it is cut at once: "5 %"."""
        return {name: f"{100 * one.printed:.0f} %" for name, one in self.better_to_fit.items()}

    @cached_property
    def channels(self) -> "tuple[Channels, ...]":
        """The methods for every channel that something goes into, and the fit that each would give."""
        from storystick.work.channel_fits import methods

        return methods(self.build, self.shop, self.judged, self._settings)

    @cached_property
    def pages(self) -> Mapping[str, Dim]:
        """Every number that is printed anywhere, by name: of the build, of the settings, of the fits and their mends.

        A fit's gap is `gap of` the fit; what it lacks, and every remedy changes something by, is `mend of` the fit.
        """
        from storystick.model.mending import is_broken, lack

        _ = self.order, self.channels
        found = dict(self._settings.pages)
        for one in self.judged:
            name = one.fit.gap_name
            found[name] = Dim(one.gap.value, Named(name, GAP, one.gap))
            if is_broken(one):
                found[f"mend of {one.fit.name}"] = lack(one)
        return found

    @cached_property
    def buying(self) -> "Buying":
        """What to buy."""
        from storystick.work import buy

        return buy(self.build, self.cuttings, self.order, self.shop)

    @cached_property
    def proved(self) -> tuple[Finding, ...]:
        """Checks, and whether it can be made with the shop's tools; without laying out sheets or seeking an order."""
        from storystick.work import can_be_made

        shop = self.shop
        made = _MADE.of((self.build.content, This(shop)), lambda: tuple(can_be_made(self.build, shop)))
        return in_order((*self.findings, *made))

    @cached_property
    def all_findings(self) -> tuple[Finding, ...]:
        """Checks, and what layout and work found."""
        return in_order((*self.findings, *self.laid_out.findings, *self.order.findings))

    @property
    def mark(self) -> str:
        """Six digits of the plan's and the shop's text: a packet tells by them which texts it was made from."""
        from hashlib import sha256

        return sha256(f"{self.texts.plan}\x1f{self.texts.shop or ''}".encode()).hexdigest()[:6]

    @cached_property
    def first_folder(self) -> "Folder":
        """What goes on paper and waits for no layout, no order of work and no check."""
        from storystick.paper.folder import Folder

        return Folder(
            build=self.build,
            scene=self.scene,
            shop=self.shop,
            dated=f"from plan {self.mark}",
            version=self.plan.version,
            plan_file=self.texts.plan_file,
            words=self.plan.words,
        )

    @cached_property
    def work_folder(self) -> "Folder":
        """The same with layouts and the order of work."""
        return replace(self.first_folder, cuttings=self.cuttings, order=self.order, last=self.told_last)

    @cached_property
    def folder(self) -> "Folder":
        """Everything that goes on paper."""
        return replace(self.work_folder, buying=self.buying, findings=self.all_findings)
