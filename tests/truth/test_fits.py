"""Fits: chances, their causes, and what the geometry itself says of them."""

import math
from collections.abc import Callable
from fractions import Fraction

import numpy as np
import pytest

from storystick.ground.dim import Dim, Leaf, Named, counts, limits
from storystick.ground.finding import Grade
from storystick.ground.source import practice
from storystick.model.again import again
from storystick.model.joining import Fit
from storystick.model.judged import Judged, simulate
from storystick.model.made import PLACE_SD, made
from storystick.model.mending import is_broken, remedies
from storystick.shop.tables import instruments, workmanship
from tests.checks.by_hand import mm as mm_of
from tests.told import job, sample
from tests.truth.plans import CASE, DRAWER, after, fit_called, mm, put, read

DRAWN = 40_000


def agrees(share: float, wanted: float, draws: int) -> bool:
    """Two shares of random draws, or of draws and a reckoned chance, within four standard errors."""
    spread = math.sqrt(max(wanted * (1 - wanted), 1 / draws) / draws)
    return abs(share - wanted) < 4 * spread * math.sqrt(2)


def by_hand(name: str) -> Callable[[np.random.Generator, int], float]:
    """The share of builds in which a fit of the small case goes wrong, from its geometry alone, in plain floats."""
    work, sheet = workmanship(), 17.6
    calliper = math.hypot(instruments()["calliper"].sd_mm, 0.1 / math.sqrt(3))  # three readings 0.1 mm apart

    def off(chance: np.random.Generator, kind: str, many: int, pieces: int = 1) -> list[np.ndarray]:
        shared = chance.normal(0, work[kind].setting_mm, many)
        return [shared + chance.normal(0, work[kind].own_mm, many) for _ in range(pieces)]

    def shelf(chance: np.random.Generator, many: int) -> float:
        deep = math.floor(sheet / 3)  # a third of the side, to the millimetre
        inside = 600 - 2 * sheet
        bottom = inside + 2 * deep + off(chance, "crosscut", many)[0]
        left, right = off(chance, "channel depth", many, 2)
        room = bottom - (deep + left) - (deep + right)
        gap = room - (inside - 3 + off(chance, "crosscut", many)[0])
        return float(((gap < 1) | (gap > 6)).mean())

    def dado(chance: np.random.Generator, many: int) -> float:
        panel = sheet + chance.normal(0, calliper, many) + chance.normal(0, 0.1, many)
        gap = sheet + 0.15 + off(chance, "channel width", many)[0] - panel
        return float(((gap < 0) | (gap > 0.4)).mean())

    return {"case.shelf 1.length": shelf, "case.shelf 2 in left side.width": dado}[name]


@pytest.mark.parametrize("name", ["case.shelf 1.length", "case.shelf 2 in left side.width"])
def test_the_chance_of_trouble_is_what_the_geometry_gives(name: str):
    work = job(CASE)
    fit = fit_called(work, name)
    reckoned = by_hand(name)(np.random.default_rng(7), DRAWN)
    assert agrees(reckoned, fit.trouble, DRAWN)
    drawn = simulate([fit], DRAWN)
    assert agrees(sum(drawn.each[name]), reckoned, DRAWN)


def test_a_sheet_read_once_differs_from_place_to_place_all_the_same():
    work = after(CASE, read("ply.thick", "17.6", tool="calliper"))
    fit = fit_called(work, "case.shelf 2 in left side.width")
    places = [leaf.spread.sd for key, (leaf, _) in fit.rests_on.items() if "where on the sheet" in key if leaf.spread]
    assert places == [PLACE_SD]


@pytest.mark.parametrize("name", ["lathe-cabinet", "alcove-bookcase", "drawer-tower"])
def test_to_first_order_and_by_drawing_whole_builds_the_chances_are_the_same(name: str):
    judged = job(sample(name)).judged
    builds = simulate(judged, 20_000)
    for one in judged:
        tight, loose = builds.each[one.fit.name]
        assert agrees(tight, one.tight, 20_000)
        assert agrees(loose, one.loose, 20_000)
    assert builds.all_fit >= builds.apart - 0.02  # shared causes let fits go right and wrong together


def test_boards_cut_at_one_stop_are_off_together():
    """What the stop is off by is in both lengths, and cancels where only their difference counts."""
    work = job(CASE)
    made_now = work.made
    top, bottom = (work.build.part(f"case.{word}").length for word in ("top", "bottom"))
    both = Judged(Fit("both", top - bottom, mm_of(-1), mm_of(1), "", "", ""), made_now.as_made(top - bottom))
    own = workmanship()["crosscut"].own_mm
    assert both.sd == pytest.approx(own * math.sqrt(2))


def test_a_bottom_thicker_than_a_quarter_inch_groove_is_too_tight_before_anything_is_cut():
    groove = "case.drawer 1.left side.bottom in left side.wide"
    work = after(DRAWER, put(groove, "6.35"))
    fit = fit_called(work, "case.drawer 1.bottom in left side.width")
    assert fit.tight > 0.5
    assert is_broken(fit)
    found = {one.way: one for one in remedies(work.made, fit, work.judged, work.log.in_wood)}
    for way, number in (("plane", "case.drawer 1.bottom.thickness"), ("recut", groove)):
        assert found[way].number == number
        cured = after(DRAWER, put(groove, "6.35"), put(number, work.build.pages[number].value + found[way].by))
        assert not is_broken(fit_called(cured, fit.fit.name))
        assert fit_called(cured, fit.fit.name).tight < 0.05


def test_a_three_quarter_bit_is_loose_on_a_thin_sheet_and_a_smaller_bit_gets_its_offset():
    work = job(DRAWER.replace("open]", "open, fixed shelf, open]"))
    (channel,) = [one for one in work.channels if any("shelf 1 in left side" in fit.name for fit in one.fits)]
    by_method = {one.method: one for one in channel.methods}
    whole = by_method["router, one pass with a 3/4 in straight bit along a guide"]
    assert float(whole.gap) == pytest.approx(19.05 - 17.6)
    assert whole.loose > 0.99
    halves = by_method["router, two passes with a 1/2 in straight bit along a guide"]
    (offset,) = [one.to for one in halves.setups if one.name == "second offset"]
    assert offset is not None
    assert float(offset.value) == pytest.approx(17.6 + 0.15 - 12.7)
    assert offset.name in work.pages
    assert halves.trouble < whole.trouble


def test_guides_set_with_an_offcut_take_the_sheet_as_it_is():
    rough = CASE.replace("readings: [17.6, 17.7, 17.5], with: calliper", "readings: [17.6], with: tape")
    work = job(rough)
    channel = next(one for one in work.channels if "shelf 2 in left side" in one.fits[0].name)
    trial = next(one for one in channel.methods if one.method.startswith("trial"))
    others = [one for one in channel.methods if "offcut" not in one.method]
    assert all(trial.trouble < one.trouble for one in others)


@pytest.mark.parametrize(
    ("units", "read_as", "tool"),
    [
        ("mm", "[17.6]", "calliper"), ("mm", "[17.5]", "metric steel rule"), ("mm", "[18]", "metric tape"),
        ("inch", "[17.6 mm]", "calliper"), ("inch", "[23/32]", "steel rule"), ("inch", "[3/4, 11/16]", "tape measure"),
    ],
)  # fmt: skip
def test_a_reading_without_its_tool_is_taken_to_be_made_with_the_roughest_that_can_read_it_and_says_so(
    units: str, read_as: str, tool: str
):
    rough = CASE.replace("readings: [17.6, 17.7, 17.5], with: calliper", f"readings: {read_as}")
    rough = rough.replace("units: mm", f"units: {units}")
    if units == "inch":
        rough = rough.replace("600", "24").replace("300", "12").replace("700", "28").replace("2440 x 1220", "96 x 48")
        rough = rough.replace("5.6, 5.7", "5.6 mm, 5.7 mm").replace("1525 x 1525", "60 x 60")
    work = job(rough)
    (leaf,) = [leaf for leaf, _ in counts(work.build.pages["ply.thick"]).values()]
    assert f"as if with {tool}: it isn't said with what" in leaf.says
    known = work.shop.measuring_tool(tool)
    assert known is not None
    assert leaf.spread is not None
    assert leaf.spread.sd >= known.sd


def test_a_reading_in_the_log_without_its_tool_is_no_better_than_its_tool():
    bare, named = (after(CASE, read("case.shelf 2.thickness", "17.62", tool=tool)) for tool in ("", "calliper"))
    name = "case.shelf 2 in left side.width"
    assert fit_called(bare, name).sd == fit_called(named, name).sd


def test_what_to_measure_again_is_what_takes_away_the_most_risk():
    rough = CASE.replace("readings: [17.6, 17.7, 17.5], with: calliper", "readings: [17.6], with: tape")
    work = job(rough)
    best = again(work.made, work.judged, work.shop)[0]
    assert (best.name, best.tool) == ("ply.thick", "calliper")
    better = after(rough, read("ply.thick", "17.6", "17.6", tool="calliper"))
    gain = sum(one.trouble for one in work.judged) - sum(one.trouble for one in better.judged)
    assert gain == pytest.approx(best.gain, rel=0.35)


def test_a_part_that_is_cut_to_fit_does_not_carry_the_errors_of_its_case():
    work = job(DRAWER)
    fit = fit_called(work, "case.drawer 1.box in its opening")
    printed = made(work.build, work.shop.errors, to_measure=False)
    assert Judged(fit.fit, printed.as_made(fit.fit.gap)).sd > 2 * fit.sd


def test_own_numbers_of_a_shop_take_the_place_of_the_custom_ones():
    tried = "{at one setting: [100, 100.02, 99.98], set anew: [100, 100.03, 99.97]}"
    shop = f"units: mm\nworkmanship:\n  crosscut: {tried}\n"
    ours, usual = job(CASE, shop), job(CASE)
    name = "case.shelf 1.length"
    assert fit_called(ours, name).sd < fit_called(usual, name).sd
    assert ours.shop.errors["crosscut"].own == pytest.approx(0.02)
    assert ours.shop.errors["crosscut"].setting == pytest.approx(math.sqrt(0.03**2 - 0.02**2))


def test_causes_are_told_with_their_share_and_what_would_help():
    for one in job(CASE).judged:
        causes = one.causes()
        assert causes
        assert sum(cause.share for cause in causes) <= 1 + 1e-9
        assert all(cause.says and cause.better and cause.left <= one.trouble + 1e-9 for cause in causes)
    stops = [cause.says for cause in fit_called(job(CASE), "case.shelf 1.length").causes() if "stop" in cause.says]
    assert any("set to 571.4 mm" not in says and "mm for ply" in says for says in stops)


def test_a_sheet_that_was_never_read_may_be_anything_that_its_standard_allows():
    """Limits of equal chance, sd = a / sqrt(3) (GUM 4.3.7): the two ways still agree to a few hundredths."""
    gap = Dim(Fraction("0.3"), Leaf("sheet", "rule", "", limits(0.4)))
    fit = Judged(Fit("f", gap, mm_of(0), mm_of(2), "", "a", "b", source=practice("by hand")), gap)
    assert simulate([fit], DRAWN).each["f"][0] == pytest.approx(0.125, abs=0.01)  # a tenth of 0.8 under nothing
    assert fit.tight == pytest.approx(0.125, abs=0.04)


def test_the_check_before_cutting_says_so():
    groove = "case.drawer 1.left side.bottom in left side.wide"
    found = [one for one in after(DRAWER, put(groove, "6.35")).findings if one.code == "width-fit"]
    told = [one for one in found if one.grade >= Grade.CARE and "case.drawer 1.bottom" in one.about]
    assert told
    assert "wider" in told[0].advice


def test_every_printed_number_of_the_fits_can_be_asked():
    groove = "case.drawer 1.left side.bottom in left side.wide"
    work = after(DRAWER, put(groove, "6.35"))
    for one in work.judged:
        page = work.pages[f"gap of {one.fit.name}"]
        assert isinstance(page.node, Named)
        assert page.value == one.gap.value
        for remedy in remedies(work.made, one, work.judged, work.log.in_wood):
            assert not remedy.by or abs(remedy.by) == abs(work.pages[f"mend of {one.fit.name}"].value)
            assert not remedy.number or remedy.number in work.pages
    for channel in work.channels:
        for method in channel.methods:
            for setup in method.setups:
                assert setup.to is None or not setup.to.name or setup.to.name in work.pages
    assert mm(work, "case.drawer 1.bottom.length") > 0
