"""The alcove bookcase worked out by hand, in millimetres: every number here is reckoned from the plan's own lines."""

import math

import pytest

from storystick.model.build import Build
from storystick.model.cut import Bore, Channel
from tests.told import job, sample, sizes

PLY18 = (17.7 + 17.8 + 17.8) / 3
PLY6 = 5.7
AT_BACK, AT_FRONT = 897.0, 910.0  # the smallest readings of the opening
AT_REAR_EDGE = 910 - (910 - 897) * 5 / 352  # the strips' rear edge stands 5 mm in, where the wall has come in a little
DEEP_ALCOVE, SKIRTING = 352.0, 18.5
WIDE, DEEP, HIGH = AT_BACK - 12, DEEP_ALCOVE - SKIRTING - 8, 1900.0
PLINTH, TOE = 80.0, 40.0
DADO = math.floor(PLY18 / 3)  # a third of the host, down to whole millimetres
RABBET = math.floor(PLY18 / 2)
BODY = HIGH - PLINTH
INSIDE_WIDE, INSIDE_HIGH, INSIDE_DEEP = WIDE - 2 * PLY18, BODY - 2 * PLY18, DEEP - PLY6


@pytest.fixture(scope="module")
def build() -> Build:
    return job(sample("alcove-bookcase")).build


@pytest.mark.parametrize(
    ("part", "size"),
    [
        ("bookcase.left side", (BODY, DEEP, PLY18)),
        ("bookcase.right side", (BODY, DEEP, PLY18)),
        ("bookcase.top", (INSIDE_WIDE + 2 * DADO, DEEP, PLY18)),
        ("bookcase.bottom", (INSIDE_WIDE + 2 * DADO, DEEP, PLY18)),
        ("bookcase.back", (INSIDE_HIGH + 2 * RABBET - 1, INSIDE_WIDE + 2 * RABBET - 1, PLY6)),
        ("bookcase.shelf 1", (INSIDE_WIDE - 2 * 1.5, INSIDE_DEEP, PLY18)),
        ("bookcase.shelf 3", (INSIDE_WIDE + 2 * DADO, INSIDE_DEEP, PLY18)),
        ("bookcase.plinth front", (WIDE, PLINTH, PLY18)),
        ("bookcase.plinth left", (INSIDE_DEEP - TOE - 2 * PLY18, PLINTH, PLY18)),  # its rear clear of the rabbet
        ("left scribe.board", (1820, 6 + 3, 20)),
        ("right scribe.board", (1820, AT_REAR_EDGE - (6 + WIDE) + 3, 20)),
    ],
)
def test_a_part_is_as_big_as_reckoned_by_hand(build: Build, part: str, size: tuple[float, float, float]) -> None:
    assert sizes(build, part) == pytest.approx(size, abs=1e-6)


def test_the_fixed_shelf_stands_where_the_rows_below_it_end(build: Build) -> None:
    # from the bottom: 340, a loose shelf, 360, then the fixed one
    high = PLINTH + PLY18 + 340 + PLY18 + 360
    assert float(build.part("bookcase.shelf 3").at[2].value) == pytest.approx(high)


def test_rows_without_a_size_share_what_the_others_leave(build: Build) -> None:
    rest = INSIDE_HIGH - 4 * PLY18 - 320 - 360 - 340
    assert float(build.pages["bookcase.row 1.high"].value) == pytest.approx(rest / 2)
    assert float(build.pages["bookcase.row 2.high"].value) == pytest.approx(rest / 2)


def test_each_side_has_a_dado_three_rabbets_and_thirty_pin_holes(build: Build) -> None:
    for name in ("bookcase.left side", "bookcase.right side"):
        cuts = build.part(name).cuts
        called = [c.called for c in cuts if isinstance(c, Channel)]
        assert sorted(called) == ["dado", "rabbet", "rabbet", "rabbet"]
        assert len([c for c in cuts if isinstance(c, Bore)]) == 3 * 2 * 5  # three loose shelves, two rows of five


def test_both_scribes_reach_their_wall_and_lie_3_mm_on_the_case() -> None:
    steps = job(sample("alcove-bookcase")).order.steps
    for side in ("left", "right"):
        step = next(one for one in steps if one.title == f"Put the {side} scribe in its place")
        assert f"its {side} side against the {side} wall" in " ".join(step.does).lower()
    build = job(sample("alcove-bookcase")).build
    left, right = build.assembly("left scribe"), build.assembly("right scribe")
    assert float(left.size[0].value) - 6 == pytest.approx(3)
    assert 6 + WIDE - float(right.at[0].value) == pytest.approx(3)


def test_no_screw_shows_in_a_side(build: Build) -> None:
    assert not any(f.through.endswith("side") for f in build.fasteners)


def test_three_loose_shelves_are_one_and_the_same_part(build: Build) -> None:
    assert len({build.part(f"bookcase.shelf {n}").letter for n in (1, 2, 4)}) == 1


def test_the_stock_costs_what_the_plan_says() -> None:
    bought = job(sample("alcove-bookcase")).buying
    lines = {line.what: line for line in bought.lines if line.kind == "stock"}
    area = sum(
        float(p.length.value * p.width.value)
        for p in job(sample("alcove-bookcase")).build.parts
        if p.stock.name == "birch18"
    )
    sheets = next(line.count for what, line in lines.items() if "18 mm" in what)
    assert sheets >= math.ceil(area / (2440 * 1220))
    assert sum(float(line.total or 0) for line in lines.values()) == sheets * 88 + 41 + 28
    assert bought.currency == "€"
