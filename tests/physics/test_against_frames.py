"""Beams, a joined section and plates, against a frame library that shares nothing with our formulae."""

from typing import Any

import pytest

from storystick.physics import beam, continuous, plate, section

approx = pytest.approx

pynite = pytest.importorskip("Pynite", reason="the frame library PyNite is not installed, so no cross-check")

E, WIDE, THICK, LONG = 2500.0, 300.0, 18.0, 900.0
INERTIA = section.rectangle_inertia_mm4(WIDE, THICK)


def frame(stops: list[tuple[float, bool]], pieces: int = 24, length: float = LONG, inertia: float = INERTIA) -> Any:
    """A board along x in equal pieces; stops are places held down, and whether they are clamped."""
    model = pynite.FEModel3D()
    model.add_material("wood", E, E / 2.6, 0.3, 1e-9)
    model.add_section("board", WIDE * THICK, inertia, inertia, inertia)
    held = {round(at / length * pieces): clamped for at, clamped in stops}
    for n in range(pieces + 1):
        model.add_node(f"n{n}", n * length / pieces, 0, 0)
        clamped = held.get(n, False)
        # Only bending in the x-y plane is left free.
        model.def_support(f"n{n}", n == 0, n in held, True, True, True, clamped)
        if n:
            model.add_member(f"m{n}", f"n{n - 1}", f"n{n}", "wood", "board")
    return model


def dips(model: Any) -> list[float]:
    """How far each node went down."""
    model.analyze_linear()
    return [-float(model.nodes[f"n{n}"].DY["Combo 1"]) for n in range(len(model.nodes))]


def dip(model: Any, node: int) -> float:
    return dips(model)[node]


def spread(model: Any, load: float, first: int, last: int) -> None:
    for n in range(first, last + 1):
        model.add_member_dist_load(f"m{n}", "Fy", -load, -load)


@pytest.mark.parametrize("clamped", [False, True])
def test_an_even_load(clamped: bool):
    model = frame([(0, clamped), (LONG, clamped)])
    spread(model, 0.4, 1, 24)
    ours = beam.clamped_uniform_sag_mm if clamped else beam.uniform_sag_mm
    assert dip(model, 12) == approx(ours(0.4 * LONG, LONG, E, INERTIA), rel=1e-4)


def test_a_load_off_the_middle_seen_elsewhere():
    model = frame([(0, False), (LONG, False)])
    model.add_node_load("n6", "FY", -80)
    assert dip(model, 15) == approx(beam.point_sag_mm(80, LONG / 4, LONG * 15 / 24, LONG, E, INERTIA), rel=1e-4)


def test_a_clamped_board_with_a_load_at_the_middle():
    model = frame([(0, True), (LONG, True)])
    model.add_node_load("n12", "FY", -80)
    assert dip(model, 12) == approx(beam.clamped_centre_sag_mm(80, LONG, E, INERTIA), rel=1e-4)


def test_a_cantilever():
    model = frame([(0, True)])
    model.add_node_load("n24", "FY", -20)
    assert dip(model, 24) == approx(beam.cantilever_end_sag_mm(20, LONG, E, INERTIA), rel=1e-4)
    model = frame([(0, True)])
    spread(model, 0.05, 1, 24)
    assert dip(model, 24) == approx(beam.cantilever_uniform_sag_mm(0.05 * LONG, LONG, E, INERTIA), rel=1e-4)


@pytest.mark.parametrize("both", [True, False])
def test_two_spans(both: bool):
    span = LONG
    model = frame([(0, False), (span, False), (2 * span, False)], 48, 2 * span)
    spread(model, 0.4, 1, 48 if both else 24)
    ours = continuous.two_span_sag_mm if both else continuous.two_span_one_loaded_sag_mm
    assert max(dips(model)) == approx(ours(0.4, span, E, INERTIA), rel=0.002)  # its deepest node is not quite deepest


def test_overhangs():
    span, over = 600.0, 150.0
    model = frame([(over, False), (over + span, False)], 24, span + 2 * over)
    spread(model, 0.4, 1, 24)
    assert dip(model, 12) == approx(continuous.overhung_middle_sag_mm(0.4, span, over, E, INERTIA), rel=1e-4)
    assert dip(model, 0) == approx(continuous.overhung_end_sag_mm(0.4, span, over, E, INERTIA), rel=1e-4)


def test_one_overhang_with_a_load_on_its_end():
    model = frame([(0, False), (675, False)])
    model.add_node_load("n24", "FY", -30)
    assert dip(model, 24) == approx(continuous.overhang_end_point_sag_mm(30, 675, 225, E, INERTIA), rel=1e-4)


def test_a_lipped_shelf():
    inertia = section.joined_inertia_mm4(section.lipped_shelf(300, 18, E, 18, 45, E), E)
    model = frame([(0, False), (LONG, False)], inertia=inertia)
    spread(model, 0.4, 1, 24)
    assert dip(model, 12) == approx(beam.uniform_sag_mm(0.4 * LONG, LONG, E, inertia), rel=1e-4)


def sheet(wide: float, deep: float, cells: int, held: set[str], load: float) -> float:
    """Sag of a plate held along some edges: of its middle, or of the middle of its front where that is free."""
    model = pynite.FEModel3D()
    model.add_material("panel", E, E / 2.6, 0.3, 1e-9)
    model.add_rectangle_mesh("top", wide / cells, wide, deep, THICK, "panel", plane="XY", element_type="Rect")
    model.meshes["top"].generate()
    seen = (wide / 2, 0.0) if "front" not in held else (wide / 2, deep / 2)
    found = ""
    for node in model.nodes.values():
        edges = {"left": node.X, "right": node.X - wide, "front": node.Y, "back": node.Y - deep}
        down = any(abs(away) < 1e-6 and edge in held for edge, away in edges.items())
        model.def_support(node.name, True, True, down, False, False, True)
        if abs(node.X - seen[0]) < 1e-6 and abs(node.Y - seen[1]) < 1e-6:
            found = node.name
    for element in model.plates:
        model.add_plate_surface_pressure(element, load)
    model.analyze_linear()
    return abs(float(model.nodes[found].DZ["Combo 1"]))


def test_a_panel_on_four_sides():
    found = sheet(600, 400, 12, {"left", "right", "front", "back"}, 0.002)
    assert found == approx(plate.four_sides_sag_mm(0.002, 600, 400, THICK, E), rel=0.01)


@pytest.mark.parametrize("deep", [300.0, 600.0])
def test_a_shelf_on_its_ends_and_its_back(deep: float):
    found = sheet(600, deep, 16, {"left", "right", "back"}, 0.002)
    assert found == approx(plate.three_sides_sag_mm(0.002, 600, deep, THICK, E), rel=0.01)


def test_a_shelf_on_its_ends_is_a_beam_near_enough():
    # The plate sags 1 % more along its front than the beam formula says: 0.499 in against 0.494 for 36 x 12 x 3/4 in.
    found = sheet(900, 300, 16, {"left", "right"}, 0.002)
    assert found == approx(beam.uniform_sag_mm(0.002 * 300 * 900, 900, E, INERTIA), rel=0.03)
