"""The whole shape that bodies cover on paper."""

from collections.abc import Sequence

from storystick.shapes.solid import Solid, moved
from storystick.shapes.view import Spot, View


def shadow(solids: Sequence[Solid], view: View) -> list[list[Spot]]:
    """Rings round what some bodies cover together, seen from one side; a ring inside another is a hole [mm]."""
    from manifold3d import CrossSection, OpType

    flat = [moved(solid, view.pose).body.project() for solid in solids if not solid.is_empty]
    if not flat:
        return []
    whole = CrossSection.batch_boolean(flat, OpType.Add).simplify(0.01)
    rings = [[(float(x), float(y)) for x, y in ring] for ring in whole.to_polygons()]
    return sorted(rings, key=lambda ring: min(ring))
