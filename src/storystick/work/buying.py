"""The buying list: stock as it was laid out, what holds it together, hardware, glue, finish and edge band."""

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil

from storystick.ground.dim import Dim
from storystick.ground.finding import Place
from storystick.ground.length import FOOT, Manner, show, show_number, with_unit
from storystick.ground.source import practice
from storystick.model.build import Build
from storystick.model.cutting import Sheet
from storystick.model.layers import layered
from storystick.model.part import Part
from storystick.model.stock import Stock
from storystick.model.work import Buy, Buying, Cutting, From, Stage, WorkOrder
from storystick.shop.shop import Shop
from storystick.shop.tables import finishes, magnets
from storystick.work.bands import buy_bands
from storystick.work.clamping import GLUE, SLOW
from storystick.work.coating import FINISH
from storystick.work.fitting_words import EPOXY
from storystick.work.prices import cost
from storystick.work.pull_screws import HOLDS, pull_screws
from storystick.work.saying import and_of, plural, tool_size
from storystick.work.wood import by_volume, in_volume, is_unseen, sawn_volume, use_of

SPREAD = practice("about 0.2 litre of glue for each square metre, squeeze-out included")
LITRES_PER_M2 = Fraction(1, 5)
BOTTLES = (Fraction(1, 4), Fraction(1, 2), Fraction(1))
SMALLEST = practice("of a glue that a few joints ask for the smallest bottle is enough")
GUESS = practice("a guess to start with: put in what your supplier asks")
WORDS = {"sheet": "sheet", "board": "board", "strip": "strip", "bar": "bar", "band": "roll"}


def buy(build: Build, cuttings: Sequence[Cutting], order: WorkOrder, shop: Shop) -> Buying:
    """Everything to be bought or taken from the rack, in groups.

    Prices come from the plan's sizes, then the shop file, then the table; those of the table are marked as guesses.
    """
    lines = [
        *_stock(build, cuttings, shop),
        *_fasteners(build, shop),
        *_for_pulls(build, shop),
        *_hardware(build, shop),
        *_glue(build, shop),
        *_more_glue(order, shop),
        *_finish(build, order, shop),
        *buy_bands(build, shop),
    ]
    return Buying(tuple(lines), build.currency or shop.currency)


def _stock(build: Build, cuttings: Sequence[Cutting], shop: Shop) -> Iterator[Buy]:
    for cutting in cuttings:
        used: dict[str, list[Sheet]] = {}
        for tree in cutting.layout.trees:
            used.setdefault(tree.sheet.name, []).append(tree.sheet)
        for name, sheets in used.items():
            if is_unseen(sheets[0]):
                yield by_volume(build, cutting, sheets, shop)
            else:
                yield _sheet(build, cutting, name, sheets, shop)


def _sheet(build: Build, cutting: Cutting, name: str, sheets: Sequence[Sheet], shop: Shop) -> Buy:
    stock = cutting.stock
    first, count = sheets[0], len(sheets)
    what = f"{stock.material or stock.name}, {tool_size(stock.nominal.value)}"
    size = name if first.on_hand else _size(first, build.manner, name)
    asked = next((s.price for s in stock.sizes if s.called == name and s.price is not None and not s.on_hand), None)
    price, guessed, by = asked, False, From("the plan says so", stock.place)
    if asked is None and not first.on_hand:
        own = cost(shop, (f"{what}, {name}", f"{stock.name}, {name}", what, stock.name))
        if own.price is not None and not own.guessed:
            price, by = own.price, own.by
        elif first.price >= 1:  # what the layout reckoned with; smaller ones only stand for an area
            price, guessed = first.price, True
            by = own.by if own.price == price else From("a guess, as the layout reckoned with it", source=GUESS)
    if stock.by_volume is not None and stock.by_volume.price is not None and by.source == GUESS:
        holds = in_volume(sawn_volume(cutting, [first]), build.manner)
        guessed, by = False, From(f"{holds} at the plan's price", stock.place)
    use = use_of(build, cutting, name, sheets) if stock.form == "board" else stock.name
    return Buy(
        what, size, count, WORDS[stock.form], None if first.on_hand else price, count if first.on_hand else 0,
        use, guessed, "stock", by,
        From(f"so many are laid out for the parts of {stock.name}", stock.place, looked_at=_sizes(build, stock)),
    )  # fmt: skip


def _sizes(build: Build, stock: Stock) -> tuple[Dim, ...]:
    """The lengths and widths of the parts that come out of a stock."""
    return tuple(dim for part in build.parts if part.stock.name == stock.name for dim in part.size[:2])


def _size(sheet: Sheet, manner: Manner, name: str) -> str:
    return with_unit(name, manner) or f"{show(sheet.wide, manner)} x {show(sheet.long, manner)}"


def _fasteners(build: Build, shop: Shop) -> Iterator[Buy]:
    counts = Counter((one.kind, one.row, one.length.value) for one in build.fasteners)
    uses: dict[tuple[str, Fraction], dict[str, None]] = {}
    kinds = {item.name: item.kind or item.name for item in build.items}
    for one in build.fasteners:
        top, holds = one.assembly.split(".")[0], kinds.get(one.through, "").split(" ")[-1]
        use = f"the {plural(holds)} of the {top}" if holds else f"the {top}"
        uses.setdefault((one.row, one.length.value), {})[use] = None
    for (_, row, long), count in sorted(counts.items(), key=lambda pair: (pair[0][1], pair[0][2])):
        size = f"x {show(long, build.manner)}"
        had = cost(shop, (f"{row} {size}", row))
        mine = [one for one in build.fasteners if (one.row, one.length.value) == (row, long)]
        by = From(f"one for each place where a {row} is driven", mine[0].place, looked_at=(mine[0].length,))
        yield Buy(row, size, count, "each", had.price, 0, and_of(uses[row, long]), had.guessed, "fasteners", had.by, by)


def _for_pulls(build: Build, shop: Shop) -> Iterator[Buy]:
    """Longer screws for pulls whose own do not reach through."""
    for one in pull_screws(build):
        if one.row:
            size = f"x {show(one.long, build.manner)}"
            had, use = cost(shop, (f"{one.row} {size}", one.row)), f"the {plural(one.pulls)} of {and_of(one.used_for)}"
            by = From(f"the {plural(one.pulls)}' own are too short for {show(one.thick, build.manner)}", source=HOLDS)
            yield Buy(one.row, size, one.count, "each", had.price, 0, use, had.guessed, "fasteners", had.by, by)


def _hardware(build: Build, shop: Shop) -> Iterator[Buy]:
    counts: dict[tuple[str, str, str, str], int] = {}
    uses: dict[tuple[str, str, str, str], dict[str, None]] = {}
    places: dict[tuple[str, str, str, str], Place] = {}
    for item in build.items:
        key = (item.kind or item.name.rpartition(".")[2], item.said, item.unit, item.price_key)
        counts[key] = counts.get(key, 0) + item.count
        uses.setdefault(key, {})[f"the {item.assembly.split('.')[0]}"] = None
        places.setdefault(key, item.place)
    for key, count in counts.items():
        what, said, unit, price_key = key
        size = said.removeprefix(what).strip(" ,")
        called = f"{what} magnet" if what in magnets() and "magnet" not in what else what
        had = cost(shop, (price_key, said, what))
        by = From(f"what {and_of(uses[key])} asks for", places[key])
        yield Buy(called, size, count, unit, had.price, 0, and_of(uses[key]), had.guessed, "hardware", had.by, by)


def glue_area(build: Build) -> Fraction:
    """Area that is glued [mm2]: along each glued joint the guest's thickness, between layers the whole face."""
    total = Fraction(0)
    in_layers = [{part.name for part in group} for group in layered(build)]
    for joint in build.joints:
        if not joint.glued or any({joint.host, joint.guest} <= group for group in in_layers):
            continue
        total += _meeting(build.part(joint.host), build.part(joint.guest), joint.axis)
    for group in layered(build):
        face = group[0].length.value * group[0].width.value
        total += face * (sum(part.layers for part in group) - 1)
    return total


def _meeting(host: Part, guest: Part, axis: int) -> Fraction:
    """Where two parts touch, across the axis they come together along [mm2]; as if flush in different assemblies."""
    sides = []
    for other in (a for a in range(3) if a != axis):
        if host.assembly == guest.assembly:
            both = min(host.high(other), guest.high(other)) - max(host.low(other), guest.low(other))
        else:
            both = min(host.along(other).value, guest.along(other).value)
        sides.append(max(both, Fraction(0)))
    return sides[0] * sides[1]


def _bottle(litres: Fraction) -> tuple[int, Fraction]:
    """How many bottles or tins of which size: the smallest that is enough, else whole litres."""
    for size in BOTTLES:
        if litres <= size:
            return 1, size
    return ceil(litres), Fraction(1)


def _litres(size: Fraction, shop: Shop) -> str:
    if shop.units == "inch":
        return f"{show_number(size * 32, 0)} fl oz ({show_number(size, 2)} l)"
    return f"{show_number(size, 2)} l"


def _area(area: Fraction, shop: Shop) -> str:
    """An area [mm2] in the shop's units."""
    if shop.units == "inch":
        feet = area / FOOT**2
        return f"{show_number(feet, 0 if feet >= 10 else 1)} sq ft"
    return f"{show_number(area / 10**6, 1 if area >= 10**6 else 2)} m²"


def _glue(build: Build, shop: Shop) -> Iterator[Buy]:
    area = glue_area(build)
    if not area:
        return
    count, size = _bottle(area / 10**6 * LITRES_PER_M2)
    each = cost(shop, (GLUE,))
    words = f"{_area(area, shop)} of joints"
    by = From(f"{words}, and the smallest bottle that is enough", source=SPREAD)
    price, kind = each.of(size), "glue and finish"
    yield Buy(GLUE, _litres(size, shop), count, "bottle", price, 0, words, each.guessed, kind, each.by, by)


def _more_glue(order: WorkOrder, shop: Shop) -> Iterator[Buy]:
    """The other glues that the steps ask for, the smallest bottle of each."""
    for name, also in ((SLOW, "white glue"), (EPOXY, "epoxy")):
        steps = [step.number for step in order.steps if any(name in text for text in step.does)]
        if steps:
            each = cost(shop, (name, also))
            words = f"step{'s' if len(steps) > 1 else ''} {and_of(map(str, steps))}"
            by = From(f"asked for in {words}; the smallest bottle", source=SMALLEST)
            yield Buy(
                name, _litres(BOTTLES[0], shop), 1, "bottle", each.of(BOTTLES[0]), 0, words, each.guessed,
                "glue and finish", each.by, by,
            )  # fmt: skip


def _finish(build: Build, order: WorkOrder, shop: Shop) -> Iterator[Buy]:
    if not any(step.stage is Stage.FINISH for step in order.steps) or not build.parts:
        return
    row = finishes()[FINISH]
    area = sum((2 * part.length.value * part.width.value for part in build.parts), Fraction(0)) / 10**6
    count, size = _bottle(area * row.coats / Fraction(str(row.cover_m2_l)))
    each = cost(shop, (FINISH,))
    words = f"{_area(area * 10**6, shop)}, {row.coats} coats; or another finish"
    covers = f"both faces of all parts, {row.coats} coats, a litre for {float(row.cover_m2_l):g} m² each"
    by = From(covers, source=row.comes_from)
    yield Buy(
        FINISH, _litres(size, shop), count, "tin", each.of(size), 0, words, each.guessed, "glue and finish", each.by, by
    )
