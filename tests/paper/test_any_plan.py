"""Cards and views of plans that nobody drew up by hand: every number is one of the model's, where it says it is."""

import re
from fractions import Fraction
from functools import cache
from xml.etree import ElementTree

import pytest

from storystick.ground.dim import Dim
from storystick.ground.finding import Grade
from storystick.model.cut import Notch
from storystick.model.part import Part
from storystick.paper import PAPERS, Folder
from storystick.paper.drawing.views import distances, three_views
from storystick.paper.pages.cards import card
from storystick.paper.press import Paper
from tests.paper.any_plan import plan
from tests.paper.readback import SVG, numbers
from tests.told import job

SEEDS = (4, 5, 7, 17, 18, 24, 48, 51, 57, 87)  # of those that build; each has shown a fault once, or a kind of its own

each_plan = pytest.mark.parametrize("seed", SEEDS)


@cache
def folder_of(seed: int) -> Folder:
    """A plan's folder without sheets and steps."""
    made = job(plan(seed))
    assert not [f for f in made.resolved.findings if f.grade is Grade.STOP]
    return Folder(made.build, made.scene)


def paper_of(folder: Folder) -> Paper:
    return PAPERS["letter" if folder.build.manner.unit == "inch" else "a4"]


def lengths(part: Part) -> set[Fraction]:
    """Every distance and size that the model gives a part."""
    found: list[Dim] = list(part.size)
    for cut in part.cuts:
        if isinstance(cut, Notch):
            found += [length for corner in cut.corners for length in (corner.u, corner.v)]
        else:
            found += [*getattr(cut, "at", ()), *getattr(cut, "size", ())]
    return {dim.value for dim in found}


@each_plan
def test_every_number_on_a_card_is_a_length_of_its_part_and_its_tick_is_drawn_there(seed: int):
    folder = folder_of(seed)
    for letter, parts in folder.letters.items():
        for side, drawn in card(folder, letter, paper_of(folder)).drawings:
            known = lengths(parts[0])
            ticks = level_ticks(drawn.svg)
            whole = parts[0].size[side.axes[0]].value
            for value, along, _ in numbers(drawn.svg):
                assert value in known, (letter, side.value, float(value))
                if along == "level" and value != whole and ticks:
                    datum, others = ticks
                    off = min(abs(abs(at - datum) - float(value) / drawn.scale) for at in others)
                    assert off < 0.01, (letter, side.value, float(value), off)


def level_ticks(svg: str) -> tuple[float, list[float]] | None:
    """Where the level stick's datum is on the paper, and all short upright lines on it [mm]; None without a stick."""
    bars = [line for line in upright_lines(svg, "0.7") if abs(abs(line[1] - line[2]) - 4.0) < 0.01]
    if not bars:
        return None
    datum, top, _ = bars[-1]
    middle = top + 2.0
    return datum, [x for x, a, b in upright_lines(svg, "0.3") if min(a, b) < middle < max(a, b)]


def upright_lines(svg: str, wide: str) -> list[tuple[float, float, float]]:
    """Upright straight lines of one width: x, and from and to [mm]."""
    found = []
    for path in ElementTree.fromstring(svg).iter(f"{SVG}path"):
        line = re.fullmatch(r"M([\d.-]+) ([\d.-]+)L([\d.-]+) ([\d.-]+)", path.attrib["d"])
        if line and path.attrib.get("stroke-width") == wide and line[1] == line[3]:
            low, high = sorted((float(line[2]), float(line[4])))
            found.append((float(line[1]), low, high))
    return found


@each_plan
def test_every_distance_of_the_piece_is_on_its_views(seed: int):
    folder = folder_of(seed)
    ticks, _ = distances(folder.build)
    paper = paper_of(folder)
    drawn = three_views(folder, paper.room, paper.depth - 22.0)
    written = {value for value, _, _ in numbers(drawn.svg)}
    wanted = {tick.value for row in ticks for tick in row}
    assert written <= wanted
    assert len(wanted - written) <= drawn.left_out
