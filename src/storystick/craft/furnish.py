"""What is in the bays of a case: dividers, shelves, and the clear openings that drawers, trays and things get."""

from collections.abc import Mapping, Sequence
from fractions import Fraction

from storystick.craft.bays import Bay, Board, Counted, read_bays
from storystick.craft.carcass import Carcass, Room, board, joined
from storystick.craft.doors import behind, lay_doors, plan_doors
from storystick.craft.draft import NO_LENGTH, Draft, X, Y, Z, minus, plus
from storystick.craft.drawers import lay_drawer
from storystick.craft.face_frame import FaceFrame, parted
from storystick.craft.jointing import Way, read_way
from storystick.craft.kinds import Task
from storystick.craft.lips import lay_lip
from storystick.craft.packing import packings, passing
from storystick.craft.pins import lay_pins
from storystick.craft.truth import between
from storystick.ground.dim import Dim, number, total
from storystick.ground.finding import Place, wrong
from storystick.ground.length import show
from storystick.model.build import Opening, Span

__all__ = ["furnish", "read_bays"]
type Parted = tuple[Room | None, Room | None]


def furnish(task: Task, carcass: Carcass, tree: Bay, face: FaceFrame | None = None) -> None:
    """Lay everything that the tree of bays asks for, and the middle boards of a face frame that follows it."""
    work = Furnishing(task, carcass, face)
    work.bay(tree, carcass.room, face.opening if face else None)


class Furnishing:
    """One case being furnished: names are counted through, columns and rows split their room.

    Everything is laid in a `room`, clear between boards. With a face frame there is an `opening` in it before the room;
    None where there is no frame, or where doors close it before all that is inside.
    """

    def __init__(self, task: Task, carcass: Carcass, face: FaceFrame | None) -> None:
        self.task, self.carcass, self.bench, self.face = task, carcass, task.bench, face
        self.counted = Counted()
        self.way: Way = read_way(
            task.ask.node("shelf joint") or task.ask.node("joint"), "dado", task.scope, task.bench, "inside", task.place
        )
        self.setback = task.ask.maybe_length("shelf setback") or NO_LENGTH
        self.closed: Room | None = None  # the opening in the frame that doors close before what is being laid

    def bay(self, bay: Bay, room: Room, opening: Room | None) -> None:
        """One bay in its clear room, behind its doors if it has any."""
        before = opening or room
        doors = plan_doors(self.task, self.carcass, bay.doors, before) if bay.doors is not None else None
        if doors is None:
            self.inside(bay, room, opening)
            return
        names = tuple(self.counted.name("door") for _ in range(2 if doors.pair else 1))
        outer, self.closed = self.closed, opening
        self.inside(bay, behind(self.task, doors, room), None)
        self.closed = outer
        lay_doors(self.task, doors, names)

    def inside(self, bay: Bay, room: Room, opening: Room | None) -> None:
        """What a bay holds."""
        if bay.columns:
            self.columns(bay, room, opening)
        elif bay.rows:
            self.rows(bay, room, opening)
        else:
            self.opening(bay, room, opening)

    def opening(self, bay: Bay, room: Room, opening: Room | None) -> None:
        """A bay without further bays: an opening, and what runs in it."""
        name = self.counted.name({"open": "open bay"}.get(bay.holds, bay.holds), bay.called)
        runs = bay.holds in ("drawer", "tray")
        frame = (opening or self.closed) if runs else None
        clear = passing(room, frame, closed=opening is None) if frame is not None else room
        chapter = self.bench.book.within(name)
        for word, axis in (("opening wide", X), ("opening high", Z)):
            chapter.settle(word, clear.size[axis], "clear between the boards")
        full = f"{self.task.name}.{name}"
        self.bench.piece.openings.append(Opening(full, bay.holds, self.task.name, clear.low, clear.size, bay.place))
        if runs and frame is not None and self.face is not None:
            packed = packings(self.task, room, clear, self.face.stock, bay.place)
            if packed is not None:
                lay_drawer(self.task, name, bay, clear, self.carcass, packed)
        elif runs:
            lay_drawer(self.task, name, bay, room, self.carcass)
        if bay.lip is not None and (Z, -1) in room.bounds:
            lay_lip(self.task, room.bounds[Z, -1], bay.lip, room)

    def columns(self, bay: Bay, room: Room, opening: Room | None) -> None:
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
            clear, opening = self.mid_board(opening, None if last else right, bay.columns[index : index + 2], X)
            bounds = {k: v for k, v in room.bounds.items() if k[0] != X}
            bounds |= {k: v for k, v in (((X, -1), left), ((X, 1), right)) if v is not None}
            self._true(size, room.bounds.get((Z, -1)), left, right, X)
            self.bay(column, Room((start, room.low[Y], room.low[Z]), (size, room.size[Y], room.size[Z]), bounds), clear)
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

    def mid_board(self, opening: Room | None, behind: Draft | None, bays: Sequence[Bay | Board], axis: int) -> Parted:
        """Part an opening in the frame before a divider or fixed shelf: what is before it, and beyond it.

        It stays whole where nothing on the board's two sides needs an opening of its own.
        """
        used = any(isinstance(bay, Bay) and bay.is_used for bay in bays)
        if opening is None or self.face is None or behind is None or not used:
            return opening, opening
        lay, word = (self.face.mid_stile, "mid stile") if axis == X else (self.face.mid_rail, "mid rail")
        return parted(opening, axis, lay(self.task, self.counted.name(word), behind, opening))

    def rows(self, bay: Bay, room: Room, opening: Room | None) -> None:
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
            clear, opening = self.before_row(opening, bay.rows, index, shelves, low)
            below_board = shelves.get(index + 1) or (room.bounds.get((Z, -1)) if index == len(stacked) - 1 else None)
            bounds = {k: v for k, v in room.bounds.items() if k[0] != Z}
            bounds |= {k: v for k, v in (((Z, 1), above), ((Z, -1), below_board)) if v is not None}
            self._true(high, room.bounds.get((X, -1)), below_board, above, Z)
            self.bay(row, Room((room.low[X], room.low[Y], low), (room.size[X], room.size[Y], high), bounds), clear)
            above = None

    def before_row(
        self, opening: Room | None, rows: Sequence[Bay | Board], index: int, shelves: Mapping[int, Draft], low: Dim
    ) -> Parted:
        """The opening in the frame before a row, and what is left of it for those below."""
        if opening is None or index == len(rows) - 1:
            return opening, opening
        below = rows[index + 1]
        if isinstance(below, Bay):  # nothing stands between the two
            return parted(opening, Z, low)[::-1]
        fixed = shelves[index + 1] if below.kind == "fixed shelf" else None
        return self.mid_board(opening, fixed, rows[index : index + 3], Z)[::-1]

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
