"""Every drawing of every page: nothing written lies on anything, no line runs through it, nothing is cut off.

In inches and millimetres, first and third angle, on both papers; plans by chance and the samples. Every number that a
drawing says the length of is that length.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from storystick.ground.length import Manner
from storystick.model.work import Stage
from storystick.paper import PAPERS, Folder
from storystick.paper.drawing.drawn import Drawn
from storystick.paper.lettering import said
from storystick.paper.pages import shelf
from storystick.paper.pages.sheets import sheet_map
from tests.paper.readback import cut_off, drawings_in, faults, numbers, struck
from tests.paper.test_any_plan import SEEDS
from tests.paper.test_any_plan import folder_of as by_chance
from tests.paper.test_samples import each_sample
from tests.paper.test_samples import folder_of as sample

WAYS = (("letter", "american"), ("a4", "british"), ("letter", "british"), ("a4", "american"))
"""Paper, and whose habits: american third angle, british first."""


def drawings_of(folder: Folder, paper: str) -> Iterator[tuple[str, Drawn]]:
    """Every drawing on every page, by the page's name and what it shows."""
    for page in shelf().values():
        for drawn in drawings_in(list(page.make(folder, PAPERS[paper]))):
            yield f"{page.name}: {drawn.alt}", drawn


@cache
def by_chance_drawn(number: int) -> tuple[Manner, list[tuple[str, Drawn]]]:
    """The drawings of one of the plans by chance, each plan in another of the ways."""
    paper, words = WAYS[number % len(WAYS)]
    folder = replace(by_chance(SEEDS[number]), words=words)
    return folder.build.manner, list(drawings_of(folder, paper))


@cache
def sample_drawn(name: str, way: int) -> tuple[Manner, list[tuple[str, Drawn]]]:
    paper, words = WAYS[way]
    folder = replace(sample(name), words=words)
    return folder.build.manner, list(drawings_of(folder, paper))


def wrong(drawn: Drawn) -> list[str]:
    """All that is wrong with what is written and drawn."""
    return faults(drawn) + [f"a line through {says!r}" for says in struck(drawn)] + cut_off(drawn)


each_plan = pytest.mark.parametrize("number", range(len(SEEDS)))
each_way = pytest.mark.parametrize("way", [0, 1])


def test_plans_by_chance_are_in_both_units_on_both_papers_in_both_angles():
    seen = {(by_chance(SEEDS[n]).build.manner.unit, *WAYS[n % len(WAYS)]) for n in range(len(SEEDS))}
    assert {unit for unit, _, _ in seen} == {"inch", "mm"}
    assert {(paper, words) for _, paper, words in seen} == set(WAYS)


@each_plan
def test_no_drawing_of_a_plan_by_chance_has_a_fault(number: int):
    assert [(name, found) for name, drawn in by_chance_drawn(number)[1] if (found := wrong(drawn))] == []


@each_sample
@each_way
def test_no_drawing_of_a_sample_has_a_fault(name: str, way: int):
    assert [(what, found) for what, drawn in sample_drawn(name, way)[1] if (found := wrong(drawn))] == []


def told_wrongly(manner: Manner, drawings: Sequence[tuple[str, Drawn]]) -> list[str]:
    """Numbers that are printed as another length than they say they are."""

    def is_told(printed: str, value: Fraction) -> bool:
        words = (re.escape(said(value, manner, bare)) for bare in (True, False))
        return any(re.search(rf"(?<![\d/.]){word}(?![\d/.])", printed) for word in words)

    return [
        f"{name}: {printed} for {float(value):.3f} mm"
        for name, drawn in drawings
        for value, _, printed in numbers(drawn.svg)
        if not is_told(printed, value)
    ]


@each_plan
def test_every_number_on_any_page_is_the_length_it_stands_for(number: int):
    assert told_wrongly(*by_chance_drawn(number)) == []


@each_sample
@each_way
def test_every_number_on_any_page_of_a_sample_is_the_length_it_stands_for(name: str, way: int):
    assert told_wrongly(*sample_drawn(name, way)) == []


@each_sample
@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_every_blank_has_its_letter_on_its_sheets_map(name: str, paper: str):
    folder = sample(name)
    for cutting in folder.cuttings:
        for number, tree in enumerate(cutting.layout.trees, 1):
            drawn = sheet_map(folder, cutting, number, tree, PAPERS[paper])
            written = [box.says for box in drawn.lettering]
            for letter in {folder.letter_of[piece.blank] for piece in tree.blanks}:
                count = sum(folder.letter_of[piece.blank] == letter for piece in tree.blanks)
                assert written.count(letter) >= count, (cutting.stock.name, number, letter)


@each_sample
def test_no_drawer_is_shown_in_its_case_before_it_is_put_in(name: str):
    folder = sample(name)
    build = folder.build
    running = {one.assembly: build.assembly(one.assembly).inside_of for one in build.sliders}
    put_in = next((step.number for step in folder.order.steps if step.title == "Put the drawers in"), 0)
    for step in folder.order.steps[: max(0, put_in - 1)]:
        if step.stage is Stage.HARDWARE:
            shown = {build.part(name).assembly for name in step.shows if name in build.parts_by_name}
            assert not any(drawer in shown and case in shown for drawer, case in running.items()), step.title
