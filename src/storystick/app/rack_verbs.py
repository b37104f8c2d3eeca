"""What can be asked of the rack: what is on it, more on to it, some off it, and what a finished plan used and left."""

import argparse
import sys
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from storystick.app import rack, show, tell
from storystick.app.asking import Verb, Words, answered, job_of, takes_plan
from storystick.app.pipeline import Job
from storystick.ground.length import Manner, read_length
from storystick.ground.length import show as length_text
from storystick.ground.misread import Misread
from storystick.model.cutting import Piece, Sheet
from storystick.model.volume import UNSEEN
from storystick.model.work import Cutting
from storystick.shop.shop import OnHand, Spoilt
from storystick.shop.spoilt import box_of, read_spoilt

KEPT = Fraction(1000)
"""A rest of edge band of this length is worth keeping [mm]: practice."""
FORMS = ("offcut", "sheet", "board", "strip", "bar", "band")


def _rack(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("what", nargs="?", choices=("add", "take"), help="what to do; show what is there if not said")
    parser.add_argument("about", metavar="WORDS", nargs="*", help="add: material, length, width; take: the number")
    parser.add_argument("--thick", metavar="LENGTH", help="its thickness, as measured")
    parser.add_argument("--form", choices=FORMS, default="offcut", help="what it is, an offcut of a sheet if not said")
    parser.add_argument("--spoilt", metavar="WORDS", action="append", default=[],
                        help='what is gone or no good, along the grain first: "10 x 8 at far right"')  # fmt: skip
    parser.add_argument("--count", type=int, help="how many; one to add, all to take")
    parser.add_argument("--units", choices=("inch", "mm"), default="inch", help="units of bare numbers")
    parser.add_argument("--json", action="store_true", help="answer as JSON")


def on_rack(words: Words) -> int:
    """Show the rack, add to it, or take from it."""
    file = rack.rack_file()
    try:
        if words.what == "add":
            rack.put(file, [_thing(words)])
        elif words.what == "take":
            if len(words.about) != 1 or not words.about[0].isdecimal():
                raise Misread(" ".join(words.about), "the number of a row of the rack", "2")
            if rack.take(file, int(words.about[0]), words.count) is None:
                sys.stderr.write(f"storystick: there are not so many of number {words.about[0]} on the rack.\n")
                return 2
    except Misread as trouble:
        sys.stderr.write(f"storystick: rack: {trouble}.\n")
        return 2
    _listed(rack.on_rack(file), Manner(words.units), words.json)
    return 0


def _thing(words: Words) -> OnHand:
    about: list[str] = words.about
    thick, form, count, units = words.thick, words.form, words.count or 1, words.units
    if len(about) not in (2, 3) or count < 1 or (form in ("offcut", "sheet") and len(about) != 3):
        raise Misread(" ".join(about), "material, length along the grain, width", "'birch plywood' 30 12")
    long, *wide = (read_length(text, units) for text in about[1:])
    thickness = read_length(thick, units) if thick else None
    if long <= 0 or any(size <= 0 for size in wide) or (thickness is not None and thickness <= 0):
        raise Misread(" ".join(about[1:]), "sizes greater than nothing", "30 12")
    spoilt = tuple(read_spoilt(text, units) for text in words.spoilt)
    return OnHand(form, about[0], long, wide[0] if wide else None, thickness, count, spoilt=spoilt)


def _listed(kept: tuple[rack.Kept, ...], manner: Manner, as_json: bool) -> None:
    def said(one: rack.Kept) -> tuple[str, ...]:
        thing = one.thing
        sizes = (length_text(size, manner) if size is not None else "" for size in (thing.long, thing.wide))
        thick = length_text(thing.thickness, manner) if thing.thickness is not None else ""
        spoilt = "; ".join(_spoilt_said(spot, manner) for spot in thing.spoilt)
        return str(one.number), thing.form, thing.of, *sizes, thick, str(thing.count), spoilt

    head = ("number", "form", "material", "long", "wide", "thick", "count", "spoilt")
    if as_json:
        show.put_json([dict(zip(head, said(one), strict=True)) for one in kept])
    elif kept:
        show.table(head, map(said, kept), right=(0, 3, 4, 5, 6))
    else:
        show.out("The rack is empty.")


def _spoilt_said(spot: Spoilt, manner: Manner) -> str:
    at = spot.corner or f"{length_text(spot.along, manner)} x {length_text(spot.across, manner)}"
    return f"{length_text(spot.long, manner)} x {length_text(spot.wide, manner)} at {at}"


@answered
def sawn(words: Words) -> int:
    """A plan's sheets are sawn: take from the rack what it used, put back what is left."""
    words.rack = True
    job = job_of(words)
    cuttings = job.cuttings
    tell.done()
    file = rack.rack_file()
    used = _used(cuttings, rack.on_rack(file))
    left = [thing for cutting in cuttings for thing in _left(cutting)]
    rolls, rests = _rolls(job, rack.on_rack(file))
    used.update(rolls)
    left.extend(rests)
    if not rack.settle(file, used.items(), left):
        sys.stderr.write("storystick: the rack has changed since it was read; nothing was changed.\n")
        return 1
    show.out(f"taken from the rack: {sum(used.values())}; put on it: {len(left)}.")
    _listed(rack.on_rack(file), Manner(words.units or job.plan.units), words.json)
    return 0


def _used(cuttings: tuple[Cutting, ...], kept: tuple[rack.Kept, ...]) -> Counter[int]:
    """How many of which number a job takes; pieces that the plan or the shop file names are not the rack's."""
    used: Counter[int] = Counter()
    for cutting in cuttings:
        names = (cutting.stock.name.casefold(), cutting.stock.material.casefold())
        form = "offcut" if cutting.stock.form == "sheet" else cutting.stock.form
        for tree in cutting.layout.trees:
            if tree.sheet.on_hand and tree.sheet.name.partition(" on the rack")[1]:
                like = [
                    one.number for one in kept
                    if one.thing.of.casefold() in names and one.thing.long == tree.sheet.long
                    and one.thing.form in (form, cutting.stock.form)
                    and (form != "board" or one.thing.thickness == tree.sheet.thick)
                    and one.thing.wide in (None, tree.sheet.wide) and one.thing.count > used[one.number]
                    and _spots(one.thing, tree.sheet) == tuple((d.x, d.y, d.long, d.wide) for d in tree.sheet.defects)
                ]  # fmt: skip
                used.update(like[:1])
    return used


def _spots(thing: OnHand, sheet: Sheet) -> tuple[tuple[Fraction, Fraction, Fraction, Fraction], ...]:
    """Where a piece of the rack is spoilt, if it is the sheet."""
    return tuple(box_of(spot, sheet.long, sheet.wide) for spot in thing.spoilt)


def _left(cutting: Cutting) -> Iterator[OnHand]:
    """What a stock's layout leaves that is worth keeping."""
    stock = cutting.stock
    form = "offcut" if stock.form == "sheet" else stock.form
    for tree in cutting.layout.trees:
        if tree.sheet.name == UNSEEN and not tree.sheet.on_hand:
            continue  # it only stands for boards that are still to be bought
        for piece in tree.leftovers:
            name, spots = stock.material or stock.name, tuple(_spoilt_in(piece, tree.sheet))
            if sum((spot.long * spot.wide for spot in spots), Fraction(0)) < piece.area:
                yield OnHand(form, name, piece.long, piece.wide, stock.thickness.value, spoilt=spots)


def _spoilt_in(piece: Piece, sheet: Sheet) -> Iterator[Spoilt]:
    """What a leftover has of the spoilt places of its sheet: an L stays an L."""
    for spot in sheet.defects:
        x, y = max(spot.x, piece.x), max(spot.y, piece.y)
        long = min(spot.x + spot.long, piece.x + piece.long) - x
        wide = min(spot.y + spot.wide, piece.y + piece.wide) - y
        if long > 0 and wide > 0:
            yield Spoilt(long, wide, "", x - piece.x, y - piece.y)


def _rolls(job: Job, kept: tuple[rack.Kept, ...]) -> tuple[Counter[int], list[OnHand]]:
    """Which rolls of edge band on the rack a job takes, and what is left on its rolls worth keeping."""
    from storystick.work.bands import band_rolls

    used: Counter[int] = Counter()
    rests = []
    for band, taken in band_rolls(job.build, job.shop):
        names = (band.name.casefold(), band.material.casefold())
        for one in taken:
            like = [
                row.number for row in kept
                if row.thing.form == "band" and row.thing.of.casefold() in names and row.thing.long == one.roll.long
                and row.thing.count > used[row.number]
            ]  # fmt: skip
            used.update(like[:1] if one.roll.on_hand else [])
            if (like or not one.roll.on_hand) and one.rest >= KEPT:
                wide = band.width.value if band.width is not None else None
                rests.append(OnHand("band", band.material or band.name, one.rest, wide))
    return used, rests


RACK_VERBS: dict[str, Verb] = {
    "rack": Verb("what is left on the rack from earlier jobs?", "storystick rack add 'birch plywood' 30 12", (_rack,),
                 on_rack),
    "sawn": Verb("the sheets of a plan are sawn: what is left goes to the rack", "storystick sawn PLAN",
                 (takes_plan,), sawn),
}  # fmt: skip
