"""What is said about a part on its card: its names, sizes, what leaves the saw, how it is best cut to fit, its twin."""

from collections.abc import Iterator, Sequence
from functools import lru_cache

from storystick.ground.length import Manner
from storystick.model.part import Part
from storystick.model.work import Stage, Step
from storystick.paper.drawing.families import families, places
from storystick.paper.folder import Folder
from storystick.paper.lettering import calliper, said
from storystick.paper.spoken import listed, spoken, the


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
    if len(hands) > 1:
        other = [folder.short(one.name) for one in parts if one.is_left_handed != part.is_left_handed]
        words.append(f"Make the {listed(other)} as the mirror image of this drawing.")
    twin = twin_of(folder, letter)
    if twin:
        words.append(f"Mirror image of {twin}: lay the two face to face, all cuts meet.")
    if words:
        yield " ".join(words)


def sentence(text: str) -> str:
    """A note as a sentence: a capital before it, a full stop behind it."""
    text = text.strip()
    return text[:1].upper() + text[1:] + ("" if text[-1:] in (".", "!", "?") else ".")


def provisional(folder: Folder, part: Part) -> str:
    """How a part comes to its size that is best cut to fit; "" for one that is simply cut."""
    if not part.fit_to:
        return ""
    larger = off_the_saw(folder, part)
    step = fitting_step(folder, part)
    first = f"The saw leaves it {larger}, so that there is wood to trim. " if larger else ""
    when = f" (step {step.number})" if step else ""
    return f"{first}Measure {the(spoken(part.fit_to))} when it stands{when}, write the size above and cut to it."


def fitting_step(folder: Folder, part: Part) -> Step | None:
    """The step in which a part is cut to what was measured; None where no step says so."""
    steps = (step for step in folder.order.steps if step.stage is Stage.SAW and part.name in step.parts)
    return next((step for step in steps if step.reads), None)


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
