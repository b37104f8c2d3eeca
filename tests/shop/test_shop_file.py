"""The shop file: what is read from the list on the wall, what is assumed, and what is said of mistakes."""

import random
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.ground.length import INCH, inch
from storystick.ground.quantities import Money
from storystick.ground.size_words import read_sizes
from storystick.shop.read import default_shop, read_shop
from storystick.shop.shop import OWN, USUAL
from storystick.shop.usual import usual_text

WALL = """\
name: the shed behind the house
units: inch
saws:
  table saw: {rip: 52, crosscut: 24, depth: 3 1/8, kerf: 3/32}
  the little one: {kind: band saw, kerf: 0.025}
dado set: 1/4 to 13/16
router: yes
bits:
  straight: [1/8, 23/32, 1/2 x 1 1/4]
  rebate: [3/8]
  pattern bits: [1/2 x 1]
bushings: [5/8, 51/64]
drill bits: {forstner: [1/4 to 1 by 1/8, 35 mm], twist: [1/16]}
countersinks: ["#8"]
drivers: {drill: {long: 9, across: 3}}
pocket jig: no
clamps: {bar clamps: {24: 4, 40: two}}
measuring: {tape: 1/32, calliper: 0.03 mm}
helpers: one
door: 32 x 80
lift: 60
trim: 1/4
air: {driest: 65 %, dampest: 25 %, temperature: 65 F}
other tools: [drill press, block plane]
on hand:
  - {sheet: birch18, size: 4 ft x 8 ft, count: 2}
  - {offcut: birch plywood, size: 12 x 30, grain: short, thickness: 0.7, says: by the door}
  - {board: black walnut, size: 13/16 x 5 x 60}
  - {strip: hard maple, size: 96}
prices: {birch plywood 18 mm: $92.00, walnut: 11.50}
currency: $
"""


@pytest.fixture
def shop():
    outcome = read_shop(WALL, "shop.yaml")
    assert outcome.sound
    assert not outcome.findings
    return outcome.made


def test_saws_are_what_the_list_says_and_the_usual_where_it_says_nothing(shop):
    table, band = shop.saws
    assert (table.kind, table.rip, table.kerf) == ("table saw", 52 * INCH, inch("3/32"))
    assert table.source == OWN
    assert table.narrowest == inch(2)  # not in the list: the usual one
    assert (band.name, band.kind, band.kerf) == ("the little one", "band saw", inch("0.025"))
    assert shop.saws_of("band saw") == (band,)
    assert (shop.dado_set.least, shop.dado_set.most) == (inch("1/4"), inch("13/16"))


def test_bits_are_listed_by_size_and_cutting_length(shop):
    assert [(bit.size, bit.cuts) for bit in shop.bits_of("straight")] == [
        (inch("1/8"), None), (inch("1/2"), inch("1 1/4")), (inch("23/32"), None)]  # fmt: skip
    assert [bit.bearing for bit in shop.bits_of("straight", "pattern")] == [False, False, True, False]
    assert shop.bits_of("rabbet")[0].size == inch("3/8")  # written in the other English


def test_a_row_of_drill_bits_can_be_written_in_steps(shop):
    sizes = [bit.diameter for bit in shop.drills_of("forstner")]
    assert sizes == [n * inch("1/8") for n in range(2, 9)] + [35]
    assert shop.drills_of()[0].diameter == inch("1/16")


def test_clamps_are_so_many_of_each_opening(shop):
    assert [(c.kind, c.opening, c.count) for c in shop.clamps] == [
        ("bar clamp", inch(24), 4),
        ("bar clamp", inch(40), 2),
    ]


def test_a_measuring_tool_is_off_by_no_more_than_is_said(shop):
    # +-1/32 in, every value as likely: standard deviation a/sqrt(3) (GUM 4.3.7)
    tape = shop.measuring_tool("tape")
    assert tape.sd == pytest.approx(25.4 / 32 / 3**0.5)
    assert shop.measuring_tool("caliper").name == "calliper"
    assert tape.sd_at(Fraction(5000)) == tape.sd


def test_the_rack_knows_its_grain(shop):
    sheet, offcut, board, strip = shop.on_hand
    assert (sheet.form, sheet.of, sheet.long, sheet.wide, sheet.count) == ("sheet", "birch18", inch(96), inch(48), 2)
    assert (offcut.long, offcut.wide, offcut.thickness) == (inch(12), inch(30), inch("0.7"))
    assert (board.long, board.wide, board.thickness) == (inch(60), inch(5), inch("13/16"))
    assert (strip.long, strip.wide) == (inch(96), None)


def test_the_rest_of_the_list_is_read(shop):
    assert (shop.helpers, shop.pocket_jig, shop.router) == (1, False, True)
    assert shop.door == (inch(32), inch(80))
    assert shop.lift == 60 * Fraction("0.45359237")
    assert (shop.air.driest, shop.air.dampest) == (25, 65)
    assert shop.prices[0].money == Money(Fraction(92), "$")
    assert shop.others == ("drill press", "block plane")
    assert shop.assumed == ()


def test_what_the_list_leaves_out_is_the_usual_shops_and_said_to_be():
    outcome = read_shop("units: inch\nsaws: [table saw]\nbits: none\n")
    shop = outcome.made
    assert outcome.sound
    assert "nothing of dado set, router" in outcome.findings[0].says
    assert shop.bits == ()
    assert shop.drills == default_shop("inch").drills
    assert "drill bits" in shop.assumed
    assert "bits" not in shop.assumed
    assert shop.saws[0].source == USUAL
    assert shop.on_hand == ()


def test_without_a_router_there_are_no_bits_to_reach_for():
    assert read_shop("units: inch\nrouter: no\nbits: {straight: [1/2]}\n").made.bits_of("straight") == ()


@pytest.mark.parametrize("habit", ["inch", "mm"])
def test_the_usual_shop_is_marked_as_common_practice_and_no_more(habit):
    shop = default_shop(habit)
    tools = [*shop.saws, *shop.bits, *shop.bushings, *shop.drills, *shop.drivers, *shop.clamps, shop.air]
    assert len(tools) > 40
    assert all(tool.source.how == "practice" for tool in tools)
    assert all(tool.source.how in ("practice", "memory") for tool in shop.measuring)
    assert shop.saws_of("table saw", "track saw")
    assert shop.bits_of("straight")
    assert shop.units == habit


@pytest.mark.parametrize("habit", ["inch", "mm"])
def test_the_usual_shop_is_a_shop_file_that_anyone_could_have_written(habit):
    outcome = read_shop(usual_text(habit), "shop.yaml")
    assert outcome.sound
    assert not outcome.findings
    assert outcome.made.assumed == ()
    assert outcome.made.saws[0].source == OWN


MISTAKES = """\
units: inch
saws:
  tabel saw: {rip: 30}
bits: {patern: [1/2 x 1], straight: [1/8, 1/x, 1/4 to 1/2]}
drill bits: {twist: [1/2 to 1/4 by 1/8]}
clamps: {bar: {x y: 2}}
measuring: [tape, guesswork]
on hand:
  - {sheet: a, offcut: b, size: 12 x 30}
  - {offcut: birch, size: 12}
  - {size: 12 x 30}
door: 32
lift: heavy
prices: {birch: cheap}
dado set: 1/4
colour: red
"""


def test_all_mistakes_of_a_shop_file_are_told_at_once_each_on_its_line():
    findings = read_shop(MISTAKES, "shop.yaml").findings
    assert {f.place.line for f in findings} == {3, 4, 5, 6, 7, 9, 10, 11, 12, 13, 14, 15, 16}
    said = {f.place.line: f"{f.says} {f.advice}" for f in reversed(findings)}
    assert "Write table saw." in said[3]
    assert "Write pattern." in said[4] or "steps" in said[4]
    assert "smaller size to a larger" in said[5]
    assert "not sheet and offcut at once" in said[9]
    assert "length and width" in said[10]


@pytest.mark.parametrize("seed", range(150))
def test_no_slip_in_a_shop_file_crashes(seed):
    chance = random.Random(seed)
    text = WALL
    for _ in range(3):
        at = chance.randrange(len(text))
        text = text[:at] + chance.choice(":-[]{}#,x0/ \n'\"½") + text[at + chance.randint(0, 3) :]
    outcome = read_shop(text, "shop.yaml")
    assert outcome.made is not None or outcome.findings
    assert all(f.place.line >= 1 and f.says for f in outcome.findings)


@given(st.text(max_size=100))
def test_no_text_whatever_breaks_the_shop(text):
    outcome = read_shop(text, "shop.yaml")
    assert outcome.made is not None or outcome.findings


SIZES = [
    ("4 ft x 8 ft", "inch", (48 * INCH, 96 * INCH)),
    ("4' x 8'", "inch", (48 * INCH, 96 * INCH)),
    ("4 x 8 ft", "inch", (48 * INCH, 96 * INCH)),
    ("12 x 30", "inch", (12 * INCH, 30 * INCH)),
    ("12 × 30", "mm", (12, 30)),
    ("1220 x 2440", "mm", (1220, 2440)),
    ("1220 by 2440 mm", "inch", (1220, 2440)),
    ("3/4x12", "inch", (INCH * 3 / 4, 12 * INCH)),
    ("13/16 x 5 x 60", "inch", (INCH * 13 / 16, 5 * INCH, 60 * INCH)),
]


@pytest.mark.parametrize(("text", "bare", "sizes"), SIZES)
def test_sizes_are_read_as_they_are_called(text, bare, sizes):
    assert read_sizes(text, bare) == sizes
