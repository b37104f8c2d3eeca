"""A small cabinet set down by hand: what the packet is drawn from while its pages are tested.

In inches: 24 wide, 14 deep, 30 high, of half-sheet 3/4 plywood as sold; sides with channels, rows of pin holes
and a notch at the foot, a bottom, a top, a shelf, a back that is cut to fit.
"""

from fractions import Fraction
from functools import cache

from storystick.ground.dim import Dim, Named, given
from storystick.ground.finding import Finding, Grade, Place
from storystick.ground.length import Manner, inch
from storystick.ground.source import practice
from storystick.model.build import Build, SiteBody
from storystick.model.build import Shape as Body
from storystick.model.cut import Bevel, Bore, Channel, Corner, Notch, Side
from storystick.model.cutting import Cut as Pass
from storystick.model.cutting import CutTree, Layout, Piece, Purpose, Sheet, Way
from storystick.model.joining import Joined
from storystick.model.part import Assembly, Part, Three
from storystick.model.scene import Scene
from storystick.model.stock import SoldAs, Stock
from storystick.model.work import Buy, Buying, Cutting, MadeBy, Setup, Stage, Step, WorkOrder
from storystick.paper.folder import Folder

NASTY = "*bold* #let x = 1 $a$ _b_ <tag> \\ @cite 100% [x]"


def d(text: str) -> Dim:
    """A length in inches."""
    return given(text, inch(text), f"plan: {text}")


def three(a: str, b: str, c: str) -> Three:
    """Three lengths in inches."""
    return (d(a), d(b), d(c))


PLY = Stock(
    "birch 3/4",
    "sheet",
    "birch plywood",
    d("23/32"),
    d("3/4"),
    (SoldAs(inch(96), inch(48), Fraction(92), called="4 ft x 8 ft"),),
    density=680.0,
    measured=True,
)
THIN = Stock(
    "birch 1/4",
    "sheet",
    "birch plywood",
    d("7/32"),
    d("1/4"),
    (SoldAs(inch(48), inch(48), Fraction(31), called="4 ft x 4 ft"),),
    density=680.0,
)

PINS = ("6", "8", "10", "12", "14", "16", "18", "20", "22", "24")


def side_cuts() -> tuple[Channel | Bore | Notch, ...]:
    """What is cut in either side, in its own coordinates: length upward from the foot, width from the front."""
    channels = (
        Channel(
            "foot", Side.FACE, (d("4"), d("0")), (d("23/32"), d("14")), d("1/4"), 1, "cross channel", "bottom.left"
        ),
        Channel(
            "head", Side.FACE, (d("29 9/32"), d("0")), (d("23/32"), d("14")), d("3/8"), 1, "end channel", "top.left"
        ),
        Channel(
            "rear", Side.FACE, (d("0"), d("13 1/2")), (d("30"), d("1/4")), d("5/16"), 0, "long channel", "back.left"
        ),
    )
    rows = tuple(
        Bore(f"pin {v} {u}", Side.FACE, (d(u), d(v)), d("1/4"), d("3/8"), "shelf pin hole")
        for v in ("1 1/2", "11 1/2")
        for u in PINS
    )
    through = (Bore("cable", Side.FACE, (d("27"), d("12 1/4")), d("1 1/2"), None, "cable hole"),)
    toe = Notch(
        "toe",
        (
            Corner(d("0"), d("0")),
            Corner(d("3 1/2"), d("0")),
            Corner(d("3 1/2"), d("2 1/2")),
            Corner(d("0"), d("2 1/2")),
        ),
        "toe notch",
    )
    screws = (
        Bore("screw 1", Side.BACK, (d("4 23/64"), d("2")), d("5/32"), None, "screw hole", sink=d("11/32")),
        Bore("screw 2", Side.BACK, (d("4 23/64"), d("7")), d("5/32"), None, "screw hole", sink=d("11/32")),
        Bore("screw 3", Side.BACK, (d("4 23/64"), d("12")), d("5/32"), None, "screw hole", sink=d("11/32")),
    )
    return (*channels, *rows, *through, toe, *screws)


def parts() -> tuple[Part, ...]:
    """Left and right side (a mirrored pair), bottom, top, shelf, back."""
    sides = tuple(
        Part(
            f"cabinet.{hand} side",
            "side",
            "cabinet",
            PLY,
            (d("30"), d("14"), d("23/32")),
            (2, 1, 0),
            three(x, "0", "0"),
            (1, 1, out),
            side_cuts(),
            letter="A" if hand == "left" else "B",
        )
        for hand, x, out in (("left", "0", 1), ("right", "23 9/32", -1))
    )
    level = tuple(
        Part(
            f"cabinet.{name}",
            name,
            "cabinet",
            PLY,
            (d(long), d("13 1/2"), d("23/32")),
            (0, 1, 2),
            three(x, "0", z),
            (1, 1, 1),
            cuts,
            letter=letter,
            banded=("reference edge",),
        )
        for name, long, x, z, letter, cuts in (
            (
                "bottom",
                "23 1/16",
                "15/32",
                "4",
                "C",
                (
                    Bore("foot hole", Side.BACK, (d("2"), d("2")), d("3/8"), d("1/2"), "foot hole"),
                    Bore("dowel 1", Side.END, (d("3"), d("23/64")), d("3/8"), d("1"), "end hole"),
                    Bore("dowel 2", Side.END, (d("10"), d("23/64")), d("3/8"), d("1"), "end hole"),
                ),
            ),
            ("top", "23 5/16", "11/32", "29 9/32", "D", (Bevel("front slope", Side.EDGE, 30.0, "sloped front"),)),
            ("shelf", "22 1/2", "3/4", "16 1/4", "E", ()),
        )
    )
    back = Part(
        "cabinet.back",
        "back",
        "cabinet",
        THIN,
        (d("26 3/4"), d("23 1/16"), d("7/32")),
        (2, 0, 1),
        three("15/32", "13 1/2", "3"),
        (1, 1, -1),
        (),
        letter="F",
        fit_to="the dry-fitted cabinet",
        turnable=True,
    )
    return (*sides, *level, back)


def build() -> Build:
    """The cabinet beside a wall."""
    wall = Body("box", three("-6", "15", "0"), three("40", "1", "40"))
    driver = d("23 5/8")
    pages = {
        "alcove.wide": Dim(
            driver.value, Named("alcove.wide", "the narrowest of three readings, front and back", driver)
        )
    }
    joints = tuple(
        Joined(
            f"{guest}.{host}", "housed", "housed", f"cabinet.{host} side", f"cabinet.{guest}", 0, sign, True, ("glue",)
        )
        for guest in ("bottom", "top", "shelf", "back")
        for host, sign in (("left", -1), ("right", 1))
    )
    return Build(
        "Lathe cabinet",
        Manner("inch", 32),
        (Assembly("cabinet", "case", three("0", "0", "0"), three("24", "14", "30")),),
        parts(),
        joints,
        site=(SiteBody("wall", (wall,), three("-6", "15", "0"), three("40", "1", "40")),),
        stock=(PLY, THIN),
        pages=pages,
        drivers=("alcove.wide",),
        about=f"Stands in the alcove behind the lathe. {NASTY}",
        currency="$",
    )


KERF = inch("1/8")


def cutting() -> Cutting:
    """The 3/4 sheet: two rips, then crosscuts."""
    trim = inch("1/4")
    long, wide = inch(96), inch(48)

    def piece(n: int, x: str, y: str, w: str, h: str, blank: str = "", keep: bool = False) -> Piece:
        return Piece(n, inch(x), inch(y), inch(w), inch(h), blank, False, keep)

    pieces = (
        Piece(0, Fraction(0), Fraction(0), long, wide),
        piece(1, "0", "1/4", "96", "47 3/4"),
        piece(2, "0", "1/4", "96", "14"),
        piece(3, "0", "14 3/8", "96", "33 5/8"),
        piece(4, "0", "14 3/8", "96", "13 1/2"),
        piece(5, "0", "28", "96", "20", "", True),
        piece(6, "1/4", "1/4", "95 3/4", "14"),
        piece(7, "1/4", "1/4", "30", "14", "cabinet.left side"),
        piece(8, "30 3/8", "1/4", "65 5/8", "14"),
        piece(9, "30 3/8", "1/4", "30", "14", "cabinet.right side"),
        piece(10, "60 1/2", "1/4", "35 1/2", "14"),
        piece(11, "1/4", "14 3/8", "95 3/4", "13 1/2"),
        piece(12, "1/4", "14 3/8", "23 1/16", "13 1/2", "cabinet.bottom"),
        piece(13, "23 7/16", "14 3/8", "72 9/16", "13 1/2"),
        piece(14, "23 7/16", "14 3/8", "23 5/16", "13 1/2", "cabinet.top"),
        piece(15, "46 7/8", "14 3/8", "49 1/8", "13 1/2"),
        piece(16, "46 7/8", "14 3/8", "22 1/2", "13 1/2", "cabinet.shelf"),
        piece(17, "69 1/2", "14 3/8", "26 1/2", "13 1/2"),
    )

    def cut(
        n: int, of: int, way: Way, at: str, to: str | None, frees: tuple[int, ...], why: Purpose = Purpose.SIZE
    ) -> Pass:
        return Pass(n, of, way, inch(at), KERF, inch(to) if to else None, frees, why)

    cuts = (
        Pass(1, 0, Way.RIP, trim - KERF, KERF, None, (1,), Purpose.TRIM),
        cut(2, 1, Way.RIP, "14 1/4", "14", (2, 3)),
        cut(3, 3, Way.RIP, "27 7/8", "13 1/2", (4, 5)),
        cut(4, 2, Way.CROSSCUT, "1/8", None, (6,), Purpose.TRIM),
        cut(5, 6, Way.CROSSCUT, "30 1/4", "30", (7, 8)),
        cut(6, 8, Way.CROSSCUT, "60 3/8", "30", (9, 10)),
        cut(7, 4, Way.CROSSCUT, "1/8", None, (11,), Purpose.TRIM),
        cut(8, 11, Way.CROSSCUT, "23 5/16", "23 1/16", (12, 13)),
        cut(9, 13, Way.CROSSCUT, "46 3/4", "23 5/16", (14, 15)),
        cut(10, 15, Way.CROSSCUT, "69 3/8", "22 1/2", (16, 17)),
    )
    tree = CutTree(Sheet("4 ft x 8 ft", long, wide, Fraction(92)), 1, pieces, cuts)
    return Cutting(PLY, Layout((tree,)), KERF, notes=('Kerf of 1/8" as measured on this saw.',))


def back_cutting() -> Cutting:
    """The 1/4 sheet: one rip and one crosscut."""
    long = inch(48)
    pieces = (
        Piece(0, Fraction(0), Fraction(0), long, long),
        Piece(1, Fraction(0), Fraction(0), long, inch("23 1/16")),
        Piece(2, Fraction(0), inch("23 3/16"), long, inch("24 13/16"), "", False, True),
        Piece(3, Fraction(0), Fraction(0), inch("26 3/4"), inch("23 1/16"), "cabinet.back"),
        Piece(4, inch("26 7/8"), Fraction(0), inch("21 1/8"), inch("23 1/16"), "", False, True),
    )
    cuts = (
        Pass(11, 0, Way.RIP, inch("23 1/16"), KERF, inch("23 1/16"), (1, 2)),
        Pass(12, 1, Way.CROSSCUT, inch("26 3/4"), KERF, inch("26 3/4"), (3, 4)),
    )
    return Cutting(THIN, Layout((CutTree(Sheet("4 ft x 4 ft", long, long, Fraction(31)), 1, pieces, cuts),)), KERF)


def order() -> WorkOrder:
    """A short order of work."""
    rip = Setup("rip 14", "table saw", "rip blade", "fence", d("14"), "both sides at one setting", "a strip of scrap")
    bit = Setup(
        "bit 1/4",
        "router",
        "3/4 straight bit",
        "bit height",
        d("1/4"),
        "depth of the channels",
        "a cut in scrap from the same sheet",
    )
    sides, names = ("cabinet.left side", "cabinet.right side"), tuple(p.name for p in parts())
    steps = (
        Step(
            1,
            Stage.MEASURE,
            "Measure the alcove",
            ("Take the width at the floor, at half height and at the top.",),
            reads=("alcove.wide",),
            hands_on=10,
        ),
        Step(
            2,
            Stage.SAW,
            "Rip the sides",
            (
                'Set the fence to 14" and rip the two sides one after the other.',
                "Mark the face and the reference edge of each as it leaves the saw.",
            ),
            sides,
            (rip,),
            sides,
            sides,
            "Lay the two on each other: their edges agree by touch.",
            "Keep to the left of the blade; use a push block for the last foot.",
            hands_on=15,
        ),
        Step(
            3,
            Stage.MACHINE,
            "Cut the channels in the sides",
            ("Clamp the two sides front edge to front edge, faces up.", "Cut across both with one guide."),
            sides,
            (bit,),
            sides,
            check="An offcut of the shelf stock goes in by hand and stays when the board is turned over.",
            hands_on=40,
        ),
        Step(
            4,
            Stage.DRY_FIT,
            "Put bottom and top between the sides",
            ("Stand the left side on its back edge.", f"Bring in bottom and top. {NASTY}"),
            names[:4],
            (),
            names[:4],
            names[2:4],
            'The diagonals are equal within 1/32".',
            hands_on=20,
            after=(3,),
        ),
        Step(
            5,
            Stage.GLUE,
            "Slide in the back and glue up",
            ("Measure the opening and cut the back to it.",),
            names,
            (),
            names,
            ("cabinet.back",),
            "Check the diagonals before the glue grabs.",
            "Glue sets in 10 minutes: have the clamps open and laid out.",
            hands_on=30,
            waits=60,
        ),
        Step(
            6,
            Stage.HARDWARE,
            "Put in the shelf",
            ("Set four pins at the height you want.",),
            names[4:5],
            (),
            names,
            ("cabinet.shelf",),
            hands_on=5,
        ),
    )
    ways = (
        MadeBy("cabinet.left side", "foot", "router and guide", (bit,), "the bit is as wide as the sheet is thick"),
    )
    return WorkOrder(
        steps,
        ways,
        (rip, bit),
        ("table saw with rip blade", "router", "combination square", "four bar clamps, 30 in"),
        ("The sheet weighs 30 kg: rough-cut it on the floor first.",),
    )


def buying() -> Buying:
    """A short list."""
    lines = (
        Buy(
            "birch plywood 3/4",
            "4 ft x 8 ft",
            1,
            "sheet",
            Fraction(92),
            used_for="sides, bottom, top, shelf",
            kind="stock",
        ),
        Buy("birch plywood 1/4", "4 ft x 4 ft", 1, "sheet", Fraction(31), 1, "back", kind="stock"),
        Buy("shelf pins", "1/4", 20, "each", Fraction(12, 100), 4, "shelf", True, "hardware"),
        Buy("wood screws", "#8 x 1 1/4", 12, "each", None, 0, "bottom", False, "fasteners"),
        Buy("wood glue", "8 oz", 1, "bottle", Fraction(6), 0, "all joints", True, "glue and finish"),
    )
    return Buying(lines, "$")


def findings() -> tuple[Finding, ...]:
    """A good one, one to know, one to look at."""
    rule = practice("an eighth of an inch in a yard")
    return (
        Finding(
            "sag",
            Grade.FINE,
            Place("plan.yaml", 12),
            "The shelf sags 0.9 mm under 20 kg after a year.",
            source=rule,
            number=0.9,
            limit=2.0,
            unit="mm",
            about=("cabinet.shelf",),
        ),
        Finding(
            "tips",
            Grade.CARE,
            Place("plan.yaml", 3),
            "A pull of 100 N at the top tips it when it is empty.",
            "Fix it to the wall with two screws.",
            practice("tip test by hand"),
            88.0,
            100.0,
            "N",
        ),
        Finding("movement", Grade.NOTE, Place(), f"All parts are plywood: nothing moves. {NASTY}"),
    )


@cache
def folder(fonts: str = "") -> Folder:
    """The whole folder."""
    whole = build()
    return Folder(
        whole, Scene(whole), (cutting(), back_cutting()), order(), buying(), findings(), None, fonts, "2 May", "3"
    )
