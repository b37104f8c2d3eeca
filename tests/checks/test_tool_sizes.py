"""Holes and channels against the bits in the shop. The shop: twist bits 1 to 10 by 0.5, large bits 15 to 35 by 5."""

from fractions import Fraction

import pytest

from storystick.model.build import Build
from storystick.model.cut import Cut
from tests.checks.by_hand import Number, board, bore, channel, lengths, piece, told, troubles


def with_cut(cut: Cut) -> Build:
    return piece(board("case.side", (0, 0, 0), (600, 300, 18), cuts=[cut]))


@pytest.mark.parametrize("diameter", [5, "5.1", "4.9", 35, "35.05"])
def test_a_hole_of_a_bits_size_is_no_trouble(diameter: Number):
    assert told("tool-sizes", with_cut(bore("h", (100, 100), diameter, 12))) == []


@pytest.mark.parametrize("diameter", ["5.2", 12, 26, 40])
def test_a_hole_that_no_bit_fits_is_told_with_the_nearest(diameter: Number):
    (found,) = troubles("tool-sizes", with_cut(bore("h", (100, 100), diameter, 12)))
    _, nearest = lengths(found.advice)
    assert not troubles("tool-sizes", with_cut(bore("h", (100, 100), nearest, 12)))


def test_an_eighth_of_an_inch_is_not_3_mm():
    # 1/8 in is 3.175 mm, 0.175 from a 3 mm bit: exact conversion.
    (found,) = troubles("tool-sizes", with_cut(bore("h", (100, 100), Fraction("3.175"), 12)))
    assert found.number == Fraction("0.175")


def test_a_hole_deeper_than_the_bit_reaches():
    deep = piece(board("case.post", (0, 0, 0), (600, 90, 90), cuts=[bore("h", (100, 45), 8, 70)]))
    (found,) = troubles("tool-sizes", deep)
    assert (found.number, found.limit) == (70, 60)


def test_a_channel_narrower_than_any_cutter():
    narrow = with_cut(channel("kerf", (100, 0), (2, 300), 4, runs=1))
    (found,) = troubles("tool-sizes", narrow)
    assert found.number == 3
    assert not troubles("tool-sizes", narrow, router=True, bits=(_bit(lengths(found.advice)[0]),))
    assert not troubles("tool-sizes", with_cut(channel("kerf", (100, 0), (3, 300), 4, runs=1)))


def test_a_shop_without_cutters_is_told_so():
    assert troubles("tool-sizes", with_cut(channel("c", (100, 0), (18, 300), 6, runs=1)), router=False, saws=())


def _bit(size: Fraction) -> object:
    from storystick.shop.shop import RouterBit

    return RouterBit("straight", size)
