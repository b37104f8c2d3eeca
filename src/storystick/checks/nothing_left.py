"""Nothing left: cuts that take the whole of a board away, or cut it in two."""

from collections.abc import Iterator

from storystick.checks.saying import decimal, listed
from storystick.checks.stated import changes
from storystick.ground.finding import Finding, Grade, Mend
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
from storystick.model.cut import Notch
from storystick.model.part import Part
from storystick.shapes.solid import pieces

SOLIDS = Source("the solid of each part with all its cuts", "practice")
CRUMB = 0.001  # a piece smaller than this share of the part is a crumb that falls off, not a second board


def run(asked: Asked) -> Iterator[Finding]:
    """Every part: how much is left of it, and in how many pieces."""
    whole = True
    for part in asked.build.parts:
        solid = asked.scene.own_solids[part.name]
        left = 0.0 if solid.is_empty else solid.volume
        share = left / float(part.length.value * part.width.value * part.thickness.value)
        crumbless = [solid] if solid.in_one_piece else [one for one in pieces(solid) if one.volume > CRUMB * left]
        count = len(crumbless) if share > 0 else 0
        if count != 1:
            whole = False
            yield _finding(asked, part, count, share)
    if whole and asked.build.parts:
        said = f"Each of the {len(asked.build.parts)} parts is in one piece when all its cuts are made."
        yield Finding(CHECK.code, Grade.FINE, asked.build.place, said, "", SOLIDS)


def _finding(asked: Asked, part: Part, count: int, share: float) -> Finding:
    cuts = listed(cut.name for cut in part.cuts)
    said = f"{part.name} is cut into {count} pieces by {cuts}." if count else f"Nothing is left of {part.name}: {cuts}."
    said += f" {decimal(100 * share, 0)} % of the board is left." if count else ""
    advice = f"Make {part.name} larger, or what is cut out of it smaller."
    tries = tuple(_tries(asked, part))
    numbers = (SOLIDS, count, 1, "pieces", (part.name,), None, tries)
    return Finding(CHECK.code, Grade.STOP, part.place, said, advice, *numbers)


def _tries(asked: Asked, part: Part) -> Iterator[Mend]:
    """Each notch no larger than leaves a third of the board."""
    for cut in part.cuts:
        if isinstance(cut, Notch):
            for axis in (1, 0):
                ends = sorted(((corner.u, corner.v)[axis] for corner in cut.corners), key=lambda dim: dim.value)
                most = part.size[axis].value * 2 / 3
                if ends and ends[-1].value - ends[0].value > most:
                    yield from changes(ends[-1] - ends[0], most - (ends[-1].value - ends[0].value), asked.build.manner)


CHECK = Check("nothing-left", "Is every part in one piece when all its cuts are made?", run, SOLIDS)
