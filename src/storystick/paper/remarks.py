"""What is said about a part on its card: its names, sizes, what leaves the saw, how it is best cut to fit, its twin."""

from collections.abc import Iterator, Sequence
from functools import lru_cache

from storystick.ground.length import Manner
from storystick.model.part import Part
from storystick.model.stock import Stock
from storystick.model.work import Stage
from storystick.paper.drawing.families import families, places
from storystick.paper.folder import Folder
from storystick.paper.lettering import bit, calliper, said
from storystick.paper.spoken import in_full, listed


def named(folder: Folder, parts: Sequence[Part]) -> str:
    """The names that go by one letter, as they are said; a number only, where they are many."""
    names = [folder.short(part.name) for part in parts]
    if len(names) > 3:
        return f"{parts[0].role}: {', '.join(names[:2])} and {len(names) - 2} more"
    words = [name.split(" of ") for name in names]
    if len(names) == 1 or len({len(row) for row in words}) > 1:
        return listed(names)
    columns = [list(dict.fromkeys(column)) for column in zip(*words, strict=True)]
    if sum(len(column) > 1 for column in columns) > 1:
        return listed(names)
    return " of ".join(listed(column) for column in columns)


def sizes(part: Part, manner: Manner) -> tuple[tuple[str, str], ...]:
    """Length, width and thickness with their words; the thickness as a calliper shows it too."""
    long, wide, thick = (said(size, manner) for size in part.size)
    fine = calliper(part.thickness, manner)
    return ((long, "long"), (wide, "wide"), (thick, ", ".join(w for w in ("thick", fine, part.stock.name) if w)))


def remarks(folder: Folder, letter: str, parts: Sequence[Part]) -> Iterator[str]:
    """What else is to know: stock, what leaves the saw, layers, grain, bands, its mirror image, notes."""
    part = parts[0]
    yield standing(folder, parts)
    words = []
    larger = off_the_saw(folder, part)
    if larger and not part.fit_to:
        words.append(f"{larger} leaves the saw: it is trimmed to the size above later.")
    if part.layers > 1:
        words.append(f"Glued up from {part.layers} layers.")
    if part.turnable:
        words.append("The grain may run either way.")
    if part.match:
        words.append(f"Grain follows on from part to part: {part.match}.")
    if part.banded:
        words.append(f"Banded: {', '.join(part.banded)}.")
    words.extend(sentence(note) for note in part.notes)
    hands = {one.is_left_handed for one in parts}
    if len(hands) > 1 and part.cuts:
        other = [folder.short(one.name) for one in parts if one.is_left_handed != part.is_left_handed]
        words.append(f"Make the {listed(other)} as the mirror image of this drawing.")
    twin = twin_of(folder, letter)
    if twin:
        words.append(f"Mirror image of {twin}: lay the two face to face, all cuts meet.")
    if words:
        yield " ".join(words)


def stock_said(stock: Stock, manner: Manner) -> str:
    """What a stock is, as it is asked for where it is sold: "birch plywood, 18 mm"."""
    if not stock.material:
        return ""
    return f"{stock.material}, {bit(stock.nominal, manner)}" if stock.nominal.value else stock.material


ENDS = (("left", "right"), ("front", "back"), ("bottom", "top"))
LOOKS = (("to the left", "to the right"), ("to the front", "to the back"), ("down", "up"))
MOST_WAYS = 3


def standing(folder: Folder, parts: Sequence[Part]) -> str:
    """Which way round a part stands in the piece: where its face looks, its reference end and its reference edge."""
    ways: dict[str, list[Part]] = {}
    for part in parts:
        (end, edge, face), (e, w, f) = part.lies, part.datum
        ways.setdefault(
            f"face {LOOKS[face][f > 0]}, reference end at the {ENDS[end][e < 0]}, reference edge at the "
            f"{ENDS[edge][w < 0]}",
            [],
        ).append(part)
    if len(ways) == 1:
        return f"In the piece: {next(iter(ways))}."
    if len(ways) > MOST_WAYS:
        return "The pictures in the steps show which way round each stands."
    told = (f"{listed(folder.short(one.name) for one in some)}: {way}" for way, some in ways.items())
    return f"In the piece, {'; '.join(told)}."


def sentence(text: str) -> str:
    """A note as a sentence: a capital before it, a full stop behind it."""
    text = text.strip()
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?", ".)")) else ".")


def provisional(folder: Folder, part: Part) -> str:
    """How a part comes to its size that is best cut to fit; "" for one that is simply cut."""
    if not part.fit_to:
        return _last(folder, part)
    larger = off_the_saw(folder, part)
    if part.name in folder.fitted_by:
        first = f"The sheet map keeps {larger} for it. " if larger else ""
    else:
        first = f"It leaves the saw at {larger}, so that there is wood to trim. " if larger else ""
    is_opening = any(one.name == part.fit_to for one in folder.build.openings)
    what = f"the opening of {in_full(part.fit_to)}" if is_opening else in_full(part.fit_to)
    measured, cut = fitting_steps(folder, part)
    where = f" in {measured}" if measured else " when it stands"
    when = f" in {cut}" if cut else ""
    return (
        f"{first}Measure {what}{where}: by what it differs from the plan, the size above differs too. Write that "
        f"size there and cut to it{when}."
    )


def _last(folder: Folder, part: Part) -> str:
    """Why a part had better wait until the rest stands dry; "" for one that may as well be cut at once."""
    wrong = folder.last.get(part.name)
    if wrong is None:
        return ""
    return (
        "Better cut when the rest stands dry, to what is measured there: cut at once to the size above it goes wrong "
        f"in {wrong} of builds."
    )


def fitting_steps(folder: Folder, part: Part) -> tuple[str, str]:
    """The step in which a part's opening is measured, and the steps in which it is cut to that; "" for none."""
    asked = [step for step in folder.order.steps if any(name.startswith(f"{part.fit_to}.") for name in step.reads)]
    if not asked:
        return "", ""
    after = [s.number for s in folder.order.steps if s.stage is Stage.SAW and s.number > asked[0].number]
    own = [n for n in after if part.name in folder.order.steps[n - 1].parts] or after[:0]
    if asked[0].stage is Stage.SAW:
        own = own or [asked[0].number]
    cut = sorted({*own[-1:], *folder.fitted_by.get(part.name, ())})
    steps = f"step{'s' if len(cut) > 1 else ''} {listed(str(number) for number in cut)}" if cut else ""
    return f"step {asked[0].number}", steps


def off_the_saw(folder: Folder, part: Part) -> str:
    """What the sheet map gives for it where that is larger than the finished part; "" where it is the same."""
    blank, manner = folder.blanks.get(part.name), folder.build.manner
    if blank is None or all(b - s.value <= manner.mark / 2 for b, s in zip(blank, part.size, strict=False)):
        return ""
    return " x ".join(said(size, manner) for size in blank)


def twin_of(folder: Folder, letter: str) -> str:
    """The letter of the part that is this one's mirror image; "" if there is none."""
    part = folder.letters[letter][0]
    if not part.cuts:
        return ""
    for other, parts in folder.letters.items():
        one = parts[0]
        if other != letter and one.is_left_handed != part.is_left_handed and outline(one) == outline(part):
            return other
    return ""


PLAIN = Manner("mm", decimals=4)


@lru_cache(maxsize=4096)
def outline(part: Part) -> tuple[object, ...]:
    """What a part and its mirror image have in common."""
    cuts = sorted(
        (
            family.side.value,
            family.called,
            family.size,
            family.depth,
            repr([[[str(d.value) for d in ds] for ds in row] for row in places(family)]),
        )
        for family in families(part, PLAIN)
    )
    return (part.stock.name, tuple(size.value for size in part.size), tuple(cuts))
