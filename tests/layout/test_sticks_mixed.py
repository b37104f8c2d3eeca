"""Sticks by the dozen: whole answers out of a mix of patterns, and a bound that no answer is under."""

from fractions import Fraction
from functools import cache
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storystick.layout.sheets.begin import reckon
from storystick.layout.strips import HASTY, Patience, StripProblem, lay_out_strips
from storystick.layout.strips.columns import Columns, fullest, lengths_of
from storystick.layout.strips.problem import as_sheets
from storystick.layout.strips.refute import refute
from storystick.model.cutting import Blank, Sheet


def problem(lengths: list[int], sticks: tuple[Sheet, ...], kerf: str = "0") -> StripProblem:
    blanks = tuple(Blank(f"rail {n}", Fraction(one), Fraction(1)) for n, one in enumerate(lengths))
    return StripProblem(blanks, sticks, Fraction(kerf))


def stick(long: int, price: int = 1, copies: int | None = None) -> Sheet:
    return Sheet(f"stick {long}", Fraction(long), Fraction(1), Fraction(price), copies)


@pytest.mark.parametrize("seed", range(3))
def test_rails_that_fill_their_sticks_three_by_three_are_found_again(seed: int) -> None:
    # Made as Falkenauer (1996) made his triplets: 1000 sawn in three, so the best is known, and nothing is to spare.
    dice = Random(seed)
    lengths: list[int] = []
    for _ in range(20):
        first = dice.randint(380, 490)
        second = dice.randint(250, (1000 - first) // 2)
        lengths += [first, second, 1000 - first - second]
    asked = problem(lengths, (stick(1000),))
    answer = lay_out_strips(asked)
    assert len(answer.layout.trees) == 20 == answer.least_cost
    assert list(refute(answer.layout, asked)) == []
    assert len(lay_out_strips(asked, patience=HASTY).layout.trees) > 20


def test_the_bound_knows_what_the_area_does_not() -> None:
    # By hand: of 30, 30 and 45 out of 100 three are too long and any two go, so seven rails take four sticks.
    answer = lay_out_strips(problem([45] * 7, (stick(100),)))
    assert len(answer.layout.trees) == 4 == answer.least_cost


def test_kerfs_count_between_rails_and_not_behind_the_last() -> None:
    # By hand: 3 x 332 and 2 kerfs of 2 are 1000; with 3 kerfs they are not.
    answer = lay_out_strips(problem([332] * 9, (stick(1000),), "2"))
    assert len(answer.layout.trees) == 3 == answer.least_cost


def test_the_same_sticks_come_out_twice() -> None:
    dice = Random(7)
    asked = problem([dice.randint(20, 100) for _ in range(60)], (stick(150),))
    assert lay_out_strips(asked) == lay_out_strips(asked)


def test_the_search_is_stopped_between_two_steps() -> None:
    dice = Random(3)
    lengths = [dice.randint(200, 700) for _ in range(80)]
    asked = problem(lengths, (stick(1000),))
    assert lay_out_strips(asked, stop=lambda: True).layout.unplaced == ()


def cheapest(lengths: list[int], sticks: tuple[Sheet, ...]) -> Fraction | None:
    """The least cost by trying everything: each rail in turn on a begun stick or on a new one of each sort."""

    @cache
    def least(place: int, rooms: tuple[int, ...], used: tuple[int, ...]) -> Fraction | None:
        if place == len(lengths):
            return Fraction(0)
        ways = []
        for index, room in enumerate(rooms):
            if room >= lengths[place] and room not in rooms[:index]:
                left = (*rooms[:index], room - lengths[place], *rooms[index + 1 :])
                ways.append(least(place + 1, tuple(sorted(left)), used))
        for number, one in enumerate(sticks):
            if one.long >= lengths[place] and (one.copies is None or used[number] < one.copies):
                more = (*used[:number], used[number] + 1, *used[number + 1 :])
                rest = least(place + 1, tuple(sorted((*rooms, int(one.long) - lengths[place]))), more)
                ways.append(None if rest is None else rest + one.price)
        return min((way for way in ways if way is not None), default=None)

    return least(0, (), (0,) * len(sticks))


SOLD: tuple[tuple[Sheet, ...], ...] = (
    (stick(20),),
    (stick(20, 5), stick(13, 3)),
    (stick(24, 5), stick(12, 2, 2)),
    (stick(20, 3, 2), stick(21, 9)),
)


@given(
    st.lists(st.integers(3, 20), min_size=1, max_size=8),
    st.sampled_from(SOLD),
)
@settings(max_examples=60, deadline=None)
def test_no_way_of_cutting_costs_less_than_the_bound_and_ours_costs_no_more_than_the_least(
    lengths: list[int], sticks: tuple[Sheet, ...]
) -> None:
    answer = lay_out_strips(problem(lengths, sticks), patience=Patience(5, 20_000_000))
    least = cheapest(sorted(lengths, reverse=True), sticks)
    assert least is not None
    assert answer.least_cost <= least <= answer.layout.cost
    assert answer.layout.unplaced == ()
    assert answer.layout.cost == least


@given(
    st.lists(st.tuples(st.integers(1, 30), st.integers(1, 4), st.integers(0, 50)), min_size=1, max_size=5),
    st.integers(5, 60),
)
@settings(max_examples=60, deadline=None)
def test_the_fullest_stick_is_worth_what_trying_all_of_them_gives(rails: list[tuple[int, int, int]], room: int) -> None:
    sizes, counts, worths = zip(*rails, strict=True)
    best = {0: 0}
    for size, count, worth in rails:
        for total, value in list(best.items()):
            for times in range(1, count + 1):
                if total + times * size <= room:
                    best[total + times * size] = max(best.get(total + times * size, 0), value + times * worth)
    value, number = fullest(sizes, counts, worths, room)
    assert value == max(best.values()) == sum(n * w for n, w in zip(number, worths, strict=True))
    assert sum(n * s for n, s in zip(number, sizes, strict=True)) <= room
    assert all(n <= c for n, c in zip(number, counts, strict=True))


def test_lengths_finer_than_the_steps_are_rounded_to_the_safe_side() -> None:
    rails = [Fraction(10007 * n, 13) for n in (1, 2, 3)]
    blanks = tuple(Blank(f"rail {n}", one, Fraction(1)) for n, one in enumerate(rails))
    asked = StripProblem(blanks, (stick(2440),), Fraction("3.2"))
    job = reckon(as_sheets(asked))
    lengths = lengths_of(job)
    assert lengths is not None
    assert not lengths.exact
    room = Fraction(2440 * 320 + 1024)
    for size, kinds in zip(lengths.sizes, lengths.kinds, strict=True):
        assert Fraction(size, lengths.sticks[0].room) >= (job.kinds[kinds[0]].fits[0].long + job.kerf) / room
    assert Columns(lengths).bound == 0
