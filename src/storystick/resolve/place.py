"""Where things stand: relations such as on, flush, centred, level with, left of; not coordinates alone.

    sits: {on: floor, centred between: [left leg, right leg], flush: {front: bed}}
    sits: {hung on: back of cabinet, bottom at: 8}
    sits: {at: [12, 0, 3]}

Each relation fixes one axis. What no relation fixes lies at the left front of the room, on the floor.
"""

from dataclasses import dataclass

from storystick.craft.draft import NO_LENGTH, minus, plus
from storystick.craft.kinds import Extents
from storystick.ground.arithmetic import read_sum
from storystick.ground.dim import Dim
from storystick.ground.fields import Choice, Field, Fields, Filled, Length, ListOf, Node, Record, Size, Text, fill
from storystick.ground.finding import Finding, Place, mistake
from storystick.ground.marked import Mapping, Marked, Scalar, plain
from storystick.ground.misread import nearest, one_of
from storystick.model.part import Three
from storystick.resolve.names import ENDS, Names

BESIDE = {
    "left of": (0, -1), "right of": (0, 1), "in front of": (1, -1), "behind": (1, 1), "under": (2, -1), "on": (2, 1),
    "above": (2, 1),
}  # fmt: skip
SIDES = {word: (axis, sign) for axis, ends in enumerate(ENDS) for word, sign in zip(ends, (-1, 1), strict=True)}
SIDES |= {"rear": (1, 1)}
STRETCH = Fields(
    "stretch of the way in",
    (
        Field("from", Choice(("left", "right", "front", "back", "above")), required=True, help="where it comes from"),
        Field("by", Size, required=True, help="how far it comes that way"),
    ),
)
COMES: dict[str, tuple[float, float, float]] = {
    "left": (1, 0, 0), "right": (-1, 0, 0), "front": (0, 1, 0), "back": (0, -1, 0), "above": (0, 0, -1),
}  # fmt: skip
SITS = Fields(
    "place",
    (
        *(Field(word, Node, help=f"{word} a thing, or {{thing: gap}}") for word in BESIDE),
        Field("against", Node, help="touching a side of a thing: back of cabinet", also=("hung on",)),
        Field("flush", Node, help="ends in line with those of things: {front: bed, left: bed}"),
        Field("centred", Node, help="its middle on a thing's middle; {wide: bed} for one way", also=("centered",)),
        Field("centred between", ListOf(Text, least=2, most=2), help="midway between two", also=("centered between",)),
        Field("level", Length, help="its top at this height over the floor"),
        Field("level with", Text, help="its top level with the top of a thing"),
        Field("left at", Length, help="its left end, from the left of the room"),
        Field("front at", Length, help="its front, from the front of the room"),
        Field("bottom at", Length, help="its bottom, from the floor"),
        Field("at", ListOf(Length, least=3, most=3), help="left, front and bottom of it"),
        Field("turned", Choice(("left", "right", "round")), help="quarter or half turned, seen from above"),
        Field("clear of", Node, help="what it must stay clear of, by how much: {left leg: 1/2}"),
        Field("comes in", ListOf(Record(STRETCH)), help="its way to its place, stretch by stretch, the last one last"),
        Field("held by", ListOf(Text), help="what holds it there: screws, glue, its weight"),
    ),
    short="on",
)  # fmt: skip
TURNS = {"left": 1, "round": 2, "right": 3}
FLOOR = "floor"


@dataclass(frozen=True, slots=True, eq=False)
class Between:
    """The gap that a thing stands in: its width, the way it is measured (0 wide, 1 deep), what bounds it."""

    gap: Dim
    axis: int
    bounds: tuple[str, str]


@dataclass(frozen=True, slots=True, eq=False)
class Placed:
    """Where a thing stands: its low corner in the room, its quarter turns, what carries it, what to stay clear of."""

    at: Three
    turns: int
    carrier: str
    clear_of: tuple[tuple[str, Dim], ...]
    held_by: tuple[str, ...]
    between: Between | None = None
    comes_in: tuple[tuple[tuple[float, float, float], Dim], ...] = ()


class Placing:
    """One thing being placed: relations fix its axes one by one; two for one axis are a mistake."""

    def __init__(self, names: Names, size: Three, place: Place, mistakes: list[Finding]) -> None:
        self.names, self.size, self.where, self.mistakes = names, size, place, mistakes
        self.low: dict[int, Dim] = {}
        self.by: dict[int, str] = {}
        self.carrier = ""
        self.gap: Between | None = None

    def thing(self, name: str, place: Place) -> Extents | None:
        """The thing of that name, or a mistake with the nearest."""
        if plain(name) == FLOOR:
            return None
        found = self.names.extents(name)
        if found is None:
            known = [FLOOR, *self.names.things]
            self.mistakes.append(
                mistake(place, name, f"something that stands there: {one_of(known[:12])}", nearest(name, known))
            )
        return found

    def fix(self, axis: int, low: Dim, word: str, place: Place) -> None:
        """Fix one axis by its low end."""
        if axis in self.low:
            way = ("left to right", "front to back", "up and down")[axis]
            self.mistakes.append(
                mistake(place, word, f"free {way}: {self.by[axis]!r} says already where it lies", "only one of the two")
            )
            return
        self.low[axis], self.by[axis] = low, word

    def fix_end(self, axis: int, sign: int, end: Dim, word: str, place: Place) -> None:
        """Fix one axis by its low (-1) or high (+1) end."""
        self.fix(axis, end if sign < 0 else minus(end, self.size[axis]), word, place)

    def beside(self, word: str, node: Marked, scope: Names) -> None:
        """`on: bed`, `left of: {bed: 1/2}`: touching, or with a gap."""
        axis, sign = BESIDE[word]
        name, gap, place = self._thing_and_gap(word, node, scope)
        if not name:
            return
        if plain(name) == FLOOR:
            if axis == 2 and sign > 0:
                self.carrier = FLOOR
                self.fix(2, gap, word, place)
            else:
                self.mistakes.append(mistake(place, name, f"something to be {word}", f"on: {FLOOR}"))
            return
        thing = self.thing(name, place)
        if thing is None:
            return
        if word == "on":
            self.carrier = name
        if sign > 0:
            self.fix(axis, plus(thing.high(axis), gap), word, place)
        else:
            self.fix(axis, minus(minus(thing.low(axis), gap), self.size[axis]), word, place)

    def _thing_and_gap(self, word: str, node: Marked, scope: Names) -> tuple[str, Dim, Place]:
        if isinstance(node, Scalar):
            return node.text, NO_LENGTH, node.place
        if isinstance(node, Mapping) and len(node.entries) == 1:
            key, value = node.entries[0]
            gap = read_sum(value, scope, self.mistakes) if isinstance(value, Scalar) else None
            return key.text, gap or NO_LENGTH, key.place
        self.mistakes.append(
            mistake(node.place, "", f"one thing to be {word}, as {word}: bed, or {word}: {{bed: 1/2}}")
        )
        return "", NO_LENGTH, node.place

    def against(self, node: Marked, scope: Names) -> None:
        """`back of cabinet`: touching that side from outside."""
        name, gap, place = self._thing_and_gap("against", node, scope)
        words = plain(name).split(" of ", 1)
        if len(words) != 2 or words[0] not in SIDES:
            if name:
                self.mistakes.append(
                    mistake(place, name, "a side of a thing, as back of cabinet", f"back of {words[-1]}")
                )
            return
        thing = self.thing(words[1], place)
        if thing is None:
            return
        axis, sign = SIDES[words[0]]
        self.carrier = words[1]
        if sign > 0:
            self.fix(axis, plus(thing.high(axis), gap), "against", place)
        else:
            self.fix(axis, minus(minus(thing.low(axis), gap), self.size[axis]), "against", place)

    def flush(self, node: Marked, scope: Names) -> None:
        """`{front: bed, left: bed, top: 34}`: its own end in line with the same end of a thing, or at a length."""
        if not isinstance(node, Mapping):
            self.mistakes.append(mistake(node.place, "", "ends and things, as flush: {front: bed}"))
            return
        for key, value in node.entries:
            word = plain(key.text)
            if word not in SIDES:
                self.mistakes.append(
                    mistake(key.place, key.text, f"an end: {one_of(list(SIDES))}", nearest(word, SIDES))
                )
                continue
            if not isinstance(value, Scalar):
                self.mistakes.append(mistake(value.place, "", "the name of a thing"))
                continue
            thing = self.thing(value.text, value.place)
            if thing is not None:
                axis, sign = SIDES[word]
                self.fix_end(axis, sign, thing.high(axis) if sign > 0 else thing.low(axis), f"flush {word}", key.place)

    def centred(self, node: Marked) -> None:
        """On the middle of a thing: both ways on the floor plan, or only the ways named."""
        if isinstance(node, Scalar):
            thing = self.thing(node.text, node.place)
            for axis in (0, 1):
                if thing is not None and axis not in self.low:
                    self._centre(axis, thing, node.place)
            return
        if not isinstance(node, Mapping):
            self.mistakes.append(mistake(node.place, "", "a thing, or {wide: thing}"))
            return
        for key, value in node.entries:
            word = plain(key.text)
            if word not in ("wide", "deep", "high") or not isinstance(value, Scalar):
                self.mistakes.append(
                    mistake(
                        key.place, key.text, "wide, deep or high with a thing", nearest(word, ("wide", "deep", "high"))
                    )
                )
                continue
            thing = self.thing(value.text, value.place)
            if thing is not None:
                self._centre(("wide", "deep", "high").index(word), thing, key.place)

    def _centre(self, axis: int, thing: Extents, place: Place) -> None:
        self.fix(axis, plus(thing.low(axis), (thing.size[axis] - self.size[axis]) / 2), "centred", place)

    def between(self, names: tuple[str, ...], place: Place) -> None:
        """In the middle of the gap between two things, the way that they stand apart: sideways first, then in depth."""
        one, other = (self.thing(name, place) for name in names)
        if one is None or other is None:
            return
        for axis in (0, 1):
            left, right = sorted((one, other), key=lambda e: e.low(axis).value)
            if left.high(axis).value <= right.low(axis).value:
                gap = right.low(axis) - left.high(axis)
                self.fix(axis, left.high(axis) + (gap - self.size[axis]) / 2, "centred between", place)
                self.gap = Between(gap, axis, (names[0], names[1]))
                return
        self.mistakes.append(mistake(place, " and ".join(names), "two things with a gap between them"))


def read_place(node: Marked | None, names: Names, size: Three, place: Place, mistakes: list[Finding]) -> Placed | None:
    """Where a thing of some size stands by its relations; None when they could not be read (mistakes say why)."""
    before = len(mistakes)
    if node is None:
        return Placed((NO_LENGTH, NO_LENGTH, NO_LENGTH), 0, FLOOR, (), ())
    filled = fill(SITS, node, names, mistakes)
    if filled is None:
        return None
    turns = TURNS[filled.choice("turned")] if filled.has("turned") else 0
    if turns % 2:
        size = (size[1], size[0], size[2])
    work = Placing(names, size, place, mistakes)
    _fix_all(work, filled, names)
    if len(mistakes) > before:
        return None
    low = [work.low.get(axis, NO_LENGTH) for axis in range(3)]
    carrier = work.carrier or ("" if 2 in work.low else FLOOR)
    return Placed(
        (low[0], low[1], low[2]),
        turns,
        carrier,
        _clear_of(filled.node("clear of"), work, names),
        filled.texts("held by"),
        work.gap,
        tuple((COMES[leg.choice("from")], leg.length("by")) for leg in filled.records("comes in")),
    )


def _fix_all(work: Placing, filled: Filled, names: Names) -> None:
    for word in BESIDE:
        node = filled.node(word)
        if node is not None:
            work.beside(word, node, names)
    for word, axis in (("left at", 0), ("front at", 1), ("bottom at", 2)):
        dim = filled.maybe_length(word)
        if dim is not None:
            work.fix(axis, dim, word, filled.place(word))
    for axis, dim in enumerate(filled.lengths("at")):
        work.fix(axis, dim, "at", filled.place("at"))
    level = filled.maybe_length("level")
    if level is not None:
        work.fix_end(2, 1, level, "level", filled.place("level"))
    with_what = filled.maybe_text("level with")
    if with_what is not None:
        thing = work.thing(with_what, filled.place("level with"))
        if thing is not None:
            work.fix_end(2, 1, thing.high(2), "level with", filled.place("level with"))
    if (node := filled.node("flush")) is not None:
        work.flush(node, names)
    if filled.has("centred between"):
        work.between(filled.texts("centred between"), filled.place("centred between"))
    if (node := filled.node("against")) is not None:
        work.against(node, names)
    if (node := filled.node("centred")) is not None:
        work.centred(node)


def _clear_of(node: Marked | None, work: Placing, names: Names) -> tuple[tuple[str, Dim], ...]:
    if node is None:
        return ()
    if not isinstance(node, Mapping):
        work.mistakes.append(mistake(node.place, "", "things and distances, as clear of: {left leg: 1/2}"))
        return ()
    found: list[tuple[str, Dim]] = []
    for key, value in node.entries:
        gap = read_sum(value, names, work.mistakes) if isinstance(value, Scalar) else None
        if work.thing(key.text, key.place) is not None and gap is not None:
            found.append((key.text, gap))
    return tuple(found)
