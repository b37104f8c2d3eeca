"""What is in the bays of a case: dividers, shelves, and the clear openings that drawers, trays and things get."""

from fractions import Fraction

from storystick.craft.bays import Bay, Board, Counted, read_bays
from storystick.craft.carcass import Carcass, Room, board, joined
from storystick.craft.doors import behind, lay_doors, plan_doors
from storystick.craft.draft import NO_LENGTH, Draft, X, Y, Z, minus, plus
from storystick.craft.drawers import lay_drawer
from storystick.craft.jointing import Way, read_way
from storystick.craft.kinds import Task
from storystick.craft.lips import lay_lip
from storystick.craft.pins import lay_pins
from storystick.craft.truth import between
from storystick.ground.dim import Dim, number, total
from storystick.ground.finding import Place, wrong
from storystick.ground.length import show
from storystick.model.build import Opening, Span

__all__ = ["furnish", "read_bays"]


def furnish(task: Task, carcass: Carcass, tree: Bay, framed: Room | None = None) -> None:
    """Lay everything that the tree of bays asks for; `framed` is the opening that a face frame leaves."""
    work = Furnishing(task, carcass, framed)
    work.bay(tree, carcass.room)


class Furnishing:
    """One case being furnished: names are counted through, columns and rows split their room."""

    def __init__(self, task: Task, carcass: Carcass, framed: Room | None) -> None:
        self.task, self.carcass, self.bench, self.framed = task, carcass, task.bench, framed
        self.counted = Counted()
        self.way: Way = read_way(
            task.ask.node("shelf joint") or task.ask.node("joint"), "dado", task.scope, task.bench, "inside", task.place
        )
        self.setback = task.ask.maybe_length("shelf setback") or NO_LENGTH

    def bay(self, bay: Bay, room: Room) -> None:
        """One bay in its clear room, behind its doors if it has any."""
        before = self.before(bay, room)
        doors = plan_doors(self.task, self.carcass, bay.doors, before) if bay.doors is not None and before else None
        if doors is not None:
            names = tuple(self.counted.name("door") for _ in range(2 if doors.pair else 1))
            self.inside(bay, behind(self.task, doors, room))
            lay_doors(self.task, doors, names)
        else:
            self.inside(bay, room)

    def before(self, bay: Bay, room: Room) -> Room | None:
        """The opening that doors of a bay close: its own, or that of a face frame; None where a frame is in the way."""
        if self.framed is None:
            return room
        whole = self.carcass.room
        if all(room.size[axis].value == whole.size[axis].value for axis in (X, Z)):
            return self.framed
        if bay.doors is not None:
            says = "Doors before a single bay would lie behind the face frame, which has no boards there."
            self.bench.mistakes.append(wrong(bay.doors.place, says, "Let the doors close the whole case."))
        return None

    def inside(self, bay: Bay, room: Room) -> None:
        """What a bay holds."""
        if bay.columns:
            self.columns(bay, room)
        elif bay.rows:
            self.rows(bay, room)
        else:
            self.opening(bay, room)

    def opening(self, bay: Bay, room: Room) -> None:
        """A bay without further bays: an opening, and what runs in it."""
        name = self.counted.name({"open": "open bay"}.get(bay.holds, bay.holds), bay.called)
        at, size = room.low, room.size
        chapter = self.bench.book.within(name)
        for word, axis in (("opening wide", X), ("opening high", Z)):
            chapter.settle(word, size[axis], "clear between the boards")
        full = f"{self.task.name}.{name}"
        self.bench.piece.openings.append(Opening(full, bay.holds, self.task.name, at, size, bay.place))
        if bay.holds in ("drawer", "tray") and self.framed is not None:
            says = f"{full} would run against the face frame, which stands before the sides."
            self.bench.mistakes.append(wrong(bay.place, says, "Leave the face frame out, or make this bay open."))
        elif bay.holds in ("drawer", "tray"):
            lay_drawer(self.task, name, bay, room, self.carcass)
        if bay.lip is not None and (Z, -1) in room.bounds:
            lay_lip(self.task, room.bounds[Z, -1], bay.lip, room)

    def columns(self, bay: Bay, room: Room) -> None:
        """Bays side by side with a divider between each two."""
        thick = self.carcass.stock.thickness
        boards = [thick] * (len(bay.columns) - 1)
        sizes = self._shares(list(bay.columns), room.size[X], boards, "column", "wide", bay.place)
        if sizes is None:
            return
        start, left = room.low[X], room.bounds.get((X, -1))
        for index, (column, size) in enumerate(zip(bay.columns, sizes, strict=True)):
            last = index == len(sizes) - 1
            right = room.bounds.get((X, 1)) if last else self.divider(plus(start, size), room)
            bounds = {k: v for k, v in room.bounds.items() if k[0] != X}
            bounds |= {k: v for k, v in (((X, -1), left), ((X, 1), right)) if v is not None}
            self._true(size, room.bounds.get((Z, -1)), left, right, X)
            self.bay(column, Room((start, room.low[Y], room.low[Z]), (size, room.size[Y], room.size[Z]), bounds))
            start, left = plus(plus(start, size), thick), right

    def _true(self, size: Dim, along: Draft | None, low: Draft | None, high: Draft | None, axis: int) -> None:
        """Say how a clear size comes about in the real thing, where one board shows both its ends."""
        if along is not None and low is not None and high is not None:
            name = size.name.removeprefix(self.bench.book.scope)
            self.bench.true(name, lambda: between(self.bench, along, low, high, axis))

    def divider(self, low_x: Dim, room: Room) -> Draft:
        """An upright board between two columns, joined to what lies above and below."""
        name = self.counted.name("divider")
        thick = self.carcass.stock.thickness
        low = [low_x, plus(room.low[Y], self.setback), room.low[Z]]
        span = [thick, minus(room.size[Y], self.setback), room.size[Z]]
        why = {X: "the sheet as measured", Y: "from the front to the back", Z: "between the boards above and below"}
        draft = board(self.task, name, "divider", self.carcass.stock, (Z, Y, X), low, span, why, faces=1)
        for sign in (-1, 1):
            host = room.bounds.get((Z, sign))
            if host is not None and host.role != "rail":
                joined(self.bench, draft, host, Z, sign, self.way)
        return draft

    def rows(self, bay: Bay, room: Room) -> None:
        """Bays above one another, with shelves where the plan asks for them; the first is the topmost."""
        thick = self.carcass.stock.thickness
        spaces = [row for row in bay.rows if isinstance(row, Bay)]
        boards = [thick for row in bay.rows if isinstance(row, Board)]
        sizes = self._shares(spaces, room.size[Z], boards, "row", "high", bay.place)
        if sizes is None:
            return
        heights = iter(sizes)
        top, above = room.high(Z), room.bounds.get((Z, 1))
        stacked = [(row, thick if isinstance(row, Board) else next(heights)) for row in bay.rows]
        lows: list[Dim] = []
        for index, (_, high) in enumerate(stacked):
            below = [h for _, h in stacked[index + 1 :]]
            lows.append(plus(room.low[Z], total(below, NO_LENGTH)) if below else room.low[Z])
            top = minus(top, high)
        shelves = {
            i: self.shelf(row, low, room)
            for i, ((row, _), low) in enumerate(zip(stacked, lows, strict=True))
            if isinstance(row, Board)
        }
        for index, ((row, high), low) in enumerate(zip(stacked, lows, strict=True)):
            if isinstance(row, Board):
                above = shelves[index]
                continue
            below_board = shelves.get(index + 1) or (room.bounds.get((Z, -1)) if index == len(stacked) - 1 else None)
            bounds = {k: v for k, v in room.bounds.items() if k[0] != Z}
            bounds |= {k: v for k, v in (((Z, 1), above), ((Z, -1), below_board)) if v is not None}
            self._true(high, room.bounds.get((X, -1)), below_board, above, Z)
            self.bay(row, Room((room.low[X], room.low[Y], low), (room.size[X], room.size[Y], high), bounds))
            above = None

    def shelf(self, asked: Board, low_z: Dim, room: Room) -> Draft:
        """A shelf across the room: joined to its sides, or lying on pins."""
        name = self.counted.name("shelf", asked.called)
        thick = self.carcass.stock.thickness
        loose = asked.kind == "loose shelf"
        low = [room.low[X], plus(room.low[Y], self.setback), low_z]
        span = [room.size[X], minus(room.size[Y], self.setback), thick]
        why = {X: "clear between its sides", Y: "from the front to the back", Z: "the sheet as measured"}
        if loose:
            return lay_pins(self.task, name, low, span, why, room, self.carcass, asked.place)
        draft = board(self.task, name, "shelf", self.carcass.stock, (X, Y, Z), low, span, why, faces=1)
        draft.place = asked.place
        for sign in (-1, 1):
            host = room.bounds.get((X, sign))
            if host is not None:
                joined(self.bench, draft, host, X, sign, self.way)
        self.bench.piece.spans.append(Span(draft.name, room.size[X], "rests", place=asked.place))
        return draft

    def _shares(
        self, spaces: list[Bay], whole: Dim, boards: list[Dim], word: str, way: str, place: Place
    ) -> list[Dim] | None:
        """Sizes of bays: those given, and an equal or weighted share of what is left for the others."""
        given = [s.size for s in spaces if s.size is not None]
        left = whole
        for dim in (*boards, *given):
            left = left - dim
        open_ones = [s for s in spaces if s.size is None]
        manner = self.bench.manner
        if (open_ones and left.value <= 0) or (not open_ones and left.value != 0):
            said, clear = show(whole.value - left.value, manner), show(whole.value, manner)
            advice = f"Leave one {word} without a size: it takes what is left."
            self.bench.mistakes.append(
                wrong(place, f"The {word}s and the boards between them take {said}, the clear room is {clear}.", advice)
            )
            return None
        shares = sum((Fraction(s.share).limit_denominator(1000) for s in open_ones), Fraction(0))
        sizes: list[Dim] = []
        for space in spaces:
            label = self.counted.name(word)
            if space.size is not None:
                dim, because = space.size, "as asked"
            else:
                share = Fraction(space.share).limit_denominator(1000) / shares
                dim = left if share == 1 else left * number(share)
                because = "what is left" if share == 1 else "its share of what is left"
            sizes.append(self.bench.settle(f"{label}.{way}", dim, because))
        return sizes
