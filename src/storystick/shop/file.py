"""The shop file as declared fields: it reads like the list on the wall of the shop."""

from storystick.ground.fields import (
    Choice,
    Count,
    Either,
    Field,
    Fields,
    Flag,
    Length,
    ListOf,
    Money,
    Percent,
    ReadBy,
    Record,
    Size,
    Table,
    Temperature,
    Text,
    Weight,
)
from storystick.ground.finding import Finding
from storystick.ground.marked import Mapping, Marked, Scalar
from storystick.ground.misread import Misread
from storystick.ground.reads import Plain, misfit
from storystick.ground.size_words import read_sizes
from storystick.ground.sums import Scope
from storystick.shop.lists import Sizes, read_range, read_size_list
from storystick.shop.own_times import TIMES
from storystick.shop.spoilt import EXAMPLE, read_spoilt

UNITS = Choice(("inch", "mm"), also=(("inches", "inch"), ("in", "inch"), ("metric", "mm"), ("millimetres", "mm")))
NONE = Choice(("none",), also=(("no", "none"),))
SAW_KINDS = ("table saw", "track saw", "circular saw", "band saw", "mitre saw", "jigsaw", "hand saw")


def _size_of(least: int, most: int) -> Plain:
    """A size such as 32 x 80, as lengths in the order written."""

    def read(scalar: Scalar, scope: Scope, mistakes: list[Finding]) -> object | None:
        try:
            return read_sizes(scalar.text, scope.bare, least, most)
        except Misread as wrong:
            mistakes.append(wrong.finding(scalar.place))
            return None

    return Plain("text", "a size", "32 x 80", read)


def _spoilt(scalar: Scalar, scope: Scope, mistakes: list[Finding]) -> object | None:
    try:
        return read_spoilt(scalar.text, scope.bare)
    except Misread as wrong:
        mistakes.append(wrong.finding(scalar.place))
        return None


SPOILT = Plain("text", "what is gone or spoilt, and where", EXAMPLE, _spoilt)


def _by_name(node: Marked, scope: Scope, mistakes: list[Finding]) -> tuple[tuple[Scalar, Sizes], ...] | None:
    """Names with a list of sizes each: {straight: [1/8, 1/4], pattern: [1/2 x 1]}."""
    if isinstance(node, Scalar) and node.text.strip().lower() in ("", "none", "no"):
        return ()
    if not isinstance(node, Mapping):
        mistakes.append(misfit(node, "names with their sizes", "straight: [1/4, 1/2]"))
        return None
    read = [(key, read_size_list(value, scope, mistakes)) for key, value in node]
    return tuple((key, sizes) for key, sizes in read if sizes is not None)


SIZES_BY_NAME = ReadBy(_by_name, "{straight: [1/8, 1/4, 1/2]}")
SIZE_LIST = ReadBy(read_size_list, "[5/8, 51/64]")

SAW = Fields("saw", (
    Field("kind", Choice(SAW_KINDS, also=(("miter saw", "mitre saw"), ("skill saw", "circular saw"))),
          help="what sort of saw it is, where its name doesn't say so"),
    Field("rip", Size, help="widest piece between blade and fence"),
    Field("crosscut", Size, help="widest board it cuts across"),
    Field("depth", Size, help="depth of cut at right angles", also=("deep",)),
    Field("tilted", Size, help="depth of cut at 45 degrees"),
    Field("kerf", Size, help="width of the cut"),
    Field("narrowest", Size, help="narrowest strip it rips with the hands clear"),
))  # fmt: skip
DRIVER = Fields("driver", (
    Field("long", Size, required=True, help="how long it is with its bit"),
    Field("across", Size, required=True, help="how thick it is at its thickest"),
))  # fmt: skip
ROW = Fields("thing on hand", (
    Field("sheet", Text, help="a whole sheet, and of what"),
    Field("offcut", Text, help="a piece of a sheet, and of what"),
    Field("board", Text, help="a board, and of what wood"),
    Field("strip", Text, help="a strip or moulding"),
    Field("bar", Text, help="a bar or a track"),
    Field("band", Text, help="edge band"),
    Field("size", _size_of(1, 3), required=True, help="length and width; for a board its thickness may come first"),
    Field("thickness", Size, help="as measured"),
    Field("grain", Choice(("long", "short")), default="long", help="along the long side or the short one"),
    Field("count", Count, default="1", help="how many"),
    Field("spoilt", ListOf(SPOILT), help="what is gone or no good, along the grain first: [10 x 8 at far right]"),
    Field("says", Text, help="where it lies, what is wrong with it", also=("note",)),
))  # fmt: skip
FORMS = ("sheet", "offcut", "board", "strip", "bar", "band")
KINDS_OF_CUT = ("rip", "crosscut", "channel width", "channel depth", "channel place", "bore place", "cut to measure")
TRIED = Fields("workmanship", (
    Field("at one setting", ListOf(Length, least=2, most=50), help="pieces cut at one setting, as measured: five"),
    Field("set anew", ListOf(Length, least=2, most=50), help="pieces each cut after setting anew to the same size"),
    Field("own", Length, help="one standard deviation of each piece, where you know it"),
    Field("setting", Length, help="one standard deviation that a setting gives to all pieces, where you know it"),
))  # fmt: skip
AIR = Fields("air", (
    Field("driest", Percent, required=True, help="relative humidity in the driest season"),
    Field("dampest", Percent, required=True, help="relative humidity in the dampest season"),
    Field("temperature", Temperature, default=("68 F", "20 C"), help="as it usually is"),
))  # fmt: skip

SHOP = Fields("shop", (
    Field("name", Text, default="my shop", also=("title", "shop")),
    Field("units", UNITS, required=True, help="how a length without a unit is read"),
    Field("saws", Either((ListOf(Text), Table(Record(SAW), "saws"))), help="each with what it can do"),
    Field("dado set", Either((NONE, Plain("text", "a range", "1/4 to 13/16", read_range))),
          help="the widths that it cuts: 1/4 to 13/16", also=("dado stack",)),
    Field("router", Flag, help="yes or no"),
    Field("bits", SIZES_BY_NAME, help="router bits: a profile and its sizes", also=("router bits",)),
    Field("bushings", SIZE_LIST, help="guide bushings, by the outside", also=("guide bushings", "guide bushes")),
    Field("drill bits", SIZES_BY_NAME, help="a kind and its diameters", also=("drills",)),
    Field("countersinks", ListOf(Text), help="the screw sizes that they are for"),
    Field("drivers", Table(Record(DRIVER), "drivers"), help="what turns the screws, and how long it is"),
    Field("pocket jig", Flag, help="yes or no", also=("pocket hole jig",)),
    Field("clamps", Table(Table(Count, "openings"), "clamps"), help="a kind, and how many of each opening"),
    Field("measuring", Either((ListOf(Text), Table(Length, "tools"))), help="each with how far off it may be",
          also=("measuring tools",)),
    Field("workmanship", Table(Record(TRIED), "kinds of cut"),
          help="how well your own cuts come out, by kind: rip, crosscut, channel width, channel depth ..."),
    Field("helpers", Count, default="none", help="people there beside you"),
    Field("hours", Count, default="8", help="hours that you work there in a day", also=("working hours",)),
    Field("benches", Count, default="3", help="benches and tables for what has to stand while it dries"),
    Field("times", TIMES, help="how long work takes you, by kind: glue-up: {set up: 4 min, each: 2 min, wait: 1 h}"),
    Field("door", _size_of(2, 2), help="width and height of the way out"),
    Field("lift", Weight, help="what one person there lifts without trouble"),
    Field("trim", Length, help="what is sawn off a factory edge first"),
    Field("air", Record(AIR), help="the humidity through the year"),
    Field("other tools", ListOf(Text), help="drill press, planer, block plane and the like", also=("also",)),
    Field("on hand", ListOf(Record(ROW)), help="what is on the rack", also=("rack",)),
    Field("prices", Table(Money, "things"), help="what things cost here"),
    Field("currency", Text, help="the sign of prices that have none of their own"),
))  # fmt: skip
