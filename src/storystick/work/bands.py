"""Edge band: the rolls on the buying list, and the step that puts it on."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from storystick.ground.length import FOOT, Manner, show, show_number, up_to
from storystick.ground.source import practice
from storystick.model.banding import OVER, BandStrip, band_for, band_strips, over_of
from storystick.model.build import Build
from storystick.model.part import Part
from storystick.model.stock import Stock
from storystick.model.work import Buy, From, Stage
from storystick.shop.shop import Shop
from storystick.shop.tables import edge_bands, find
from storystick.work.bench import Bench
from storystick.work.jobs import Job, Line
from storystick.work.prices import cost, cost_by_length, plain
from storystick.work.rolls import Roll, Taken, rolls_for
from storystick.work.saying import all_called, and_of, many, tool_size
from storystick.work.ways import minutes, sets_for

SPARE = practice("one more strip as long as the longest, for the one that goes wrong")
BAND = "veneer edge band"
FIXED = {
    "iron": "Iron it on, slowly and from one end, and rub it down with a block of wood until it has cooled.",
    "glue": "Glue on the edge; hold the strip with tape or with a batten and clamps until the glue has set.",
    "contact cement": "Cement on the edge and on the strip; when both are dry to the touch, press it on for good.",
}
TRIMMED = (
    "Ends first, trimmed flush, then the long edges over them. Trim both sides with the grain, chisel or trimmer flat "
    "on the face, and break the arris with 180 grit."
)
CLEAN = "Edges square, clean and free of dust. Cut the longest strips off the roll first."


def groups(build: Build) -> tuple[tuple[Stock | None, tuple[Part, ...]], ...]:
    """The banded parts by the band that goes on them; None where the plan has no band."""
    found: dict[str, tuple[Stock | None, list[Part]]] = {}
    for part in build.parts:
        if part.banded:
            band = band_for(part, build.stock)
            found.setdefault(band.name if band else "", (band, []))[1].append(part)
    return tuple((band, tuple(parts)) for band, parts in found.values())


def strips_of(parts: Sequence[Part], build: Build) -> tuple[BandStrip, ...]:
    """Every strip for some parts."""
    return tuple(strip for part in parts for strip in band_strips(part, build))


def band_length(build: Build) -> Fraction:
    """Length of all banded edges [mm]: an end is as long as the part is wide, an edge as the part is long."""
    return sum((strip.edge_long for part in build.parts for strip in band_strips(part, build)), Fraction(0))


def buy_bands(build: Build, shop: Shop) -> Iterator[Buy]:
    """A line for each length of roll: those on hand, then those to be bought. Sources: OVER, SPARE."""
    for band, parts in groups(build):
        strips = [strip.long for strip in strips_of(parts, build)]
        strips.append(max(strips))
        rolls = rolls_of(band, shop, build.manner) if band is not None else ()
        taken = rolls_for(strips, rolls)
        if band is None or not taken:
            yield _by_length(build, band, parts, strips, shop)
            continue
        for roll in dict.fromkeys(one.roll for one in taken):
            count = sum(one.roll == roll for one in taken)
            yield _roll(build, band, parts, strips, roll, count, shop)


def band_rolls(build: Build, shop: Shop) -> tuple[tuple[Stock, tuple[Taken, ...]], ...]:
    """For each band of the plan the rolls that its strips come off, none to spare: what is left is left."""
    return tuple(
        (band, rolls_for([strip.long for strip in strips_of(parts, build)], rolls_of(band, shop, build.manner)))
        for band, parts in groups(build) if band is not None
    )  # fmt: skip


def rolls_of(band: Stock, shop: Shop, manner: Manner) -> tuple[Roll, ...]:
    """The rolls of a band: on the rack of the shop, on hand in the plan, and those that can be bought."""
    names = {plain(band.name), plain(band.material)}
    wide = band.width.value if band.width is not None else Fraction(0)
    rack = [
        Roll(_roll_said(one.long, manner), one.long, None, one.count, True)
        for one in shop.on_hand
        if one.form == "band" and plain(one.of) in names and (one.wide is None or one.wide >= wide)
    ]
    own = [
        Roll(_roll_said(one.long, manner), one.long, None, one.copies or 1, True)
        if one.on_hand
        else Roll(_roll_said(one.long, manner), one.long, one.price, one.copies)
        for one in sorted(band.sizes, key=lambda size: not size.on_hand)
    ]
    return (*rack, *own)


def _roll_said(long: Fraction, manner: Manner) -> str:
    if manner.unit == "inch":
        return f"{show_number(long / FOOT, 1)} ft"
    return f"{show_number(long / 1000, 2)} m"


def _words(build: Build, band: Stock | None, parts: Sequence[Part], strips: Sequence[Fraction]) -> str:
    widest = max(part.thickness.value for part in parts)
    says = f"{_roll_said(sum(strips, Fraction(0)), build.manner)} of band on edges up to {tool_size(widest)} thick"
    longest = max((one.long for one in band.sizes), default=max(strips)) if band is not None else max(strips)
    if max(strips) > longest:
        says += "; the longest strips are pieced together"
    if band is not None and band.width is not None and band.width.value < widest:
        says += f"; {show(band.width.value, build.manner)} is too narrow for them"
    return says


def _roll(
    build: Build, band: Stock, parts: Sequence[Part], strips: Sequence[Fraction], roll: Roll, count: int, shop: Shop
) -> Buy:
    wide = show(band.width.value, build.manner) if band.width is not None else ""
    size = f"{roll.called}{f' x {wide}' if wide else ''}{', on hand' if roll.on_hand else ''}"
    price, guessed, by = roll.price, False, From("the plan says so", band.place)
    if price is None and not roll.on_hand:
        whole = cost(shop, (f"{band.name}, {roll.called}", f"{band.material}, {roll.called}"))
        known = whole if whole.price is not None else cost_by_length(shop, (band.name, band.material), roll.long)
        price, guessed, by = known.price, known.guessed, known.by
    counted = From("each edge and what the strip is longer at both ends, and a strip more", band.place, OVER)
    return Buy(
        band.material, size, count, "roll", None if roll.on_hand else price, count if roll.on_hand else 0,
        _words(build, band, parts, strips), guessed, "stock", by, counted,
    )  # fmt: skip


def _by_length(build: Build, band: Stock | None, parts: Sequence[Part], strips: Sequence[Fraction], shop: Shop) -> Buy:
    """Band that nobody says how it is sold: by the whole foot or metre."""
    name = band.material if band is not None else BAND
    inch = build.manner.unit == "inch"
    whole = up_to(sum(strips, Fraction(0)), FOOT if inch else Fraction(1000))
    had = cost_by_length(shop, (band.name if band else "", name), whole)
    counted = From("each edge and what the strip is longer at both ends, and a strip more", source=OVER)
    size, words = _roll_said(whole, build.manner), _words(build, band, parts, strips)
    return Buy(name, size, 1, "roll", had.price, 0, words, had.guessed, "stock", had.by, counted)


def banding(bench: Bench, cut: dict[str, tuple[str, ...]]) -> Iterator[Job]:
    """One job for each band: after its parts have their sizes, before they are measured from for anything else.

    What comes after waits for it: `cut` is told so.
    """
    build = bench.build
    for number, (band, parts) in enumerate(groups(build), 1):
        key, strips = f"band {number}", strips_of(parts, build)
        name = band.material if band is not None else BAND
        row = find(edge_bands(), name)
        fixing = row.fixing if row is not None else "glue"
        set_up, each = minutes("edge band")
        yield Job(
            key,
            Stage.MACHINE,
            "Band the edges of {}",
            (CLEAN, FIXED[fixing], TRIMMED),
            parts,
            after=tuple(sorted({one for part in parts for one in cut[part.name]})),
            new=tuple(part.name for part in parts),
            check="No gap that a nail catches in, and the faces flush all along.",
            needs=(f"{name}, and {_tool(fixing)}",),
            hands_on=set_up + each * len(strips),
            waits=sets_for("glue solid edge", 45) if fixing == "glue" else sets_for("edge band", 0),
            why_here="as soon as they have their size: holes and hinges are measured from the finished edge",
            kin=f"band {name}",
            words=(and_of(dict.fromkeys(part.letter or part.name for part in parts)),),
            lines=tuple(_lines(bench, parts)),
        )
        for part in parts:
            cut[part.name] = (*cut[part.name], key)


def _tool(fixing: str) -> str:
    return {"iron": "an iron", "glue": "clamps and battens"}.get(fixing, "contact cement")


def _lines(bench: Bench, parts: Sequence[Part]) -> Iterator[Line]:
    """For like parts the strips of one of them: "B door: 2 strips of 446 mm on the ends"."""
    by: dict[tuple[str, ...], list[Part]] = {}
    manner = bench.build.manner
    for part in parts:
        told: dict[tuple[Fraction, bool], int] = {}
        for strip in band_strips(part, bench.build):
            told[strip.long, strip.on_end] = told.get((strip.long, strip.on_end), 0) + 1
        said = tuple(
            f"{many(count, 'strip')} of {show(long, manner)} on the {_where(count, on_end)}"
            for (long, on_end), count in told.items()
        )
        by.setdefault(said, []).append(part)
    for said, like in by.items():
        each = "each " if len(like) > 1 else ""
        yield Line(f"{all_called(like, bench.build)}: {each}{and_of(said)}")
    over = show(over_of(bench.build), manner)
    yield Line(f"That is {over} more than the edge at each end")


def _where(count: int, on_end: bool) -> str:
    word = "end" if on_end else "edge"
    return word if count == 1 else f"{word}s"
