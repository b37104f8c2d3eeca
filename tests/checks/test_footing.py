"""Every edge that a piece may go over, on floors that lean, on carpet, on castors, and on what tilts it: by hand."""

from dataclasses import replace
from math import atan, cos, degrees, pi, sin, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.checks.footing import edges, hull
from storystick.ground.finding import Finding, Grade
from storystick.model.build import Build, Load, Move
from tests.checks.by_hand import Number, assembly, board, box, lengths, mm, piece, ply, three, told, troubles
from tests.checks.test_standing import POUND, block, drawers

SPOTS = st.lists(st.tuples(st.integers(-200, 200), st.integers(-200, 200)), min_size=3, max_size=12, unique=True)


@settings(max_examples=60)
@given(spots=SPOTS, angle=st.floats(0, 2 * pi), far=st.integers(0, 500))
def test_what_is_behind_every_edge_is_over_the_feet(spots: list[tuple[int, int]], angle: float, far: int):
    found = edges([(float(x), float(y)) for x, y in spots])
    for x, y in spots:
        assert all(x * way[0] + y * way[1] <= edge + 1e-6 for way, edge, _ in found)
    if len(hull([(float(x), float(y)) for x, y in spots])) >= 3:
        # A place outside all edges' reach in some direction is in front of one of them.
        x, y = 1000 * cos(angle) + far, 1000 * sin(angle)
        assert any(x * way[0] + y * way[1] > edge for way, edge, _ in found)


def test_three_feet_have_three_edges_and_the_middle_of_a_triangle_is_a_third_of_its_height_behind_them():
    found = edges([(0.0, 0.0), (600.0, 0.0), (300.0, 450.0)])
    assert len(found) == 3
    behind = [edge - (300 * way[0] + 150 * way[1]) for way, edge, _ in found]
    assert sorted(behind)[0] == pytest.approx(150)


def stands(build: Build) -> Finding:
    return next(one for one in told("tipping", build) if one.unit in ("times", "") and "Kept for" not in one.says)


def test_on_three_feet_it_goes_over_askew():
    # Feet at two rear corners and the middle of the front: a load on the left front corner hangs over the slant edge.
    feet = ((mm(0), mm(400)), (mm(600), mm(400)), (mm(300), mm(0)))
    whole = block(20, assemblies=(assembly(size=(600, 400, 500), feet=feet),))
    corner = board("case.corner", (0, 0, 500), (40, 40, 10), stock=ply(10, density=0.001))
    build = replace(whole, parts=(*whole.parts, corner), loads=(Load("case.corner", 20),))
    (found,) = troubles("tipping", build)
    # Edge through (0, 400) and (300, 0): distance of (x, y) is (4 x + 3 y - 1200) / 5: 20 kg at (300, 200): 120;
    # 20 kg at (20, 20): -212.
    assert found.number == pytest.approx(120 / 212, rel=1e-3)
    assert "forward and to the left" in found.says


def test_a_floor_that_falls_counts_what_is_high():
    # 30 kg, 120 behind its castors' line and 250 up, two drawers of 10 kg 330 in front of it and 150 up, level: 0.545.
    lean = atan(1 / 50)
    feet = tuple((mm(x), mm(y)) for x in (50, 550) for y in (50, 350))
    wheels = assembly(size=(600, 400, 500), feet=feet, swivels=30.0)
    rolling = drawers(2, 1, 450)
    found = stands(replace(rolling, assemblies=(wheels, *rolling.assemblies[1:])))
    down, over = 30 * 120 * cos(lean), 2 * 330 * cos(lean) + (30 * 250 + 2 * 150) * sin(lean)
    carpet = atan(0.43 * 25.4 / 240)
    down_c, over_c = 30 * 120 * cos(carpet), 2 * 330 * cos(carpet) + (30 * 250 + 2 * 150) * sin(carpet)
    level = 30 * 120 / (2 * 330)
    assert found.number == pytest.approx(min((level / 1.5, level), (down / over / 1.2, down / over),
                                             (down_c / over_c / 1.2, down_c / over_c))[1], rel=1e-3)  # fmt: skip
    assert "carpet" in found.says


def test_a_tall_narrow_piece_is_pulled_over_sideways_first():
    # 40 kg, 300 wide and 600 deep, 1200 high: 40 x 150 / 1200 = 5 kg to the side, twice that forward.
    volume = 300 * 600 * 1200
    part = board("case.block", (0, 0, 0), (300, 600, 1200), stock=ply(1200, density=40 / volume * 1e9))
    build = piece(part, assemblies=(assembly(size=(300, 600, 1200)),))
    (found,) = [one for one in told("tipping", build) if one.unit == "N"]
    lean = max(atan(1 / 50), atan(0.43 * 25.4 / 300))
    leaning = 40 * 9.80665 * (150 - 600 * tan(lean)) / 1200
    level = 40 * 9.80665 * 150 / 1200
    assert "to the" in found.says
    assert found.number == pytest.approx(level if level / 1.5 < leaning / 1.2 else leaning)


@pytest.mark.parametrize(("count", "kilograms", "out"), [(3, 15, 450), (2, 25, 500)])
def test_feet_as_far_out_as_advised_keep_it_standing(count: int, kilograms: float, out: int):
    (found,) = troubles("tipping", drawers(count, kilograms, out))
    far = float(lengths(found.advice.split("let it stand ")[1])[0])
    build = drawers(count, kilograms, out)
    feet = tuple((mm(x), mm(y)) for x in (0, 600) for y in (-far, 400))
    wider = replace(build.assemblies[0], feet=feet)
    assert not troubles("tipping", replace(build, assemblies=(wider, *build.assemblies[1:])))
    short = tuple((mm(x), mm(y)) for x in (0, 600) for y in (10 - far, 400))
    assert troubles("tipping", replace(build, assemblies=(replace(wider, feet=short), *build.assemblies[1:])))


def on_a_cart(tilt: float, kilograms: float = 30.0, high: Number = 500) -> Build:
    """A block 600 x 400 on a cart whose bed tips up about its front edge."""
    swing = Move("cart tips", "swing", ("cart",), about=three((0, 0, 300)), axis=0, degrees=(0.0, tilt))
    cart = box("cart", (0, 0, 300), (700, 500, 100), move=swing)
    whole = block(kilograms, 400, high)
    part = replace(whole.parts[0], at=three((0, 0, 400)))
    placed = assembly(at=(0, 0, 0), size=(600, 400, high), stands_on="cart")
    return replace(whole, parts=(part,), assemblies=(placed,), site=(cart,))


def test_what_tilts_with_its_carrier_goes_over_where_its_middle_is_over_the_edge():
    (found,) = [one for one in told("tipping", on_a_cart(45)) if "cart" in one.about]
    # Middle 200 behind the front edge and 250 up: atan(200 / 250) = 38.7 degrees; wood slides from 17.
    assert found.grade == Grade.STOP
    assert f"{degrees(atan(200 / 250)):.0f} degrees" in found.says
    assert "forward" in found.says


def test_tilted_no_farther_than_advised_it_stands():
    (found,) = [one for one in troubles("tipping", on_a_cart(30)) if "cart" in one.about]
    most = float(found.advice.split("no farther than ")[1].split(" ")[0])
    assert most == pytest.approx(degrees(atan(0.3)), abs=0.1)
    assert not troubles("tipping", on_a_cart(most))
    tall = [one for one in troubles("tipping", on_a_cart(15, high=1500)) if "cart" in one.about]
    most = float(tall[0].advice.split("no farther than ")[1].split(" ")[0])
    assert most == pytest.approx(degrees(atan(200 / 750 / 1.5)), abs=0.1)
    assert not [one for one in troubles("tipping", on_a_cart(most, high=1500)) if "cart" in one.about]


def test_tipped_backward_it_goes_over_its_back():
    (found,) = [one for one in told("tipping", on_a_cart(-45)) if "cart" in one.about]
    assert "backward" in found.says


def test_a_chest_is_told_what_the_rule_for_clothes_would_find():
    # A block 900 high, 40 kg; three drawers of 0.12 m3 with 10 kg each, all out; 60 lbf on one front, rear 0.43 in up.
    tall = drawers(3, 10, 400, 40)
    openings = tuple(replace(one, size=three((500, 400, 200))) for one in tall.openings)
    part = block(40, high=900).parts[0]
    sized = replace(tall.assemblies[0], size=three((600, 400, 900)))
    build = replace(tall, parts=(part, *tall.parts[1:]), openings=openings, assemblies=(sized, *tall.assemblies[1:]))
    (found,) = [one for one in told("tipping", build) if "kept for clothes" in one.says]
    lean = atan(0.43 * 25.4 / 400)
    weights = [(40.0, 200.0, 450.0)] + [(10.0, -200.0, 200.0)] * 3 + [(60 * POUND, -399.5, 150.0)]
    down = 40 * 200 * cos(lean)
    over = sum(-w * x for w, x, _ in weights if x < 0) * cos(lean) + sum(w * z for w, _, z in weights) * sin(lean)
    assert found.number == pytest.approx(down / over, rel=2e-3)
    assert found.grade == Grade.NOTE


def test_against_a_wall_it_does_not_go_over_backward():
    def words(*site: object) -> str:
        part = board("case.block", (0, 0, 0), (600, 300, 1200), stock=ply(1200, density=150.0))
        build = piece(part, assemblies=(assembly(size=(600, 300, 1200)),), site=site)
        return next(one.says for one in told("tipping", build) if one.unit == "N")

    wall = box("wall", (-1000, 320, 0), (3000, 100, 2400))
    front = box("bench", (-1000, -420, 0), (3000, 400, 1000))
    assert "to the" in words(wall, front)
    assert "forward" in words(wall)
    low = box("step", (-1000, 320, 0), (3000, 100, 300))
    assert "ward" in words(low)
