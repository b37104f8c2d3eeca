"""The first page of a new plan can be read as it stands, whatever was answered."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from storystick.ground.marked import Mapping, Scalar
from storystick.ground.sums import Names
from storystick.plan import read_plan
from storystick.plan.readings import read_measure
from storystick.plan.write import Answers, skeleton
from storystick.resolve.stock import error_of
from storystick.shop.read import default_shop

SIZES = st.fractions(min_value=50, max_value=3000, max_denominator=64)


@given(
    st.text(max_size=40).filter(lambda title: title.isprintable()),
    st.sampled_from(["inch", "mm"]),
    SIZES,
    SIZES,
    SIZES,
    st.lists(st.sampled_from([Fraction(176, 10), Fraction(177, 10), Fraction(762, 40)]), max_size=3),
)
def test_the_first_page_reads_back_as_the_answers(title, units, wide, deep, high, readings):
    outcome = read_plan(skeleton(Answers(title, units, wide, deep, high, thickness=tuple(readings))), "plan.yaml")
    assert outcome.sound
    assert not outcome.findings
    plan = outcome.made
    assert (plan.title, plan.units) == (" ".join(title.split()), units)
    mistakes = []
    for entry, asked in zip(plan.entries("measure"), (wide, deep, high), strict=True):
        dim = read_measure(entry.name, entry.node, Names(units), error_of(default_shop(units)), mistakes)
        assert not mistakes
        assert abs(dim.value - asked) <= Fraction(1, 20)


def test_the_first_page_teaches_in_the_units_that_were_answered():
    inches = skeleton(Answers("Stand", "inch", Fraction(600), Fraction(450), Fraction(900)))
    millimetres = skeleton(Answers("Stand", "mm", Fraction(600), Fraction(450), Fraction(900)))
    assert "paper: letter" in inches
    assert "paper: a4" in millimetres
    assert "width: 600 mm" in inches
    assert "width: 600\n" in millimetres


def test_other_kinds_and_their_own_lines_can_be_begun_with():
    text = skeleton(
        Answers("Top", "mm", Fraction(600), Fraction(450), Fraction(40), kind="slab", fields=(("layers", "2"),))
    )
    build = read_plan(text).made.build.get("carcass")
    assert isinstance(build, Mapping)
    slab = build.get("slab")
    assert isinstance(slab, Mapping)
    layers = slab.get("layers")
    assert isinstance(layers, Scalar)
    assert layers.text == "2"
