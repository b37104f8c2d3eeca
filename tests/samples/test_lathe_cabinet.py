"""The lathe cabinet worked out by hand, in millimetres: every number here is reckoned from the plan's own lines.

An inch is 25.4 mm. Depths are rounded down to whole sixteenths, as the rules say.
"""

import math
from fractions import Fraction

import pytest

from storystick.ground.dim import counts
from storystick.model.build import Build
from storystick.model.cut import Bore, Channel
from tests.told import job, sample, sizes

IN = 25.4
SIXTEENTH = IN / 16
PLY18 = (17.6 + 17.7 + 17.6 + 17.5) / 4  # the middle of four readings
PLY12 = (11.7 + 11.8) / 2
PLY6 = (5.6 + 5.7 + 5.7) / 3


def down(value: float) -> float:
    """To a whole sixteenth."""
    return math.floor(value / SIXTEENTH + 1e-9) * SIXTEENTH


DADO = down(PLY18 / 3)  # a third of the host
RABBET = down(PLY18 / 2)  # half of it
WIDE = (31 + 3 / 16) * IN - 1.25 * IN  # the smallest reading of the gap, less 1 1/4
DEEP, HIGH = 16 * IN, 27 * IN
UNDER = 4 * IN + PLY18  # a 3 inch castor is 4 inches high over all; the base panel lies on it
BODY = HIGH - UNDER
INSIDE_WIDE, INSIDE_HIGH = WIDE - 2 * PLY18, BODY - 2 * PLY18
INSIDE_DEEP = DEEP - PLY12  # the back lies in a rabbet, flush behind
COLUMN = (INSIDE_WIDE - PLY18) / 2  # two columns and a divider
SLIDE, ROOM = 12.7, 0.35  # a half-inch slide, with the middle of 0.2 to 0.5 mm beside it
BOX_WIDE = COLUMN - 2 * (SLIDE + ROOM)
BOX_RABBET = down(PLY12 / 2)
BOX_GROOVE = down(PLY12 / 3)
BOX_LONG = 14 * IN  # the longest slide sold by 2 in that goes behind an inset front
REVEAL = IN / 8


@pytest.fixture(scope="module")
def build() -> Build:
    return job(sample("lathe-cabinet")).build


@pytest.mark.parametrize(
    ("part", "size"),
    [
        ("cabinet.left side", (BODY, DEEP, PLY18)),
        ("cabinet.right side", (BODY, DEEP, PLY18)),
        ("cabinet.bottom", (INSIDE_WIDE + 2 * DADO, DEEP, PLY18)),
        ("cabinet.top", (INSIDE_WIDE + 2 * DADO, DEEP, PLY18)),
        ("cabinet.back", (INSIDE_WIDE + 2 * RABBET - IN / 32, INSIDE_HIGH + 2 * RABBET - IN / 32, PLY12)),
        ("cabinet.divider 1", (INSIDE_HIGH + 2 * DADO, INSIDE_DEEP, PLY18)),
        ("cabinet.shelf 1", (COLUMN + 2 * DADO, INSIDE_DEEP, PLY18)),
        ("cabinet.shelf 2", (COLUMN - 2 * SIXTEENTH, INSIDE_DEEP, PLY18)),
        ("cabinet.base panel", (WIDE, DEEP, PLY18)),
        ("cabinet.drawer 1.left side", (BOX_LONG, 4 * IN - IN, PLY12)),
        ("cabinet.drawer 2.left side", (BOX_LONG, 6 * IN - IN, PLY12)),
        ("cabinet.drawer 1.box front", (BOX_WIDE - 2 * PLY12 + 2 * BOX_RABBET, 3 * IN, PLY12)),
        ("cabinet.drawer 1.front", (COLUMN - 2 * REVEAL, None, PLY18)),
        ("gouge box.left side", (18 * IN, 3.5 * IN, PLY12)),
        ("work board.top", (26 * IN - IN / 2, 12 * IN - IN / 2, PLY18)),
        ("work board.lower layer", (26 * IN - IN / 2, 12 * IN - IN / 2, PLY18)),
        ("work board.front edge", (26 * IN, 2 * PLY18, IN / 4)),
        ("work board.left edge", (12 * IN, 2 * PLY18, IN / 4)),
    ],
)
def test_a_part_is_as_big_as_reckoned_by_hand(build: Build, part: str, size: tuple[float | None, ...]) -> None:
    for found, wanted in zip(sizes(build, part), size, strict=True):
        if wanted is not None:
            assert found == pytest.approx(wanted, abs=1e-6)


def test_the_drawer_bottom_reaches_into_its_grooves_a_millimetre_shy_all_round(build: Build) -> None:
    reach = BOX_GROOVE - 1
    inside_wide, inside_long = BOX_WIDE - 2 * PLY12, BOX_LONG - 2 * PLY12
    assert sorted(sizes(build, "cabinet.drawer 1.bottom")[:2]) == pytest.approx(
        sorted((inside_wide + 2 * reach, inside_long + 2 * reach)), abs=1e-6
    )


def test_every_dado_is_as_wide_as_its_sheet_and_a_slip_and_three_sixteenths_deep(build: Build) -> None:
    dadoes = [c for p in build.parts for c in p.cuts if isinstance(c, Channel) and c.called == "dado"]
    assert len(dadoes) == 2 + 2  # the divider's in top and bottom; the shelf's in a side and the divider
    for cut in dadoes:
        assert float(cut.depth.value) == pytest.approx(3 / 16 * IN)
        assert float(cut.width.value) == pytest.approx(PLY18 + 0.15)


def test_top_and_bottom_lie_in_rabbets_at_the_ends_of_the_sides_flush_with_them(build: Build) -> None:
    for name in ("cabinet.left side", "cabinet.right side"):
        side = build.part(name)
        steps = [c for c in side.cuts if isinstance(c, Channel) and c.called == "rabbet" and "back" not in c.name]
        places = sorted(float(c.at[0].value) for c in steps)
        assert places == pytest.approx([0, BODY - PLY18])
        for cut in steps:
            assert float(cut.width.value) == pytest.approx(PLY18)
            assert float(cut.depth.value) == pytest.approx(3 / 16 * IN)


def test_the_channels_straddle_the_ways_with_room_to_spare(build: Build) -> None:
    way_wide, way_high = 1.505 * IN, IN / 2
    seat, board_low = 39 * IN, 39 * IN - IN / 16 - 2 * PLY18
    bed_top = (33 + 7 / 16 + 4) * IN
    deep = bed_top + way_high - board_low + IN / 16
    layer = build.part("work board.lower layer")
    channels = [c for c in layer.cuts if isinstance(c, Channel)]
    assert len(channels) == 2
    for cut in channels:
        assert float(cut.width.value) == pytest.approx(way_wide + IN / 8)
        assert float(cut.depth.value) == pytest.approx(deep)
    top = float(build.pages["work board.top"].value)
    assert top == pytest.approx(seat - IN / 16)  # a hair below the tool rest's seat


def test_the_cabinet_stands_in_the_middle_between_the_legs(build: Build) -> None:
    left, right = (float(build.pages[f"cabinet.{end}"].value) for end in ("left", "right"))
    leg_left, leg_right = (float(build.pages[name].value) for name in ("left leg.right", "right leg.left"))
    assert left - leg_left == pytest.approx(leg_right - right)


def test_four_magnets_four_castors_and_their_holes(build: Build) -> None:
    magnets = [c for c in build.part("work board.lower layer").cuts if isinstance(c, Bore)]
    assert len(magnets) == 4
    assert sum(i.count for i in build.items if "castor" in i.kind) == 4
    castor_holes = [c for c in build.part("cabinet.base panel").cuts if isinstance(c, Bore) and "castor" in c.name]
    assert len(castor_holes) == 4 * 4


def test_the_stock_costs_what_the_plan_says(build: Build) -> None:
    del build
    bought = job(sample("lathe-cabinet")).buying
    stock = [line for line in bought.lines if line.kind == "stock"]
    assert sum(line.total or 0 for line in stock) == 92 + 58 + 31 + 34 + 9


def test_thinner_sheets_change_what_hangs_on_them_and_nothing_else() -> None:
    text = sample("lathe-cabinet")
    before = job(text).build.pages
    after = job(text.replace("[17.6 mm, 17.7 mm, 17.6 mm, 17.5 mm]", "[18.0 mm]")).build.pages
    assert before.keys() == after.keys()
    for name, dim in before.items():
        moves = any(leaf.name == "birch18 thickness" for leaf, weight in counts(dim).values() if weight)
        changed = dim.value != after[name].value
        if not moves and not any(_chosen_by_thickness(leaf) for leaf, _ in counts(dim).values()):
            assert not changed, name
        if moves and not any(_chosen_by_thickness(leaf) for leaf, _ in counts(dim).values()):
            assert changed, name
    assert after["cabinet.bottom.length"].value - before["cabinet.bottom.length"].value == -2 * (18 - Fraction("17.6"))


def _chosen_by_thickness(leaf: object) -> bool:
    """A choice that looked at the sheet (a depth that is a share of it) may change by a step, or not at all."""
    return getattr(leaf, "kind", "") == "chosen"
