"""What is cut from a side, as it is drawn: the wood that is left, channels, bores, bevels."""

import math

from storystick.model.cut import Bevel, Bore, Channel, Cut, Notch, Side
from storystick.paper.drawing.canvas import Box, Canvas, Spot, around
from storystick.paper.drawing.sight import FLAT, Sight


def draw_wood(canvas: Canvas, sight: Sight) -> None:
    """The side as it is left by what is sawn away."""
    from shapely import Polygon, box, unary_union

    from storystick.shapes.outline import points
    from storystick.shapes.rounding import rounded

    outline = sight.outline
    wood = box(outline.left, outline.top, outline.right, outline.bottom)
    gone = []
    if sight.side in FLAT:
        for notch in (cut for cut in sight.part.cuts if isinstance(cut, Notch)):
            corners = [(float(c.u), float(c.v)) for c in notch.corners]
            line = points(rounded(corners, [float(c.radius) if c.radius else 0.0 for c in notch.corners]))
            gone.append(Polygon([sight.spot(u, v) for u, v in line]))
    left = wood.difference(unary_union(gone)) if gone else wood
    if gone:
        canvas.run(_round(outline), "pencil", closed=True)
    for piece in getattr(left, "geoms", [left]):
        canvas.run(list(piece.exterior.coords)[:-1], "outline", "wood", closed=True)
        for hole in piece.interiors:
            canvas.run(list(hole.coords)[:-1], "outline", "paper", closed=True)


def _round(box: Box) -> list[Spot]:
    return [(box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom)]


def draw_cut(canvas: Canvas, sight: Sight, cut: Cut) -> Box:
    """Draw a cut; the paper that it takes up."""
    match cut:
        case Channel():
            box = sight.span(cut.at, cut.size)
            out = sight.outline
            box = Box(
                max(box.left, out.left), max(box.top, out.top), min(box.right, out.right), min(box.bottom, out.bottom)
            )
            canvas.box(box, "edge", "shade")
            return box
        case Bore():
            at = sight.spot(float(cut.at[0]), float(cut.at[1]))
            radius = max(0.55, float(cut.diameter) / sight.scale / 2)
            outer = cut.step[0] if cut.step is not None else cut.sink
            wide = radius
            if outer is not None and cut.side is sight.side:
                wide = max(radius + 0.45, float(outer) / sight.scale / 2)
                canvas.ring(at, wide, "fine", "paper")
            canvas.ring(at, radius, "edge", "paper" if cut.depth is None else "shade")
            _cross(canvas, at, wide + 1.0)
            return around(at, 2 * wide + 1.0, 2 * wide + 1.0)
        case Notch():
            corners = [sight.spot(float(c.u), float(c.v)) for c in cut.corners]
            xs, ys = [x for x, _ in corners], [y for _, y in corners]
            return Box(min(xs), min(ys), max(xs), max(ys))
        case Bevel():
            return _bevel(canvas, sight, cut)


def _cross(canvas: Canvas, at: Spot, reach: float) -> None:
    canvas.line((at[0] - reach, at[1]), (at[0] + reach, at[1]), "fine")
    canvas.line((at[0], at[1] - reach), (at[0], at[1] + reach), "fine")


def _bevel(canvas: Canvas, sight: Sight, cut: Bevel) -> Box:
    """The edge that a bevel leaves on this side: in full where it is seen from here, dashed where it is not."""
    lean = float(sight.part.thickness) * math.tan(math.radians(cut.degrees))
    along = cut.side.normal
    whole = float(sight.part.size[along])
    at = whole - lean if cut.side.is_far else lean
    over = float(sight.part.size[1 - along])
    ends = [(at, 0.0), (at, over)] if along == 0 else [(0.0, at), (over, at)]
    seen_here = (sight.side is Side.BACK) != cut.from_back
    a, b = (sight.spot(*end) for end in ends)
    canvas.line(a, b, "edge" if seen_here else "hidden")
    edge = whole if cut.side.is_far else 0.0
    c = sight.spot(edge, 0.0) if along == 0 else sight.spot(0.0, edge)
    return Box(min(a[0], b[0], c[0]), min(a[1], b[1], c[1]), max(a[0], b[0], c[0]), max(a[1], b[1], c[1]))


def place_of(sight: Sight, cut: Cut) -> Box:
    blank = Canvas(0, 0)
    return draw_cut(blank, sight, cut)
