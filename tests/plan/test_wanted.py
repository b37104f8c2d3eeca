"""What a plan wants of the order of work is read with its place; what says no order is told, all at once."""

from storystick.plan.read import read_plan

PLAN = """units: inch
build:
  shelf: {board: {long: 30, wide: 10, stock: birch}}
work:
"""


def test_wishes_are_kept_with_their_places():
    plan = read_plan(PLAN + "  pin: [sand before glue, measure first]\n  prefer: drill before saw\n", "p.yaml").made
    assert plan is not None
    told = [(one.sort, one.text, one.place.line) for one in plan.wanted]
    assert told == [("pin", "sand before glue", 5), ("pin", "measure first", 5), ("prefer", "drill before saw", 6)]


def test_every_unclear_wish_is_told_where_it_stands():
    read = read_plan(PLAN + "  pn: sand before glue\n  pin: [sand, sand before]\n  forbid: sand first\n", "p.yaml")
    lines = [one.place.line for one in read.findings]
    assert lines.count(5) == 1
    assert lines.count(6) == 2
    assert lines.count(7) == 1
    assert any("pin" in one.advice + one.says for one in read.findings if one.place.line == 5)
