"""Which way each cut is made: the fit first, then the least time with set-ups shared among cuts that are alike."""

from collections import Counter
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from storystick.ground.dim import Book
from storystick.ground.finding import Finding, Grade
from storystick.ground.length import show
from storystick.model.build import Build
from storystick.model.cut import Bevel, Bore, Channel, Cut, Notch
from storystick.model.joining import Fit
from storystick.model.part import Part
from storystick.model.work import MadeBy, Setup, Step
from storystick.shop.shop import Shop
from storystick.work.saying import and_of, called, cap
from storystick.work.sharing import Choice, choices_of, shared
from storystick.work.ways import CUSTOM, Ask, Offer, once, shelf
from storystick.work.ways.trough import runs_out

type Alike = tuple[object, ...]


def likeness(cut: Cut, part: Part) -> Alike:
    """Cuts with the same likeness can be made at one set-up."""
    match cut:
        case Channel():
            across = cut.side.axes[1 - cut.runs]
            through = runs_out(cut, part)
            is_open = (
                cut.at[1 - cut.runs].value <= 0
                or cut.at[1 - cut.runs].value + cut.width.value >= part.size[across].value
            )
            return ("channel", cut.width.value, cut.depth.value, through, is_open, cut.side.normal)
        case Bore():
            deep = None if cut.depth is None else cut.depth.value
            sink = None if cut.sink is None else cut.sink.value
            return ("bore", cut.diameter.value, deep, cut.lean, sink)
        case Notch():
            return ("notch", tuple((c.u.value, c.v.value) for c in cut.corners), part.thickness.value)
        case Bevel():
            return ("bevel", cut.degrees, cut.side.normal)


def fits_by_cut(build: Build) -> dict[tuple[str, str], Fit]:
    """What is to go into a cut, by the names of part and cut."""
    return {(fit.into, fit.cut): fit for fit in build.fits if fit.cut}


def all_offers(ask: Ask) -> list[Offer]:
    """Everything the shop could do, the best first: the fit, then the time for all like cuts."""
    found = [offer for way in shelf() for offer in way.offers(ask)]
    return sorted(found, key=lambda offer: _rank(offer, ask.alike))


def _rank(offer: Offer, alike: int) -> tuple[bool, Fraction, float, str]:
    off = Fraction(0) if offer.sound else abs(offer.off)
    return (not offer.sound, off, round(offer.minutes[0] + alike * offer.minutes[1], 3), offer.method)


def choose(
    cut: Cut, part: Part, build: Build, shop: Shop, book: Book, *, fit: Fit | None = None, alike: int = 1
) -> tuple[MadeBy | None, Offer | None, tuple[Finding, ...]]:
    """The way to make one cut, the offer it comes from, and what is to be said about it.

    fit    what goes in, where known;  alike  how many cuts share its set-up
    Nothing and a finding `no-way` where the shop has no way at all; `loose-way` where only a wrong size can be had.
    """
    ask = Ask(cut, part, build, shop, fit, alike)
    return _taken(ask, all_offers(ask), book)


def _taken(ask: Ask, offers: list[Offer], book: Book) -> tuple[MadeBy | None, Offer | None, tuple[Finding, ...]]:
    """The first of some offers, settled; the others named."""
    if not offers:
        return None, None, (no_way(ask),)
    best = offers[0]
    setups = tuple(_named(one, ask.part, ask.build, book) for one in best.settle(book))
    others = tuple(f"{o.method}: {o.why}" for o in offers[1:] if o.method != best.method)
    made = MadeBy(ask.part.name, ask.cut.name, best.method, setups, best.why, others, best.source, best.off)
    return made, best, () if best.sound else (off_size(ask, best),)


def _named(one: Setup, part: Part, build: Build, book: Book) -> Setup:
    """A set-up whose number has a name in the book, so that it can be asked why."""
    if one.to is None or one.to.name or not one.to.power:
        return one
    to = one.to
    name = f"{one.machine}, {one.name} at {show(to.value, build.manner)} for {part.name}"
    return replace(one, to=once(book, name, lambda: to, "where the cut is"))


def no_way(ask: Ask) -> Finding:
    """No tool of the shop makes this cut: what to get, the nearest thing first."""
    wanted = list(dict.fromkeys(lack for way in shelf() if (lack := way.lacks(ask))))
    advice = f"Get {wanted[0]}" + (f"; or {'; or '.join(wanted[1:])}" if wanted[1:] else "") + "." if wanted else ""
    who = called(ask.part, ask.build)
    return Finding(
        "no-way",
        Grade.STOP,
        ask.cut.place,
        f"No tool of this shop makes the {ask.cut.called} ({ask.cut.name}) in {who}.",
        advice,
        CUSTOM,
        about=(ask.part.name,),
    )


def off_size(ask: Ask, offer: Offer) -> Finding:
    """The best there is comes out in another size than drawn."""
    wanted = next((lack for way in shelf() if (lack := way.lacks(ask))), "")
    who = called(ask.part, ask.build)
    says = f"The {ask.cut.called} in {who} can only be made in another size here: {offer.method}, {offer.why}."
    return Finding(
        "loose-way",
        Grade.CARE,
        ask.cut.place,
        says,
        cap(f"get {wanted}.") if wanted else "",
        CUSTOM,
        number=float(offer.off),
        limit=0.0,
        unit="mm",
        about=(ask.part.name,),
    )


type Chosen = dict[tuple[str, str], tuple[MadeBy | None, Offer | None]]


def choose_all(build: Build, shop: Shop, book: Book) -> tuple[Chosen, tuple[Finding, ...]]:
    """A way for every cut of every part, and what is to be said; each finding once for cuts that are alike.

    Of the ways that fit, those are taken that need the least setting up and cutting for the whole piece.
    """
    fits = fits_by_cut(build)
    kinds = Counter(likeness(cut, part) for part in build.parts for cut in part.cuts)
    asked: dict[Alike, list[tuple[Ask, list[Offer]]]] = {}
    for part in build.parts:
        for cut in part.cuts:
            kind = likeness(cut, part)
            ask = Ask(cut, part, build, shop, fits.get((part.name, cut.name)), kinds[kind])
            asked.setdefault(kind, []).append((ask, all_offers(ask)))
    methods = _together(asked, book)
    found: Chosen = {}
    told: dict[tuple[str, Alike], Finding] = {}
    for part in build.parts:
        for cut in part.cuts:
            kind = likeness(cut, part)
            ask, offers = asked[kind].pop(0)
            wanted = [o for o in offers if o.method == methods[kind] and o.sound][:1]
            made, offer, said = _taken(ask, wanted + [o for o in offers if o not in wanted], book)
            found[part.name, cut.name] = (made, offer)
            for finding in said:
                told.setdefault((finding.code, kind), finding)
    return found, tuple(told.values())


def in_the_way(build: Build, shop: Shop) -> tuple[Finding, ...]:
    """What `choose_all` has to say, without choosing: a cut that some way makes soundly is asked no further."""
    fits = fits_by_cut(build)
    kinds = Counter(likeness(cut, part) for part in build.parts for cut in part.cuts)
    told: dict[tuple[str, Alike], Finding] = {}
    for part in build.parts:
        for cut in part.cuts:
            kind = likeness(cut, part)
            ask = Ask(cut, part, build, shop, fits.get((part.name, cut.name)), kinds[kind])
            if any(offer.sound for way in shelf() for offer in way.offers(ask)):
                continue
            offers = all_offers(ask)
            finding = off_size(ask, offers[0]) if offers else no_way(ask)
            told.setdefault((finding.code, kind), finding)
    return tuple(told.values())


def _together(asked: Mapping[Alike, Sequence[tuple[Ask, list[Offer]]]], book: Book) -> dict[Hashable, str]:
    """The method for each kind of cut, chosen with an eye on all the others."""
    trial = Book(book.readings, dict(book.pages), book.scope)
    choices: dict[Hashable, list[Choice]] = {}
    first: dict[Hashable, str] = {}
    for kind, cuts in asked.items():
        by_method = []
        for _, offers in cuts:
            named: dict[str, Offer] = {}
            for offer in offers:
                named.setdefault(offer.method, offer)
            by_method.append(named)
        first[kind] = next(iter(by_method[0]), "")
        choices[kind] = choices_of(by_method, lambda _, offer: offer.settle(trial))
    return shared(choices, first)


def tools_used(ways: Iterable[MadeBy]) -> tuple[str, ...]:
    """Every machine with its tools, in words: "router: 1/2 in straight bit and 6 mm straight bit"."""
    tools: dict[str, dict[str, None]] = {}
    for way in ways:
        for one in way.setups:
            tools.setdefault(one.machine, {})[one.tool] = None
    return tuple(f"{machine}: {and_of(names)}" for machine, names in tools.items())


def other_tools(steps: Iterable[Step]) -> tuple[str, ...]:
    """What the other steps need, each with what it is first for: "circular saw: break down birch18"."""
    found: dict[str, str] = {}
    for step in steps:
        for need in step.needs if not step.cuts else ():
            found.setdefault(need.partition(" (")[0], step.title)
    return tuple(f"{need}: {title[:1].lower()}{title[1:]}" for need, title in found.items())
