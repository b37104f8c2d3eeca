"""What hangs on screws, what lies in drawers, what magnets keep: against published formulas worked by hand."""

from dataclasses import replace

import pytest

from storystick.checks.drawer_bottom import sag_after_years_mm
from storystick.checks.driven import drives
from storystick.checks.holding_power import allowed_pull_n, allowed_push_n
from storystick.checks.on_the_wall import on_the_wall
from storystick.checks.wall_load import each_n
from storystick.ground.finding import Grade
from storystick.model.build import Build, Load, Opening, Slider, Span
from storystick.model.joining import Item
from tests.checks.by_hand import (
    FRONT,
    LEFT,
    RIGHT,
    Number,
    asked,
    assembly,
    board,
    bore,
    carcass,
    joined,
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


def test_a_nail_is_pulled_and_pushed_as_the_older_code_allows():
    # NDS eq. 12.2-3: 1380 G^2.5 D for each inch; sideways 1440 D^1.5 / 1.6 (Wood Handbook, Table 8-4) at ten diameters.
    stock = ply(100, material="", density=0.45 * 1.12 * 1000)
    lower = board("case.post", (0, 0, 0), (300, 300, 100), stock=stock)
    upper = board("case.flap", (0, 0, 100), (300, 300, 18))
    row = screw("n", "case.flap", "case.post", (150, 150, 118), (0.0, 0.0, -1.0), "68.8", "", "3.3274", kind="nail")
    build = asked(piece(lower, upper, fasteners=(row,)))
    (drive,) = drives(build)
    held = (68.8 - 18) / INCH
    assert allowed_pull_n(build, drive) / LBF == pytest.approx(1380 * 0.45**2.5 * 0.131 * held, rel=1e-4)
    assert allowed_push_n(build, drive) / LBF == pytest.approx(1440 * 0.131**1.5 / 1.6, rel=1e-4)


def test_a_dowel_carries_its_own_section_and_half_its_glue_line():
    lower, upper = board("case.post", (0, 0, 0), (300, 300, 100)), board("case.flap", (0, 0, 100), (300, 300, 18))
    row = screw("d", "case.flap", "case.post", (150, 150, 110), (0.0, 0.0, -1.0), 40, "", 8, kind="dowel")
    build = asked(piece(lower, upper, fasteners=(row,)))
    (drive,) = drives(build)
    # 2 N/mm2 on a circle of 8 mm, and on half of the wall of a hole 30 mm deep.
    assert allowed_push_n(build, drive) == pytest.approx(2 * 50.265, abs=0.01)
    assert allowed_pull_n(build, drive) == pytest.approx(2 * 8 * 3.14159 * 30 / 2, rel=1e-4)


def test_end_grain_pulls_nothing_and_pushes_two_thirds():
    def push(grain: str) -> tuple[float, float]:
        stock = ply(100, solid=True, material="", density=500)
        post = board("case.post", (0, 0, 0), (300, 300, 100), grain, stock=stock)
        flap = board("case.flap", (0, 0, 100), (300, 300, 18))
        row = screw("s", "case.flap", "case.post", (150, 150, 118), (0.0, 0.0, -1.0), 70)
        build = asked(piece(post, flap, fasteners=(row,)))
        (drive,) = drives(build)
        return allowed_push_n(build, drive), allowed_pull_n(build, drive)

    assert push("zyx")[0] / push("xyz")[0] == pytest.approx(0.67)
    assert push("zyx")[1] == 0 < push("xyz")[1]


def on_nails(count: int, kilograms: float, kind: str = "nail") -> Build:
    """A shelf 564 long between two sides, held up by nails through these alone."""
    sides = [board(f"case.{w}", (x, 0, 0), (18, 300, 600), "zyx") for w, x in (("left", 0), ("right", 582))]
    shelf = board("case.shelf", (18, 0, 300), (564, 300, 18))
    rows, joints = [], []
    for word, x, way, sign in (("left", 0, RIGHT, -1), ("right", 600, LEFT, 1)):
        joint = joined("case.shelf", f"case.{word}", kind, sign=sign)
        joints.append(joint)
        rows += [
            screw(
                f"{word} {n}", f"case.{word}", "case.shelf", (x, 20 + n * 260 // count, 309), way, 50, "", 2,
                kind=kind, joint=joint.name,
            )
            for n in range(count)
        ]  # fmt: skip
    spans, loads = (Span("case.shelf", mm(564), "rests"),), (Load("case.shelf", kilograms),)
    return piece(*sides, shelf, fasteners=tuple(rows), joints=tuple(joints), spans=spans, loads=loads)


def test_a_shelf_on_nails_alone_holds_what_its_nails_do():
    assert {one.grade for one in told("joint-load", on_nails(4, 5))} == {Grade.FINE}
    found = troubles("joint-load", on_nails(4, 80))
    assert len(found) == 1  # told once for its two ends
    assert "1 more end." in found[0].says
    weight = 80 + 680 * 0.564 * 0.3 * 0.018
    each = 1440 * (2 / INCH) ** 1.5 / 1.6 * LBF  # 32 mm of a 2 mm nail in the shelf: all of it counts
    assert found[0].number == pytest.approx(weight * 9.80665 / 2 / (4 * each), rel=1e-3)


@pytest.mark.parametrize("kind", ["nail", "screw", "dowel"])
def test_as_many_nails_screws_or_dowels_as_advised_hold_the_shelf(kind: str):
    found = troubles("joint-load", on_nails(2, 100, kind))
    count = int(found[0].advice.split("Use ")[1].split(" ")[0])
    assert not troubles("joint-load", on_nails(count, 100, kind))
    assert troubles("joint-load", on_nails(count - 1, 100, kind))


def test_a_shelf_let_into_its_sides_asks_nothing_of_its_nails():
    build = carcass(spans=(Span("case.shelf", mm(564), "rests"),), loads=(Load("case.shelf", 80),))
    assert told("joint-load", build) == []


def on_a_wall(kilograms: float, holes: int = 2, links: int = 6) -> Build:
    """A board 300 deep and 600 high whose strip, at 500 up, has holes for screws into a wall behind it."""
    feather = ply(18, density=0.001, material="")
    thing = board("box.back", (0, 0, 0), (600, 18, 600), "xzy", assembly="box", stock=feather)
    floor = board("box.bottom", (0, -282, 0), (600, 282, 18), assembly="box", stock=feather, role="bottom")
    cuts = tuple(bore(f"h{n}", (100 * n + 50, 50), "6.5", None) for n in range(holes))
    cuts = tuple(replace(cut, called="hole for a wall screw") for cut in cuts)
    strip = board("hanger.strip", (0, 18, 450), (600, 18, 100), "xzy", assembly="hanger", stock=feather, cuts=cuts)
    rows = tuple(
        screw(f"s{n}", "hanger.strip", "box.back", (20 + 90 * n, 36, 500), FRONT, 36, assembly="hanger")
        for n in range(links)
    )
    places = (
        assembly("box", size=(600, 300, 600), stands_on=""),
        assembly("hanger", size=(600, 36, 600), stands_on="", held_by=tuple(row.name for row in rows)),
    )
    return piece(thing, floor, strip, assemblies=places, fasteners=rows, loads=(Load("box.bottom", kilograms),))


def test_each_screw_into_a_wall_carries_its_share_and_is_pulled_by_the_lever():
    # 40 kg, its middle 36 + 141 mm in front of the wall, leaning on its foot 500 mm below the two screws.
    (one,) = on_the_wall(asked(on_a_wall(40)))
    down, pull = each_n(one)
    assert down == pytest.approx(40 * 9.80665 / 2, rel=1e-3)
    assert pull == pytest.approx(40 * 9.80665 * 177 / 500 / 2, rel=1e-3)


def test_what_hangs_on_a_wall_is_referred_to_local_rules_and_as_many_screws_as_advised_hold_it():
    wall = told("wall-load", on_a_wall(10))[0]
    assert wall.grade == Grade.FINE
    assert "local rules" in wall.says
    (found,) = [one for one in troubles("wall-load", on_a_wall(150)) if "stud" in one.advice]
    count = int(found.advice.split("Use ")[1].split(" ")[0])
    assert not [one for one in troubles("wall-load", on_a_wall(150, count)) if "stud" in one.advice]
    assert [one for one in troubles("wall-load", on_a_wall(150, count - 1)) if "stud" in one.advice]


def test_the_cleats_own_screws_carry_the_piece_and_not_the_other_way_round():
    assert told("hung-load", on_a_wall(10)) == []
    (found,) = [one for one in troubles("wall-load", on_a_wall(60, 6, 6)) if "that size" in one.advice]
    count = int(found.advice.split("Use ")[1].split(" ")[0])
    assert not [one for one in troubles("wall-load", on_a_wall(60, 6, count)) if "that size" in one.advice]
