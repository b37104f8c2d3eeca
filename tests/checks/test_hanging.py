"""What hangs on screws, what lies in drawers, what magnets keep: against published formulas worked by hand."""

from dataclasses import replace

import pytest

from storystick.checks.drawer_bottom import sag_after_years_mm
from storystick.checks.driven import drives
from storystick.checks.hung_load import allowed_pull_n, allowed_push_n
from storystick.ground.finding import Grade
from storystick.model.build import Build, Load, Opening, Slider
from storystick.model.joining import Item
from tests.checks.by_hand import (
    FRONT,
    LEFT,
    Number,
    asked,
    assembly,
    board,
    carcass,
    lengths,
    mm,
    piece,
    ply,
    screw,
    three,
    told,
    troubles,
)

LBF, INCH = 4.4482216, 25.4


def hung(load: float, screws: int = 4, *, solid_end: bool = False) -> Build:
    """A box on the right side of a case, its screws going left through its 18 mm side into a 40 mm post."""
    grain = "xyz" if solid_end else "zyx"
    post_stock = ply(40, solid=solid_end, material="", density=560.0)
    post = board("case.post", (0, 0, 0), (40, 300, 600), grain, stock=post_stock)
    side = board("bin.side", (40, 0, 200), (18, 300, 300), "zyx", assembly="bin")
    feather = ply(1, density=0.001)
    bottom = board("bin.bottom", (58, 0, 200), (164, 300, 1), assembly="bin", stock=feather)
    names = tuple(f"s{n}" for n in range(screws))
    rows = tuple(
        screw(name, "bin.side", "case.post", (58, 40 + n * 220 // max(1, screws - 1), 450), LEFT, 50, assembly="bin")
        for n, name in enumerate(names)
    )
    whole = (
        assembly(size=(40, 300, 600)),
        assembly("bin", (0, 0, 0), (222, 300, 500), stands_on="case", held_by=names),
    )
    return piece(post, side, bottom, assemblies=whole, fasteners=rows, loads=(Load("bin.bottom", load),))


def test_a_screw_is_pulled_as_the_specification_allows():
    # NDS eq. 12.2-2: 2850 G^2 D for each inch. Published example: G 0.45, No. 10 (0.190 in): 109 lbf per inch.
    stock = ply(100, material="", density=0.45 * 1.12 * 1000)
    lower = board("case.post", (0, 0, 0), (300, 300, 100), stock=stock)
    upper = board("case.flap", (0, 0, 100), (300, 300, 18))
    row = screw("s", "case.flap", "case.post", (150, 150, 118), (0.0, 0.0, -1.0), "76.2", row="", thick="4.826")
    build = asked(piece(lower, upper, fasteners=(row,)))
    (drive,) = drives(build)
    held = 76.2 * 2 / 3 / INCH
    assert allowed_pull_n(build, drive) / LBF / held == pytest.approx(109, abs=1)


def test_a_screw_is_pushed_as_the_older_rule_allows():
    # p = C D^2, group IV: C 2520; No. 10 (0.190 in), ten diameters deep: 91 lbf.
    build = asked(
        piece(
            board("case.post", (0, 0, 0), (300, 300, 100)),
            board("case.flap", (0, 0, 100), (300, 300, 18)),
            fasteners=(screw("s", "case.flap", "case.post", (150, 150, 118), (0.0, 0.0, -1.0), 90, "", "4.826"),),
        )
    )
    (drive,) = drives(build)
    assert allowed_push_n(build, drive) / LBF == pytest.approx(2520 * 0.19**2, abs=0.5)


def test_a_light_box_on_four_screws_is_fine_and_a_heavy_one_is_not():
    assert {one.grade for one in told("hung-load", hung(5))} == {Grade.FINE}
    (found,) = troubles("hung-load", hung(150))
    assert found.number > 1


def test_screws_as_many_as_advised_hold_it():
    (found,) = troubles("hung-load", hung(150))
    count = int(found.advice.split("Use ")[1].split(" screws")[0])
    assert not troubles("hung-load", hung(150, count))


def test_end_grain_is_not_counted_on():
    (found,) = troubles("hung-load", hung(5, solid_end=True))
    assert "end grain" in found.advice


def test_what_stands_is_not_hung():
    assert told("hung-load", carcass()) == []
    down = hung(5)
    rows = tuple(replace(row, way=FRONT) for row in down.fasteners)
    assert troubles("hung-load", replace(down, fasteners=rows))  # screws that miss what they are to hold in


def drawer(bottom: Number, load: float | None, wide: Number = 500) -> Build:
    name = "case.drawer"
    stock = ply(bottom, material="", stiffness=(7500.0, 10000.0))
    panel = board(f"{name}.bottom", (0, 0, 0), (wide, wide, bottom), assembly=name, stock=stock)
    slider = Slider(name, name, "case.bay", mm(300), mm(13), (mm(12), mm(14)), "slides")
    opening = Opening("case.bay", "drawer", "case", three((0, 0, 0)), three((540, 500, 200)))
    inner = assembly(name, (18, 0, 100), (wide, wide, 100), stands_on="", inside_of="case")
    loads = () if load is None else (Load(name, load),)
    whole = carcass(assemblies=(assembly(), inner), sliders=(slider,), openings=(opening,), loads=loads)
    return replace(whole, parts=(*whole.parts, panel))


def test_a_square_bottom_sags_by_the_coefficient_of_the_textbook():
    # Square plate held all round: 0.00406 q a^4 / D, D = E t^3 / (12 (1 - 0.3^2)); plywood adds 0.8 of it in years.
    part = drawer(6, 20).parts[-1]
    load = 20 * 9.80665
    first = 0.00406 * load / 500**2 * 500**4 / (7500 * 6**3 / (12 * 0.91))
    assert sag_after_years_mm(part, load, 6.0) == pytest.approx(first * 1.8, rel=1e-3)


def test_a_bottom_that_gives_is_told_and_the_thicker_one_advised_does_not():
    assert {one.grade for one in told("drawer-bottom", drawer(6, 5))} == {Grade.FINE}
    assert {one.grade for one in told("drawer-bottom", drawer(6, None, wide=900))} == {Grade.NOTE}
    (found,) = troubles("drawer-bottom", drawer(6, 40))
    (thick,) = lengths(found.advice)
    assert not troubles("drawer-bottom", drawer(thick, 40))


def test_without_a_load_the_kitchen_test_is_used():
    (found,) = told("drawer-bottom", drawer(6, None))
    assert "15 lbf/ft2" in found.says


def lid(disc: str, count: int = 4) -> Build:
    names = tuple(f"m{n}" for n in range(count))
    items = tuple(
        Item(name, disc, disc, 1, "lid", box=(three((100 * n, 50, "0.3")), three((25, 25, 3))))
        for n, name in enumerate(names)
    )
    part = board("lid.top", (0, 0, 0), (600, 400, 18), assembly="lid")
    held = assembly("lid", (0, 0, 700), (600, 400, 18), stands_on="plate", held_by=names)
    return piece(part, assemblies=(held,), items=items)


def test_small_magnets_let_a_board_slide_and_larger_ones_do_not():
    assert troubles("magnets-hold", lid("6 mm x 3 mm disc"))
    (found,) = told("magnets-hold", lid("25 mm x 5 mm disc"))
    assert found.grade == Grade.FINE
    assert not troubles("magnets-hold", lid("6 mm x 3 mm disc", 40))


def test_solid_wood_with_its_grain_the_short_way():
    short = piece(board("case.rail", (0, 0, 0), (80, 300, 20), stock=ply(20, solid=True)))
    (found,) = troubles("short-grain", short)
    assert found.number == pytest.approx(80 / 300)
    assert not troubles("short-grain", piece(board("case.rail", (0, 0, 0), (300, 80, 20), stock=ply(20, solid=True))))
    assert told("short-grain", piece(board("case.rail", (0, 0, 0), (80, 300, 18)))) == []
