"""A sheet map shows each piece where it lies, each cut with its number, and says what each cut frees."""

from storystick.ground.length import Manner, inch
from storystick.paper.blocks import Boxes, Large
from storystick.paper.drawing.sheet import draw_sheet
from storystick.paper.pages.settings import sawn_row
from storystick.paper.pages.sheets import cut_row, sheet_map
from storystick.paper.press import PAPERS
from tests.paper import by_hand
from tests.paper.readback import faults, numbers

INCHES = Manner("inch", 32)


def test_no_lettering_of_a_sheet_map_lies_on_another():
    folder = by_hand.folder()
    for paper in PAPERS.values():
        for cutting in folder.cuttings:
            for number, tree in enumerate(cutting.layout.trees, 1):
                assert faults(sheet_map(folder, cutting, number, tree, paper)) == []


def test_every_piece_has_its_letter_and_every_cut_its_number_on_the_map():
    folder = by_hand.folder()
    (tree,) = folder.cuttings[0].layout.trees
    written = [box.says for box in sheet_map(folder, folder.cuttings[0], 1, tree, PAPERS["letter"]).lettering]
    assert {"A", "B", "C", "D", "E", "keep"} <= set(written)
    assert {str(cut.number) for cut in tree.cuts} <= set(written)


def test_the_sizes_on_a_map_are_those_of_the_pieces():
    folder = by_hand.folder()
    (tree,) = folder.cuttings[0].layout.trees
    own = {piece.long for piece in tree.pieces} | {piece.wide for piece in tree.pieces}
    shown = [value for value, _, _ in numbers(draw_sheet(tree, folder.letter_of, INCHES, 178, 110, "").svg)]
    assert inch("23 1/16") in shown
    assert set(shown) <= own


def test_a_cut_says_how_the_fence_stands_and_what_it_frees():
    folder = by_hand.folder()
    (tree,) = folder.cuttings[0].layout.trees
    rows = [cut_row(cut, tree, folder.letter_of, INCHES) for cut in tree.cuts]
    assert rows[0][2:] == ("rip, just clean", "the near edge")
    assert rows[1][2:] == (Large('14"', "rip", beside=True), "strip for A, B; strip for C, D, E")
    assert rows[2][2:] == (Large('13 1/2"', "rip", beside=True), "strip for C, D, E; keep")
    assert rows[9][2:] == (Large('22 1/2"', "crosscut", beside=True), "E")


def test_one_setting_has_a_box_for_each_piece_that_is_cut_at_it():
    folder = by_hand.folder()
    rows = [sawn_row(folder, folder.cuttings[0], setting) for setting in folder.cuttings[0].layout.settings]
    assert rows[2][:3] == ("crosscut", Large('30"'), Boxes(("5: A", "6: B")))
