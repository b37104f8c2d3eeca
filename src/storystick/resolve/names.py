"""Names and where things lie: what the sums of a plan may speak of, filled as entries are resolved."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from storystick.craft.draft import plus
from storystick.craft.kinds import Built, Extents
from storystick.ground.arithmetic import names_in
from storystick.ground.dim import Book, Dim
from storystick.ground.finding import Finding, wrong
from storystick.ground.length import Unit
from storystick.ground.marked import Mapping as MarkedMapping
from storystick.ground.marked import Marked, Scalar, Sequence, plain
from storystick.ground.tidy import tidied
from storystick.model.part import Three

SIZES = ("wide", "deep", "high")
ENDS = (("left", "right"), ("front", "back"), ("bottom", "top"))


@dataclass(slots=True)
class Names:
    """The scope of a plan: lengths by name, whatever their capitals; and where things lie in the room."""

    bare: Unit
    book: Book
    lengths: dict[str, Dim] = field(default_factory=dict)
    things: dict[str, Extents] = field(default_factory=dict)

    def find(self, name: str) -> Dim | None:
        """The length of that name; None when there is none (yet)."""
        return self.lengths.get(plain(name))

    def names(self) -> tuple[str, ...]:
        """Every name so far: of lengths for sums, of things for relations."""
        return tuple(self.lengths)

    def extents(self, name: str) -> Extents | None:
        """Where a thing lies."""
        return self.things.get(plain(name))

    def lend(self, name: str, dim: Dim) -> None:
        """Let sums speak of a length by a name."""
        self.lengths[plain(name)] = dim

    def settle(self, name: str, dim: Dim, because: str) -> Dim:
        """Name a length in the book and lend it; one that is in the book already is only lent."""
        known = self.book.pages.get(name)
        settled = known if known is not None else self.book.settle(name, dim, because, tidied)
        self.lend(name, settled)
        return settled

    def place(self, name: str, at: Three, size: Three) -> Extents:
        """Put a thing in the room: its sizes and its six ends get names."""
        for word, dim in zip(SIZES, size, strict=True):
            self.settle(f"{name}.{word}", dim, "over all")
        for (low, high), start, long in zip(ENDS, at, size, strict=True):
            self.settle(f"{name}.{low}", start, f"its {low} in the room")
            self.settle(f"{name}.{high}", plus(start, long), f"its {high} in the room")
        extents = Extents(at, size)
        self.things[plain(name)] = extents
        return extents


class RoomView:
    """The room as kinds see it."""

    def __init__(self, names: Names, made: Mapping[str, Built]) -> None:
        self._names, self._made = names, made

    def built(self, name: str) -> Built | None:
        """The assembly of that name with its boards."""
        return self._made.get(plain(name))

    def extents(self, name: str) -> Extents | None:
        """Where the thing of that name lies."""
        return self._names.extents(name)

    def names(self) -> tuple[str, ...]:
        """Names of all things in the room."""
        return tuple(self._names.things)


TALK = (
    "says", "same sheet", "note", "about", "with", "called", "seen from", "joint", "pull", "pull at", "run past",
    "takes", "way", "toward", "where", "hinged", "hinges", "made as", "set", "leaves", "catch", "lies", "corners",
    "fixed by",
)  # fmt: skip
"""Keys with free text or one of some words behind them: nothing that a sum or a relation could mean."""
ALONE = ("nailers", "doors", "stands on")
"""Keys that have one of some words behind them, or a group in which sums may stand."""
RELATED = ("on", "above", "under", "left of", "right of", "in front of", "behind", "against", "hung on", "clear of")
"""Keys whose group has things for keys: `left of: {post: 1/2}`."""


def words(node: Marked, within: str = "") -> Iterator[Scalar]:
    """Every value that may speak of another entry, in order; keys where relations name things by keys."""
    match node:
        case Scalar():
            yield node
        case Sequence(items):
            for item in items:
                yield from words(item, within)
        case MarkedMapping(entries):
            for key, value in entries:
                if within in RELATED:
                    yield key
                said = plain(key.text)
                if said not in TALK and not (said in ALONE and isinstance(value, Scalar)):
                    yield from words(value, plain(key.text))


def needs_of(entries: Mapping[str, Marked]) -> dict[str, set[str]]:
    """For each entry, the others that it speaks of."""
    known = {plain(name): name for name in entries}
    return {
        name: {known[n] for s in words(node) for n in _spoken(s.text, known) if known[n] != name}
        for name, node in entries.items()
    }


def in_order(
    entries: Mapping[str, Marked], needs: Mapping[str, set[str]], mistakes: list[Finding]
) -> tuple[str, ...]:
    """The entries so that each comes after those that it needs. Circles are mistakes; their members come last."""
    done: list[str] = []
    waiting = list(entries)
    while waiting:
        ready = [name for name in waiting if needs[name] <= set(done)]
        if not ready:
            circle = _circle(waiting, needs)
            place = entries[circle[0]].place
            ring = ", ".join(
                f"{one} needs {other}" for one, other in zip(circle, (*circle[1:], circle[0]), strict=True)
            )
            says = f"{circle[0]} can't be settled: {ring}, round in a circle."
            mistakes.append(wrong(place, says, "Give one of them a number of its own."))
            return (*done, *waiting)
        done.append(ready[0])
        waiting.remove(ready[0])
    return tuple(done)


def _spoken(text: str, known: Mapping[str, str]) -> set[str]:
    return {name for name in names_in(text, known) if name in known}


def _circle(waiting: list[str], needs: Mapping[str, set[str]]) -> tuple[str, ...]:
    path: list[str] = [waiting[0]]
    while True:
        following = next(n for n in waiting if n in needs[path[-1]])
        if following in path:
            return tuple(path[path.index(following) :])
        path.append(following)
