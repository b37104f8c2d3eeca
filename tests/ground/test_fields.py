"""Groups of declared lines: filled whole or not at all, and every mistake told at once."""

import json
from fractions import Fraction

import jsonschema
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from storystick.ground.fields import (
    Angle,
    Choice,
    Count,
    Either,
    Field,
    Fields,
    Flag,
    Length,
    ListOf,
    Money,
    NameOf,
    Node,
    Number,
    Percent,
    ReadBy,
    Record,
    Size,
    Table,
    Temperature,
    Text,
    Weight,
    fill,
)
from storystick.ground.finding import Broken
from storystick.ground.length import inch
from storystick.ground.marked import Scalar, read_marked
from storystick.ground.quantities import Money as MoneyValue
from storystick.ground.schema import schema
from storystick.ground.source import practice
from storystick.ground.sums import Names

DRAWER = Fields(
    "drawer", (Field("high", Size, required=True), Field("front", Choice(("inset", "overlay")), default="inset"))
)
CASE = Fields("case", (
    Field("wide", Size, required=True, help="over all, left to right", also=("width",)),
    Field("overhang", Length, default=("1 in", "25 mm"), source=practice("a thumb's width")),
    Field("joint", Choice(("dado", "butt"), also=(("housing", "dado"),)), default="dado"),
    Field("glue", Flag, default="yes"),
    Field("shelves", Count),
    Field("share", Number, default="1"),
    Field("tilt", Angle),
    Field("load", Weight),
    Field("price", Money),
    Field("damp", Percent),
    Field("warm", Temperature),
    Field("note", Text),
    Field("at", ListOf(Length, most=3)),
    Field("drawer", Record(DRAWER)),
    Field("drawers", ListOf(Record(DRAWER))),
    Field("sizes", Table(Money, "sizes")),
    Field("edge", Either((Flag, Record(Fields("edge", (Field("proud", Length, default="1/16 in"),)))))),
    Field("rest", Node),
    Field("own", ReadBy(lambda node, scope, mistakes: node.text.upper() if isinstance(node, Scalar) else None)),
))  # fmt: skip

WHOLE = """\
Width: 24
joint: Housing
glue: no
shelves: three
share: 1/2
tilt: 1:8
load: 20
price: $92
damp: 45 %
warm: 68
note: "#8"
at: [1, 2 - 1/2, 30 mm]
drawer: {high: 4}
drawers: [{high: 4}, {high: 6, front: overlay}]
sizes: {4 ft x 8 ft: 92.00, 2 ft x 4 ft: 30}
edge: {proud: 1/8}
rest: [anything, at all]
own: shout
"""


def filled(text, fields=CASE, bare="inch", partly=False):
    mistakes = []
    return fill(fields, read_marked(text, "plan.yaml").made, Names(bare), mistakes, partly=partly), mistakes


def test_a_whole_group_is_read_as_it_was_declared():
    case, mistakes = filled(WHOLE)
    assert not mistakes
    assert case.length("wide").value == inch(24)
    assert case.choice("joint") == "dado"
    assert not case.flag("glue")
    assert case.count("shelves") == 3
    assert case.number("share") == Fraction(1, 2)
    assert case.angle("tilt").slope == Fraction(1, 8)
    assert case.maybe_weight("load").kg == 20 * Fraction("0.45359237")  # pounds in a plan of inches
    assert case.maybe_money("price") == MoneyValue(Fraction(92), "$")
    assert case.number("damp") == 45
    assert case.number("warm") == 20  # degrees Celsius, from 68 F in a plan of inches
    assert case.text("note") == "#8"
    assert [dim.value for dim in case.lengths("at")] == [inch(1), inch("1 1/2"), 30]
    assert case.record("drawer").length("high").value == inch(4)
    assert [each.choice("front") for each in case.records("drawers")] == ["inset", "overlay"]
    assert [(key.text, money.amount) for key, money in case.table("sizes", MoneyValue)] == [
        ("4 ft x 8 ft", 92), ("2 ft x 4 ft", 30)]  # fmt: skip
    assert case.record("edge").length("proud").value == inch("1/8")
    assert case.made("own", str) == "SHOUT"
    assert case.node("rest") is not None


def test_what_is_left_out_is_left_out_or_by_default():
    case, _ = filled("wide: 24\n")
    assert case.maybe_count("shelves") is None
    assert case.maybe_length("overhang").value == inch(1)
    assert case.choice("joint") == "dado"
    assert case.flag("glue")
    assert not case.has("glue")
    assert case.has("width")
    assert case.place("wide").line == 1
    assert case.place("glue") == case.place()
    assert case.lengths("at") == case.records("drawers") == case.table("sizes", MoneyValue) == ()


def test_a_default_length_says_whose_rule_it_is_and_fits_the_units_of_the_plan():
    inches, _ = filled("wide: 24\n")
    millimetres, _ = filled("wide: 600\n", bare="mm")
    leaf = inches.length("overhang").node
    assert leaf.kind == "rule"
    assert leaf.source == practice("a thumb's width")
    assert millimetres.length("overhang").value == 25


MISTAKES = """\
wid: 24
overhang: 3 + x
joint: dodo
glue: maybe
shelves: 2.5
share: 3 mm
tilt: steep
load: heavy
price: 12,50
damp: 300 %
note: [a, b]
at: [1, 2, 3, 4]
drawer: {hi: 3}
drawers: [{front: inset}, 4]
sizes: 92
edge: perhaps
colour: red
"""


def test_every_mistake_of_a_group_is_told_at_once_each_on_its_line():
    case, mistakes = filled(MISTAKES)
    assert case is None
    assert sorted({m.place.line for m in mistakes}) == list(range(1, 18))
    said = {m.place.line: f"{m.says} {m.advice}" for m in mistakes}
    assert "Write wide." in said[1]
    assert "one of dado or butt" in said[3]
    assert "Write dado." in said[3]
    assert "Write 12.50." in said[9]
    assert "A list of 2 stands here" in said[11]
    assert "at most 3" in said[12]
    assert "means nothing in the drawer" in said[13]
    assert "It may have wide" in said[17]


def test_a_misspelt_word_is_not_called_missing_as_well():
    _, mistakes = filled("wid: 24\n")
    assert len(mistakes) == 1


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("joint: dado\n", "The case needs 'wide': over all, left to right."),
        ("wide:\n", "Nothing stands behind 'wide'"),
        ("wide: 0\n", "more than nothing"),
        ("wide: 3 - 4\n", "more than nothing"),
        ("wide: [1]\n", "A list of 1 stands here"),
        ("wide: {a: 1}\n", "A group with a stands here"),
        ("wide: 1\nwidth: 2\n", "already given"),
        ("- 24\n", "A list of 1 stands here"),
        ("24\n", "'24' stands here"),
    ],
)
def test_what_is_missing_or_misshapen_is_said(text, says):
    case, mistakes = filled(text)
    assert case is None
    assert says in mistakes[0].says


def test_a_group_can_be_read_in_part_to_look_for_more_mistakes():
    case, mistakes = filled("wide: 24\nglue: maybe\noverhang: x y\n", partly=True)
    assert len(mistakes) == 2
    assert case.length("wide").value == inch(24)
    assert case.flag("glue")
    assert case.length("overhang").value == inch(1)
    assert filled("wide: x y\n", partly=True)[0] is None


SHORT = Fields("edge", (Field("stock", Text, required=True), Field("proud", Length, default="1/16 in")), short="stock")


def test_a_single_value_can_stand_for_its_group():
    edge, mistakes = filled("walnut\n", SHORT)
    assert not mistakes
    assert edge.text("stock") == "walnut"


class Yard(Names):
    """A scope that knows what stock there is."""

    def called(self, what):
        return ("birch18", "walnut") if what == "stock" else None


def test_the_name_of_a_stock_must_be_one_that_is_declared():
    fields = Fields("slab", (Field("stock", NameOf("stock")), Field("like", NameOf("unheard of"))))
    mistakes = []
    assert fill(fields, read_marked("stock: Birch18\nlike: x\n").made, Yard(), mistakes).text("stock") == "birch18"
    assert fill(fields, read_marked("stock: brich18\n").made, Yard(), mistakes) is None
    assert mistakes[0].advice == "Write birch18."


def test_asking_for_what_was_never_declared_is_our_own_fault():
    case, _ = filled("wide: 24\n")
    with pytest.raises(Broken):
        case.length("wideness")
    with pytest.raises(Broken):
        case.count("shelves")
    with pytest.raises(Broken):
        filled("x: 1\n", Fields("odd", (Field("x", Count), Field("y", Count, default="many"))))


def test_the_schema_is_one_and_takes_what_the_reader_takes():
    made = schema(CASE)
    jsonschema.Draft202012Validator.check_schema(made)
    assert json.loads(json.dumps(made)) == made
    whole = WHOLE.replace("Width", "width").replace("Housing", "housing").replace("three", "3")
    jsonschema.Draft202012Validator(made).validate(yaml.safe_load(whole))


REFUSED = [
    "joint: dado\n",
    "wide: 24\ncolour: red\n",
    "wide: 24\njoint: dodo\n",
    "wide: [1]\n",
    "wide: 24\nglue: maybe\n",
    "wide: 24\ndrawer: {hi: 3}\n",
    "wide: 24\nat: [1, 2, 3, 4]\n",
]


@pytest.mark.parametrize("text", REFUSED)
def test_the_schema_refuses_what_the_reader_refuses_by_word_and_shape(text):
    assert filled(text)[0] is None
    assert not jsonschema.Draft202012Validator(schema(CASE)).is_valid(yaml.safe_load(text))


def test_the_schema_knows_the_single_value_that_stands_for_a_group():
    made = jsonschema.Draft202012Validator(schema(SHORT))
    assert made.is_valid("walnut")
    assert made.is_valid({"stock": "walnut"})
    assert not made.is_valid({"proud": "1/8"})


VALUES = st.sampled_from(
    ["24", "x", "[1, 2]", "{a: 1}", "", "yes", "1/2", "[]", "{}", "'#8'", "dado", "3 kg", "-1", "[[1]]"]
)
WORDS = st.sampled_from([word for word in CASE.words() if word != "own"] + ["wid", "colour"])


@given(st.dictionaries(WORDS, VALUES, max_size=8), st.booleans())
def test_no_mixture_of_words_and_values_breaks_the_filling(lines, partly):
    text = "".join(f"{word}: {value}\n" for word, value in lines.items())
    case, mistakes = filled(text, partly=partly)
    assert case is not None or mistakes
    assert partly or (case is None) == bool(mistakes)
    assert all(m.place.line >= 1 and m.says for m in mistakes)
