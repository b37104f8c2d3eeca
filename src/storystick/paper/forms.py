"""The packet's printed forms: the cover, the head of a part's card, a step, a page that is all drawing."""

from dataclasses import dataclass

from storystick.paper.blocks import Data, Figure, rich
from storystick.paper.drawing.drawn import Drawn


@dataclass(frozen=True, slots=True)
class CardHead:
    """The head of a part's card: its letter, name, count and size, boxes for each piece, and remarks."""

    letter: str
    name: str
    count: int
    sizes: tuple[tuple[str, str], ...]  # number, word
    remarks: tuple[str, ...] = ()
    provisional: str = ""
    narrow: bool = False  # sizes one below the other

    def data(self) -> Data:
        """As plain data for the press."""
        return {
            "is": "card", "narrow": self.narrow, "count": self.count,
            "letter": rich(self.letter), "name": rich(self.name),
            "sizes": [[rich(number), rich(word)] for number, word in self.sizes],
            "remarks": [rich(remark) for remark in self.remarks], "provisional": rich(self.provisional),
        }  # fmt: skip


@dataclass(frozen=True, slots=True)
class StepBlock:
    """One step: what to do, at which settings, a picture of the state after it, what to check, what to beware of."""

    number: int
    title: str
    does: tuple[str, ...]
    settings: tuple[tuple[str, str, str, str], ...] = ()  # what is set, to what, remarks, as a calliper shows it
    picture: Drawn | None = None
    parts: str = ""
    check: str = ""
    caution: str = ""
    reads: tuple[str, ...] = ()
    time: str = ""

    def data(self) -> Data:
        """As plain data for the press."""
        return {
            "is": "step", "number": self.number, "title": rich(self.title), "does": [rich(text) for text in self.does],
            "settings": [[rich(word) for word in setting] for setting in self.settings],
            "picture": None if self.picture is None else Figure(self.picture).data(), "parts": rich(self.parts),
            "check": rich(self.check), "caution": rich(self.caution), "reads": [rich(text) for text in self.reads],
            "time": rich(self.time), "long": self.is_long,
        }  # fmt: skip

    @property
    def is_long(self) -> bool:
        """True where the words beside the picture alone are about as high as it."""
        return self.picture is not None and sum(1 + len(text) // BESIDE for text in self.does) * 5.2 > self.picture.high


BESIDE = 66
"""So many letters go on a line beside a picture, at least."""


@dataclass(frozen=True, slots=True)
class Cover:
    """The cover: title, what it is, picture, sizes, what it is made of; the list of pages fills itself in."""

    title: str
    about: str
    picture: Drawn
    sizes: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]  # what, (number, word) ...
    made_of: tuple[str, ...]
    dated: str

    def data(self) -> Data:
        """As plain data for the press."""
        return {
            "is": "cover", "title": rich(self.title), "about": rich(self.about), "picture": Figure(self.picture).data(),
            "sizes": [[rich(what), [[rich(n), rich(w)] for n, w in pairs]] for what, pairs in self.sizes],
            "made": [rich(text) for text in self.made_of], "dated": rich(self.dated),
        }  # fmt: skip


@dataclass(frozen=True, slots=True)
class FullPage:
    """A drawing that takes up a page of its own from edge to edge, without heading, foot or margin."""

    drawn: Drawn

    def data(self) -> Data:
        """As plain data for the press."""
        figure = Figure(self.drawn).data()
        return {"is": "full", "figure": figure}
