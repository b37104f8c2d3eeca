"""Dadoes, grooves and rabbets with the tools of one shop: which way, with which settings."""

from dataclasses import replace
from fractions import Fraction

import pytest

from storystick.ground.dim import Book, why
from storystick.ground.finding import Finding
from storystick.ground.length import show
from storystick.model.cut import Channel, Side
from storystick.model.joining import Fit
from storystick.model.work import MadeBy
from storystick.shop.shop import Bushing, DadoSet, Shop
from storystick.work.choosing import choose
from tests.work.by_hand import METRIC, TABLE_SAW, bit, board, channel, housed, inches, mm, piece, shop_with

SHEET = mm("17.6", name="thickness of ply")


def made(cut: Channel, shop: Shop, fit: Fit | None = None, book: Book | None = None, alike: int = 1) -> MadeBy:
    found = tried(cut, shop, fit, book, alike)[0]
    assert found is not None
    return found


def tried(
    cut: Channel, shop: Shop, fit: Fit | None = None, book: Book | None = None, alike: int = 1
) -> tuple[MadeBy | None, tuple[Finding, ...]]:
    side = board("case.side", (0, 0, 0), (18, 400, 700), "zyx", [cut])
    shelf = board("case.shelf", (12, 0, 300), (576, 400, "17.6"))
    build = piece(side, shelf)
    way, _, findings = choose(cut, side, build, shop, book if book is not None else Book(), fit=fit, alike=alike)
    return way, findings


def setting(way: MadeBy, name: str) -> Fraction:
    return next(one.to.value for one in way.setups if one.name == name and one.to is not None)


def test_a_bit_as_wide_as_the_sheet_cuts_it_in_one_pass():
    cut, fit = housed(SHEET)
    way = made(cut, shop_with(bit("17.8"), bit(12)), fit)
    assert "one pass" in way.method
    assert setting(way, "bit depth") == 6


def test_a_three_quarter_bit_is_loose_for_a_sheet_of_17_6_mm_and_a_smaller_bit_goes_twice():
    # 19.05 mm in a sheet of 17.6 leaves 1.45 mm; the fit wants 0.4 at most. With the 1/2 in bit the guide moves by
    # 17.6 + 0.15 - 12.7 = 5.05 mm between the passes.
    cut, fit = housed(SHEET)
    way = made(cut, shop_with(bit(inches("3/4")), bit(inches("1/2"))), fit)
    assert "two passes" in way.method
    assert setting(way, "second offset") == Fraction("5.05")
    assert any("3/4 in" in other and "1.45 mm" in other for other in way.others)


def test_the_guide_stands_off_by_half_of_what_the_bushing_is_larger_than_the_bit():
    # (17 - 12) / 2 = 2.5 mm
    cut, fit = housed(SHEET)
    way = made(cut, shop_with(bit(12), bushings=(Bushing(Fraction(30)), Bushing(Fraction(17)))), fit)
    assert setting(way, "guide offset") == Fraction("2.5")


def test_without_a_bushing_the_guide_stands_off_by_the_base_less_half_the_bit():
    # a base of 150 mm: 75 to the middle of the bit, less 6 mm for half of a 12 mm bit
    cut, fit = housed(SHEET)
    way = made(cut, shop_with(bit(12)), fit)
    assert setting(way, "guide offset") == 69


def test_a_setting_can_be_asked_why():
    cut, fit = housed(SHEET)
    book = Book()
    way = made(cut, shop_with(bit(12)), fit, book)
    to = next(one.to for one in way.setups if one.name == "second offset")
    told = why(to, lambda dim: show(dim.value, METRIC))
    assert "12 mm straight bit" in told[0].formula
    assert any(line.name == "thickness of ply" for line in told)


def test_five_passes_where_the_bit_is_a_fifth_of_the_width():
    cut, fit = housed(SHEET)
    assert "5 passes" in made(cut, shop_with(bit(4)), fit).method


def test_a_pattern_bit_runs_between_guides_set_with_an_offcut_of_the_shelf():
    # A 1/2 in bit cuts 25 mm long; 6 mm deep leaves 19 mm above the wood, so the guides have to be higher than that.
    cut, fit = housed(SHEET)
    way = made(cut, shop_with(bit("12.7", "pattern")), fit)
    assert "offcut of shelf" in way.method
    assert setting(way, "between guides") == Fraction("17.75")
    assert setting(way, "guides higher than") == 19


def test_nothing_to_take_an_offcut_of_means_no_guides_set_by_one():
    cut, _ = housed(SHEET)
    way, findings = tried(cut, shop_with(bit("12.7", "pattern")))
    assert way is None
    assert findings[0].code == "no-way"


def test_a_stack_of_blades_is_shimmed_to_the_width_and_set_from_the_reference_end():
    cut, fit = housed(SHEET)
    way = made(cut, shop_with(saws=(TABLE_SAW,), dado_set=DadoSet(Fraction(6), Fraction(20))), fit, alike=8)
    assert setting(way, "stack width") == Fraction("17.75")
    assert setting(way, "blade height") == 6
    assert setting(way, "fence") == 300


def test_the_ordinary_blade_cuts_both_walls_and_then_the_middle():
    # near wall with the fence at 300; far wall at 300 + 17.75 - 3 (kerf); ceil(17.75 / 3) = 6 passes
    cut, fit = housed(SHEET)
    way = made(cut, shop_with(saws=(TABLE_SAW,)), fit)
    assert "6 passes" in way.method
    fences = [one.to.value for one in way.setups if one.name == "fence" and one.to]
    assert fences == [300, Fraction("314.75")]


def test_a_stopped_channel_is_never_cut_on_the_table_saw():
    cut = channel("stopped", (300, 20), ("17.75", 380), 6)
    way, findings = tried(cut, shop_with(saws=(TABLE_SAW,), dado_set=DadoSet(Fraction(6), Fraction(20))))
    assert way is None
    assert "router" in findings[0].advice or "bit" in findings[0].advice
    assert "router" in made(cut, shop_with(bit(12), saws=(TABLE_SAW,))).method


def test_no_router_and_no_saw_say_what_to_get():
    cut, fit = housed(SHEET)
    way, findings = tried(cut, shop_with(router=False), fit)
    assert way is None
    (finding,) = findings
    assert finding.code == "no-way"
    assert "17.75 mm" in finding.advice
    assert "table saw" in finding.advice


def test_getting_what_the_finding_says_clears_it():
    cut, fit = housed(SHEET)
    shop = shop_with(router=False)
    assert tried(cut, shop, fit)[1]
    assert tried(cut, replace(shop, router=True, bits=(bit("17.75"),)), fit)[1] == ()


def test_only_a_bit_that_is_too_wide_makes_a_loose_channel_and_says_so():
    cut, fit = housed(SHEET)
    way, findings = tried(cut, shop_with(bit(19)), fit)
    assert way is not None
    assert findings[0].code == "loose-way"
    assert findings[0].number == pytest.approx(1.25)  # 19 - 17.75


def test_a_bit_that_fits_only_if_the_sheet_is_exactly_so_thick_does_not_count_as_fitting():
    # An 18 mm bit leaves 0.35 mm on a sheet of 17.65; the fit ends at 0.4. If the sheet may be 0.1 off, that is no fit.
    exact, sure = housed(mm("17.65"))
    doubtful, unsure = housed(mm("17.65", sd=0.1))
    shop = shop_with(bit(18), bit(12))
    assert "one pass" in made(exact, shop, sure).method
    assert "two passes" in made(doubtful, shop, unsure).method


def test_a_bit_that_does_not_reach_so_deep_is_left_in_the_drawer():
    cut = channel("deep", (300, 0), (12, 400), 15)
    way, _ = tried(cut, shop_with(bit(12, cuts=10)))
    assert way is None


def test_deep_channels_take_more_passes_and_more_time():
    shallow, deep = channel("a", (300, 0), (12, 400), 6), channel("a", (300, 0), (12, 400), 12)
    side = board("case.side", (0, 0, 0), (18, 400, 700), "zyx")
    offers = [choose(cut, side, piece(side), shop_with(bit(12)), Book())[1] for cut in (shallow, deep)]
    assert offers[0].minutes[1] * 2 == offers[1].minutes[1]


def test_a_step_along_the_edge_with_a_bit_whose_bearing_runs_on_it():
    step = channel("step", (0, 391), (700, 9), 8, runs=0)
    way = made(step, shop_with(bit(9, "rabbet")))
    assert "bearing" in way.method
    assert setting(way, "bit depth") == 8


def test_a_step_in_two_cuts_on_the_table_saw():
    # flat: blade 8 high, 9 to the far side of the blade; standing: blade 9 high, 18 - 8 = 10 left
    step = channel("step", (0, 391), (700, 9), 8, runs=0)
    way = made(step, shop_with(saws=(TABLE_SAW,)))
    assert setting(way, "blade height") == 8
    assert setting(way, "fence") == 9
    assert setting(way, "second fence") == 10


def test_a_groove_near_the_edge_is_cut_with_the_edge_guide():
    groove = channel("groove", (0, 10), (700, 6), 6, runs=0)
    way = made(groove, shop_with(bit(6), bushings=()))
    assert "router" in way.method


def test_a_groove_in_an_edge_is_cut_standing_or_with_the_edge_guide():
    groove = channel("groove", (0, 6), (700, 6), 10, Side.EDGE, runs=0)
    assert "edge guide" in made(groove, shop_with(bit(6))).method
    assert "table saw" in made(groove, shop_with(saws=(TABLE_SAW,))).method


def test_many_like_cuts_pay_for_a_long_set_up():
    # Two passes take 8 minutes and 5 each; the stack 18 and 1.5 each: 13 to 19.5 for one, 48 to 30 for eight.
    cut, _ = housed(SHEET)
    side = board("case.side", (0, 0, 0), (18, 400, 700), "zyx", [cut])
    shop = shop_with(bit(12), saws=(TABLE_SAW,), dado_set=DadoSet(Fraction(6), Fraction(20)))
    one = choose(cut, side, piece(side), shop, Book(), alike=1)[0]
    many = choose(cut, side, piece(side), shop, Book(), alike=8)[0]
    assert one is not None
    assert many is not None
    assert "router" in one.method
    assert "stack" in many.method


def test_a_dado_that_runs_out_into_a_rabbet_is_as_good_as_one_that_runs_right_through():
    rabbet = channel("rabbet", (0, 391), (700, 9), 8, runs=0)
    dado = channel("dado", (300, 0), ("17.75", 391), 6)
    side = board("case.side", (0, 0, 0), (18, 400, 700), "zyx", [dado, rabbet])
    shop = shop_with(saws=(TABLE_SAW,))
    assert choose(dado, side, piece(side), shop, Book())[0] is not None
    shallow = replace(side, cuts=(dado, channel("rabbet", (0, 391), (700, 9), 5, runs=0)))
    assert choose(dado, shallow, piece(shallow), shop, Book())[0] is None


def test_a_step_in_a_tall_panel_is_cut_lying_flat():
    # 700 mm on end is too tall to stand at the fence: ceil(9 / 3) = 3 passes lying flat instead
    step = channel("step", (0, 0), (9, 400), 8)
    assert "3 passes lying flat" in made(step, shop_with(saws=(TABLE_SAW,))).method


def test_without_router_and_saws_a_trough_is_cut_with_tenon_saw_and_chisels():
    cut, fit = housed(mm(18))
    side = board("case.side", (0, 0, 0), (18, 400, 700), "zyx", [cut])
    build = piece(side, board("case.shelf", (12, 0, 300), (576, 400, 18)))
    bare = shop_with(router=False, others=("chisels",))
    assert choose(cut, side, build, bare, Book(), fit=fit)[0] is None
    made, offer, told = choose(cut, side, build, replace(bare, others=("chisels", "tenon saw")), Book(), fit=fit)
    assert made is not None
    assert offer is not None
    assert made.method.startswith("by hand")
    assert not told
    # 400 mm long, twelve minutes for each 300 mm.
    assert offer.minutes[1] == 16


def test_with_a_router_nobody_chops_a_trough_out():
    cut, fit = housed(mm(18))
    side = board("case.side", (0, 0, 0), (18, 400, 700), "zyx", [cut])
    build = piece(side, board("case.shelf", (12, 0, 300), (576, 400, 18)))
    made, _, _ = choose(cut, side, build, shop_with(bit(12), others=("chisels", "tenon saw")), Book(), fit=fit)
    assert made is not None
    assert made.method.startswith("router")
