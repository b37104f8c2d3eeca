"""The packets of the samples, read as somebody reads them who is about to cut wood: one part, one size, everywhere."""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from storystick.app.pipeline import Job, Texts
from storystick.ground.length import show
from storystick.model.cut import Bore
from storystick.model.cutting import Cut, CutTree, Purpose
from storystick.paper import PAPERS, Folder, drawings, packet
from storystick.paper.drawing.picture import before_it
from storystick.paper.lettering import closely, said
from storystick.paper.pages.cards import card, card_head, told_of
from storystick.paper.pages.joints import kinds_of
from storystick.paper.pages.sheets import cut_row
from storystick.paper.pages.steps import step_picture
from storystick.paper.pages.tools import clamps, machines, steps_said
from storystick.paper.remarks import off_the_saw
from tests.paper.readback import numbers, opened, sizes
from tools.pictures import FOLDER as PICTURES
from tools.pictures import pictures

SAMPLES = sorted(Path(__file__).parents[2].joinpath("samples").glob("[!m]*.yaml"))
LONGEST = {"lathe-cabinet": 80, "drawer-tower": 72, "alcove-bookcase": 45}


@cache
def folder_of(name: str) -> Folder:
    path = next(path for path in SAMPLES if path.stem == name)
    return Job(Texts(path.read_text("utf-8"), path.name)).folder


@dataclass(frozen=True)
class Printed:
    """A page as it is read back: how high it is, where each letter ends below, its words, and those at its foot."""

    high: float
    ends: tuple[float, ...]
    text: str
    foot: str


@cache
def printed(name: str) -> tuple[Printed, ...]:
    """The packet of a sample, read back once for all that is asked of it."""
    folder, found = folder_of(name), []
    with opened(packet(folder, paper="a4" if folder.build.manner.unit == "mm" else "letter")) as book:
        for page in book.pages:
            high = float(page.height)
            ends = tuple(float(char["bottom"]) for char in page.chars)
            low = [char for char in page.chars if float(char["top"]) > 0.94 * high]
            foot = "".join(char["text"] for char in sorted(low, key=lambda char: (round(char["bottom"]), char["x0"])))
            found.append(Printed(high, ends, page.extract_text() or "", foot))
    return tuple(found)


each_sample = pytest.mark.parametrize("name", [path.stem for path in SAMPLES])


@each_sample
def test_what_leaves_the_saw_is_the_part_or_its_card_says_how_it_comes_to_its_size(name: str):
    folder = folder_of(name)
    for letter, parts in folder.letters.items():
        for part in parts:
            blank = folder.blanks.get(part.name)
            if blank is None:
                continue
            spare = [b - s.value for b, s in zip(blank, part.size, strict=False)]
            assert min(spare) > -folder.build.manner.mark / 10, part.name
            if max(spare) > folder.build.manner.mark / 2:
                head = card_head(folder, letter)
                told = " ".join((*head.remarks, head.provisional))
                assert off_the_saw(folder, parts[0]) in told, part.name
                assert "trim" in told or "map keeps" in told, part.name


@each_sample
def test_card_label_and_model_agree_on_every_part(name: str):
    folder = folder_of(name)
    manner = folder.build.manner
    for letter, parts in folder.letters.items():
        head = card_head(folder, letter)
        for part in parts:
            assert [number for number, _ in head.sizes] == [said(size, manner) for size in part.size]


@each_sample
def test_every_blank_is_cut_at_a_setting_of_its_own_size(name: str):
    for cutting in folder_of(name).cuttings:
        for tree in cutting.layout.trees:
            settings = {cut.setting for cut in tree.cuts if cut.setting is not None}
            for piece in tree.blanks:
                for size, whole in ((piece.long, tree.sheet.long), (piece.wide, tree.sheet.wide)):
                    assert size in settings or size == whole, piece.blank


@each_sample
def test_every_setting_of_a_step_is_on_the_settings_list(name: str):
    folder = folder_of(name)
    listed = {setting.size for cutting in folder.cuttings for setting in cutting.layout.settings}
    listed |= {setup.to.value for setup in folder.order.setups if setup.to is not None}
    for step in folder.order.steps:
        for setup in step.setups:
            assert setup.to is None or any(abs(setup.to.value - size) < Fraction(1, 100) for size in listed), step.title


@each_sample
def test_every_cut_of_every_part_is_on_a_drawing_of_its_card(name: str):
    folder = folder_of(name)
    for letter, parts in folder.letters.items():
        shown = {side for row in card(folder, letter, PAPERS["letter"]).rows for one in row for side in one.sides}
        wanted = {cut.side for cut in parts[0].cuts if hasattr(cut, "at")}
        assert wanted <= shown, letter


@each_sample
def test_every_drawing_is_large_enough_to_read_and_its_numbers_are_exact(name: str):
    folder = folder_of(name)
    wanted = ["piece", "views", *(f"joint {alike[0].called}" for alike in kinds_of(folder))]
    for which, svg in drawings(folder, only=wanted).items():
        assert min(sizes(svg), default=7.0) >= 6.99, which
        for value, _, printed in numbers(svg):
            assert printed in (said(value, folder.build.manner), said(value, folder.build.manner, bare=True)), which


@each_sample
def test_no_page_is_nearly_empty_and_the_packet_stays_a_handful(name: str):
    assert len(printed(name)) <= LONGEST[name]
    for number, page in enumerate(printed(name)[:-1], 1):
        assert max(end for end in page.ends if end < 0.93 * page.high) > 0.15 * page.high, number
        assert max(page.ends) < page.high - 20, number


def test_the_pictures_of_the_readme_are_what_the_tool_makes_now():
    for file, svg in pictures().items():
        assert (PICTURES / file).read_text("utf-8") == svg, "run python -m tools.pictures"


@each_sample
def test_a_card_says_for_which_screw_each_pilot_and_clearance_hole_is(name: str):
    folder = folder_of(name)
    for part in folder.build.parts:
        told = told_of(folder, part)
        for cut in part.cuts:
            if isinstance(cut, Bore) and ("pilot" in cut.called or "clearance" in cut.called):
                screw = folder.purposes[part.name, cut.name].fastener
                assert part.name in (screw.through, screw.into)
                assert screw.row.rstrip("s") in told[cut.name].use
                assert cut.diameter.value < screw.diameter.value or "clearance" in cut.called


@each_sample
def test_every_cut_on_a_card_names_a_step_that_has_the_part_in_hand(name: str):
    folder = folder_of(name)
    for part in folder.build.parts:
        for cut in part.cuts:
            step = folder.order.steps[folder.made_in[part.name, cut.name] - 1]
            assert part.name in step.parts
            assert told_of(folder, part)[cut.name].step == str(step.number)


@each_sample
def test_strips_lie_with_the_near_edge_at_the_fence_and_pieces_with_the_left_end_at_the_stop(name: str):
    for cutting in folder_of(name).cuttings:
        for tree in cutting.layout.trees:
            pieces = {piece.number: piece for piece in tree.pieces}
            for cut in tree.cuts:
                if cut.setting is not None:
                    whole, near = pieces[cut.piece], pieces[cut.frees[0]]
                    assert (near.x, near.y) == (whole.x, whole.y)
                    size = near.wide if cut.way == "rip" else near.long
                    assert abs(size - cut.setting) < Fraction(1, 50)


@each_sample
def test_a_rough_cut_is_measured_from_the_same_edge_on_the_map_and_in_the_step(name: str):
    folder = folder_of(name)
    said_so = " ".join(text for step in folder.order.steps for text in step.does)
    for cutting in folder.cuttings:
        for tree in cutting.layout.trees:
            for cut in tree.cuts:
                if cut.setting is None and cut.purpose is not Purpose.TRIM:
                    row = cut_row(cut, tree, folder.letter_of, folder.build.manner)
                    line, _, edge = str(row[2]).partition("line ")[2].partition(" from the ")
                    plain = show(Fraction(cut.at - rough_from(tree, cut)), folder.build.manner)
                    assert line == closely(plain)
                    assert f"along a line {plain} from the {edge}" in said_so


def rough_from(tree: CutTree, cut: Cut) -> Fraction:
    piece = next(piece for piece in tree.pieces if piece.number == cut.piece)
    return piece.y if cut.way == "rip" else piece.x


@each_sample
def test_the_tools_page_has_every_machine_bit_and_clamp_of_the_steps(name: str):
    folder = folder_of(name)
    told = " ".join(row[0] for row in machines(folder.order.steps))
    for step in folder.order.steps:
        for setup in step.setups:
            assert setup.machine in told
            assert setup.tool == "saw blade" or setup.tool in told
    for _, wanted in clamps(folder.order.steps):
        assert all("lamp" in " ".join(folder.order.steps[n - 1].does) for n in wanted)


def test_steps_are_told_in_runs():
    assert steps_said([3], 9) == "step 3"
    assert steps_said([1, 2, 4, 5, 6, 8], 9) == "steps 1, 2, 4 to 6 and 8"
    assert steps_said([1, 2, 3], 3) == "all along"


def test_a_plan_in_inches_is_sold_and_weighed_in_inches_and_pounds():
    text = " ".join(page.text for page in printed("lathe-cabinet"))
    assert '5" x 96"' in text
    assert "sq ft" in text
    assert " m2" not in text
    assert not re.search(
        r"\d kg", text.replace("23 kg (51 lb)", "").replace("load constant 23 kg", "").replace("2 kg is practice", "")
    )


@each_sample
def test_every_page_is_numbered_in_its_place(name: str):
    for number, page in enumerate(printed(name), 1):
        assert not page.foot or page.foot.endswith(f"{number} of {len(printed(name))}")


def test_what_is_finished_apart_is_drawn_before_the_piece_and_not_in_it():
    for name in ("lathe-cabinet", "drawer-tower", "alcove-bookcase"):
        folder = folder_of(name)
        build, scene = folder.build, folder.scene
        away = before_it(build, scene, [part.name for part in build.parts])
        running = {one.assembly for one in build.sliders}
        loose = {part.name for part in build.parts if part.assembly in running}
        loose |= {item.name.removesuffix(" pins") for item in build.items if item.name.endswith(" pins")}
        assert away.keys() == loose, name
        case = next(part for part in build.parts if part.name.endswith(".left side") and part.name not in loose)
        front = scene.parts[case.name].bounds[0][1]
        for one in loose:
            assert scene.parts[one].bounds[1][1] + away[one][1] < front


def test_a_finished_step_says_that_what_is_loose_is_drawn_before_it():
    folder = folder_of("alcove-bookcase")
    step = next(one for one in folder.order.steps if "coat 2" in one.title)
    drawn = step_picture(folder, step)
    assert drawn is not None
    assert "drawn before it" in drawn.alt


@each_sample
def test_the_pages_of_tools_and_sources_are_never_less_than_a_third_full_by_themselves(name: str):
    for number, page in enumerate(printed(name), 1):
        if page.text.startswith(("tool used in", "Sources")):
            assert max(end for end in page.ends if end < 0.93 * page.high) > page.high / 3, number
