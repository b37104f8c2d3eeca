"""What is kept together unmeasured, since it is taken for short, is shorter than a page: the press measures it."""

import json
from importlib.resources import files
from typing import Any

import pytest
import typst
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.app.pipeline import Job, Texts
from storystick.paper import packet
from storystick.paper.blocks import Block, Column, Figure, Points, Row, Table, Text, Whole, as_data
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.forms import CardHead, StepBlock
from storystick.paper.glyphs import font_folder
from storystick.paper.height import SHORT, high_of
from storystick.paper.press import PAPERS, Forme
from tests.told import SAMPLES

MEASURE = """
#context [#metadata(packet.probe.map(b => measure(block(width: (packet.wide - packet.left - packet.right) * 1mm,
  if b.is == "step" { step-body(b) } else { for inner in b.blocks { show-block(inner) } })).height / 1mm)) <high>]
"""
PAGE = 279.4 - 34.0 - 28.0  # of the lowest paper, from head to foot, less a section's heading [mm]


def measured(blocks: list[Any], paper: str = "letter") -> list[float]:
    """How high the press sets each block [mm]."""
    template = files("storystick.paper").joinpath("template.typ").read_text("utf-8")
    head = template[: template.index("#let runs = {")]
    size = PAPERS[paper]
    data = {"title": ["t"], "foot": ["f"], "wide": size.wide, "high": size.high, "left": size.left}
    data |= {"right": size.right, "sections": [], "probe": blocks}
    found = typst.query(
        (head + MEASURE).encode(), "<high>", field="value", one=True, ignore_system_fonts=True,
        font_paths=typst.Fonts(include_system_fonts=False, font_paths=[font_folder()]),
        sys_inputs={"packet": json.dumps(data)},
    )  # fmt: skip
    return [float(one) for one in json.loads(found)]


def kept_together(blocks: list[Any]) -> list[Any]:
    inside = [one for block in blocks if block["is"] in ("whole", "row") for one in kept_together(block["blocks"])]
    return [block for block in blocks if block["is"] in ("whole", "step")] + inside


@pytest.mark.parametrize("sample", ["alcove-bookcase", "drawer-tower", "lathe-cabinet"])
def test_what_is_taken_for_short_in_a_packet_goes_on_a_page(sample: str) -> None:
    path = SAMPLES / f"{sample}.yaml"
    told: list[Forme] = []
    packet(Job(Texts(path.read_text("utf-8"), path.name)).folder, printed=lambda forme: told.append(forme) or b"")
    sections = json.loads(told[0].packet)["sections"]
    blocks = [one for section in sections for one in kept_together(section["blocks"])]
    high = measured(blocks)
    assert all(true <= PAGE for block, true in zip(blocks, high, strict=True) if block["short"])
    assert all(true <= high_of(block) for block, true in zip(blocks, high, strict=True))
    most = sum(block["short"] for block in blocks)
    assert most >= 0.7 * len(blocks)  # else nothing is gained by asking


words = st.lists(st.text("abcdefghiMW", min_size=1, max_size=14), max_size=60).map(" ".join)


def many(of: st.SearchStrategy[Any], most: int, least: int = 0) -> st.SearchStrategy[tuple[Any, ...]]:
    return st.lists(of, min_size=least, max_size=most).map(tuple)


setting = st.tuples(words, st.text("0123456789/ ", max_size=9), words, st.text("0123456789.", max_size=8))
steps = st.builds(
    StepBlock, st.integers(1, 99), words, many(words, 6), many(setting, 4), st.none(), words, words, words,
    many(words, 4), st.just("5 min"),
)  # fmt: skip


@st.composite
def tables(draw: st.DrawFn) -> Table:
    shares = draw(st.lists(st.floats(10, 60), min_size=1, max_size=6))
    rows = draw(st.lists(st.tuples(*(words for _ in shares)), max_size=8))
    return Table(tuple(Column("head", share) for share in shares), tuple(rows), dense=draw(st.booleans()))


heads = st.builds(
    CardHead, st.just("AB"), words, st.integers(1, 9), st.just((("12 1/2\"", "long"),) * 3),
    many(words, 4), words,
)  # fmt: skip
plain: st.SearchStrategy[Block] = st.one_of(tables(), heads, st.builds(Text, words), st.builds(Points, many(words, 4)))
wholes = st.lists(st.one_of(plain, many(plain, 2, 1).map(Row)), max_size=4)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.one_of(steps, wholes.map(tuple).map(Whole)), min_size=4, max_size=8))
def test_no_words_however_long_make_what_is_taken_for_short_longer_than_a_page(blocks: list[Block]) -> None:
    data: list[Any] = as_data(blocks)
    for block, true in zip(data, measured(data, "a4"), strict=True):
        assert not block["short"] or true <= PAGE


def test_a_drawing_that_fills_the_page_is_not_short() -> None:
    tall = Drawn("<svg/>", "alt", 1.0, 100.0, SHORT)
    low = Drawn("<svg/>", "alt", 1.0, 100.0, SHORT / 2)
    data: list[Any] = as_data((Whole((Figure(tall),)), Whole((Figure(low),))))
    assert [one["short"] for one in data] == [False, True]
