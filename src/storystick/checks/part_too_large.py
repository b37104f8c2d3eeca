"""Part too large: each part comes out of a size that its stock is sold in, edges trimmed, grain as it must run."""

from collections.abc import Iterator
from fractions import Fraction

from storystick.checks.saying import at_most, mm, worth_telling
from storystick.checks.stated import changes
from storystick.ground.finding import Finding, Grade
from storystick.ground.length import Manner
from storystick.ground.source import practice
from storystick.model.check import Asked, Check
from storystick.model.part import Part
from storystick.model.stock import SoldAs

TRIM = practice("a factory edge is sawn off before anything is measured from it, once each way, as the shop says")

type Size = tuple[Fraction, Fraction | None]


def run(asked: Asked) -> Iterator[Finding]:
    """Every part against every size of its stock; of the good ones only the tightest of each stock is told."""
    manner, trim = asked.build.manner, asked.shop.trim
    yield from worth_telling(
        (part.stock.name, _finding(part, manner, trim)) for part in asked.build.parts if part.stock.sizes
    )


def _finding(part: Part, manner: Manner, trim: Fraction) -> Finding:
    trim = trim if part.stock.form == "sheet" else Fraction(0)
    spare, sold, ways = max(_spares(part, trim), key=lambda found: found[0])
    long, wide = ways
    size = f"{mm(part.length.value, manner)} x {mm(part.width.value, manner)}"
    grain = "" if part.turnable else ", the grain along its length"
    said = f"{part.name} is {size}{grain}; {part.stock.name} comes in {named(sold, manner)}"
    about = (part.name,)
    if spare >= 0:
        limit = long if wide is None or long - part.length.value <= wide - part.width.value else wide
        said += f": {mm(spare, manner)} to spare."
        return Finding(CHECK.code, Grade.FINE, part.place, said, "", TRIM, limit - spare, limit, "mm", about)
    bare = max(found[0] for found in _spares(part, Fraction(0))) >= 0
    why = "with nothing left to trim its edges" if bare else f"{mm(-spare, manner)} too small"
    most = f"{at_most(long, manner)} long" + (f" and {at_most(wide, manner)} wide" if wide is not None else "")
    over = long if wide is None or part.length.value > long else wide
    advice = f"Make it no more than {most}, find a larger size, or join it from two pieces."
    grade = Grade.CARE if bare else Grade.STOP
    nothing = Fraction(0)
    tries = (
        *changes(part.length, min(long - part.length.value, nothing), manner),
        *changes(part.width, min((wide or part.width.value) - part.width.value, nothing), manner),
    )
    return Finding(
        CHECK.code, grade, part.place, f"{said}: {why}.", advice, TRIM, over - spare, over, "mm", about, None, tries
    )  # fmt: skip


def _spares(part: Part, trim: Fraction) -> Iterator[tuple[Fraction, SoldAs, Size]]:
    """For each size and way round: what is left over in the tighter direction; the room for length and for width."""
    for sold in part.stock.sizes:
        wide = part.stock.width.value if sold.wide is None and part.stock.width else sold.wide
        if part.stock.form != "sheet":
            wide = None  # boards are glued up to their width, strips have theirs
        room: Size = (sold.long - trim, None if wide is None else wide - trim)
        ways = [room]
        if part.turnable and room[1] is not None:
            ways.append((room[1], room[0]))
        for way in ways:
            across = way[1] - part.width.value if way[1] is not None else way[0] - part.length.value
            yield min(way[0] - part.length.value, across), sold, way


def named(sold: SoldAs, manner: Manner) -> str:
    """A size as the plan calls it, or by its numbers."""
    wide = f" x {mm(sold.wide, manner)}" if sold.wide is not None else " lengths"
    return sold.called or mm(sold.long, manner) + wide


CHECK = Check("part-too-large", "Does each part come out of a size that its stock is sold in?", run, TRIM)
