"""Channels in the underside of a top for what stands up below it: as wide and deep as that is, and a little more."""

from collections.abc import Mapping, Sequence
from fractions import Fraction

from storystick.craft.draft import Bench, Draft, X, Y, Z, minus, plus
from storystick.craft.kinds import Task
from storystick.craft.neighbours import Beside, beside
from storystick.ground.dim import Dim, rule
from storystick.ground.fields import Field, Fields, Filled, Length, ListOf, Text
from storystick.ground.finding import mistake
from storystick.ground.length import show
from storystick.ground.source import practice
from storystick.model.cut import Channel
from storystick.model.joining import Fit

WIDER = practice("a channel is 3 mm (1/8 in) wider than what it goes over")
DEEPER = practice(
    "a channel is 1.5 mm (1/16 in) deeper than what it goes over stands up, so that the top lies on its own underside"
)
DROPS = practice("a top drops over what it is channelled for with 0.5 to 8 mm of gap in all")
CLEARS = practice("a channel stays clear of what it goes over by 0 to 8 mm, so that the top lies on its own underside")
LEFT = practice("a channel leaves at least 3 mm (1/8 in) of wood above it")
CHANNELS = Fields(
    "channels",
    (
        Field("over", ListOf(Text, least=1), required=True, help="what stands up below the slab"),
        Field("wider by", Length, default=("1/8 in", "3 mm"), source=WIDER, help="how much wider, in all"),
        Field("deeper by", Length, default=("1/16 in", "1.5 mm"), source=DEEPER, help="how much deeper"),
    ),
    short="over",
)


def cut_channels(task: Task, ask: Filled, layers: Sequence[Draft], strips: Sequence[Draft]) -> Mapping[str, Dim]:
    """Cut a channel over each thing named, also through the edging; how deep each is, by the name of the thing."""
    found: dict[str, Dim] = {}
    for name in ask.texts("over"):
        thing = beside(task, name, ask.place("over"))
        if thing is not None:
            depth = _cut_one(task, ask, name, thing, layers, strips)
            if depth is not None:
                found[name] = depth
    return found


def _cut_one(
    task: Task, ask: Filled, name: str, thing: Beside, layers: Sequence[Draft], strips: Sequence[Draft]
) -> Dim | None:
    bench, manner, place = task.bench, task.bench.manner, ask.place("over")
    reach = thing.high(Z)
    if reach.value <= 0:
        low = show(-reach.value, manner)
        bench.mistakes.append(mistake(place, name, f"something that reaches up into the slab: it ends {low} below it"))
        return None
    depth = bench.settle(
        f"channel over {name} deep", reach + ask.length("deeper by"), "as far as it stands up, and a little more"
    )
    least = rule("wood above a channel", bench.step("1/8", "3"), LEFT)
    if depth.value > task.size[Z].value - least.value:
        most = show(task.size[Z].value - least.value, manner)
        bench.mistakes.append(
            mistake(
                place,
                show(depth.value, manner),
                f"a channel that leaves wood above it: at most {most} deep",
                "more layers",
            )
        )
        return None
    along = X if thing.size[X].value >= thing.size[Y].value else Y
    over = Y if along == X else X
    wider = ask.length("wider by")
    wide = bench.settle(f"channel over {name} wide", thing.size[over] + wider, "as wide as it is, and a little more")
    start = minus(thing.low[over], wider / 2)
    rest = depth
    through: list[Draft] = []
    for layer in layers:
        if rest.value <= 0:
            break
        through.append(layer)
        thick = layer.span[Z]
        deep = thick if rest.value > thick.value else rest
        _trough(task, layer, f"{task.name}.channel over {name}", along, thing, (start, wide), deep)
        rest = rest - thick
    for strip in strips:
        _trough(task, strip, f"{task.name}.channel over {name}", along, thing, (start, wide), depth)
    cut = f"{task.name}.channel over {name}"
    bench.true(f"channel over {name} deep", lambda: _really_deep(bench, through, f"channel over {name}"))
    fits = bench.piece.fits
    floor, ceiling = rule("least gap over it", Fraction(1, 2), DROPS), rule("most gap over it", 8, DROPS)
    gap = wide - thing.size[over]
    fits.append(Fit(f"{cut}.width", gap, floor, ceiling, "drops in", name, task.name, cut, DROPS, place))
    floor, ceiling = rule("least air above it", 0, CLEARS), rule("most air above it", 8, CLEARS)
    clear = "stays clear of it"
    fits.append(Fit(f"{cut}.depth", depth - reach, floor, ceiling, clear, name, task.name, "", CLEARS, place))
    return depth


def _really_deep(bench: Bench, through: Sequence[Draft], called: str) -> Dim | None:
    """The layers that it goes right through, and how deep it is in the last."""
    deep = bench.book.pages.get(f"{through[-1].name}.{called}.deep")
    if deep is None:
        return None
    for layer in through[:-1]:
        deep = layer.whole(Z) + deep
    return deep


def _trough(task: Task, draft: Draft, name: str, along: int, thing: Beside, across: tuple[Dim, Dim], deep: Dim) -> None:
    """One board's share of a channel: right through where the thing goes past the slab's end."""
    over = Y if along == X else X
    first, last = thing.low[along], thing.high(along)
    if first.value <= 0 or first.value <= draft.lower(along).value:
        first = draft.lower(along)
    if last.value >= task.size[along].value or last.value >= draft.upper(along).value:
        last = draft.upper(along)
    low, high = across[0], plus(across[0], across[1])
    whole = draft.lower(over).value < low.value and high.value < draft.upper(over).value
    if not whole:
        low = max((low, draft.lower(over)), key=lambda d: d.value)
        high = min((high, draft.upper(over)), key=lambda d: d.value)
    if last.value <= first.value or high.value <= low.value:
        return
    start, size = draft.own(over, low, high)
    spots = {along: draft.own(along, first, last), over: (start, across[1] if whole else size)}
    side = draft.side_toward(Z, -1)
    own = sorted((along, over), key=draft.lies.index)
    draft.cuts.append(
        Channel(
            name,
            side,
            (spots[own[0]][0], spots[own[1]][0]),
            (spots[own[0]][1], spots[own[1]][1]),
            deep,
            own.index(along),
            "channel",
            place=task.place,
        )
    )
