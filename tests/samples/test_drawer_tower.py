"""The drawer tower worked out by hand: every number here is reckoned from the plan's own lines. An inch is 25.4 mm."""

import math

import pytest

from storystick.model.build import Build
from storystick.model.cut import Bore
from tests.told import job, sample, sizes

IN = 25.4
PLY18 = (17.8 + 17.9 + 17.8) / 3
PLY12 = (11.8 + 11.7) / 2
PLY6 = (5.7 + 5.6) / 2
FOOT = 20.0  # the usual foot at its lowest


def down(value: float, step: float = IN / 16) -> float:
    return math.floor(value / step + 1e-9) * step


WIDE, DEEP = 15 * IN, 20 * IN
HIGH = (34 + 15 / 32) * IN - 1.5 * IN
BODY = HIGH - FOOT
DADO, RABBET = down(PLY18 / 3), down(PLY18 / 2)
INSIDE_WIDE, INSIDE_HIGH = WIDE - 2 * PLY18, BODY - 2 * PLY18
INSIDE_DEEP = DEEP - PLY6
SIDE = 12.7 + 0.35
BOX_WIDE = INSIDE_WIDE - 2 * SIDE
BOX_LONG = 18 * IN  # 20 in would not go behind the front
BOX_RABBET = down(PLY12 / 2)
BAYS = {1: 3 * IN, 2: 4 * IN, 3: 5 * IN, 4: 7 * IN}
LAST = INSIDE_HIGH - sum(BAYS.values())


@pytest.fixture(scope="module")
def build() -> Build:
    return job(sample("drawer-tower")).build


@pytest.mark.parametrize(
    ("part", "size"),
    [
        ("tower.left side", (BODY, DEEP, PLY18)),
        ("tower.bottom", (INSIDE_WIDE + 2 * DADO, DEEP, PLY18)),
        ("tower.back", (INSIDE_HIGH + 2 * RABBET - IN / 32, INSIDE_WIDE + 2 * RABBET - IN / 32, PLY6)),
        ("tower.drawer 1.left side", (BOX_LONG, 2 * IN, PLY12)),
        ("tower.drawer 4.right side", (BOX_LONG, 6 * IN, PLY12)),
        ("tower.drawer 5.left side", (BOX_LONG, down(LAST - IN, IN / 4), PLY12)),
        ("tower.drawer 2.box front", (BOX_WIDE - 2 * PLY12 + 2 * BOX_RABBET, 3 * IN, PLY12)),
        ("tower.drawer 2.front", (INSIDE_WIDE - 2 * IN / 8, 4 * IN - IN / 8, PLY18)),
    ],
)
def test_a_part_is_as_big_as_reckoned_by_hand(build: Build, part: str, size: tuple[float, float, float]) -> None:
    assert sizes(build, part) == pytest.approx(size, abs=1e-6)


def test_the_last_drawer_takes_what_the_others_leave(build: Build) -> None:
    assert float(build.pages["tower.row 5.high"].value) == pytest.approx(LAST)


def test_the_tower_goes_under_the_bench_top_with_an_inch_and_a_half_to_spare(build: Build) -> None:
    assert float(build.pages["bench top.bottom"].value - build.pages["tower.top"].value) == pytest.approx(1.5 * IN)


def test_five_drawers_five_pairs_of_slides_five_pulls(build: Build) -> None:
    assert len(build.sliders) == 5
    assert sum(i.count for i in build.items if "slide" in i.kind) == 5
    assert sum(i.count for i in build.items if "pull" in i.kind) == 5
    for n in range(1, 6):
        holes = [c for c in build.part(f"tower.drawer {n}.front").cuts if isinstance(c, Bore) and c.depth is None]
        assert len(holes) == 2  # a pull with two screws


def test_both_sides_of_a_slide_are_screwed_with_three(build: Build) -> None:
    for n in range(1, 6):
        name = f"tower.drawer {n}.left side"
        assert len([c for c in build.part(name).cuts if isinstance(c, Bore)]) == 3
    side = build.part("tower.left side")
    assert len([c for c in side.cuts if isinstance(c, Bore) and "slides" in c.name]) == 5 * 3


def test_all_drawer_bottoms_are_one_and_the_same_part(build: Build) -> None:
    assert len({build.part(f"tower.drawer {n}.bottom").letter for n in range(1, 6)}) == 1


def test_the_stock_costs_what_the_plan_says() -> None:
    bought = job(sample("drawer-tower")).buying
    stock = {line.what: (line.count, float(line.total or 0)) for line in bought.lines if line.kind == "stock"}
    assert stock == {
        "birch plywood, 18 mm": (1, 92.0),
        "birch plywood, 12 mm": (1, 58.0),
        "birch plywood, 6 mm": (1, 31.0),
    }
