"""Nothing left: cuts that take the whole of a board away, or cut it in two."""

from collections.abc import Iterator

from storystick.checks.saying import decimal, listed
from storystick.ground.finding import Finding, Grade
from storystick.ground.source import Source
from storystick.model.check import Asked, Check
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
        found = [] if share <= 0 else [one for one in pieces(solid) if one.volume > CRUMB * left]
        if len(found) != 1:
            whole = False
            yield _finding(part, len(found), share)
    if whole and asked.build.parts:
        said = f"Each of the {len(asked.build.parts)} parts is in one piece when all its cuts are made."
        yield Finding(CHECK.code, Grade.FINE, asked.build.place, said, "", SOLIDS)


def _finding(part: Part, count: int, share: float) -> Finding:
    cuts = listed(cut.name for cut in part.cuts)
    said = f"{part.name} is cut into {count} pieces by {cuts}." if count else f"Nothing is left of {part.name}: {cuts}."
    said += f" {decimal(100 * share, 0)} % of the board is left." if count else ""
    advice = f"Make {part.name} larger, or what is cut out of it smaller."
    return Finding(CHECK.code, Grade.STOP, part.place, said, advice, SOLIDS, count, 1, "pieces", (part.name,))


CHECK = Check("nothing-left", "Is every part in one piece when all its cuts are made?", run, SOLIDS)
