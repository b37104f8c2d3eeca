"""STEP: closed solids of true volumes, bores as true cylinders, every part where it stands; read by two readers."""

import math
import re
from pathlib import Path

import numpy as np
import pytest

from storystick.exports.lying import bodies
from storystick.exports.outlines import notch_outline
from storystick.exports.step_lines import real, text
from storystick.model.cut import Bore, Notch
from storystick.shapes.outline import sides
from tests.exports.pieces import ALL, files, piece
from tests.exports.step_reader import Step


def step(of: str) -> Step:
    (file,) = files(of, "step")
    return Step(file.content.decode("ascii"))


@pytest.mark.parametrize("of", ALL)
def test_every_solid_is_closed_and_has_the_volume_of_its_part(of: str):
    read = step(of)
    found = list(bodies(piece(of).scene))
    breps = read.all("MANIFOLD_SOLID_BREP")
    assert len(breps) == len(found)
    for brep, body in zip(breps, found, strict=True):
        read.uses.clear()
        volume = read.volume(brep)
        assert all(sorted(ways) == [False, True] for ways in read.uses.values()), "every edge has a face on either side"
        round_off = sum(  # a many-sided hole leaves a little more wood than a round one: 2 % of the hole at the most
            math.pi * (float(cut.sink or cut.diameter) / 2) ** 2 * float(cut.depth or body.parts[0].length) * 0.03
            for cut in body.parts[0].cuts
            if isinstance(cut, Bore)
        )
        curved = sum(  # a many-sided curve stands off the true one by a fiftieth of a millimetre at the most
            0.02 * abs(arc.sweep) * arc.radius * float(body.parts[0].thickness)
            for cut in body.parts[0].cuts
            if isinstance(cut, Notch)
            for _, _, arc in sides(notch_outline(cut))
            if arc
        )
        least, most = body.solid.volume - round_off - curved - 0.5, body.solid.volume + curved + 0.5
        assert least <= volume <= most, body.called


def test_sawn_curves_are_true_arcs_with_the_volume_of_true_arcs():
    """By hand: a corner rounded by r lacks r2 (1 - pi/4); in a notch, as much is left standing."""
    read = step("boards")
    volumes = [read.volume(brep) for brep in read.all("MANIFOLD_SOLID_BREP")]
    lacks = 1 - math.pi / 4
    shelf = 600 * 300 * 18 - (40**2 + 25**2) * lacks * 18
    notched = 500 * 200 * 18 - (100 * 50 - 2 * 20**2 * lacks) * 18
    for wanted in (shelf, notched):
        assert min(abs(volume - wanted) for volume in volumes) < 0.01
    assert len(read.all("CYLINDRICAL_SURFACE")) == 4


def test_round_bores_take_away_what_a_drill_takes_away():
    """By hand: a side of 700 x 300 x 18 less two channels right across it and six bores through what they leave."""
    read = step("plain")
    side = piece("plain").build.part("cabinet.left side")
    volume = read.volume(read.all("MANIFOLD_SOLID_BREP")[0])
    wood = 700 * 300 * 18.0
    for cut in side.cuts:
        if isinstance(cut, Bore):
            depth = float(cut.depth) if cut.depth else 18 - 6
            wood -= math.pi / 4 * float(cut.diameter) ** 2 * min(depth, 18 - 6)
            if cut.sink:
                r, s = float(cut.sink) / 2, float(cut.diameter) / 2
                wood -= math.pi * (r - s) * (r * r + r * s + s * s) / 3 - math.pi * s * s * (r - s)
        else:
            first, last = float(cut.at[0]), float(cut.at[0]) + float(cut.size[0])
            wood -= (min(last, 700.0) - max(first, 0.0)) * 300 * float(cut.depth)
    assert volume == pytest.approx(wood, rel=1e-9)


@pytest.mark.parametrize("of", ALL)
def test_straight_bores_are_cylinders_unless_something_runs_into_them(of: str):
    read = step(of)
    straight = [c for body in bodies(piece(of).scene) for c in body.parts[0].cuts if isinstance(c, Bore) and not c.lean]
    cylinders = len(read.all("CYLINDRICAL_SURFACE"))
    assert cylinders >= 0.9 * len(straight), "curves only add to them"
    assert len(read.all("CONICAL_SURFACE")) >= 0.7 * sum(1 for cut in straight if cut.sink)


@pytest.mark.parametrize("of", ALL)
def test_every_part_is_an_occurrence_where_it_stands(of: str):
    read = step(of)
    scene, build = piece(of).scene, piece(of).build
    uses = read.all("NEXT_ASSEMBLY_USAGE_OCCURRENCE")
    assert sorted(read.args(use)[0] for use in uses) == sorted(part.name for part in build.parts)
    moves = read.all("ITEM_DEFINED_TRANSFORMATION")
    by_name = {part.name: body for body in bodies(scene) for part in body.parts}
    for use, move in zip(uses, moves, strict=True):
        name = read.args(use)[0]
        at, z, x = read.frame(read.args(move)[3])
        corners = by_name[name].solid.mesh.vertices
        stands = corners @ np.array([x, np.cross(z, x), z]) + at
        there = np.array(scene.parts[name].bounds)
        assert np.array([stands.min(axis=0), stands.max(axis=0)]) == pytest.approx(there, abs=1e-5)


def test_units_are_millimetres_and_every_line_that_is_named_is_there():
    (file,) = files("lathe-cabinet", "step")
    words = file.content.decode("ascii")
    assert "SI_UNIT(.MILLI.,.METRE.)" in words
    numbers = [int(n) for n in re.findall(r"^#(\d+)=", words, re.MULTILINE)]
    assert numbers == list(range(1, len(numbers) + 1))
    assert {int(n) for n in re.findall(r"#(\d+)", words)} <= set(numbers)
    assert len(file.content) < 2_000_000


@pytest.mark.parametrize(
    ("value", "said"), [(0.0, "0."), (-0.0, "0."), (12.0, "12."), (1e-10, "0."), (-3.5, "-3.5"), (1e-6, "1.E-06")]
)
def test_a_number_always_has_its_point(value: float, said: str):
    assert real(value) == said


@pytest.mark.parametrize(("words", "said"), [("it's", "'it''s'"), ("ä", "'\\X2\\00E4\\X0\\'"), ("a\\b", "'a\\\\b'")])
def test_text_is_plain_letters_only(words: str, said: str):
    assert text(words) == said


@pytest.mark.parametrize("of", ALL)
def test_a_cad_kernel_finds_every_solid_valid(of: str, tmp_path: Path):
    pytest.importorskip(
        "OCP",
        reason="no CAD kernel here to read STEP back (pip install cadquery-ocp-novtk); judged by our own reader alone",
    )
    from OCP.BRepCheck import BRepCheck_Analyzer
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps
    from OCP.STEPControl import STEPControl_Reader
    from OCP.TopAbs import TopAbs_SOLID
    from OCP.TopExp import TopExp_Explorer

    target = tmp_path / "piece.step"
    (file,) = files(of, "step")
    target.write_bytes(file.content)
    reader = STEPControl_Reader()
    reader.ReadFile(str(target))
    reader.TransferRoots()
    solids = TopExp_Explorer(reader.OneShape(), TopAbs_SOLID)
    volumes = []
    while solids.More():
        assert BRepCheck_Analyzer(solids.Current()).IsValid()
        found = GProp_GProps()
        BRepGProp.VolumeProperties_s(solids.Current(), found)
        volumes.append(found.Mass())
        solids.Next()
    asked = [body.solid.volume for body in bodies(piece(of).scene) for _ in body.parts]
    assert volumes == pytest.approx(asked, rel=1e-3)
