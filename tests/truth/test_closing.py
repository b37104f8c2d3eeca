"""The part that is cut last takes up what the others are off by; a gap is read with the piece held in."""

from fractions import Fraction

import pytest

from storystick.app.entries import Refused, chose, far_off, reading
from storystick.app.page.answers import checked
from storystick.app.show import parts as show_parts
from storystick.ground.dim import why
from storystick.ground.length import show
from storystick.model.closing import better_to_fit, closers, turns
from storystick.model.cut import Channel
from storystick.model.follows import followed
from storystick.model.made import is_fixed
from storystick.model.mending import is_broken, remedies
from storystick.paper.remarks import provisional
from tests.told import job, sample
from tests.truth.plans import CASE, DRAWER, after, cut, entry, fit_called, mm, put, read
from tests.truth.test_every_fit import DOOR

OVERLAY = DOOR.replace("set: inset", "set: overlay")
LEFT, RIGHT = "case.left side.bottom in left side.deep", "case.right side.bottom in right side.deep"


def test_a_bottom_takes_up_what_the_dadoes_of_the_sides_are_off_by():
    before = job(CASE)
    deep = mm(before, LEFT)
    held = [cut(before, f"case.{word} side") for word in ("left", "right")]
    now = after(CASE, *held, read(LEFT, deep + 0.2, tool="calliper"), read(RIGHT, deep + 0.1, tool="calliper"))
    assert mm(now, "case.bottom.length") == pytest.approx(mm(before, "case.bottom.length") + 0.3)
    assert float(now.made.as_made(now.build.truths["case.wide"]).value) == pytest.approx(600)
    lines = why(now.build.pages["case.bottom.length"], lambda dim: show(dim.value, now.build.manner))
    assert any("so that case.wide comes out as planned" in line.because for line in lines)


@pytest.mark.parametrize(
    ("plan", "first", "twin", "side"),
    [(CASE, "case.bottom", "case.top", "case.left side"),
     (DRAWER, "case.drawer 1.box front", "case.drawer 1.box back", "case.drawer 1.left side")],
)  # fmt: skip
def test_a_top_follows_its_own_dadoes_as_the_bottom_follows_its_own(plan: str, first: str, twin: str, side: str):
    """So the case is as wide above as below, and a drawer's box as wide behind as in front."""
    before = job(plan)
    short, word, host = (name.rsplit(".", 1)[-1] for name in (first, twin, side))
    ours, theirs = f"{side}.{short} in {host}.deep", f"{side}.{word} in {host}.deep"
    deep = read(ours, mm(before, ours) + 0.2, tool="calliper"), read(theirs, mm(before, theirs) - 0.1, tool="calliper")
    now = after(plan, *deep)
    one, two = f"{first}.length", f"{twin}.length"
    assert mm(now, one) == pytest.approx(mm(before, one) + 0.2, abs=0.01)
    assert mm(now, two) == pytest.approx(mm(before, two) - 0.1, abs=0.01)
    held = after(plan, cut(before, first), *deep)
    assert mm(held, one) == pytest.approx(mm(before, one), abs=1e-5)
    assert mm(held, two) == pytest.approx(mm(before, two) - 0.1 - 0.2, abs=0.01)  # as wide as the first one makes it


def test_what_takes_up_is_not_cut_yet_and_stays_as_printed_once_it_is():
    before = job(CASE)
    first = [cut(before, "case.left side"), read(LEFT, mm(before, LEFT) + 0.2, tool="calliper")]
    now = after(CASE, *first)
    assert not is_fixed(now.build.pages["case.bottom.length"])
    printed = mm(now, "case.bottom.length")
    later = after(CASE, *first, cut(now, "case.bottom"), read(RIGHT, mm(before, RIGHT) - 0.4, tool="calliper"))
    assert mm(later, "case.bottom.length") == pytest.approx(printed, abs=1e-6)


def test_a_drawers_front_takes_up_what_its_sides_are_off_by():
    before = job(DRAWER)
    rabbet = "case.drawer 1.left side.box front in left side.deep"
    thick = "case.drawer 1.right side.thickness"
    now = after(
        DRAWER, read(rabbet, mm(before, rabbet) + 0.2, tool="calliper"),
        read(thick, mm(before, thick) - 0.15, tool="calliper"),
    )  # fmt: skip
    gain = mm(now, "case.drawer 1.box front.length") - mm(before, "case.drawer 1.box front.length")
    assert gain == pytest.approx(0.2 + 0.15)
    assert float(fit_called(now, "case.drawer 1.box in its opening").gap.value) == pytest.approx(26.1, abs=0.02)


def test_nothing_is_taken_up_where_everything_is_as_printed():
    assert all(one.by == 0 for one in closers(job(CASE).made))


@pytest.mark.parametrize("name", ["lathe-cabinet", "alcove-bookcase", "drawer-tower"])
def test_every_part_has_its_turn_and_what_takes_up_comes_after_the_others(name: str):
    work = job(sample(name))
    order = [part for turn in turns(work.made) for part in turn]
    assert sorted(order) == sorted(part.name for part in work.build.parts)
    for one in closers(work.made):
        assert all(order.index(other) < order.index(one.part) for other in one.others)
    last_standing = max(order.index(part.name) for part in work.build.parts if not part.fit_to)
    assert all(order.index(part.name) > last_standing for part in work.build.parts if part.fit_to)


FIT = "case.shelf 2 in left side.width"


def test_a_gap_that_was_read_with_the_piece_held_in_is_what_counts():
    before = job(CASE)
    everything = [cut(before, part.name) for part in before.build.parts]
    entries = [*everything, read(f"gap of {FIT}", "-0.1", tool="feeler gauge")]
    now = after(CASE, *entries)
    fit = fit_called(now, FIT)
    assert float(fit.gap.value) == -0.1
    assert fit.sd == pytest.approx(0.02)
    assert is_broken(fit)
    assert now.resolved.findings == before.resolved.findings
    assert now.pages[f"gap of {FIT}"].value == Fraction("-0.1")
    lines = why(now.pages[f"gap of {FIT}"], lambda dim: show(dim.value, now.build.manner))
    assert any("measured with feeler gauge" in line.because for line in lines)


def test_a_remedy_for_a_gap_that_was_read_clears_it_whatever_was_reckoned():
    before = job(CASE)
    everything = [cut(before, part.name) for part in before.build.parts]
    entries = [*everything, read(f"gap of {FIT}", "0.7", tool="feeler gauge")]
    now = after(CASE, *entries)
    fit = fit_called(now, FIT)
    found = [one for one in remedies(now.made, fit, now.judged, now.log.in_wood) if one.enough and one.way != "live"]
    assert any(one.way == "shim" for one in found)
    for remedy in found:
        mended = after(CASE, *entries, *chose(now, fit, remedy))
        assert remedy.way == "anew" or not is_broken(fit_called(mended, FIT)), remedy.says


def test_a_gap_that_was_read_no_longer_counts_once_its_pieces_are_measured_anew_or_cut_again():
    gap = read(f"gap of {FIT}", "0.7", tool="feeler gauge")
    thick = read("case.shelf 2.thickness", "17.7", tool="calliper")
    assert float(fit_called(after(CASE, thick, gap), FIT).gap.value) == 0.7
    for later in (thick, put("case.left side.shelf 2 in left side.wide", "17.9"), entry("anew", "case.shelf 2")):
        assert float(fit_called(after(CASE, gap, later), FIT).gap.value) != 0.7


def test_a_gap_is_read_by_its_name_and_a_wrong_name_is_told_the_nearest():
    work = job(CASE)
    one = reading(work, f"Gap of {FIT}", ("0.2 mm",), "feelers")
    assert one.about == f"gap of {FIT}"
    with pytest.raises(Refused, match=r"gap of case\.shelf 2"):
        reading(work, "gap of case.shelf 2 in left side.wdth", ("0.2 mm",))
    assert far_off(work, [reading(work, f"gap of {FIT}", ("26 mm",))])


def test_a_back_that_is_likelier_to_drop_in_when_it_is_taken_off_the_dry_case_is_told():
    text = sample("drawer-tower")
    work = job(text)
    (one,) = better_to_fit(work.made, work.judged)
    assert one.part == "tower.back"
    assert one.printed > 0.02
    assert one.fitted < one.printed / 2
    now = after(text, cut(work, "tower.back"))
    assert not list(better_to_fit(now.made, now.judged))


def test_a_channel_that_is_as_wide_as_its_guest_is_no_cause_of_what_the_sheets_thickness_makes():
    causes = [one.key for one in fit_called(job(DRAWER), "case.drawer 1.box in its opening").causes(9)]
    assert not any("channel width" in key for key in causes)


@pytest.mark.parametrize("plan", ["drawer-tower", "lathe-cabinet", "alcove-bookcase"])
def test_no_groove_is_printed_longer_than_its_board_whatever_depths_are_read(plan: str):
    text = sample(plan)
    before = job(text)
    ends = ("side", "front", "stile")
    entries = []
    for number, part in enumerate(one for one in before.build.parts if one.name.endswith(ends)):
        entries.append(cut(before, part.name))
        for channel in (one for one in part.cuts if isinstance(one, Channel) and one.depth.name):
            off = (-0.4, 0.35, 0.25)[number % 3]
            entries.append(read(channel.depth.name, round(float(channel.depth.value) + off, 3), tool="calliper"))
    now = after(text, *entries)
    through = 0
    for part in now.build.parts:
        was = before.build.part(part.name)
        for channel, then in zip(part.cuts, was.cuts, strict=True):
            if isinstance(channel, Channel) and isinstance(then, Channel):
                axis = channel.side.axes[channel.runs]
                long, board = channel.size[channel.runs].value, part.size[axis].value
                assert channel.at[channel.runs].value + long <= board + Fraction(1, 1000), channel.name
                if then.size[channel.runs].value == was.size[axis].value:
                    assert long == board, channel.name
                    through += 1
    assert through


def test_a_back_better_cut_to_fit_says_so_on_its_card_in_the_cut_list_and_its_step(capsys: pytest.CaptureFixture[str]):
    work = job(sample("lathe-cabinet"))
    back = work.build.part("cabinet.back")
    assert [*work.better_to_fit] == [back.name]
    assert "Better cut when the rest stands dry" in provisional(work.folder, back)
    show_parts(work.build, work.build.manner, work.told_last, as_json=False)
    assert f"{back.letter} cabinet.back: cut at once it goes wrong in 5 % of builds" in capsys.readouterr().out
    sawn = [step for step in work.order.steps if back.name in step.parts and step.stage.value.startswith("saw")]
    assert any("Better left on the sheet until the rest stands dry" in line for step in sawn for line in step.does)
    assert checked(work, "numbers")["last"] == {back.name: "5 %"}


@pytest.mark.parametrize("plan", ["drawer-tower", "lathe-cabinet"])
def test_every_board_of_a_drawer_is_provisional_on_its_card(plan: str):
    work = job(sample(plan))
    boards = [part for part in work.build.parts if ".drawer " in part.name or ".tray " in part.name]
    assert boards
    for part in boards:
        assert part.fit_to, part.name
        words = provisional(work.folder, part)
        if part.role == "drawer side":  # as long as its slide, as high as the box: the opening's width is nothing to it
            assert not any(followed(part, work.build))
            assert not words
        else:
            assert "Measure the opening of" in words, part.name
            assert "by what its width differs from the plan, the length above differs too" in words


def test_doors_are_provisional_on_their_cards_and_a_part_that_is_cut_already_is_not_advised_upon():
    work = job(OVERLAY)
    doors = [part for part in work.build.parts if ".door " in part.name]
    assert len(doors) == 2
    assert all("Measure" in provisional(work.folder, part) for part in doors)
    text = sample("lathe-cabinet")
    assert after(text, cut(job(text), "cabinet.back")).better_to_fit == {}
