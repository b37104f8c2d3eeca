"""Labels: what is written on each piece, where it lies on a bought sheet of labels, and a code to be read."""

import re
from dataclasses import replace
from typing import Any

import pytest
import segno

from storystick.paper import PAPERS, packet
from storystick.paper.drawing.label import Label, LabelSheet, label_page, to_cut_out
from storystick.paper.pages.labels import code_of, labels_of
from tests.paper import by_hand
from tests.paper.readback import faults, opened

SHEET = LabelSheet(3, 10, 66.7, 25.4, 4.8, 12.7, 69.9, 25.4)  # three by ten on letter paper
LONG = Label(
    "AB", "left side of the second drawer of the right-hand cabinet", '29 9/32" x 13 31/32" x 11/16"+',
    "birch plywood of a better kind", "joints 1, 2, 3, 14, 15, 16, 117, 118, 119", "http://192.168.100.100/" + 60 * "x",
)  # fmt: skip


def test_a_code_opens_the_part_on_the_page_where_that_is_known_and_says_what_it_is_where_not():
    folder = by_hand.folder()
    name = folder.build.parts[0].name
    assert code_of(folder, name) == f"Lathe cabinet 3 A {name}"
    known = replace(folder, page="http://192.168.1.20:4863/", plan_file="my lathe.yaml")
    assert code_of(known, name) == "http://192.168.1.20:4863/part?plan=my%20lathe.yaml&part=A"


def test_the_two_parts_of_a_joint_have_its_number_on_their_labels():
    folder = by_hand.folder()
    told = {label.name: label.joints for label in labels_of(folder)}
    for joint in folder.build.joints:
        number = str(folder.joint_numbers[joint.name])
        for name in (joint.host, joint.guest):
            words = told[folder.short(name)].removeprefix("joints ").removeprefix("joint ")
            assert number in words.split(", "), (name, number)


@pytest.mark.parametrize("sheet", [SHEET, to_cut_out(178.9, 227.4), LabelSheet(2, 5, 99, 55, 4, 10, 101, 55.5)])
def test_even_long_words_stay_on_their_label_and_off_each_other(sheet: LabelSheet):
    drawn = label_page([LONG] * sheet.columns * sheet.rows, sheet, 215.9, 300.0, lines=False)
    assert faults(drawn) == []
    boxes = list(sheet.boxes())
    for one in drawn.lettering:
        assert any(one.within(box) for box in boxes), one.says


def squares(page: Any) -> list[tuple[float, float, float, float]]:
    """Filled areas of a page: left, top, right, bottom [mm]."""
    found = [o for o in (*page.rects, *page.curves) if o.get("fill") and not o.get("stroke")]
    return [tuple(float(o[key]) * 25.4 / 72 for key in ("x0", "top", "x1", "bottom")) for o in found]  # type: ignore[misc]


def test_labels_lie_where_the_sheet_has_them_on_the_printed_page():
    folder = replace(by_hand.folder(), label_sheet=SHEET)
    with opened(packet(folder, pages=["labels"])) as book:
        (page,) = book.pages
        words = {
            word["text"]: word
            for word in page.extract_words()
            if len(word["text"]) == 1 and word["bottom"] - word["top"] > 15
        }
        for letter, column, row in (("A", 0, 0), ("B", 1, 0), ("C", 2, 0), ("D", 0, 1), ("F", 2, 1)):
            left, top = 4.8 + column * 69.9, 12.7 + row * 25.4
            assert left < float(words[letter]["x0"]) * 25.4 / 72 < left + 4
            assert top - 3 < float(words[letter]["top"]) * 25.4 / 72 < top + 12.7


def test_a_sheet_that_does_not_go_on_the_paper_is_known():
    assert SHEET.goes_on(PAPERS["letter"])
    assert not SHEET.goes_on(PAPERS["a4"])  # its right-hand labels end 211.3 mm from the left edge
    assert not replace(SHEET, across=60.0).goes_on(PAPERS["letter"])


def test_the_code_on_the_paper_is_the_code_of_the_standard():
    """Squares of the print laid over the modules of the code, row by row; quiet zone of four modules round it."""
    drawn = label_page(
        [Label("A", "side", "", "", code="storystick A side")], LabelSheet(1, 1, 60, 30, 0, 0, 60, 30), 60, 30, False
    )
    modules = [bytes(row) for row in segno.make("storystick A side", error="m", micro=False, boost_error=False).matrix]
    path = re.findall(r'd="([^"]*)" fill="#', drawn.svg)[0]
    boxes = [tuple(map(float, box)) for box in re.findall(r"M(\S+) (\S+)H(\S+)V(\S+)H\S+?Z", path)]
    left, top = min(x for x, _, _, _ in boxes), min(y for _, y, _, _ in boxes)
    side = min(low - y for _, y, _, low in boxes)
    seen = [[0] * len(modules) for _ in modules]
    for x, y, end, _ in boxes:
        for column in range(round((x - left) / side), round((end - left) / side)):
            seen[round((y - top) / side)][column] = 1
    assert [bytes(row) for row in seen] == modules
    assert 60 - 2.2 - 20 + 4 * side == pytest.approx(left, abs=0.01)
