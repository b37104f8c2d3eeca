"""How hardware is fitted, in words: what goes where, with which screws, and what the trade does there."""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from storystick.ground.dim import Dim
from storystick.ground.length import show
from storystick.model.build import Build
from storystick.model.cut import Bore
from storystick.model.joining import Fastener, Item
from storystick.model.part import Part
from storystick.shop.tables import castors, feet, hinges, magnets, slides
from storystick.work.saying import and_of, called, cap, many, plural, said, so_many

FEW = 4
FACE = "drawer face"
EPOXY = "two-part epoxy"
NEAR = Fraction(15)
"""A pin's hole lies no farther below the shelf that lies on it than this [mm]."""
ORDINALS = ("lowest", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")
ADVICE = {
    "magnets": (
        "Lay each on the steel first and mark the side that looks up. Glue them in with "
        f"{EPOXY}, just below the surface."
    ),
    "slides": "The holes follow the slide's middle line: where your slides have theirs elsewhere, keep to that line.",
    "castors and feet": "",
}


def fit_lines(build: Build, items: Sequence[Item], among: Sequence[Part] = ()) -> Iterator[str]:
    """Each sort of thing with its count and where it goes; of the parts `among` only, where some are given."""
    counts: dict[tuple[str, str, str], int] = {}
    on: dict[tuple[str, str, str], dict[str, None]] = {}
    of = {part.name: part for part in among or build.parts}
    for item in items:
        key = (bought_as(item), item.unit, _end(build, item))
        counts[key] = counts.get(key, 0) + item.count
        on.setdefault(key, {}).update(dict.fromkeys(called(of[name], build) for name in item.on if name in of))
    for (what, unit, where), count in counts.items():
        kind, comma, size = what.partition(", ")
        several = f"{plural(kind)}{comma}{size}"
        several = what if count == 1 and unit == "each" else several
        counted = so_many(count, several) if unit == "each" else f"{many(count, unit)} of {several}"
        yield f"{cap(counted)}{_on(on[what, unit, where])}{where}."


def bought_as(item: Item) -> str:
    """What an item is called where it is bought and fitted; a magnet is said to be one."""
    word = item.said or item.kind or item.name
    return f"{word} magnet" if item.kind in magnets() and "magnet" not in word else word


def _on(places: Iterable[str]) -> str:
    """What something is fitted on, where that is few enough to be said."""
    names = list(places)
    return f" on {and_of(names)}" if 0 < len(names) <= FEW else ""


def _end(build: Build, item: Item) -> str:
    """At which end of the piece a castor or a foot stands: those that lock are not to be mixed up with the others."""
    if item.box is None or (item.kind not in castors() and item.kind not in feet()):
        return ""
    (_, at, _), (_, size, _) = item.box
    middle = at.value + size.value / 2
    return ", at the front" if middle < build.assembly(item.assembly).size[1].value / 2 else ", at the back"


def screw_lines(build: Build, screws: Sequence[Fastener]) -> Iterator[str]:
    """The screws of some hardware: how many of which."""
    counts: dict[str, int] = {}
    into: dict[str, dict[str, None]] = {}
    for one in screws:
        rows = one.row if one.row.endswith("s") else f"{one.row}s"
        row = f"{rows}, {show(one.length.value, build.manner)} long"
        counts[row] = counts.get(row, 0) + 1
        part = build.parts_by_name.get(one.into)
        into.setdefault(row, {})[(part.letter or called(part, build)) if part else one.into] = None
    for row, count in counts.items():
        yield f"Fasten with {count} x {row}, in the pilot holes of {and_of(into[row])}."


def slide_lines(build: Build) -> Iterator[str]:
    """How far the slides stand back from the front edges of what they are screwed to."""
    back: dict[str, dict[str, None]] = {}
    for item in build.items:
        if item.kind not in slides() or not item.carries:
            continue
        on = [build.part(name) for name in item.on if name in build.parts_by_name]
        running = [part for part in on if part.assembly == item.carries]
        hosts = [part for part in on if part.assembly == item.assembly]
        if not running or not hosts or build.assembly(item.carries).turns:
            continue
        front = min(part.low(1) for part in running) + build.assembly(item.carries).at[1].value
        for host in hosts:
            gap = front - host.low(1)
            if gap >= 0:
                far = show(gap, build.manner) if gap >= build.manner.mark / 2 else ""
                back.setdefault(far, {})[host.letter or called(host, build)] = None
    for far, letters in back.items():
        edges = f"the front edge{'s' if len(letters) > 1 else ''} of {and_of(letters)}"
        yield f"The front end of each slide {'stands ' + far + ' behind' if far else 'is flush with'} {edges}."


def hinge_lines(items: Sequence[Item]) -> Iterator[str]:
    """How a door is hung, by the sorts of its hinges."""
    if any(item.kind in hinges() and hinges()[item.kind].kind == "cup" for item in items):
        yield (
            "Press each cup into its bore, square to the door's edge, hang the door on its plates, and even out the "
            "gaps with the hinges' own screws."
        )
    if any(item.kind not in hinges() or hinges()[item.kind].kind != "cup" for item in items):
        yield "Drive one screw in each leaf first and swing it: are the gaps even all round? Then the others."


def wall_lines(build: Build, items: Sequence[Item], hangs: bool) -> Iterator[str]:
    """The screws that fix a piece straight to a wall: what holds it meanwhile, and what they go through."""
    for item in items:
        on = [build.part(name) for name in item.on if name in build.parts_by_name]
        through = and_of(dict.fromkeys(part.letter or called(part, build) for part in on))
        if hangs:
            yield "Take its doors, drawers and loose shelves out, and let a batten on the wall or props carry it."
        head, link, size = item.said.partition(", ")
        several = so_many(item.count, f"{plural(head) if item.count > 1 else head}{link}{size}")
        yield (
            f"Find the studs, drill a pilot hole into each through the holes of {through}, and drive {several}. "
            "Where no stud stands behind a hole, make another beside it."
        )


def gap_lines(build: Build) -> Iterator[str]:
    """How wide the gap beside an inset front is."""
    openings = {one.name: one for one in build.openings}
    faces = [part for part in build.parts if part.role == FACE and part.fit_to in openings]
    gaps = {(openings[part.fit_to].size[0].value - part.along(0).value) / 2 for part in faces}
    told = dict.fromkeys(show(gap, build.manner) for gap in sorted(gaps) if gap > 0)
    if told:
        yield f"The gap on either side of a front is {' or '.join(told)}."


def foot_lines(build: Build, items: Sequence[Item]) -> Iterator[str]:
    """How far a levelling foot is let out, and what holds it."""
    high = dict.fromkeys(show(item.box[1][2].value, build.manner) for item in items if item.kind in feet() and item.box)
    for one in high:
        yield (
            f"A nut and a washer on either side of the board hold the stem of each foot; begin with {one} from the "
            "board to the floor."
        )


def pin_lines(build: Build, items: Sequence[Item]) -> Iterator[str]:
    """Pins into their holes, and each loose shelf onto its pins."""
    for item in items:
        shelf = build.parts_by_name.get(item.name.removesuffix(" pins"))
        hosts = [build.part(name) for name in item.on if name in build.parts_by_name]
        into = and_of(dict.fromkeys(called(host, build) for host in hosts))
        found = [(host, *hole) for host in hosts if shelf and (hole := _which(host, shelf))]
        words = and_of(dict.fromkeys(word for _, word, _ in found))
        which = f", in the {words} hole of each row from below" if found else ""
        far = dict.fromkeys(said(at, build) for _, _, at in found)
        if len(far) == 1:
            which += f", {next(iter(far))} from the reference end"
        elif far:
            which += f", {and_of(f'{said(at, build)} up {host.letter or host.name}' for host, _, at in found)}"
        lay = f"; lay {called(shelf, build)} on them" if shelf else ""
        yield f"{cap(so_many(item.count, plural(item.said or item.kind)))} in {into}{which}{lay}."


def shelves_on(build: Build, items: Sequence[Item]) -> tuple[Part, ...]:
    """The loose shelves that lie on some pins."""
    names = [item.name.removesuffix(" pins") for item in items]
    return tuple(build.part(name) for name in names if name in build.parts_by_name)


def _which(host: Part, shelf: Part) -> tuple[str, Dim] | None:
    """Which hole from below carries a shelf, "third", and how far it is from the reference end; None for none."""
    own = f"{shelf.name.rpartition('.')[2]} "
    heights: dict[Fraction, Dim] = {}
    for cut in host.cuts:
        if isinstance(cut, Bore) and "pin" in cut.called and cut.name.removeprefix(f"{host.name}.").startswith(own):
            along = cut.at[0].value
            up = along if host.datum[0] > 0 else host.size[0].value - along
            if host.lies[0] == 2:
                heights[host.at[2].value + up] = cut.at[0]
    rows = sorted(heights)
    near = [n for n, height in enumerate(rows) if 0 <= shelf.low(2) - height <= NEAR]
    if not near or near[-1] >= len(ORDINALS):
        return None
    return ORDINALS[near[-1]], heights[rows[near[-1]]]
