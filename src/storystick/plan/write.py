"""The first page of a new plan: what the maker answered, with comments that teach the rest."""

from dataclasses import dataclass
from fractions import Fraction

from storystick.ground.length import Manner, Unit, show
from storystick.plan.plan import Paper, Words


@dataclass(frozen=True, slots=True)
class Answers:
    """The few things asked before a plan is begun. Lengths in mm.

    kind   the kind of assembly that it begins with, and `fields` what else that kind is told (word, text)
    """

    title: str
    units: Unit
    wide: Fraction
    deep: Fraction
    high: Fraction
    sheet: str = "birch plywood"
    thickness: tuple[Fraction, ...] = ()
    sold_as: Fraction | None = None
    kind: str = "case"
    fields: tuple[tuple[str, str], ...] = ()
    paper: Paper | None = None
    words: Words | None = None


def skeleton(answers: Answers) -> str:
    """A plan that can be read as it stands, for the answers given."""
    inch = answers.units == "inch"
    manner = Manner(answers.units, 64)
    paper = answers.paper or ("letter" if inch else "a4")
    words = answers.words or ("american" if inch else "british")
    plain = {name: _length(value, manner) for name, value in
             (("wide", answers.wide), ("deep", answers.deep), ("high", answers.high))}  # fmt: skip
    sold = answers.sold_as or (Fraction(762, 40) if inch else Fraction(18))
    readings = ", ".join(_length(value, manner) for value in answers.thickness)
    measured = f"readings: [{readings}]" if readings else f"sold as: {_length(sold, manner)}"
    size = "4 ft x 8 ft" if inch else "1220 x 2440"
    extra = "".join(f"\n      {word}: {text}" for word, text in answers.fields)
    two = (
        ("inches", "23 5/8, 24-1/2, 5' 3 1/2\", .75 or 601.5 mm")
        if inch
        else ("millimetres", "600, 601.5, 60 cm or 23 5/8 in")
    )
    return f"""\
# Everything after a # is for you alone.
title: {_text(answers.title)}
units: {answers.units}            # a plain number is in {two[0]}; any length may be {two[1]}
paper: {paper}
words: {words}

# What you measured, each under a name that you can use in any sum further down.
# Give all readings, and the one that counts is worked out: opening: {{readings: [...], with: tape, takes: smallest}}
measure:
  width: {plain["wide"]}
  depth: {plain["deep"]}
  height: {plain["high"]}

# What is already there: machines, walls, the frame it has to fit.
site:

# What it is made from. Measure the sheet: it is seldom as thick as it is sold.
# Say what it is sold in and what it costs where you buy it, within the braces: sizes: {{{size}: 92.00}}
stock:
  panel: {{sheet: {answers.sheet}, {measured}}}

# What is to be built. Sums and names may stand wherever a length does: width - 1/8 in, half of height, 2 x depth
build:
  carcass:
    {answers.kind}:
      wide: width
      deep: depth
      high: height
      stock: panel{extra}

# What it has to carry, such as carcass: 20 kg
loads:
"""


def _length(value: Fraction, manner: Manner) -> str:
    """A length that reads back as it is: in the plan's units where it falls on a mark, else in millimetres."""
    said = show(value, manner, bare=True)
    exact = "heavy" not in said and "scant" not in said
    if manner.unit == "inch" and (not exact or (value * manner.denominator / Fraction(254, 10)).denominator != 1):
        return show(value, Manner("mm", decimals=2))
    return said


def _text(text: str) -> str:
    """A text as YAML has it: in quotes whenever it isn't words alone."""
    words = " ".join(text.split())
    plain = words and all(letter.isalnum() or letter in " -,()." for letter in words) and words[0].isalpha()
    return words if plain else "'" + words.replace("'", "''") + "'"
