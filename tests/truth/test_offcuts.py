"""Another part is cut from an offcut that has room for it, and what is promised to one is not offered to the next."""

import re
from fractions import Fraction

from storystick.app.offcuts import offcuts
from storystick.app.pipeline import Job
from storystick.ground.length import read_length
from storystick.layout.blanks import blanks_of
from storystick.model.mending import is_broken, remedies
from tests.told import job, sample
from tests.truth.plans import CASE, after, cut, entry, fit_called, read

SIZE = re.compile(r"\(([^()×]+)(?: × ([^()]+))?\)")


def room(said: str, units: str) -> tuple[Fraction, Fraction | None]:
    found = SIZE.search(said)
    assert found, said
    unit = "inch" if units == "inch" else "mm"
    return read_length(found[1].strip(), unit), read_length(found[2], unit) if found[2] else None  # type: ignore[arg-type]


def test_an_offcut_that_is_named_has_room_for_the_part_with_what_is_left_on_it():
    for plan in (CASE, sample("drawer-tower"), sample("alcove-bookcase")):
        work = job(plan)
        find = offcuts(work)
        sizes = {one.key.split(" #")[0]: one for stock in work.build.stock for one in blanks_of(work.build, stock)}
        told = 0
        for part in work.build.parts:
            if said := find(part):
                long, wide = room(said, work.build.manner.unit)
                blank = sizes[part.name]
                straight = blank.long <= long + 1 and (wide is None or blank.wide <= wide + 1)
                turned = wide is not None and blank.wide <= long + 1 and blank.long <= wide + 1
                assert straight or (turned and blank.along_grain is None), (part.name, said)
                told += 1
        assert told


def shelf_spoilt(plan: str, *more: object) -> Job:
    made = job(plan)
    everything = [cut(made, part.name) for part in made.build.parts]
    short = float(made.build.pages["case.shelf 1.length"].value) - 6
    return after(plan, *everything, read("case.shelf 1.length", short, tool="steel rule"), *more)  # type: ignore[arg-type]


def anew(work: Job, name: str) -> str:
    fit = fit_called(work, name)
    assert is_broken(fit)
    found = remedies(work.made, fit, work.judged, work.log.in_wood, offcuts(work))
    return next(f"{one.says} {one.left}" for one in found if one.way == "anew")


def test_the_remedy_names_the_sheet_and_the_size_of_the_offcut():
    said = anew(shelf_spoilt(CASE), "case.shelf 1.length")
    assert "from the leftover of ply 1" in said
    assert room(said, "mm")[0] > 500


def test_where_nothing_is_left_a_new_sheet_is_told():
    tight = CASE.replace("2440 x 1220: 90", "1500 x 620: 90")
    work = shelf_spoilt(tight)
    left = {tree.leftovers for one in work.cuttings if one.stock.name == "ply" for tree in one.layout.trees}
    assert not any(piece.long >= 560 and piece.wide >= 290 for some in left for piece in some)
    assert "takes a new sheet" in anew(work, "case.shelf 1.length")


def test_an_offcut_on_hand_that_nothing_is_cut_from_is_offered():
    tight = CASE.replace("sizes: {2440 x 1220: 90}", "sizes: {1500 x 620: 90}, on hand: [564 x 301]")
    work = job(tight)
    assert work.cuttings
    said = offcuts(work)(work.build.part("case.shelf 1"))
    used = {tree.sheet.on_hand for one in work.cuttings for tree in one.layout.trees}
    assert True in used or (said and "on hand" in said)


def test_what_is_promised_to_a_part_is_not_offered_to_the_next():
    first = offcuts(job(CASE))(job(CASE).build.part("case.right side"))
    promised = after(CASE, entry("anew", "case.left side"))
    then = offcuts(promised)(promised.build.part("case.right side"))
    assert first
    assert then
    assert then != first
    before, now = room(first, "mm"), room(then, "mm")
    assert before[0] * (before[1] or 1) - now[0] * (now[1] or 1) >= 700 * 300


def test_in_the_end_there_is_no_room_for_another():
    parts = [part.name for part in job(CASE).build.parts if part.stock.name == "ply"]
    promised = after(CASE, *(entry("anew", name) for name in parts for _ in (1, 2)))
    small = CASE.replace("2440 x 1220: 90", "1500 x 1220: 90")
    crowded = after(small, *(entry("anew", name) for name in parts))
    rooms = [offcuts(work)(work.build.part("case.left side")) for work in (promised, crowded)]
    assert None in rooms


def test_a_part_that_is_cut_again_takes_no_more():
    made = job(CASE)
    again = after(CASE, entry("anew", "case.left side"), cut(made, "case.left side"))
    part = made.build.part("case.right side")
    assert offcuts(again)(part) == offcuts(job(CASE))(part)
