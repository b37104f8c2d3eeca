"""Names for every number of a cut, so that each can be asked why and overruled by a reading."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from storystick.ground.dim import Book, Dim, Named
from storystick.ground.tidy import tidied
from storystick.model.cut import Bevel, Bore, Channel, Corner, Cut, Notch, Side, Spot

FROM = ("from the end", "from the edge", "from the face")  # u, v, w


def named_cuts(part: str, cuts: Sequence[Cut], book: Book) -> Iterator[Cut]:
    """The cuts of a part with every number settled as `part.cut.word`; cuts of one name are numbered."""
    seen: dict[str, int] = {}
    for cut in cuts:
        short = cut.name.removeprefix(part + ".")
        short = short.rsplit(".", 1)[-1] or cut.called
        seen[short] = seen.get(short, 0) + 1
        label = short if seen[short] == 1 else f"{short} no. {seen[short]}"
        yield _named(cut, f"{part}.{label}", book)


def _named(cut: Cut, name: str, book: Book) -> Cut:
    match cut:
        case Channel():
            words = [FROM[axis] for axis in cut.side.axes]
            sizes = ["long" if i == cut.runs else "wide" for i in (0, 1)]
            return replace(
                cut, name=name, at=_spot(cut.at, words, name, book, f"where the {cut.called} begins, {_on(cut.side)}"),
                size=_spot(cut.size, sizes, name, book, f"the {cut.called}, {_on(cut.side)}"),
                depth=_settled(book, f"{name}.deep", cut.depth, f"how deep the {cut.called} is"),
            )  # fmt: skip
        case Bore():
            words = [FROM[axis] for axis in cut.side.axes]
            because = f"how deep the {cut.called} is"
            depth = None if cut.depth is None else _settled(book, f"{name}.deep", cut.depth, because)
            where = f"where the {cut.called} is, {_on(cut.side)}"
            return replace(cut, name=name, at=_spot(cut.at, words, name, book, where), depth=depth)
        case Notch():
            corners = tuple(_corner(c, i, name, book, cut.called) for i, c in enumerate(cut.corners, 1))
            return replace(cut, name=name, corners=corners)
        case Bevel():
            return replace(cut, name=name)


def _corner(corner: Corner, number: int, name: str, book: Book, called: str) -> Corner:
    because = f"where a corner of the {called} is"
    return replace(
        corner,
        u=_settled(book, f"{name}.corner {number} {FROM[0]}", corner.u, because),
        v=_settled(book, f"{name}.corner {number} {FROM[1]}", corner.v, because),
    )


def _spot(spot: Spot, words: Sequence[str], name: str, book: Book, because: str) -> Spot:
    return (
        _settled(book, f"{name}.{words[0]}", spot[0], because),
        _settled(book, f"{name}.{words[1]}", spot[1], because),
    )


def _on(side: Side) -> str:
    return f"on the {side.value}"


def _settled(book: Book, name: str, dim: Dim, because: str) -> Dim:
    """The number under its name; one that has been named already keeps its own name behind the new one."""
    if isinstance(dim.node, Named) and dim.node.name == name:
        return dim
    return book.settle(name, dim, because, tidied)
