"""Sums as they are written on a board: what they come to, what they rest on, what is said when they don't add up."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.ground import dim as dims
from storystick.ground.arithmetic import Names, Scalar, names_in, read_sum
from storystick.ground.dim import counts, formula
from storystick.ground.finding import Place
from storystick.ground.length import INCH, inch, read_length, show_number

KNOWN = {
    "opening": inch(30), "side": inch("23/32"), "bed height": inch(34), "stand.inside.wide": inch(26), "leg 2": inch(3),
    "t-track": inch("3/4"), "inside": inch(24), "gap": inch("1/8"),
}  # fmt: skip


def shop_names(bare="inch"):
    return Names(bare, tuple((name, dims.given(name, value, "")) for name, value in KNOWN.items()))


def reckon(text, bare="inch", power=1):
    mistakes = []
    dim = read_sum(Scalar(text, Place("plan.yaml", 3, 5, 3, 5 + len(text))), shop_names(bare), mistakes, power)
    assert (dim is None) == bool(mistakes)
    return dim, mistakes


SUMS = [
    ("24", 24),
    ("24-5/8", Fraction(197, 8)),
    ("24 - 5/8", Fraction(187, 8)),
    ("24 -5/8", Fraction(187, 8)),
    ("opening - 2 x side", 30 - Fraction(23, 16)),
    ("opening - 2 * side", 30 - Fraction(23, 16)),
    ("opening − 2 × side", 30 - Fraction(23, 16)),
    ("opening - side - side", 30 - Fraction(23, 16)),
    ("Opening minus 2 times SIDE", 30 - Fraction(23, 16)),
    ("half of inside", 12),
    ("half the inside", 12),
    ("1/2 of inside", 12),
    ("1/2 of the inside", 12),
    ("a third of inside", 8),
    ("two thirds of the inside", 16),
    ("three quarters of inside", 18),
    ("a quarter of (inside - gap)", Fraction(24 * 8 - 1, 32)),
    ("twice the gap", Fraction(1, 4)),
    ("half of inside - gap", 12 - Fraction(1, 8)),
    ("half of half of inside", 6),
    ("inside / 2", 12),
    ("inside ÷ 2", 12),
    ("inside/2", 12),
    ("2 x inside", 48),
    ("(opening - gap) / 2", Fraction(239, 16)),
    ("the smaller of opening, 18", 18),
    ("the smaller of inside and opening", 24),
    ("the larger of inside, opening, 40", 40),
    ("min(opening, 18)", 18),
    ("max(opening, 18) + 1", 31),
    ("2 x the smaller of 3, 4", 6),
    ("inside / 7 to the nearest 1/16", Fraction(55, 16)),
    ("inside / 7 to the nearest sixteenth", Fraction(55, 16)),
    ("inside / 7 down to 1/16", Fraction(54, 16)),
    ("inside / 7 rounded up to the next eighth", Fraction(28, 8)),
    ("(inside / 7 down to 1/2) + 1", 4),
    ("leg 2 + 1", 4),
    ("t-track x 2", Fraction(3, 2)),
    ("bed height - 1/16", 34 - Fraction(1, 16)),
    ("stand.inside.wide - 1/4", Fraction(103, 4)),
    ("inside-2", 22),
    ("-3", -3),
    ("3 - -3", 6),
    ("inside / opening x 10", 8),
    ("2 x 3", 6),
    ("1/2 x 12", 6),
    ("1 ft + 6", 18),
    ("5' 3 1/2\" - 3 1/2", 60),
    ("(5') - 3\"", 57),
    ("2 3/4 in + 25.4 mm", Fraction(15, 4)),
]


@pytest.mark.parametrize(("text", "inches"), SUMS)
def test_a_sum_comes_to_what_a_woodworker_would_say(text, inches):
    dim, mistakes = reckon(text)
    assert not mistakes, mistakes[0].says
    assert dim.value == inches * INCH
    assert dim.power == 1


METRIC = [
    ("600", 600), ("600 - 2 x 18", 564), ("600 / 4 down to 1 mm", 150), ("1/2 of 600", 300), ("600 x 1/2", 300),
    ("half of 600", 300), ("601 / 2 to the nearest mm", 301), ("601 / 2 down to 1", 300), ("1 m 20 cm - 200", 1000),
]  # fmt: skip


@pytest.mark.parametrize(("text", "millimetres"), METRIC)
def test_plain_numbers_of_a_metric_plan_are_millimetres_or_counts(text, millimetres):
    dim, mistakes = reckon(text, "mm")
    assert not mistakes, mistakes[0].says
    assert dim.value == millimetres


@pytest.mark.parametrize("text", ["inside - 1/16", "24-5/8", "inside to the nearest 1/16"])
def test_a_bare_fraction_in_a_metric_sum_is_asked_about(text):
    _, mistakes = reckon(text, "mm")
    assert "1/16 in" in mistakes[0].advice or "24-5/8 in" in mistakes[0].advice


WRONG = [
    # the sum, the column within it, what is said, what is advised
    ("openin", 0, "not a name that is known", "opening"),
    ("2 x openin - gap", 4, "'openin'", "opening"),
    ("inside-gap", 0, "inside-gap", "inside - gap"),
    ("nonsense", 0, "Known names", ""),
    ("inside +", 7, "ends where", ""),
    ("(inside", 0, "not closed", ""),
    ("inside)", 6, "not opened", ""),
    ("min(1, 2", 0, "not closed", ""),
    ("min(1)", 0, "choice", "smaller of"),
    ("23 inchs", 3, "no sign between", "23 inch"),
    ("24 wide", 3, "no sign between", "24 - wide"),
    ("inside 1/2", 7, "no sign between", "inside - 1/2"),
    ("24,5 + 1", 0, "not a number", "24.5"),
    ("5' - 3\"", 3, "not clear", "5' 3\""),
    ("inside / 0", 7, "divides by nothing", ""),
    ("inside x opening", 0, "an area", ""),
    ("inside / gap", 0, "a plain number", "unit"),
    ("inside + inside x inside", 7, "brought together", ""),
    ("inside to the nearest 0", 7, "more than nothing", ""),
    ("@", 0, "part of a sum", ""),
    ("", 0, "nothing is written", ""),
    ("of", 0, "can't stand here", ""),
    ("x", 0, "can't stand here", ""),
    ("3 +* 4", 3, "can't stand here", ""),
    ("9" * 61, 0, "not a number", ""),
    ("1000 m + 1", 0, "more than a million", ""),
    ("(" * 30 + "1" + ")" * 30, 0, "deep", "parts"),
    ("1+" * 90 + "1", 0, "anyone can follow", "parts"),
    ("1 + " * 150 + "1", 0, "characters long", "shorter"),
    ("-" * 60 + "1", 0, "deep", "parts"),
]


@pytest.mark.parametrize(("text", "column", "says", "advice"), WRONG)
def test_a_sum_that_is_wrong_says_where_and_what_would_work(text, column, says, advice):
    _, mistakes = reckon(text)
    finding = mistakes[0]
    assert finding.place.line == 3
    assert finding.place.column == 5 + column
    assert says in finding.says
    assert advice in finding.advice


def test_all_unknown_names_of_a_sum_are_told_at_once():
    _, mistakes = reckon("openin - gop")
    assert [m.advice for m in mistakes] == ["Write opening.", "Write gap."]


def test_the_leaves_are_what_was_written_with_their_places():
    dim, _ = reckon("opening - 2 x side - 1/4")
    leaves = {leaf.name: (leaf.place.column, weight) for leaf, weight in counts(dim).values()}
    assert leaves == {"opening": (0, 1), "side": (0, -2), "1/4": (5 + 21, -1)}


def test_the_formula_reads_as_it_was_written():
    dim, _ = reckon("opening - 2 x side")
    assert formula(dim, lambda d: show_number(d.value)) == "opening - 2 x side"


def test_a_rounded_length_counts_by_itself_and_tells_what_it_was_made_from():
    dim, _ = reckon("inside / 7 down to 1/16")
    assert [leaf.kind for leaf, _ in counts(dim).values()] == ["chosen"]
    assert dim.node.looked_at[0].value == inch(24) / 7


def test_plain_numbers_can_be_asked_for():
    assert reckon("2 1/2", power=0)[0].value == Fraction(5, 2)
    assert reckon("1/2", "mm", power=0)[0].value == Fraction(1, 2)
    assert reckon("inside / gap", power=0)[0].value == 192
    assert "a plain number" in reckon("3 mm", power=0)[1][0].says


def test_the_names_in_a_sum_can_be_listed_to_put_sums_in_order():
    text = "the smaller of stand.inside.wide - Bed  Height / 2, half of leg 2 down to 1/16"
    assert names_in(text) == {"stand.inside.wide", "bed height", "leg 2"}
    assert names_in(text, {"stand", "bed height", "hood"}) == {"stand", "bed height"}
    assert names_in("24") == names_in("@") == names_in("") == set()


PIECES = st.sampled_from(["24", "1/2", "3 5/8", "6 mm", "inside", "bed height", "side"])


@st.composite
def sums(draw, deep=3):
    """A sum of lengths with what it should come to, reckoned beside it in plain fractions."""
    if deep == 0 or draw(st.booleans()):
        text = draw(PIECES)
        return text, KNOWN[text] if text in KNOWN else read_length(text, "inch")
    one, left = draw(sums(deep - 1))
    match draw(st.sampled_from(["+", "-", "x", "/", "of", "smaller"])):
        case "+":
            other, right = draw(sums(deep - 1))
            return f"({one}) + ({other})", left + right
        case "-":
            other, right = draw(sums(deep - 1))
            return f"({one}) - ({other})", left - right
        case "x":
            by = draw(st.integers(1, 9))
            return f"{by} x ({one})", by * left
        case "/":
            by = draw(st.integers(1, 9))
            return f"({one}) / {by}", left / by
        case "of":
            return f"two thirds of ({one})", left * Fraction(2, 3)
        case _:
            other, right = draw(sums(deep - 1))
            return f"the smaller of ({one}), ({other})", min(left, right)


@given(sums())
def test_any_sum_comes_to_what_plain_fractions_say(pair):
    text, value = pair
    dim, mistakes = reckon(f"({text}) + 1 in")
    assert not mistakes, mistakes[0].says
    assert dim.value == value + INCH


@given(st.text(max_size=60), st.sampled_from(["inch", "mm"]), st.sampled_from([0, 1]))
def test_no_text_whatever_breaks_a_sum(text, bare, power):
    reckon(text, bare, power)


JUMBLE = [
    "24", "1/2", "3 5/8", "5'", '3"', "inside", "of", "half of", "the", "x", "-", "+", "/", "(", ")", ",", "mm", "0",
    "to the nearest", "down to", "1/16", "the smaller of", "and", "min", "sixteenth", ".",
]  # fmt: skip


@given(st.lists(st.sampled_from(JUMBLE), max_size=14))
def test_no_jumble_of_words_breaks_a_sum(words):
    dim, mistakes = reckon(" ".join(words))
    assert dim is not None or all(m.says for m in mistakes)
