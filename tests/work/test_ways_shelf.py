"""What every way on the shelf promises."""

from dataclasses import replace
from fractions import Fraction

import pytest

from storystick.ground.dim import Book
from storystick.ground.length import Unit
from storystick.model.cut import Cut, Side
from storystick.model.joining import Fit
from storystick.shop.read import default_shop
from storystick.shop.shop import DadoSet, Saw, Shop
from storystick.work.saying import all_called, plural, spoken, tool_size
from storystick.work.ways import Ask, Way, shelf
from tests.work.by_hand import bevel, board, bore, channel, inches, mm, notch, piece

JIGSAW = Saw("jigsaw", "jigsaw", Fraction(1), Fraction(50))

CUTS: tuple[Cut, ...] = (
    channel("across", (300, 0), (18, 400), 6),
    channel("along", (0, 391), (700, 9), 8, runs=0),
    channel("in the edge", (0, 6), (700, 6), 8, Side.EDGE, runs=0),
    bore("hole", (100, 37), 5, 10),
    bore("slant", (100, 10), 9, 30, lean=75.0, toward=(1, 0)),
    notch("corner", (0, 0), (60, 40)),
    notch("scoop", (300, 360), (400, 400), radius=20),
    bevel("end", 45),
    *(bore(f"pin {n}", (100 + 32 * n, 200), 5, 10) for n in range(5)),
)
FIT = Fit("width", mm("0.2"), mm(0), mm("0.4"), "by hand", "case.shelf", "case.side", "across")


@pytest.mark.parametrize("way", shelf(), ids=lambda way: way.name)
def test_a_way_offers_a_method_a_reason_a_time_and_settings_for_what_it_can_do(way: Way):
    offered = 0
    for habit in ("inch", "mm"):
        for cut in CUTS:
            part = board("case.side", (0, 0, 0), (18, 400, 700), "zyx", CUTS)
            build = piece(part, board("case.shelf", (12, 0, 300), (576, 400, 18)))
            ask = Ask(cut, part, build, well_kept(habit), FIT if cut.name == FIT.cut else None)
            assert isinstance(way.lacks(ask), str)
            for offer in way.offers(ask):
                offered += 1
                setups = offer.settle(Book())
                assert offer.method
                assert offer.why
                assert offer.minutes[1] > 0
                assert setups
                assert all(one.says and one.machine and one.tool for one in setups)
    assert way.says
    assert offered


def well_kept(habit: Unit) -> Shop:
    """The usual shop with a jigsaw and a stack of blades."""
    usual = default_shop(habit)
    more = (*usual.others, "tenon saw")
    return replace(usual, saws=(*usual.saws, JIGSAW), dado_set=DadoSet(Fraction(6), Fraction(20)), others=more)


def test_ways_have_names_of_their_own():
    assert len({way.name for way in shelf()}) == len(shelf()) >= 12


@pytest.mark.parametrize("cut", CUTS, ids=lambda cut: cut.name)
def test_some_way_always_says_what_to_get(cut: Cut):
    part = board("case.side", (0, 0, 0), (18, 400, 700), "zyx", CUTS)
    ask = Ask(cut, part, piece(part), default_shop("mm"))
    assert any(way.lacks(ask) for way in shelf())


def test_settling_twice_names_one_setting():
    part = board("case.side", (0, 0, 0), (18, 400, 700), "zyx", CUTS)
    ask = Ask(CUTS[0], part, piece(part), default_shop("mm"))
    book = Book()
    for way in shelf():
        for offer in way.offers(ask):
            first, again = offer.settle(book), offer.settle(book)
            assert [one.key for one in first] == [one.key for one in again]


def test_bits_are_called_by_the_size_they_are_sold_in():
    assert tool_size(inches("3/4")) == "3/4 in"
    assert tool_size(Fraction(18)) == "18 mm"
    assert tool_size(Fraction("17.75")) == "17.75 mm"


@pytest.mark.parametrize(
    ("one", "several"),
    [
        ("notch", "notches"),
        ("hole for a pull", "holes for the pulls"),
        ("shelf", "shelves"),
        ("bevel", "bevels"),
        ("1 in x 1/8 in disc magnet", "1 in x 1/8 in disc magnets"),
    ],
)
def test_more_than_one(one: str, several: str):
    assert plural(one) == several


def test_assemblies_are_spoken_of_as_people_do():
    assert spoken("cabinet") == "the cabinet"
    assert spoken("cabinet.drawer 1") == "drawer 1 of the cabinet"


def test_many_parts_are_told_by_their_letters():
    parts = [
        board(f"case.board {n}", (0, 0, 0), (18, 400, 700), "zyx", letter="ABCDEFG"[n], role="board") for n in range(7)
    ]
    assert all_called(parts[:2], piece(*parts)) == "A board 0 and B board 1"
    assert all_called(parts, piece(*parts)) == "A, B, C, D, E, F and G (7 boards)"
