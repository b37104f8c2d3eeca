"""The packet of a trolley in millimetres, read as by somebody who has nothing but the paper."""

import re
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from storystick.app.pipeline import Job, Texts
from storystick.ground.length import Manner, inch
from storystick.model.cut import Notch, Side
from storystick.paper import PAPERS, Folder, packet
from storystick.paper.blocks import Figure, Table, rich
from storystick.paper.card import APART, shared_out
from storystick.paper.drawing.families import families, radii_of
from storystick.paper.drawing.pattern import pattern_tiles, windows
from storystick.paper.lettering import word_widths
from storystick.paper.pages import shelf
from storystick.paper.pages.cards import cut_table
from storystick.paper.pages.steps import step_block
from storystick.shapes.outline import sides
from storystick.shapes.rounding import rounded
from tests.paper.test_page_breaks import Line, pages_of
from tests.paper.test_samples import folder_of

MM = Manner("mm")


@cache
def trolley() -> Folder:
    path = Path(__file__).parent / "plans" / "trolley.yaml"
    return Job(Texts(path.read_text("utf-8"), path.name)).folder


@cache
def pages() -> list[list[Line]]:
    return pages_of(packet(trolley(), paper="a4"))


def rows_of(letter: str) -> list[list[str]]:
    """The table of a part's cuts, as it is printed."""
    part = trolley().letters[letter][0]
    return [[cell for cell in row if isinstance(cell, str)] for row in cut_table(families(part, MM), MM).rows]


def bracket() -> str:
    return next(letter for letter, parts in trolley().letters.items() if parts[0].assembly == "bracket")


def test_a_rounded_corner_is_told_as_far_as_there_is_wood():
    rows = {row[1]: row for row in rows_of(bracket())}
    assert rows["round corner"][2:5] == ["240 to 300", "0 to 60", "corners rounded 60 mm; see its pattern"]
    assert rows["sloped corner"][2:5] == ["0 to 40", "0 to 40", "see its pattern"]


def test_a_step_tells_a_rounded_corner_as_the_card_does():
    does = " ".join(text for step in trolley().order.steps for text in step.does)
    assert "round corner, 60 mm x 60 mm, 240 mm to 300 mm from the reference end, 0 mm to 60 mm from" in does
    assert "square the inner corners" not in does  # a corner sawn off has none


def test_no_place_on_a_card_is_off_its_part():
    for letter, parts in trolley().letters.items():
        if not parts[0].cuts:
            continue
        longest = float(parts[0].length)
        for row in rows_of(letter):
            for word in re.findall(r"-?\d+(?:\.\d+)?", " ".join(row[2:4])):
                assert 0 <= float(word) <= longest, (letter, row)


def test_every_sentence_of_a_step_ends_once():
    for step in trolley().order.steps:
        block = step_block(trolley(), step)
        for text in (*block.does, block.check, block.caution):
            assert ".." not in text, text
            assert not re.search(r"As before: [A-Z]", text), text


def test_a_sum_of_money_and_its_currency_stand_on_one_line():
    says = [line.says for lines in pages() for line in lines]
    assert not [text for text in says if text.strip() in ("EUR", "EUREUR", "EUR EUR")]
    assert any("16.00 EUR" in text and "32.00 EUR" in text for text in says)


def test_a_number_and_its_unit_are_not_broken_between_lines():
    assert rich("stop at 10.3 mm, or 7 mm: 3 parts") == ["stop at ", ["10.3 mm,"], " or ", ["7 mm:"], " 3 parts"]
    assert rich("size 12 mmx") == ["size 12 mmx"]
    assert len(word_widths("3.5 mm pan head", 10.5)) == 3


def test_what_was_never_measured_is_to_be_measured_and_no_more_is_said_of_it():
    (table,) = (block for block in shelf()["measure"].make(trolley(), PAPERS["a4"]) if isinstance(block, Table))
    words = {row[0][0].text: row[0][1] for row in table.rows}  # type: ignore[index, union-attr]
    assert words["thickness of ply6"] == "not measured yet: calliper it at six places"
    assert words["thickness of ply15"] == "the stock as it really is"


def test_room_to_write_a_size_stands_on_its_line_beside_a_letter_of_two():
    lines = [line for lines in pages() for line in lines if line.says.replace(" ", "").startswith("560mm")]
    cards = [line for line in lines if line.size == 15.5]
    assert cards
    for card in cards:
        page = next(lines for lines in pages() if card in lines)
        assert any("cut at" in line.says and abs(line.foot - card.foot) < 1.5 for line in page)


def test_a_pattern_says_which_edges_of_the_board_are_on_it():
    part = trolley().letters[bracket()][0]
    found = [drawn for one in windows(part, Side.FACE) for drawn in pattern_tiles(one, "AB", MM, 170.0, 200.0)]
    said = [" ".join(box.says for box in drawn.lettering) for drawn in found]
    assert len(said) == 2
    assert all("reference edge below" in text for text in said)
    assert "reference end at the right" in said[0]
    assert "far end at the left" in said[1]


def test_a_screw_is_called_as_it_is_sold():
    says = [line.says for lines in pages() for line in lines]
    assert sum("M4 pull screws" in text for text in says) == 2  # to be bought, and to be driven
    assert not any("m4 pull" in text for text in says)


def test_a_corner_that_has_no_room_for_its_radius_is_told_with_the_one_that_it_has():
    folder = folder_of("lathe-cabinet")
    notches = [cut for part in folder.build.parts for cut in part.cuts if isinstance(cut, Notch)]
    assert {inch("7/8"), inch("13/16")} <= {radius for cut in notches for radius in radii_of(cut)}
    for cut in notches:
        drawn = rounded(
            [(float(c.u), float(c.v)) for c in cut.corners], [float(c.radius) if c.radius else 0.0 for c in cut.corners]
        )
        made = sorted(arc.radius for _, _, arc in sides(drawn) if arc)
        assert made == pytest.approx(sorted(float(radius) for radius in radii_of(cut)), abs=1e-3)


def test_no_drilling_strip_is_called_as_a_part_is():
    folder = folder_of("lathe-cabinet")
    (table,) = (one for one in shelf()["templates"].make(folder, PAPERS["letter"]) if isinstance(one, Table))
    assert [row[0] for row in table.rows] == [f"strip {number}" for number in range(1, len(table.rows) + 1)]


def test_what_stands_around_the_piece_is_said_with_its_article():
    found = pages_of(packet(folder_of("lathe-cabinet"), pages=["checks"]))
    says = " ".join(line.says for lines in found for line in lines)
    assert re.search(r"the right leg is in the way from the\s*right; the left leg is in the way", says)
    assert "of the pedal" in says


def test_cards_are_shared_out_so_that_no_page_is_nearly_empty():
    assert shared_out([100.0, 110.0, 40.0], 250.0, 0.0) == [1, 2]
    assert shared_out([100.0, 110.0, 100.0], 250.0, 0.0) == [2, 1]  # it is full enough
    assert shared_out([200.0, 40.0, 210.0], 250.0, 0.0) == [2, 1]
    assert shared_out([30.0, 200.0, 40.0], 250.0, 0.0) == [2, 1]  # else the first would be nearly empty
    assert shared_out([100.0, 100.0], 250.0, 60.0) == [1, 1]
    assert sum(shared_out([60.0] * 7, 60.0 * 3 + 2 * APART, 0.0)) == 7


def test_about_as_many_labels_are_on_every_page():
    drawn = [one.drawn for one in shelf()["labels"].make(trolley(), PAPERS["a4"]) if isinstance(one, Figure)]
    assert len(drawn) == 2
    assert 0.0 <= drawn[0].high - drawn[1].high < 31.0  # a row at most


def test_the_sizes_of_a_part_stand_on_one_line_even_where_what_it_is_of_needs_two():
    found = pages_of(packet(folder_of("alcove-bookcase"), paper="a4", pages=["cards"]))
    heads = [line for lines in found for line in lines if line.size == 17.0]
    assert any("1820 mm" in line.says and "325.5 mm" in line.says and "17.8 mm" in line.says for line in heads)


def test_room_to_write_a_reading_stands_behind_what_is_asked():
    (first, *_) = pages_of(packet(folder_of("alcove-bookcase"), paper="a4", pages=["steps"]))
    feet = sorted({line.foot for line in first if "planned" in line.says})
    apart = [low - high for high, low in pairwise(feet)]
    assert len(apart) >= 3
    assert max(apart) - min(apart) < 0.5  # what is written on has not slipped below its words


def test_every_row_of_a_cut_that_has_several_bears_its_number():
    rows = rows_of("A")
    assert all(row[0] for row in rows)
    assert len(rows) > len({row[0] for row in rows})  # one has several rows
    named = [row[0] for row in rows if row[1]]
    assert sorted(named) == sorted(set(named))  # and its name stands in the first of them


def test_a_board_glued_up_is_called_by_its_name_below_its_map():
    (said,) = {line.says for lines in pages() for line in lines if "are glued up for" in line.says}
    assert "bracket.board" not in " ".join(line.says for lines in pages() for line in lines)
    assert "glued up for the bracket" in said
