"""Stock, assemblies and parts with their cuts, as the project's JSON says them."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from storystick.exports.export import Piece
from storystick.exports.project_words import Words
from storystick.model.cut import Bevel, Bore, Channel, Cut, Notch
from storystick.model.stock import Stock

if TYPE_CHECKING:
    from storystick.shapes.pose import Pose

type Json = dict[str, Any]


def stock(one: Stock, words: Words) -> Json:
    """One kind of material."""
    return {
        "name": one.name, "form": one.form, "material": one.material, "thickness": words.length(one.thickness),
        "sold_as": words.length(one.nominal), "width": words.maybe(one.width), "grain": one.grain, "solid": one.solid,
        "measured": one.measured, "density_kg_m3": one.density,
    }  # fmt: skip


def assemblies(piece: Piece, words: Words) -> Iterator[Json]:
    """Every assembly, outer ones before those inside them."""
    for one in piece.build.assemblies:
        yield {
            "name": one.name, "kind": one.kind, "inside_of": one.inside_of, "stands_on": one.stands_on,
            "removable": one.removable, "size": words.whd(one.size), "pose": pose(piece.scene.poses[one.name]),
        }  # fmt: skip


def parts(piece: Piece, words: Words) -> Iterator[Json]:
    """Every part with its cuts and where it stands."""
    for part in piece.build.parts:
        yield {
            "name": part.name, "letter": part.letter, "role": part.role, "assembly": part.assembly,
            "stock": part.stock.name, "length": words.length(part.length), "width": words.length(part.width),
            "thickness": words.length(part.thickness), "layers": part.layers, "grain_either_way": part.turnable,
            "left_handed": part.is_left_handed, "banded": list(part.banded), "match": part.match,
            "fit_to": part.fit_to, "notes": list(part.notes),
            "kilograms": round(piece.scene.kilograms(part.name), 6), "pose": pose(piece.scene.part_poses[part.name]),
            "cuts": [cut(each, words) for each in part.cuts],
        }  # fmt: skip


def pose(of: "Pose") -> Json:
    """Where an own origin is in the room [mm], and where the three own axes point."""
    return {"origin": [_number(v) for v in of.origin], "axes": [[_number(v) for v in axis] for axis in of.axes]}


def cut(one: Cut, words: Words) -> Json:
    """One of the four shapes, in the part's own coordinates."""
    head = {"name": one.name, "called": one.called, "joint": one.joint}
    match one:
        case Channel():
            return {"shape": "channel", **head, "side": one.side.value, "at": words.spot(one.at),
                    "size": words.spot(one.size), "depth": words.length(one.depth), "runs": one.runs}  # fmt: skip
        case Bore():
            step = one.step
            return {
                "shape": "bore", **head, "side": one.side.value, "at": words.spot(one.at),
                "diameter": words.length(one.diameter), "depth": words.maybe(one.depth),
                "lean_degrees": one.lean, "toward": list(one.toward), "countersink": words.maybe(one.sink),
                "counterbore": {"diameter": words.length(step[0]), "depth": words.length(step[1])} if step else None,
            }  # fmt: skip
        case Notch():
            corners = [
                {"u": words.length(c.u), "v": words.length(c.v), "radius": words.maybe(c.radius)} for c in one.corners
            ]
            return {"shape": "notch", **head, "corners": corners}
        case Bevel():
            full = "back" if one.from_back else "face"
            return {"shape": "bevel", **head, "side": one.side.value, "degrees": one.degrees, "full_at": full}


def _number(value: float) -> float:
    return round(value, 9) + 0.0
