"""One value changed in the text, and not a byte beside it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.ground.finding import Place
from storystick.ground.marked import read_marked, scalars
from storystick.plan.splice import splice

PLAN = """\
title:   Stand   # two  blanks, and a comment: kept
units: inch\r
site: {bench: {height:  34 , plane: top}}   # odd blanks
measure:
  'größe': "23 5/8"
  empty:
  list: [ 1,2 , 3 ]
  text: |
    two
    lines
"""


def value(text, wanted, nth=0):
    return [one for one in scalars(read_marked(text).made) if one.text == wanted][nth]


@pytest.mark.parametrize(
    ("old", "new", "stands"),
    [
        ("34", '33 15/16"', 'height:  33 15/16" , plane'),
        ("34", "5' 3", "height:  5' 3 , plane"),
        ("34", "a, b", "height:  'a, b' , plane"),
        ("34", "#8 x 1", "height:  '#8 x 1' , plane"),
        ("23 5/8", "24", '"24"'),
        ("Stand", "it's: a stand", "title:   'it''s: a stand'   # two"),
        ("2", "2 1/2", "[ 1,2 1/2 , 3 ]"),
        ("", "7", "empty: 7\n"),
        ("inch", "mm", "units: mm\r\n"),
        ("two\nlines\n", "one", "text: one"),
        ("34", "", "height:  '' , plane"),
        ("Stand", "two\nlines", 'title:   "two\\nlines"   #'),
    ],
)
def test_one_value_is_changed_and_every_other_byte_stays(old, new, stands):
    place = value(PLAN, old).place
    changed = splice(PLAN, place, new).made
    assert stands in changed
    assert value(changed, new).place.line == place.line
    before, after = PLAN.split("\n"), changed.split("\n")
    same_above = before[: place.line - 1] == after[: place.line - 1]
    same_below = before[place.end_line :] == after[len(after) - len(before) + place.end_line :]
    assert same_above
    assert same_below


def test_a_place_where_no_value_stands_is_refused():
    outcome = splice(PLAN, Place("", 1, 2, 1, 3), "x")
    assert outcome.made is None
    assert outcome.findings


def test_a_text_that_is_no_plan_is_refused():
    assert splice("a: [", Place("", 1, 4, 1, 5), "x").made is None


ANYTHING = st.text(max_size=20)
SCRIBBLE = st.text("ab 12/:#'\"-[]{},\n½&*!|>%@`?\t", max_size=12)


@given(st.one_of(ANYTHING, SCRIBBLE), st.integers(0, 8))
def test_any_value_put_in_reads_back_as_it_was_and_leaves_the_rest(new, nth):
    before = list(scalars(read_marked(PLAN).made))
    old = before[nth % len(before)]
    outcome = splice(PLAN, old.place, new)
    if outcome.made is None:
        assert outcome.findings
        return
    after = [one.text for one in scalars(read_marked(outcome.made).made)]
    assert after == [new if one is old else one.text for one in before]
    assert outcome.made.count("# odd blanks") == 1


@given(st.integers(0, 8))
def test_putting_the_old_value_back_gives_the_old_text(nth):
    before = [one for one in scalars(read_marked(PLAN).made) if "\n" not in one.text and one.text]
    old = before[nth % len(before)]
    changed = splice(PLAN, old.place, "something else").made
    again = splice(changed, value(changed, "something else").place, old.text).made
    assert again == PLAN
