"""Lips: a strip of solid wood along the front edge of a board: it stiffens, hides plies, keeps things from rolling."""

from dataclasses import dataclass, replace

from storystick.craft.carcass import Room, board
from storystick.craft.draft import Bench, Draft, X, Y, Z, minus, plus
from storystick.craft.kinds import Task
from storystick.ground.dim import Dim, rule
from storystick.ground.fields import Field, Fields, Filled, NameOf, Size, fill
from storystick.ground.finding import Place, mistake
from storystick.ground.marked import Mapping, Marked, Scalar
from storystick.ground.misread import Misread
from storystick.ground.quantities import read_flag
from storystick.ground.source import practice
from storystick.model.joining import Joined
from storystick.model.stock import Stock

PROUD = practice("a lip stands 12 mm (1/2 in) above its board")
LIP = Fields(
    "lip",
    (
        Field("stock", NameOf("stock"), help="a board or strip of solid wood"),
        Field("high", Size, help="its whole height; it begins level with the board's underside"),
        Field("proud", Size, help="how far it stands above the board, instead of its height"),
    ),
)


@dataclass(frozen=True, slots=True, eq=False)
class Lip:
    """A lip as asked for: its stock, its height over all or how far it stands proud."""

    stock: Stock
    high: Dim | None
    proud: Dim | None


def lay_lip(task: Task, draft: Draft, node: Marked, room: Room) -> Draft | None:
    """Lay a lip on a board that bounds a bay from below; None when the plan wants none or says too little.

    On a board that ends with its bay the lip goes on the front edge, and the board is narrower by its thickness. On one
    that goes on beside the bay, or that carries dividers, it stands on top, level with the front.
    """
    asked = _read(task, node)
    if asked is None:
        return None
    bench, thick = task.bench, asked.stock.thickness
    proud = asked.proud or bench.once(
        "lip proud", lambda: rule("lip proud", bench.step("1/2", "12"), PROUD), "keeps things in"
    )
    short = draft.name.rsplit(".", 1)[-1]
    name = _free(task, f"{short} lip")
    front = draft.low[Y]
    on_edge = _ends_with_bay(bench, draft, room)
    if on_edge:
        high = asked.high or plus(draft.span[draft.thick], proud)
        low = [draft.low[X], front, draft.low[Z]]
        long = draft.span[X]
        draft.low[Y], draft.span[Y] = plus(front, thick), minus(draft.span[Y], thick)
        draft.because[Y] = f"{draft.because.get(Y, 'as laid out')}, less the lip"
    else:
        high = asked.high - draft.span[Z] if asked.high is not None else proud
        low, long = [room.low[X], front, plus(draft.low[Z], draft.span[Z])], room.size[X]
    why = {
        X: "along the front of its board",
        Y: "the stock as measured",
        Z: "over the board's thickness" if on_edge else "as it stands proud",
    }
    strip = board(task, name, "lip", asked.stock, (X, Z, Y), low, [long, thick, high], why, faces=-1)
    strip.place = node.place
    axis, sign = (Y, 1) if on_edge else (Z, -1)
    bench.piece.joined.append(
        Joined(
            f"{task.name}.{name} on {short}",
            "butt",
            "glued on",
            draft.name,
            strip.name,
            axis,
            sign,
            True,
            ("glue",),
            node.place,
        )
    )
    if on_edge:
        _stiffen(bench, draft, (high, thick), asked.stock)
    return strip


def _free(task: Task, name: str) -> str:
    """A name that no board has yet: the second lip of a board is called so."""
    taken = task.bench.piece.drafts
    number_ = 2
    free = name
    while f"{task.name}.{free}" in taken:
        free, number_ = f"{name} {number_}", number_ + 1
    return free


def _ends_with_bay(bench: Bench, draft: Draft, room: Room) -> bool:
    carries = any(w.host is draft and w.guest.role == "divider" for w in bench.piece.joints)
    return not carries and room.size[X].value == draft.span[X].value and draft.role in ("shelf", "bottom")


def _stiffen(bench: Bench, draft: Draft, section: tuple[Dim, Dim], stock: Stock) -> None:
    spans = bench.piece.spans
    for index, span in enumerate(spans):
        if span.part == draft.name:
            spans[index] = replace(span, lip=section, lip_stock=stock)


def _read(task: Task, node: Marked) -> Lip | None:
    """The lip asked for here, with the case's own `lip:` behind it."""
    mistakes = task.bench.mistakes
    if isinstance(node, Scalar):
        try:
            if not read_flag(node.text):
                return None
        except Misread as trouble:
            mistakes.append(trouble.finding(node.place))
            return None
        node = Mapping((), node.place)
    own = fill(LIP, node, task.scope, mistakes)
    usual = _usual(task)
    if own is None:
        return None
    stock = own.maybe_text("stock") or (usual.maybe_text("stock") if usual else None)
    if stock is None:
        mistakes.append(
            mistake(node.place, "", "a stock for the lip, here or under the case's own lip", "lip: {stock: ...}")
        )
        return None
    place: Place = own.place("stock")
    high, proud = own.maybe_length("high"), own.maybe_length("proud")
    if high is None and proud is None and usual is not None:
        high, proud = usual.maybe_length("high"), usual.maybe_length("proud")
    return Lip(task.bench.stock_of(stock, place), high, proud)


def _usual(task: Task) -> Filled | None:
    node = task.ask.node("lip")
    return fill(LIP, node, task.scope, []) if isinstance(node, Mapping) else None
