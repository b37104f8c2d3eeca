"""The packet as it leaves the press: its pages, what can be read in it, and that it comes out the same every time."""

import re
from functools import cache

import pytest

from storystick.ground.finding import Broken
from storystick.paper import PAPERS, Folder, Stopped, drawings, packet
from storystick.paper.drawing.picture import after_step, pulled_apart, whole_piece
from storystick.paper.pages import shelf
from tests.paper import by_hand
from tests.paper.readback import all_text, faults, opened, sizes


@cache
def made(paper: str) -> bytes:
    return packet(by_hand.folder(), paper=paper)


def test_the_same_folder_makes_the_same_bytes():
    assert packet(by_hand.folder(), paper="letter") == made("letter")


@pytest.mark.parametrize(("paper", "wide", "high"), [("letter", 612.0, 792.0), ("a4", 595.276, 841.89)])
def test_the_pages_have_the_size_that_was_asked_for(paper: str, wide: float, high: float):
    # ISO 216: A4 is 210 x 297 mm. ANSI Y14.1: A is 8.5 x 11 in.
    with opened(made(paper)) as book:
        assert {(round(float(p.width), 2), round(float(p.height), 2)) for p in book.pages} == {
            (round(wide, 2), round(high, 2))
        }


@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_nothing_is_printed_outside_the_margins_or_too_small_to_read(paper: str):
    with opened(made(paper)) as book:
        for page in book.pages:
            for char in page.chars:
                assert float(char["x0"]) > 40, char["text"]
                assert float(char["x1"]) < float(page.width) - 20, char["text"]
                assert 20 < float(char["top"]) < float(page.height) - 15
                if not char["matrix"][1]:  # of the others the reader gives no true size
                    assert float(char["size"]) >= 6.99, (page.page_number, char["text"], char["size"])


def test_body_text_is_large_enough_for_arms_length():
    with opened(made("letter")) as book:
        plain = [char["size"] for char in book.pages[1].chars if char["text"].isalpha()]
    assert sorted(plain)[len(plain) // 2] == pytest.approx(11.5, abs=0.01)


def test_the_key_sizes_can_be_read_in_the_packet():
    text = all_text(made("letter"))
    for size in ('23 5/8"', '30"', '14"', '23 1/16"', "29 9/32", '13 1/2"', '1/4"'):
        assert size in text, size


def test_text_that_looks_like_markup_is_printed_as_it_stands():
    text = re.sub(r"\s", "", all_text(made("letter")))
    assert text.count(re.sub(r"\s", "", by_hand.NASTY)) == 3


def test_every_page_of_the_shelf_is_in_the_packet_and_in_its_contents():
    with opened(made("letter")) as book:
        contents = book.pages[0].extract_text()
    for page in shelf().values():
        assert page.title in contents or page.name == "patterns"  # nothing in that piece is curved


def test_the_pages_come_in_the_order_of_the_job():
    assert list(shelf()) == [
        "cover", "cautions", "measure", "tools", "buying", "sheets", "settings", "joints", "apart", "views", "cards",
        "steps", "checks", "templates", "patterns", "stick", "labels",
    ]  # fmt: skip
    assert len({page.order for page in shelf().values()}) == len(shelf())


def test_pages_can_be_had_one_by_one():
    text = all_text(packet(by_hand.folder(), pages=["buying"]))
    assert "$99.92" in text
    assert "~ $1.92" in text
    assert "Steps" not in text
    with pytest.raises(KeyError):
        packet(by_hand.folder(), pages=["nonsense"])


def test_a_page_with_nothing_on_it_is_left_out():
    build = by_hand.build()
    bare = Folder(build, by_hand.folder().scene)
    text = all_text(packet(bare))
    assert "Part cards" in text
    assert not [title for title in ("Buying list", "Sheet maps", "Steps", "Tools") if title in text]


def test_stopping_stops_and_progress_is_told():
    told: list[str] = []
    with pytest.raises(Stopped):
        packet(by_hand.folder(), stop=lambda: len(told) > 2, tell=lambda what, share: told.append(what))
    assert told == ["cover", "Cautions", "Measure first"]


def test_a_missing_typeface_is_told_and_not_printed_as_nothing(tmp_path):
    with pytest.raises(Broken, match="typeface"):
        packet(by_hand.folder(str(tmp_path)))


def test_no_lettering_of_a_picture_lies_on_another():
    folder = by_hand.folder()
    pictures = [whole_piece(folder, 170, 110), pulled_apart(folder, "cabinet", 170, 120)]
    for step in folder.order.steps:
        if drawn := after_step(folder, step.shows, step.new, 80, 60, ""):
            pictures.append(drawn)
    assert len(pictures) == 7
    assert [faults(drawn) for drawn in pictures if faults(drawn)] == []


def test_the_drawings_can_be_had_by_name():
    found = drawings(by_hand.folder())
    assert {"piece", "apart cabinet", "card A face", "card A back", "sheet birch 3/4 1", "step 5"} <= set(found)
    assert all(svg.startswith("<svg ") and min(sizes(svg), default=7) >= 6.99 for svg in found.values())
    assert found == drawings(by_hand.folder())
