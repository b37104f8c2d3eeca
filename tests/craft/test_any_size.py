"""Cases of any size and make: either told what is wrong, or boards that do not run into one another."""

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as some

from storystick.ground.finding import Grade
from storystick.model.scene import Scene
from storystick.shapes.clash import clashes
from tests.craft.plans import shifted, tip_of
from tests.told import built, job, told

corner = some.sampled_from(["dado", "rabbet", "screws", "nails", "butt"])
bay = some.sampled_from(
    [
        "open",
        "drawer 120",
        "{drawer: {front: overlay, joint: dado}, high: 130}",
        "{drawer: {runs on: {runners: in groove}}, high: 140}",
        "{tray: {runs on: runners, bottom: under}, high: 120}",
    ]
)
shelf = some.sampled_from(["fixed shelf", "loose shelf"])


@some.composite
def plans(draw: some.DrawFn) -> str:
    """A metric case with two columns of two bays."""
    size = [draw(some.integers(*ends)) for ends in ((500, 1400), (280, 700), (500, 1200))]
    thick = [draw(some.sampled_from(t)) for t in (["15", "17.6", "18", "21"], ["9", "11.8", "15"], ["4", "5.7"])]
    columns = [f"{{rows: [{draw(bay)}, {draw(shelf)}, open]}}" for _ in range(2)]
    past = draw(some.sampled_from(["sides", "top and bottom"]))
    back = draw(some.sampled_from(["groove", "rabbet", "screwed on"]))
    stands = draw(some.sampled_from(["floor", "castors", "{plinth: 80}"]))
    return f"""
title: any case
units: mm
stock:
  side: {{sheet: birch plywood, thickness: {thick[0]}}}
  box: {{sheet: birch plywood, thickness: {thick[1]}}}
  thin: {{sheet: birch plywood, thickness: {thick[2]}}}
build:
  cabinet:
    case:
      wide: {size[0]}
      deep: {size[1]}
      high: {size[2]}
      stock: side
      run past: {past}
      joint: {draw(corner)}
      shelf joint: {draw(some.sampled_from(["dado", "screws", "butt", "pocket screws"]))}
      back: {{stock: thin, joint: {back}}}
      stands on: {stands}
      drawers: {{stock: box, bottom stock: thin, joint: {draw(corner)}}}
      bays: {{columns: [{", ".join(columns)}]}}
"""


@settings(max_examples=40)
@given(plans())
def test_boards_of_any_case_do_not_run_into_one_another(text: str):
    outcome = job(text).resolved
    if outcome.made is None or any(f.grade is Grade.STOP for f in outcome.findings):
        return
    scene = Scene(outcome.made)
    assert [(c.first, c.other, round(c.volume, 1)) for c in clashes(list(scene.parts.items()))] == []
    if any(f.code == "screw-length" for f in outcome.findings):
        return  # told: nothing sold is short enough for such thin boards
    for one in outcome.made.fasteners:
        part = outcome.made.part(one.into)
        point = shifted(outcome.made, tip_of(one), one.assembly, part.assembly)
        for axis in range(3):
            assert float(part.low(axis)) < point[axis] < float(part.high(axis)), one.name


@settings(max_examples=20)
@given(some.integers(500, 1200), some.integers(1, 300))
def test_a_wider_case_gives_wider_drawers_by_the_same(wide: int, more: int):
    text = """
title: two cases
units: mm
stock: {ply: {sheet: birch plywood, thickness: 18}}
build:
  cabinet: {case: {wide: WIDE, deep: 400, high: 500, stock: ply, bays: [drawer 200, open]}}
"""
    narrow, broad = (built(text.replace("WIDE", str(w))) for w in (wide, wide + more))
    for name in ("box front", "bottom", "front"):
        part = f"cabinet.drawer 1.{name}"
        assert broad.part(part).length.value - narrow.part(part).length.value == Fraction(more)


def test_a_case_without_room_inside_says_which_board_has_none():
    text = """
title: too narrow
units: mm
stock: {ply: {sheet: birch plywood, thickness: 18}}
build:
  cabinet: {case: {wide: 30, deep: 400, high: 500, stock: ply, joint: butt}}
"""
    assert {f.code for f in told(text)} == {"no-room"}
    assert any("cabinet.bottom" in f.says for f in told(text))
