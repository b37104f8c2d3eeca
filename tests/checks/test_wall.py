"""What is fixed straight to a wall: holes at the studs, screws to buy, and what each of them carries; by hand."""

import re

import pytest

from storystick.ground.finding import Grade
from tests.checks.test_shelf import found_in
from tests.told import built

PLAN = """\
units: mm
stock:
  ply18: {sheet: birch plywood, sold as: 18 mm, readings: [18 mm], with: calliper, sizes: {2440 x 1220: 90}}
  ply6: {sheet: birch plywood, sold as: 6 mm, readings: [6 mm], with: calliper, sizes: {2440 x 1220: 40}}
build:
  cupboard:
    case: {wide: 1000, deep: 300, high: 700, stock: ply18, back: BACK, nailers: NAILERS}
    sits: {bottom at: 1200}
loads:
  cupboard: LOAD kg
"""


def plan(back: str = "{stock: ply6, joint: rabbet}", nailers: str = "both", load: int = 20) -> str:
    return PLAN.replace("BACK", back).replace("NAILERS", nailers).replace("LOAD", str(load))


@pytest.mark.parametrize("joint", ["rabbet", "groove", "screwed on"])
def test_a_nailer_and_the_back_before_or_behind_it_have_holes_at_the_studs(joint: str):
    build = built(plan(f"{{stock: ply6, joint: {joint}}}"))
    # 964 between the sides: two studs at 400, about the middle: 282 and 682 from the nailer's end.
    for word in ("top nailer", "bottom nailer"):
        part = build.part(f"cupboard.{word}")
        holes = [cut for cut in part.cuts if "wall screw" in cut.called]
        assert sorted(float(cut.at[0]) for cut in holes) == [282, 682]
    back = [cut for cut in build.part("cupboard.back").cuts if "wall screw" in cut.called]
    assert len(back) == 4
    assert len({cut.name for part in build.parts for cut in part.cuts}) == sum(len(p.cuts) for p in build.parts)


def test_the_holes_in_the_back_lie_behind_those_in_the_nailers():
    build = built(plan())
    spots = []
    for name in ("cupboard.top nailer", "cupboard.back"):
        part = build.part(name)
        spots.append({
            round(float(part.low(part.lies[0])) + float(cut.at[0] if part.datum[0] > 0 else part.length - cut.at[0]), 3)
            for cut in part.cuts if "wall screw" in cut.called and part.lies[0] == 0
        })  # fmt: skip
    if spots[1]:
        assert spots[0] <= spots[1]


def test_screws_long_enough_for_the_stud_are_to_be_bought():
    # 18 of nailer, 6 of back, 13 of plaster and 40 of stud: 77 mm, and 80 mm is sold; 24 mm and 2 in: 3 in is sold.
    inches = re.sub("(wide|deep|high|bottom at): ([0-9]+)", r"\1: \2 mm", plan()).replace("units: mm", "units: inch")
    for text, said in ((plan(), "6 mm coach screw, 80 mm long"), (inches, '1/4 in lag screw, 3" long')):
        (screws,) = [item for item in built(text).items if "wall screws" in item.name]
        assert screws.count == 4
        assert screws.said.startswith(said)


def test_the_topmost_screws_are_pulled_by_the_lever_and_all_of_them_carry():
    (found,) = found_in("wall-load", plan(load=20))
    assert found.grade == Grade.FINE
    assert "4 screws through boards of its own" in found.says
    assert "local rules" in found.says


def test_too_much_on_it_is_told_and_less_as_the_mend_says_holds():
    (found,) = [one for one in found_in("wall-load", plan(load=900)) if one.grade >= Grade.CARE]
    least = float(found.tries[0].text.split(" ")[0])
    assert 20 < least < 900
    assert all(one.grade == Grade.FINE for one in found_in("wall-load", plan(load=int(least))))


def test_what_hangs_on_nailers_is_held_and_does_not_tip():
    assert all(one.grade <= Grade.NOTE for one in found_in("not-held", plan()))
    assert list(found_in("tipping", plan())) == []


def test_what_only_a_word_holds_is_referred_to_local_rules():
    text = plan().replace(", nailers: both", "").replace("bottom at: 1200", "bottom at: 1200, held by: [brackets]")
    (found,) = found_in("wall-load", text)
    assert found.grade == Grade.NOTE
    assert "local rules" in found.says
    assert "brackets" in found.says


def test_a_case_in_the_air_is_told_how_it_hangs_and_hangs_so():
    hung = plan()
    bare = re.sub(r", nailers: \w+", "", hung)
    assert bare != hung
    (found,) = [f for f in found_in("not-held", bare) if f.grade is Grade.STOP]
    assert "nailers: both" in found.advice
    assert not [f for f in found_in("not-held", hung) if f.grade is Grade.STOP]


def test_a_heavy_case_on_a_wall_gets_no_castors():
    wide = plan().replace("1000", "1800")
    found = next(f for f in found_in("too-heavy", wide) if f.grade is Grade.CARE and "weighs" in f.says)
    assert "castors" not in found.advice
    assert "screwed to the wall" in found.advice
