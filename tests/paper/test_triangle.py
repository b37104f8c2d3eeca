"""The cabinetmaker's triangle says which board is where."""

from shapely import LineString, box

from storystick.paper import Folder
from storystick.paper.drawing.triangle import Set, sets_of, triangle
from tests.paper.readback import faults
from tests.told import job

TEXT = """
title: Case
units: mm
stock: {ply: {sheet: birch plywood, thickness: 18}}
build:
  case:
    case: {wide: 600, deep: 300, high: 900, stock: ply, joint: dado,
      bays: [open, fixed shelf, open, fixed shelf, open]}
    sits: floor
"""


def test_boards_that_lie_alike_are_a_set_in_the_order_in_which_they_follow_one_another():
    made = job(TEXT)
    folder = Folder(made.build, made.scene)
    uprights, level = sets_of(folder, "case")
    letter = folder.letter_of
    assert uprights == Set(0, (letter["case.left side"], letter["case.right side"]))
    # from below: the bottom, the two shelves (which share a letter), the top
    assert level.letters[0] == letter["case.bottom"]
    assert level.letters[-1] == letter["case.top"]
    assert set(level.letters[1:-1]) == {letter["case.shelf 1"], letter["case.shelf 2"]}


def test_the_triangle_goes_across_every_board_and_over_no_letter():
    for one in (Set(0, ("A", "B")), Set(2, ("AB", "AC", "AD", "AE")), Set(1, ("R", "S")), Set(0, tuple("ABCDEF"))):
        drawn = triangle(one)
        assert faults(drawn) == []
        path = drawn.svg.rsplit('d="M', 1)[1].split('Z"')[0].split("L")
        spots = [(float(x), float(y)) for x, y in (spot.split() for spot in path)]
        line = LineString([*spots, spots[0]])
        for lettered in drawn.lettering:
            assert not line.intersects(box(lettered.left, lettered.top, lettered.right, lettered.bottom)), lettered.says
        boards = drawn.svg.count("<rect")
        assert boards == len(one.letters)
