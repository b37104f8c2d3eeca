"""What stands beside an assembly: site bodies and assemblies made before it, in its own axes; and screws into them."""

from dataclasses import dataclass

from storystick.craft.draft import NO_LENGTH, Draft, X, Y, Z, minus, plus
from storystick.craft.fastening import screw_down, spread_along
from storystick.craft.kinds import Built, Task
from storystick.craft.pockets_up import LONG, pocket_up
from storystick.craft.seat import Stretch
from storystick.craft.turned import into_own, seen_by
from storystick.ground.dim import Dim
from storystick.ground.finding import NOWHERE, Finding, Grade, Place, mistake
from storystick.ground.misread import nearest, one_of
from storystick.model.joining import Fastener
from storystick.model.part import Three

DEEP = 9  # boards with less wood along the screw than this [mm] are passed over
BROAD = 12  # boards that share less breadth than this [mm] are passed over: a screw would split them
ROOMY = 150  # faces that share more than this both ways [mm] get screws in rows


@dataclass(frozen=True, slots=True, eq=False)
class Beside:
    """A thing as a box in an assembly's own axes."""

    low: Three
    size: Three

    def high(self, axis: int) -> Dim:
        """Its high end along an axis."""
        return plus(self.low[axis], self.size[axis])


def beside(task: Task, name: str, place: Place) -> Beside | None:
    """The thing of that name in the assembly's own axes; None with a mistake noted when there is none."""
    found = task.room.extents(name)
    if found is None:
        known = task.room.names()
        task.bench.mistakes.append(
            mistake(place, name, f"something that stands there: {one_of(known[:12])}", nearest(name, known))
        )
        return None
    low, size = into_own(task, list(found.at), list(found.size))
    return Beside((low[0], low[1], low[2]), (size[0], size[1], size[2]))


def over_of(task: Task, name: str) -> Built | None:
    """The assembly of that name with its boards, when it stands square with this one; None otherwise."""
    built = task.room.built(name)
    return built if built is not None and built.turns == 0 and task.turns == 0 else None


def screw_to(
    task: Task, mine: Draft, name: str, axis: int, sign: int, place: Place, *,
    from_mine: bool, said: str = "yes", said_at: Place = NOWHERE,
) -> tuple[Fastener, ...]:  # fmt: skip
    """Screws between a board and the assembly that it touches with the end `sign` of an axis.

    from_mine  heads on this board, going on into the other assembly; else from the other's boards back into this one
    A finding says so where nothing could be found to screw to.
    """
    built = task.room.built(name)
    made: list[Fastener] = []
    if built is not None:
        others, shift = _boards_of(task, built)
        for theirs in _touched(mine, others, shift, axis, sign, from_mine):
            made += _between(task, mine, theirs, shift, axis, sign, place, from_mine, said, said_at)
        square = built.turns == 0 == task.turns
        if not made and square and not from_mine and axis == Z and sign < 0:
            made += pocket_up(built, mine, _on_edge(mine, built, shift), axis, task.scope, place, shift)
    if not made:
        short = mine.name.rsplit(".", 1)[-1]
        says = f"No board of {name} lies where {mine.name} touches it with enough wood for screws."
        task.bench.mistakes.append(
            Finding("no-hold", Grade.CARE, place, says, f"Give {name} a board or rails where the {short} lies on it.")
        )
    return tuple(made)


def _boards_of(task: Task, built: Built) -> tuple[list[Draft], Three]:
    """The other assembly's boards, and where its axes begin in this one's; turned ones as they are seen from here."""
    if built.turns != 0 or task.turns != 0:
        return seen_by(task, built), (NO_LENGTH, NO_LENGTH, NO_LENGTH)
    shift = [minus(theirs, own) for theirs, own in zip(built.at, task.at, strict=True)]
    own = [draft for draft in built.bench.piece.drafts.values() if draft.assembly == built.bench.name]
    return own, (shift[X], shift[Y], shift[Z])


def _touched(mine: Draft, others: list[Draft], shift: Three, axis: int, sign: int, from_mine: bool) -> list[Draft]:
    """The other assembly's boards whose side lies on this board's, and which have wood for a screw."""
    plane = mine.end(axis, sign).value
    found = []
    for draft in others:
        end = draft.end(axis, -sign).value + shift[axis].value
        if abs(end - plane) > 1 or (not from_mine and draft.thick != axis):
            continue
        if draft.whole(axis).value < DEEP:
            continue
        if all(_shared(mine, draft, shift, a) is not None for a in range(3) if a != axis):
            found.append(draft)
    return found


def _on_edge(mine: Draft, built: Built, shift: Three) -> list[Draft]:
    """The other assembly's boards on edge under this one, long enough for pocket screws."""
    return [
        draft
        for draft in built.bench.piece.drafts.values()
        if draft.assembly == built.bench.name
        and draft.thick != Z
        and draft.lies[0] != Z
        and abs(draft.upper(Z).value + shift[Z].value - mine.lower(Z).value) <= 1
        and draft.span[draft.lies[0]].value >= LONG
        and all(_overlap(mine, draft, shift, a) for a in (X, Y))
    ]


def _overlap(mine: Draft, theirs: Draft, shift: Three, axis: int) -> bool:
    low = max(mine.lower(axis).value, theirs.lower(axis).value + shift[axis].value)
    return min(mine.upper(axis).value, theirs.upper(axis).value + shift[axis].value) - low >= DEEP


def _shared(mine: Draft, theirs: Draft, shift: Three, axis: int) -> Stretch | None:
    """Where two boards lie beside each other along an axis, in this assembly's axes; None where they don't."""
    low = max((mine.lower(axis), plus(theirs.lower(axis), shift[axis])), key=lambda d: d.value)
    high = min((mine.upper(axis), plus(theirs.upper(axis), shift[axis])), key=lambda d: d.value)
    return Stretch(low, high) if high.value - low.value > BROAD else None


def _between(
    task: Task,
    mine: Draft,
    theirs: Draft,
    shift: Three,
    axis: int,
    sign: int,
    place: Place,
    from_mine: bool,
    said: str,
    said_at: Place,
) -> tuple[Fastener, ...]:
    others = [a for a in range(3) if a != axis]
    shared = {a: s for a in others if (s := _shared(mine, theirs, shift, a)) is not None}
    along = max(others, key=lambda a: shared[a].high.value - shared[a].low.value)
    over = next(a for a in others if a != along)
    middle = plus(shared[over].low, minus(shared[over].high, shared[over].low) / 2)
    roomy = theirs.thick == axis and mine.thick == axis and shared[over].high.value - shared[over].low.value > ROOMY
    rows = spread_along(shared[over], task.bench, None, broad=True) if roomy else [middle]
    places = spread_along(shared[along], task.bench, None, broad=roomy)
    spots = [{along: at, over: row} for row in rows for at in places]
    name = f"{mine.name} to {theirs.name}"
    if from_mine:
        return screw_down(
            task.bench, name, mine, theirs, axis, sign, spots, said=said, said_at=said_at, place=place, shift=shift
        )  # fmt: skip
    theirs_spots = [{a: minus(at, shift[a]) for a, at in spot.items()} for spot in spots]
    back: Three = tuple(by if by is NO_LENGTH else -by for by in shift)  # type: ignore[assignment]
    return screw_down(
        task.bench, name, theirs, mine, axis, -sign, theirs_spots, said=said, said_at=said_at, place=place, shift=back
    )  # fmt: skip
