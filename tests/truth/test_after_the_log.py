"""What is cut stays, what is left adapts, and what broke is put right."""

import random
from fractions import Fraction

import pytest

from storystick.app.entries import Refused, chose, reading
from storystick.app.entries import cut as cut_now
from storystick.model.changed import changed, numbers_of
from storystick.model.mending import is_broken, lacks, remedies
from tests.told import job, sample
from tests.truth.plans import CASE, DRAWER, after, cut, fit_called, mm, put, read


def test_a_shelf_follows_the_case_that_came_out_narrower():
    before = job(CASE)
    now = after(CASE, read("case.bottom.length", mm(before, "case.bottom.length") - 0.8, tool="steel rule"))
    assert mm(now, "case.inside wide") == pytest.approx(mm(before, "case.inside wide") - 0.8)
    assert mm(now, "case.shelf 1.length") == pytest.approx(mm(before, "case.shelf 1.length") - 0.8)
    assert fit_called(now, "case.shelf 1.length").gap.value == fit_called(before, "case.shelf 1.length").gap.value


def test_what_is_cut_stays_as_it_was_printed_whatever_is_read_later():
    before = job(CASE)
    parts = ("case.left side", "case.bottom")
    held = [cut(before, part) for part in parts]
    now = after(CASE, *held, read("ply.thick", "18.4", tool="calliper"), read("thin.thick", "6.5", tool="calliper"))
    for part in parts:
        for name, dim in numbers_of(now.build, part).items():
            if name != before.build.part(part).thickness.name:
                assert abs(dim.value - before.build.pages[name].value) <= Fraction(1, 10**6), name
    assert mm(now, "case.right side.shelf 2 in right side.wide") == pytest.approx(18.4 + 0.15)


def test_the_thickness_of_a_piece_decides_the_channel_that_takes_it():
    now = after(CASE, read("case.shelf 2.thickness", "17.9", tool="calliper"))
    assert mm(now, "case.left side.shelf 2 in left side.wide") == pytest.approx(17.9 + 0.15)
    assert mm(now, "case.right side.shelf 2 in right side.wide") == pytest.approx(17.9 + 0.15)


def test_a_number_that_was_read_says_so_when_it_is_asked():
    from storystick.ground.dim import why
    from storystick.ground.length import show

    now = after(CASE, cut(job(CASE), "case.bottom"), read("case.bottom.length", "575", tool="steel rule"))
    lines = why(now.build.pages["case.shelf 1.length"], lambda dim: show(dim.value, now.build.manner))
    told = " ".join(line.because for line in lines)
    assert "as the boards that are cut give it" in told
    lines = why(now.build.pages["case.bottom.length"], lambda dim: show(dim.value, now.build.manner))
    assert any("measured with steel rule" in line.because and "reckoned" in line.because for line in lines)


def test_what_changed_is_told_with_its_reason_and_the_drawings_that_are_stale():
    before = job(CASE)
    now = after(CASE, read("case.bottom.length", mm(before, "case.bottom.length") - 0.8, tool="steel rule"))
    found = changed(before.build, now.build, before.judged, now.judged)
    by_name = {one.number: one for one in found.sizes}
    shelf = by_name["case.shelf 1.length"]
    assert float(shelf.old.value - shelf.new.value) == pytest.approx(0.8)
    assert "as the boards that are cut give it" in shelf.why
    assert "measured with steel rule" in by_name["case.bottom.length"].why
    assert now.build.part("case.shelf 1").letter in found.cards
    assert "ply" in found.sheets
    assert "case.left side" not in {one.part for one in found.sizes if one.number.endswith(".length")}


def test_nothing_changes_when_everything_comes_out_as_printed():
    before = job(CASE)
    now = after(CASE, *(cut(before, part.name) for part in before.build.parts))
    assert changed(before.build, now.build, before.judged, now.judged).sizes == ()


def test_a_part_cut_anew_follows_the_plan_again():
    before = job(CASE)
    from tests.truth.plans import entry

    spoilt = (cut(before, "case.shelf 1"), read("case.shelf 1.length", "560", tool="steel rule"))
    name = "case.shelf 1.length"
    assert mm(after(CASE, *spoilt), name) == 560
    assert mm(after(CASE, *spoilt, entry("anew", "case.shelf 1")), name) == mm(before, name)


@pytest.mark.parametrize(
    ("off", "ways"),
    [(-6, {"shim", "anew", "live"}), (4, {"plane", "anew", "live"})],
)
def test_a_shelf_that_came_out_wrong_has_its_remedies(off: float, ways: set[str]):
    before = job(CASE)
    everything = [cut(before, part.name) for part in before.build.parts]
    size = mm(before, "case.shelf 1.length") + off
    now = after(CASE, *everything, read("case.shelf 1.length", size, tool="steel rule"))
    fit = fit_called(now, "case.shelf 1.length")
    assert is_broken(fit)
    found = remedies(now.made, fit, now.judged, now.log.in_wood, lambda part: "the leftover of sheet 1")
    assert {one.way for one in found} >= ways
    open_to = [one for one in found if one.enough]
    harmless = [one.minutes for one in open_to if not one.spoils]
    assert harmless == sorted(harmless)
    assert not open_to[0].spoils


def test_a_remedy_with_a_number_clears_the_fit_and_leaves_what_is_cut_otherwise_alone():
    before = job(CASE)
    everything = [cut(before, part.name) for part in before.build.parts]
    entries = [*everything, read("case.shelf 1.length", mm(before, "case.shelf 1.length") + 4, tool="steel rule")]
    now = after(CASE, *entries)
    fit = fit_called(now, "case.shelf 1.length")
    for remedy in remedies(now.made, fit, now.judged, now.log.in_wood):
        if remedy.number and remedy.enough:
            mended = after(CASE, *entries, *chose(now, fit, remedy))
            assert not is_broken(fit_called(mended, fit.fit.name)), remedy.says
            then, since = now.build.pages, mended.build.pages
            moved = [name for name in then if abs(then[name].value - since[name].value) > Fraction(1, 10**5)]
            assert remedy.number in moved
            assert all(not name.startswith("case.") or name in (remedy.number, "case.shelf 1 long") for name in moved)


def test_where_a_part_is_not_cut_yet_its_number_is_simply_changed():
    before = job(CASE)
    now = after(CASE, cut(before, "case.bottom"), put("case.shelf 1.length", mm(before, "case.shelf 1.length") + 4))
    fit = fit_called(now, "case.shelf 1.length")
    assert is_broken(fit)
    assert lacks(fit) > 0


def test_there_is_no_cutting_into_what_has_nothing_left():
    groove = "case.drawer 1.left side.bottom in left side.wide"
    now = after(DRAWER, put(groove, "5.5"))
    fit = fit_called(now, "case.drawer 1.bottom in left side.width")
    plane = [one for one in remedies(now.made, fit, now.judged, now.log.in_wood) if one.way == "plane"]
    assert all(not one.enough for one in plane)  # a face veneer is no 0.9 mm thick


def test_a_name_that_is_not_there_and_a_tool_that_is_not_there_are_refused_with_the_nearest():
    work = job(CASE)
    with pytest.raises(Refused, match=r"case\.shelf 1\.length"):
        reading(work, "case.shelf 1.lenght", ("3 mm",))
    with pytest.raises(Refused, match="calliper"):
        reading(work, "ply.thick", ("17.6 mm",), "laser beam")
    with pytest.raises(Refused, match="what does it measure"):
        reading(work, "ply.thick", ())
    with pytest.raises(Refused, match="cut already"):
        cut_now(after(CASE, cut(work, "case.bottom")), "case.bottom")


def test_a_log_that_speaks_of_what_the_plan_no_longer_has_is_told_and_harms_nothing():
    now = after(CASE, read("case.shelf 7.length", "500"))
    assert [one.code for one in now.resolved.findings if one.code.startswith("log")] == ["log-stranger"]
    assert now.build.pages.keys() == job(CASE).build.pages.keys()


@pytest.mark.parametrize("name", ["lathe-cabinet", "alcove-bookcase", "drawer-tower"])
def test_a_sample_that_is_cut_part_by_part_never_changes_what_is_cut(name: str):
    """Half of the parts cut and measured a little off: every number of theirs stays."""
    text, chance = sample(name), random.Random(3)
    before = job(text)
    some = [part for part in before.build.parts if not part.fit_to][::2]
    entries = []
    for part in some:
        entries.append(cut(before, part.name))
        true = round(float(part.length.value) + chance.gauss(0, 0.3), 2)
        entries.append(read(part.length.name, true, tool="steel rule"))
    now = after(text, *entries)
    for part in some:
        for number, dim in numbers_of(now.build, part.name).items():
            if number not in (part.length.name, part.thickness.name):
                assert abs(dim.value - before.build.pages[number].value) <= Fraction(1, 10**6), number
