"""The heading of a plan: title, units, paper and the rest, as declared fields."""

from storystick.ground.fields import Choice, Field, Fields, Filled, ListOf, Node, Text, fill
from storystick.ground.finding import Broken, Finding
from storystick.ground.marked import Mapping, Scalar, plain
from storystick.ground.misread import Misread
from storystick.ground.reads import Plain
from storystick.ground.sums import Names, Scope

FRACTIONS = (2, 4, 8, 16, 32, 64, 128)

UNITS = Choice(("inch", "mm"), also=(
    ("inches", "inch"), ("in", "inch"), ("imperial", "inch"), ("millimetre", "mm"), ("millimetres", "mm"),
    ("millimeter", "mm"), ("millimeters", "mm"), ("metric", "mm"),
))  # fmt: skip
PAPER = Choice(("letter", "a4"), also=(("us letter", "letter"), ("a 4", "a4")))
WORDS = Choice(("american", "british"), also=(("us", "american"), ("uk", "british"), ("english", "british")))


def _fraction(scalar: Scalar, scope: Scope, mistakes: list[Finding]) -> object | None:
    """The finest mark of the rule: 1/32, 32, 32nds."""
    digits = plain(scalar.text).removeprefix("1/").removesuffix("nds").removesuffix("ths").removesuffix("in").strip()
    if digits.isdecimal() and len(digits) < 4 and int(digits) in FRACTIONS:
        return int(digits)
    mistakes.append(Misread(scalar.text, "a mark of an inch rule", "1/16, 1/32 or 1/64").finding(scalar.place))
    return None


HEADING = Fields("plan", (
    Field("title", Text, default="Untitled", help="what the piece is called"),
    Field("about", Text, help="what it is for, in your own words", also=("notes",)),
    Field("by", Text, help="who drew it up"),
    Field("version", Text, help="which one this is"),
    Field("licence", Text, help="what others may do with it", also=("license",)),
    Field("changes", ListOf(Text), help="what changed, the newest first"),
    Field("units", UNITS, required=True, help="how a length without a unit is read, and how lengths are printed"),
    Field("fraction", Plain("count", "a mark of an inch rule", "1/32", _fraction), default="1/32",
          help="the finest mark of an inch that is printed"),
    Field("paper", PAPER, help="the sheet that the packet is printed on: letter or a4"),
    Field("words", WORDS, help="which words of the trade are printed: american or british"),
    Field("currency", Text, help="the sign of prices that have none of their own"),
    Field("measure", Node, help="lengths that have a name: a sum each, or readings of the real thing"),
    Field("site", Node, help="what is already there"),
    Field("stock", Node, help="what it is made from"),
    Field("build", Node, help="what is to be built"),
    Field("loads", Node, help="what it has to carry: a name and a weight"),
    Field("accept", Node, help="findings that are known and lived with: the code and the reason"),
    Field("work", Node, help="what is wished of the order of work: pin, forbid or prefer one step before another"),
))  # fmt: skip


def read_heading(root: Mapping, mistakes: list[Finding]) -> Filled:
    """The heading; a line that can't be read counts as left out once its mistake has been told."""
    scope = Names()
    filled = fill(HEADING, root, scope, mistakes, partly=True)
    if filled is not None:
        return filled
    others = tuple((key, value) for key, value in root if plain(key.text) != "units")
    inch = (Scalar("units", root.place), Scalar("inch", root.place))
    filled = fill(HEADING, Mapping((inch, *others), root.place), scope, [], partly=True)
    if filled is None:
        raise Broken("the heading of a plan can't be read in part")
    return filled
