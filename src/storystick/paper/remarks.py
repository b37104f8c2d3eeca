"""What is said about a part on its card: its names, sizes, what leaves the saw, how it is best cut to fit, its twin."""

from collections.abc import Iterator, Sequence
from functools import lru_cache

from storystick.ground.length import Manner
from storystick.model.follows import followed
from storystick.model.part import Part
from storystick.model.stock import Stock
from storystick.model.work import Stage, Step
from storystick.paper.drawing.families import families, places
from storystick.paper.folder import Folder
from storystick.paper.lettering import bit, calliper, said
from storystick.paper.spoken import MEASURES, in_full, listed

NO_BREAK = "\N{NO-BREAK SPACE}"


def named(folder: Folder, parts: Sequence[Part]) -> str:
    """The names that go by one letter, as they are said; a number only, where they are many."""
    names = [folder.short(part.name) for part in parts]
    words = [name.split(" of ") for name in names]
    if len(names) == 1 or len({len(row) for row in words}) > 1:
        return listed(names)
    columns = [list(dict.fromkeys(column)) for column in zip(*words, strict=True)]
    if sum(len(column) > 1 for column in columns) > 1:
        return listed(names) if len(names) < MANY else f"{parts[0].role}, {len(names)} alike"
    return " of ".join(numbered(column) for column in columns)


MANY = 4  # so many names that differ in more than one word are not told


def numbered(names: Sequence[str]) -> str:
    """Names in a row, those that differ in their number by it: "drawers 1 to 5", "shelves 1, 2 and 4"."""
    words = [name.rpartition(" ") for name in names]
    numbers = [int(number) for _, _, number in words if number.isdecimal()]
    if len(names) < 3 or len(numbers) < len(names) or len({word for word, _, _ in words}) > 1:
        return listed(names)
    row = sorted(numbers)
    several = words[0][0].removesuffix("f") + "ves" if words[0][0].endswith("shelf") else f"{words[0][0]}s"
    runs_on = row[-1] - row[0] == len(row) - 1
    return f"{several} {row[0]} to {row[-1]}" if runs_on else f"{several} {listed(map(str, row))}"


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
    elif larger and is_opening(folder, part) and not any(followed(part, folder.build)):
        _, cut = fitting_steps(folder, part)
        words.append(f"The sheet map keeps {larger} for it; it is cut with its fellows{f' in {cut}' if cut else ''}.")
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
    if is_opening(folder, part) and not any(followed(part, folder.build)):
        return ""  # it is cut with the others, but at the size printed
    larger = off_the_saw(folder, part)
    if part.name in folder.fitted_by:
        first = f"The sheet map keeps {larger} for it. " if larger else ""
    else:
        first = f"It leaves the saw at {larger}, so that there is wood to trim. " if larger else ""
    what = f"the opening of {in_full(part.fit_to)}" if is_opening(folder, part) else in_full(part.fit_to)
    measured, cut = fitting_steps(folder, part)
    where = f" in {measured}" if measured else " when it stands"
    when = f" in {cut}" if cut else ""
    return f"{first}Measure {what}{where}: {differs(folder, part)}. Write that size there and cut to it{when}."


def is_opening(folder: Folder, part: Part) -> bool:
    """It is cut to fit the opening of a bay, not another part or a place."""
    return any(one.name == part.fit_to for one in folder.build.openings)


def differs(folder: Folder, part: Part) -> str:
    """Which sizes follow what: "by what its width differs from the plan, the length above differs too"."""
    told = [
        (size, listed(MEASURES[name.rpartition(" ")[2]] for name in names))
        for size, names in zip(("length", "width"), followed(part, folder.build), strict=True)
        if names
    ]
    if not told:
        return "by what it differs from the plan, the size above differs too"
    (size, measure), *more = told
    first = f"by what its {measure} differs from the plan, the {size} above differs too"
    return first + "".join(f", and by its {measure} the {size}" for size, measure in more)


def _last(folder: Folder, part: Part) -> str:
    """Why a part had better wait until the rest stands dry; "" for one that may as well be cut at once."""
    wrong = folder.last.get(part.name)
    if wrong is None:
        return ""
    dry = [step.number for step in folder.order.steps if step.stage is Stage.DRY_FIT and _is_of(folder, step, part)]
    in_step = f" in step {dry[0]}" if dry else ""
    return (
        f"Better cut when the rest stands dry{in_step}, to what is measured there: cut at once to the size above, it "
        f"goes wrong in {wrong.replace(' ', NO_BREAK)} of builds."
    )


def _is_of(folder: Folder, step: Step, part: Part) -> bool:
    """Parts of the same assembly are in hand."""
    of = folder.build.parts_by_name
    return any(of[name].assembly == part.assembly for name in step.parts if name in of)


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
