"""Edge band: rolls as they are sold, strips a little longer than their edges, and the step that puts them on."""

from fractions import Fraction
from functools import cache
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.app.pipeline import Job
from storystick.model.banding import band_strips
from storystick.model.work import Buy, Step
from storystick.work.bands import groups, strips_of
from storystick.work.rolls import Roll, rolls_for
from tests.told import job

PLAN = """
title: Cupboard
units: UNITS
stock:
  ply18: {sheet: birch plywood, sold as: 18 mm, readings: [17.7 mm], sizes: {2440 mm x 1220 mm: 80.00}}
  veneer: {band: BAND}
build:
  cupboard:
    case: {wide: 900 mm, deep: 400 mm, high: 700 mm, stock: ply18, doors: {stock: ply18, banded: yes, leaves: 2}}
"""
VENEER = "veneer edge band, thickness: 1 mm, width: 22 mm, sizes: {SIZES}"


@cache
def cupboard(sizes: str = "5000: 8.00", units: str = "mm", shop: str = "", band: str = VENEER) -> Job:
    text = PLAN.replace("BAND", band).replace("SIZES", sizes).replace("UNITS", units)
    return job(text, f"units: {units}\n{shop}")


def lines(done: Job) -> list[Buy]:
    return [line for line in done.buying.lines if "band" in line.what]


def step_of(done: Job) -> Step:
    (found,) = [step for step in done.order.steps if step.title.startswith("Band the edges")]
    return found


def wanted(done: Job) -> Fraction:
    """What the strips measure, from the doors' own sizes: 25 mm more at each end; one more of the longest."""
    doors = [part for part in done.build.parts if part.banded]
    assert len(doors) == 2
    strips = [
        size.value + 50 for part in doors for size in (part.length, part.length, part.width, part.width)
    ]
    return sum(strips, Fraction(0)) + max(strips)


@pytest.mark.parametrize("long", [2500, 5000, 7500, 25000, 50000])
def test_so_many_rolls_are_bought_as_the_strips_and_their_ends_need(long: int):
    done = cupboard(f"{long}: 8.00")
    (line,) = lines(done)
    assert line.unit == "roll"
    assert line.count * long >= wanted(done)
    assert line.price == 8
    # with no strip pieced together up to a strip's length of each roll is left over
    assert (line.count - 1) * (long - 750) < wanted(done)


def test_the_cheapest_mix_of_rolls_is_taken():
    # about 6.5 m are needed: 5 m and 2.5 m at 8 and 5 are cheaper than 25 m at 20 or two of 5 m at 16
    found = {line.size: line.count for line in lines(cupboard("5000: 8.00, 2500: 5.00, 25000: 20.00"))}
    assert found == {"5 m x 22 mm": 1, "2.5 m x 22 mm": 1}
    (whole,) = lines(cupboard("5000: 8.00, 2500: 5.00, 25000: 12.00"))
    assert (whole.size, whole.count) == ("25 m x 22 mm", 1)


def test_a_roll_on_the_rack_is_used_first_and_costs_nothing():
    rack = "on hand:\n  - {band: veneer edge band, size: 5000}\n"
    had, bought = lines(cupboard("5000: 8.00", shop=rack))
    assert (had.count, had.have, had.total) == (1, 1, None)
    assert (bought.count, bought.have, bought.total) == (1, 0, 8)


def test_a_roll_in_feet_is_said_in_feet():
    (line,) = lines(cupboard("25 ft: $9.00", units="inch"))
    assert line.size == "25 ft x 55/64 in heavy" or line.size.startswith("25 ft x ")


def test_a_band_without_sizes_is_bought_by_the_metre():
    band = "veneer edge band, thickness: 1 mm, width: 22 mm"
    done = cupboard(band=band)
    (line,) = lines(done)
    assert Fraction(line.size.removesuffix(" m")) * 1000 >= wanted(done)


def test_the_strips_are_longer_than_their_edges_at_both_ends_and_those_of_the_ends_come_first():
    done = cupboard()
    for part in done.build.parts:
        strips = band_strips(part, done.build)
        assert all(strip.long == strip.edge_long + 50 for strip in strips)
        assert [strip.on_end for strip in strips] == sorted((strip.on_end for strip in strips), reverse=True)


def test_the_step_says_how_long_the_strips_are_and_comes_before_the_hinges_are_drilled():
    done = cupboard()
    step = step_of(done)
    said = " ".join(step.does)
    door = next(part for part in done.build.parts if part.banded)
    assert f"{float(door.width.value + 50):g}" in said.replace(" mm", "")
    assert "Iron it on" in said
    bored = [one.number for one in done.order.steps if any(name == door.name for name, _ in one.cuts)]
    assert bored
    assert step.number < min(bored)
    saws = [one for one in done.order.steps if one.stage.name in ("SAW", "BREAK_DOWN")]
    sawn = [one.number for one in saws if door.name in one.parts]
    assert step.number > max(sawn)


@pytest.mark.parametrize(
    ("band", "says"),
    [("thick veneer edge band", "Glue on"), ("2 mm plastic edge band", "Cement on"), ("melamine edge band", "Iron")],
)
def test_each_band_is_put_on_as_it_is_made_for(band: str, says: str):
    done = cupboard(band=VENEER.replace("veneer edge band", band))
    assert any(says in text for text in step_of(done).does)


def test_the_narrowest_band_that_is_wide_enough_is_taken():
    text = PLAN.replace("BAND", VENEER).replace("SIZES", "5000: 8").replace("UNITS", "mm")
    more = "  broad: {band: melamine edge band, thickness: 0.4 mm, width: 45 mm, sizes: {5000: 4}}\n"
    less = "  slim: {band: melamine edge band, thickness: 0.4 mm, width: 14 mm, sizes: {5000: 3}}\n"
    done = job(text.replace("build:", f"{more}{less}build:"), "units: mm\n")
    ((band, parts),) = groups(done.build)
    assert band is not None
    assert band.name == "veneer"
    assert len(strips_of(parts, done.build)) == 8


strips = st.lists(st.integers(100, 2600).map(Fraction), min_size=1, max_size=14)
sold = st.lists(
    st.tuples(st.integers(900, 30000), st.integers(1, 60), st.booleans(), st.integers(1, 3)), min_size=1, max_size=3
)


@settings(max_examples=150, deadline=None)
@given(strips, sold)
def test_any_strips_come_off_the_rolls_that_are_taken_and_no_one_length_is_cheaper(
    asked: list[Fraction], had: list[tuple[int, int, bool, int]]
):
    rolls = [
        Roll(f"r{n}", Fraction(long), None if hand else Fraction(price), count if hand else None, hand)
        for n, (long, price, hand, count) in enumerate(had)
    ]
    taken = rolls_for(asked, rolls)
    longest = max(roll.long for roll in rolls)
    whole = sum(asked, Fraction(0))
    if not taken:
        assert all(roll.on_hand for roll in rolls) or longest < max(asked)
        return
    assert sum((sum(one.strips, Fraction(0)) for one in taken), Fraction(0)) == whole
    for one in taken:
        assert sum(one.strips, Fraction(0)) <= one.roll.long
    for roll in rolls:
        if roll.on_hand:
            assert sum(one.roll == roll for one in taken) <= (roll.copies or 0)
    if max(asked) > min(longest, *(roll.long for roll in rolls if not roll.on_hand), longest):
        return  # some are pieced together
    got = sorted(length for one in taken for length in one.strips)
    assert got == sorted(asked)
    paid = sum((one.roll.price or Fraction(0) for one in taken), Fraction(0))
    for roll in rolls:
        if not roll.on_hand and roll.long >= max(asked):
            alone = rolls_for(asked, [roll])
            assert paid <= sum((one.roll.price or Fraction(0) for one in alone), Fraction(0))


def test_an_edge_longer_than_any_roll_is_pieced_together_and_it_is_said():
    (line,) = lines(cupboard("600: 2.00"))
    assert "pieced together" in line.used_for
    assert line.count * 600 >= wanted(cupboard("600: 2.00"))


def test_the_mix_of_rolls_is_as_cheap_as_any_that_is_tried_by_hand():
    asked = [Fraction(n) for n in (2100, 1900, 1500, 1500, 900, 700, 400)]
    rolls = [Roll("a", Fraction(2500), Fraction(5)), Roll("b", Fraction(5000), Fraction(8))]
    paid = sum((one.roll.price or Fraction(0) for one in rolls_for(asked, rolls)), Fraction(0))
    # 9000 mm: 1 of a and 2 of b hold 12500 (21); 2 of b 10000 (16): 2100 1900 900 = 4900, 1500 1500 700 400 = 4100
    assert paid == 16
    assert min(5 * a + 8 * b for a, b in product(range(5), range(3)) if 2500 * a + 5000 * b >= 9000) == 16
